// When something is due next: timers, clock times, lamp arrivals (lang/SEMANTICS.md section 1, "A reaction happens").

package rehearse

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// endDays are the days on which a band ends: those on which it begins, or the days after them if it runs past
// midnight.
func endDays(b *site.Band) site.Days {
	if b.From < b.To {
		return b.Days
	}
	return b.Days<<1&0x7f | b.Days>>6&1
}

// dues calls f for everything that is to happen after st, with its time, which is later than st.at.
func (p *plan) dues(st *state, c clock, f func(Nanos, Cause)) {
	for i := range p.s.Modes {
		if !st.down || p.s.Modes[i].Plant { // "While down, no mode of the controller is due"
			p.modeDues(st, site.ModeID(i), f)
		}
		p.clockDues(st, c, site.ModeID(i), f)
	}
	if j := c.jump; j != nil && j.At > st.at {
		f(j.At, Cause{Kind: ClockJumps, Clock: site.Millis(c.unjumped(j.At) % Day / Milli), By: j.By})
	}
	for i := range p.s.Bands {
		b := &p.s.Bands[i]
		if b.Void {
			continue
		}
		f(c.next(st.at, b.From, b.Days), Cause{Kind: BandBegins, Band: site.BandID(i), Clock: b.From, Span: b.Span})
		f(c.next(st.at, b.To, endDays(b)), Cause{Kind: BandEnds, Band: site.BandID(i), Clock: b.To, Span: b.Span})
	}
	for i, cs := range st.circuits {
		if cs.moving {
			f(cs.due, Cause{Kind: LampArrives, Circuit: site.CircuitID(i), Level: cs.aim, Span: p.s.Circuits[i].Span})
		}
		if cs.seeing {
			f(cs.seenDue, Cause{Kind: LightSeen, Circuit: site.CircuitID(i), Level: cs.aim, Span: p.s.Circuits[i].Span})
		}
	}
}

// nextDue is the earliest of the dues.
func (p *plan) nextDue(st *state, c clock) (at Nanos, ok bool) {
	p.dues(st, c, func(t Nanos, _ Cause) {
		if !ok || t < at {
			at, ok = t, true
		}
	})
	return at, ok
}

// modeDues gives the running timers of one mode.
func (p *plan) modeDues(st *state, id site.ModeID, f func(Nanos, Cause)) {
	m, ms := &p.s.Modes[id], st.modes[id]
	timer := func(since Nanos, d site.Millis, kind Timer, span source.Span) {
		if at := since + FromMillis(d); d > 0 && at > st.at {
			f(at, Cause{Kind: TimerDue, Mode: id, Timer: kind, Span: span})
		}
	}
	switch m.Kind {
	case site.While:
		switch ms.phase {
		case Waiting:
			timer(ms.since, m.OnDelay, OnDelayTimer, m.Span)
		case Holding:
			timer(ms.since, m.OffDelay, OffDelayTimer, m.Span)
		case Pulsing:
			timer(ms.since, m.Pulse, PulseTimer, m.Span)
		}
	case site.Latch:
		if ms.phase == On {
			timer(ms.since, m.For, ForTimer, m.Span)
		}
	case site.States:
		for _, tr := range m.Transitions {
			if leaves(&tr, ms.state) {
				timer(ms.since, tr.After, AfterTimer, tr.Span)
			}
		}
	}
	if stage := stageOf(p.s, id, ms); stage != nil && (ms.active() || m.Kind == site.States) {
		timer(ms.stageSince, stage.For, StageTimer, stage.Span)
		if at, ok := nextFlash(stage, ms.stageSince, st.at); ok {
			f(at, Cause{Kind: TimerDue, Mode: id, Timer: FlashTimer, Span: stage.Span})
		}
	}
}

// nextFlash is the next change of the stage's flash after now; at the stage's end it has no meaning.
func nextFlash(stage *site.Stage, since, now Nanos) (Nanos, bool) {
	f := stage.Flash
	if f == nil || f.On <= 0 || f.Off <= 0 {
		return 0, false
	}
	on, off := FromMillis(f.On), FromMillis(f.Off)
	round := now - (now-since)%(on+off) // start of the present on part
	at := round + on
	if at <= now {
		at = round + on + off
	}
	if stage.For > 0 && at >= since+FromMillis(stage.For) {
		return 0, false
	}
	return at, true
}

// clockDues gives the next instant of each clock-time trigger of one mode, whether it will matter or not.
func (p *plan) clockDues(st *state, c clock, id site.ModeID, f func(Nanos, Cause)) {
	m := &p.s.Modes[id]
	trigger := func(t *site.Trigger, span source.Span) {
		if t.On == nil && !t.Void {
			f(c.next(st.at, t.At, t.Days), Cause{Kind: ClockDue, Mode: id, Clock: t.At, Span: span})
		}
	}
	for i := range m.Starts {
		trigger(&m.Starts[i], m.Starts[i].Span)
	}
	for i := range m.Ends {
		trigger(&m.Ends[i], m.Ends[i].Span)
	}
	for i := range m.Transitions {
		if tr := &m.Transitions[i]; tr.After == 0 {
			trigger(&tr.Trigger, tr.Span)
		}
	}
}
