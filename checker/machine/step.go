// One reaction of the modes (lang/SEMANTICS.md, section 2, steps 1 and 2).

package machine

import (
	"slices"

	"lampwarden/lang/site"
)

// cause is what a reaction is caused by.
type cause struct {
	start bool
	ev    int    // event index, 0: none
	due   uint64 // clocks that are due
	leap  int    // the local clock jumps: index of the jump + 1
	full  uint8  // the batteries (by place in System.charges) that are full as the event takes away their charger
}

// stepper holds one reaction's state while the modes step.
type stepper struct {
	*System
	f, before *frame
	cause
	clock   site.Millis // the time of the week that is due, or -1
	fresh   uint64      // clocks that start from zero
	entered []site.ModeID
	began   bool // the mode that the observer asks for became active
}

// react moves f, a copy of before, through the modes' part of a reaction.
func (s *System) react(f, before *frame, c cause) (fresh uint64) {
	st := &s.step
	*st = stepper{System: s, f: f, before: before, cause: c, clock: -1, entered: st.entered[:0]}
	if s.clocked && !c.start && c.due&1 == 1 { // the day clock is clock 0
		f.seg = s.nextSeg(f.seg, c.leap) % s.cycle()
		f.leapt = f.leapt || c.leap > 0
		st.clock = s.segs[f.seg].from
		st.fresh |= 1
	}
	st.input()
	for i := range s.sights {
		if st.isDue(s.sights[i].ck) {
			f.seen[i] = f.tgt[i]
		}
	}
	st.allModes()
	st.recency()
	return st.fresh
}

// allModes steps the plant modes, and the others unless the controller is down.
func (st *stepper) allModes() {
	f, keeps := st.f, st.site.Controller.Keeps
	for i := range st.modes {
		if st.modes[i].def.Plant {
			st.mode(&st.modes[i])
		}
	}
	if st.down != nil {
		f.down = st.eval(st.down, f, st.before, 0)
	}
	woken := st.before.down && !f.down && !st.start
	if woken {
		st.clock = -1 // what is due by the clock is lost
	}
	if woken && !keeps {
		st.before = st.rest
	}
	for i := range st.modes {
		m := &st.modes[i]
		switch {
		case m.def.Plant:
		case f.down && !keeps:
			f.loc[m.id], f.ph[m.id], f.aft[m.id] = 0, 0, 0
		case f.down:
		default:
			if woken && keeps {
				st.resume(m)
			}
			st.mode(m)
		}
	}
	if f.down && !keeps {
		f.rec = f.rec[:0]
	}
}

// resume starts the timers of a mode that the controller has kept while it was down.
func (st *stepper) resume(m *modeInfo) {
	f := st.f
	f.aft[m.id] = 0
	st.startClock(m.locCk)
	if stage := st.phaseOf(f, m.id).stage; stage != site.None {
		q := m.seqs[m.seqIndex(f)]
		f.ph[m.id] = uint16(slices.IndexFunc(q, func(p phase) bool { return p.stage == stage }))
	}
	st.startClock(m.phaseCk)
}

// input applies the event to the level inputs and to the assumptions' clocks.
func (st *stepper) input() {
	if st.ev == 0 {
		return
	}
	e := st.events[st.ev-1]
	if e.level {
		st.f.in[e.input] = !st.f.in[e.input]
	}
	for i := range st.assume {
		a := &st.assume[i]
		if !a.clocked || !slices.Contains(a.Inputs, e.input) {
			continue
		}
		exact := st.relaxed>>a.ck&1 == 0
		switch a.Kind {
		case site.Charge:
			st.charge(i, e.input, exact)
		case site.Spacing, site.Dwell:
			if exact {
				st.f.since[i] = a.Kind == site.Spacing || st.f.in[e.input] == a.Value
				st.startClock(a.ck)
			}
		}
	}
}

// charge follows a battery: its charger is lost or comes back, or it runs flat.
func (st *stepper) charge(i int, in site.InputID, exact bool) {
	a, f := &st.assume[i], st.f
	flat, lost := a.Inputs[0], a.Inputs[1]
	switch {
	case in == flat && f.in[flat]:
		f.full[i], f.since[i] = false, false
	case in == lost && f.in[lost]:
		f.full[i] = st.cause.full>>slices.Index(st.charges, i)&1 == 1
		f.since[i] = f.full[i] && exact
		st.startClock(a.ck)
	case in == lost:
		f.full[i], f.since[i] = false, exact
		st.startClock(a.ck)
	}
}

func (st *stepper) isDue(ck int) bool { return ck >= 0 && st.due>>ck&1 == 1 }

// start starts a clock from zero.
func (st *stepper) startClock(ck int) {
	if ck >= 0 {
		st.fresh |= 1 << ck
	}
}

func (st *stepper) mode(m *modeInfo) {
	was := st.active(st.f, m.id)
	entered := false
	switch m.def.Kind {
	case site.While:
		st.whileMode(m)
		entered = !was && st.active(st.f, m.id)
	case site.Latch:
		entered = st.latchMode(m)
	case site.States:
		entered = st.statesMode(m)
	}
	if o := st.obs.Began; o != nil && *o == m.id {
		st.began = st.active(st.f, m.id) && (!was || entered && m.def.Kind != site.States)
	}
	st.sequence(m, entered)
}

