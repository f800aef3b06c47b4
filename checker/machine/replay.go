// From the labels of a path back to what happened, as constraints on times.

package machine

import (
	"fmt"

	"lampwarden/lang/site"
)

// Path is what happened on a path of the explorer, in the site's own terms, with
// the constraints that the times of its steps must meet.
type Path struct {
	Initial []site.InputID // level inputs away from rest at start-up
	// Clocked tells whether the time of day matters: start-up is then in [From, From+Len).
	Clocked   bool
	From, Len site.Millis
	Steps     []Step // Steps[0] is the start-up
}

// Step is one reaction or lamp movement.
type Step struct {
	Event  *Event      // the input event, or nil
	Move   *Move       // the lamp movement, or nil
	Picks  []Pick      // choices made at ambiguous circuits
	Lamps  []Lamp      // of a reaction: what the tracked lamps are to follow
	Timers []Timing    // what the time since other steps must satisfy
	Leap   site.Millis // the local clock jumps by so much
}

// Event is an input change or event.
type Event struct {
	Input   site.InputID
	Level   bool // a level input, which takes Value
	Value   bool
	Gesture site.Gesture
}

// Move is a lamp passing into the levels Lo..Hi, upwards or downwards, or arriving
// at its aim.
type Move struct {
	Circuit site.CircuitID
	Lo, Hi  site.Level
	Up      bool
	Arrives bool
}

// Lamp is what a tracked lamp has to follow from a reaction on.
type Lamp struct {
	Circuit site.CircuitID
	Request site.Level
	T       site.Millis // time of a movement to it
	Soft    bool        // T includes a fade or a ramp
	At      bool        // before the request counts it takes level Level at once
	Level   site.Level
	Closed  bool // the request does not count
	Still   bool // it was not moving before the reaction, as far as the question can see
}

// Pick is the environment's choice at a circuit that becomes ambiguous, or anew so.
type Pick struct {
	Circuit site.CircuitID
	Level   site.Level
}

// Timing relates a step's time to that of an earlier step: the difference is
// exactly D (Exact), less than D, or at least D (AtLeast).
type Timing struct {
	Clock   int // the clock that says so, for System.Abstract
	Since   int // index of the earlier step; -1: the last boundary of the day before start-up
	D       site.Millis
	Exact   bool
	AtLeast bool
}

// Replay follows the labels of a path from start-up. All clocks get their
// constraints, abstracted ones too, so the times can be unsolvable.
func (s *System) Replay(labels []uint64) (*Path, error) {
	if len(labels) == 0 || labels[0]&3 != startKind {
		return nil, fmt.Errorf("machine: a path must begin with a start-up")
	}
	defer s.Abstract(s.relaxed, s.cooling)
	s.Abstract(0, 0)
	p := &Path{Clocked: s.clocked}
	reset := make([]int, len(s.clocks)) // step at which each clock was last reset
	var cur *frame
	for k, l := range labels {
		if k > 0 {
			s.before.copyFrom(cur)
		}
		e, step, err := s.decode(l, k, p, reset)
		if err != nil {
			return nil, err
		}
		next, fresh := s.pick(e, l)
		if next == nil {
			return nil, fmt.Errorf("machine: step %d has no branch %d", k, l>>2&(1<<branchBits-1))
		}
		for ck := range s.clocks {
			started := s.deadline(next, ck) > 0 && (cur == nil || s.deadline(cur, ck) == 0)
			if (fresh>>ck&1 == 1 || started) && !(k == 0 && s.clocks[ck].kind == dayClock) {
				reset[ck] = k
			}
		}
		for i := range s.reqs {
			if next.pick[i] < 0 {
				continue
			}
			top, _ := s.asks(&s.reqs[i], next, s.before, s.reqs[i].now[:0])
			if !s.stands(i, top, k == 0) {
				step.Picks = append(step.Picks, Pick{s.reqs[i].id, site.Level(next.pick[i])})
			}
		}
		if step.Move == nil {
			step.Lamps = s.followed(next, k == 0)
		}
		p.Steps = append(p.Steps, step)
		cur = next
	}
	return p, nil
}