// whileMode is the table of IEC 61131-3's TON, TOF and TP.
func (st *stepper) whileMode(m *modeInfo) {
	loc := &st.f.loc[m.id]
	cond, due := st.eval(m.cond, st.f, st.before, st.ev), st.isDue(m.locCk)
	to := func(l uint8, timer bool) {
		*loc = l
		if timer {
			st.startClock(m.locCk)
		}
	}
	switch *loc {
	case locOff:
		switch {
		case !cond:
		case m.def.Pulse > 0:
			to(locPulsing, true)
		case m.def.OnDelay > 0:
			to(locWaiting, true)
		default:
			to(locOn, false)
		}
	case locWaiting:
		if !cond {
			to(locOff, false)
		} else if due {
			to(locOn, false)
		}
	case locOn:
		if !cond && m.def.OffDelay > 0 {
			to(locHolding, true)
		} else if !cond {
			to(locOff, false)
		}
	case locHolding:
		if cond {
			to(locOn, false)
		} else if due {
			to(locOff, false)
		}
	case locPulsing:
		if due && cond {
			to(locSpent, false)
		} else if due {
			to(locOff, false)
		}
	case locSpent:
		if !cond {
			to(locOff, false)
		}
	}
}

// latchMode steps first by time, then by cause.
func (st *stepper) latchMode(m *modeInfo) (entered bool) {
	loc := &st.f.loc[m.id]
	if *loc == locOn {
		if st.isDue(m.locCk) || slices.ContainsFunc(m.ends, st.firesByClock) {
			*loc = locOff
		}
	} else if slices.ContainsFunc(m.starts, st.firesByClock) {
		*loc, entered = locOn, true
	}
	if *loc == locOff {
		if slices.ContainsFunc(m.starts, st.firesByCause) {
			*loc, entered = locOn, true
		}
	} else if slices.ContainsFunc(m.ends, st.firesByCause) {
		*loc, entered = locOff, false
	}
	if entered && m.def.For > 0 {
		st.startClock(m.locCk)
	}
	return entered
}

func (st *stepper) firesByClock(t trigger) bool {
	return t.on == nil && !t.void && st.clock >= 0 && t.at == st.clock%site.Day && t.days.Has(int(st.clock/site.Day)) && st.guard(t)
}

func (st *stepper) firesByCause(t trigger) bool {
	return t.on != nil && st.rises(t.on, st.f, st.before, st.ev) && st.guard(t)
}

func (st *stepper) guard(t trigger) bool {
	return t.guard == nil || st.eval(t.guard, st.f, st.before, st.ev)
}

// statesMode steps first by time, then by cause.
func (st *stepper) statesMode(m *modeInfo) (entered bool) {
	loc, aft := &st.f.loc[m.id], &st.f.aft[m.id]
	enter := func(to int) {
		*loc, *aft, entered = uint8(to), 0, true
		st.startClock(m.locCk)
	}
	var passed site.Millis // the After time that is due
	if st.isDue(m.locCk) {
		passed = m.after[*loc][*aft]
		*aft++
	}
	for _, t := range m.leave[*loc] {
		if t.after > 0 && t.after == passed && st.guard(t.trigger) || t.after == 0 && st.firesByClock(t.trigger) {
			enter(t.to)
			break
		}
	}
	for _, t := range m.leave[*loc] {
		if t.after == 0 && st.firesByCause(t.trigger) {
			enter(t.to)
			break
		}
	}
	return entered
}

// sequence moves the mode's sequence on and notes recency.
func (st *stepper) sequence(m *modeInfo, entered bool) {
	ph := &st.f.ph[m.id]
	live := m.def.Kind == site.States || st.active(st.f, m.id)
	switch {
	case !live:
		*ph = 0
	case entered:
		*ph = 0
		st.startClock(m.phaseCk)
		st.entered = append(st.entered, m.id)
	case st.isDue(m.phaseCk):
		was := st.phaseOf(st.f, m.id).stage
		*ph = uint16(st.phaseOf(st.f, m.id).next)
		st.startClock(m.phaseCk)
		if now := st.phaseOf(st.f, m.id).stage; now != was && now != site.None {
			st.entered = append(st.entered, m.id)
		}
	}
}

// recency puts the modes that entered something in front, the one written last
// foremost, and drops inactive ones.
func (st *stepper) recency() {
	if len(st.latest) == 0 {
		return
	}
	slices.Sort(st.entered)
	f := st.f
	for _, m := range st.entered {
		if !slices.Contains(st.latest, m) {
			continue
		}
		f.rec = slices.DeleteFunc(f.rec, func(o site.ModeID) bool { return o == m })
		f.rec = slices.Insert(f.rec, 0, m)
	}
	f.rec = slices.DeleteFunc(f.rec, func(m site.ModeID) bool {
		return st.site.Modes[m].Kind != site.States && !st.active(f, m)
	})
}