// decode turns a label into an emitter that records, and into the step's data.
func (s *System) decode(l uint64, k int, p *Path, reset []int) (*emitter, Step, error) {
	var step Step
	e := &emitter{s: s}
	switch l & 3 {
	case startKind:
		set, sg := l>>24, int(l>>14&(1<<10-1))
		s.startUp(set, sg)
		e.c.start = true
		for i, in := range s.levels {
			if set>>i&1 == 1 {
				p.Initial = append(p.Initial, in)
			}
		}
		if s.clocked {
			p.From, p.Len = s.segs[sg].from, s.segs[sg].len
			reset[0] = -1
			step.Timers = append(step.Timers, Timing{Since: -1, D: s.segs[sg].len})
		}
	case reactionKind:
		e.c = causeOf(l)
		if e.c.leap > 0 {
			step.Leap = s.site.Jumps[e.c.leap-1].By
		}
		s.work[0].copyFrom(s.before)
		step.Timers = s.timings(e.c, reset)
		if e.c.ev > 0 {
			in := s.events[e.c.ev-1]
			step.Event = &Event{in.input, in.level, in.level && !s.before.in[in.input], in.gesture}
		}
	case driftKind:
		i, r := int(l>>14&(1<<10-1)), uint8(l>>24)
		f := s.work[0]
		f.copyFrom(s.before)
		lo, hi := s.lamps[i].bounds(r)
		up := r > f.reg[i]
		if s.site.Circuits[s.lamps[i].id].Switched && up {
			lo = site.Full // the one level of the region that a switched lamp can have
		} else if s.site.Circuits[s.lamps[i].id].Switched {
			hi = 0
		}
		arrives := f.aim[i] >= 0 && r == s.lamps[i].region(site.Level(f.aim[i]))
		step.Move = &Move{s.lamps[i].id, lo, hi, up, arrives}
		step.Timers = s.timings(cause{}, reset)
	default:
		return nil, step, fmt.Errorf("machine: step %d has an unknown label", k)
	}
	return e, step, nil
}

// followed tells what the lamps follow after a reaction that led to next.
func (s *System) followed(next *frame, start bool) (out []Lamp) {
	for i := range s.lamps {
		l := &s.lamps[i]
		p := l.paces[l.paceOf(s.overs[l.req])]
		x := Lamp{Circuit: l.id, Request: site.Level(max(0, s.wanted[l.req])), T: p.t, Soft: p.soft, Still: s.before.aim[i] < 0}
		x.Level, x.At, x.Closed = l.reach.imposed(s.holds(&l.reach, next, s.before, start))
		x.Closed = x.Closed || s.wanted[l.req] == noAsk
		if l.colour && s.before.reg[l.light] == 0 {
			x.T, x.Soft = 0, false
		}
		out = append(out, x)
	}
	return out
}

// timings lists the constraints on the time of a step from s.before.
func (s *System) timings(c cause, reset []int) (out []Timing) {
	for _, r := range s.clocksOf(s.before, nil) {
		d := site.Millis(r.d) * s.unit
		switch {
		case r.due:
			out = append(out, Timing{Clock: r.ck, Since: reset[r.ck], D: d, Exact: c.due>>r.ck&1 == 1})
		case c.ev > 0:
			switch s.delays(r.ck, s.events[c.ev-1], c) {
			case atLeast:
				out = append(out, Timing{Clock: r.ck, Since: reset[r.ck], D: d, AtLeast: true})
			case lessThan:
				out = append(out, Timing{Clock: r.ck, Since: reset[r.ck], D: d})
			}
		}
	}
	return out
}

// pick runs the emitter and returns the branch that the label names.
func (s *System) pick(e *emitter, l uint64) (next *frame, fresh uint64) {
	want, n := l>>2&(1<<branchBits-1), uint64(0)
	e.record = func(f *frame, fr uint64, _ bool) {
		if n == want {
			next, fresh = s.newFrame(), fr
			next.copyFrom(f)
			s.wanted, s.overs = append(s.wanted[:0], s.want...), append(s.overs[:0], s.over...)
		}
		n++
	}
	if l&3 != driftKind {
		e.reaction()
		return next, fresh
	}
	f := s.work[0]
	s.move(f, int(l>>14&(1<<10-1)), uint8(l>>24))
	e.observe(f, 0, cause{})
	return next, fresh
}
