// How modes step in a reaction (lang/SEMANTICS.md section 2.2).

package oracle

import "lampwarden/lang/site"

// The phases of a While mode.
const (
	whileOff uint16 = iota
	whileWaiting
	whileOn
	whileHolding
	whilePulsing
	whileSpent
)

// stepper is one reaction's work on the modes.
type stepper struct {
	*model
	at      moment // now is changed as the modes step
	startUp bool   // the modes step as at start-up
	clock   int    // tick of the clock whose clock times are due, or absent
	fresh   []bool // by mode: its recency is this reaction
	roused  []bool // by mode: it became active in this reaction
}

func (st *stepper) now(e *site.Expr) bool { return st.holds(e, st.at) }
func (st *stepper) was(e *site.Expr) bool {
	return st.holds(e, moment{now: st.at.before, before: st.at.before})
}
func (st *stepper) guard(e *site.Expr) bool { return e == nil || st.now(e) }

// causes tells whether a trigger with an expression fires.
func (st *stepper) causes(t *site.Trigger) bool {
	return t.On != nil && st.now(t.On) && !st.was(t.On) && st.guard(t.If)
}

// strikes tells whether a clock-time trigger fires.
func (st *stepper) strikes(t *site.Trigger) bool {
	return t.On == nil && !t.Void && st.clock != absent && st.ticks(t.At%site.Day) == st.clock%st.day &&
		st.onDay(t.Days, st.clock/st.day) && st.guard(t.If)
}

// step steps one mode, then its sequence.
func (st *stepper) step(id site.ModeID) {
	entered := false
	switch st.s.Modes[id].Kind {
	case site.While:
		entered = st.while(id)
		st.roused[id] = entered
	case site.Latch:
		entered = st.latch(id)
		st.roused[id] = entered
	case site.States:
		entered = st.states(id)
	}
	st.sequence(id, entered)
}

func (st *stepper) while(id site.ModeID) (entered bool) {
	p, v := &st.modes[id], st.at.now
	cond, age, was := st.now(st.s.Modes[id].Cond), int(v[p.age]), st.active(id, v)
	to := v[p.phase]
	switch to {
	case whileOff:
		switch {
		case cond && p.pulse > 0:
			to = whilePulsing
		case cond && p.on > 0:
			to = whileWaiting
		case cond:
			to = whileOn
		}
	case whileWaiting:
		if !cond {
			to = whileOff
		} else if age == p.on {
			to = whileOn
		}
	case whileOn:
		if !cond && p.off > 0 {
			to = whileHolding
		} else if !cond {
			to = whileOff
		}
	case whileHolding:
		if cond {
			to = whileOn
		} else if age == p.off {
			to = whileOff
		}
	case whilePulsing:
		if age == p.pulse && cond {
			to = whileSpent
		} else if age == p.pulse {
			to = whileOff
		}
	case whileSpent:
		if !cond {
			to = whileOff
		}
	}
	if to != v[p.phase] {
		v[p.phase], v[p.age] = to, 0
	}
	return !was && st.active(id, v)
}

func (st *stepper) latch(id site.ModeID) (entered bool) {
	x, p, v := &st.s.Modes[id], &st.modes[id], st.at.now
	set := func(active uint16) {
		v[p.phase], v[p.age] = active, 0
		entered = active == 1
	}
	anyOf := func(ts []site.Trigger, fires func(*site.Trigger) bool) bool {
		for i := range ts {
			if fires(&ts[i]) {
				return true
			}
		}
		return false
	}
	if v[p.phase] == 1 {
		if p.latch > 0 && int(v[p.age]) == p.latch || anyOf(x.Ends, st.strikes) {
			set(0)
		}
	} else if anyOf(x.Starts, st.strikes) {
		set(1)
	}
	if v[p.phase] == 0 {
		if anyOf(x.Starts, st.causes) {
			set(1)
		}
	} else if anyOf(x.Ends, st.causes) {
		set(0)
	}
	return entered
}

// states steps a States mode. It is in its first state before start-up and does
// not enter it then, so it is older than all that start-up makes active; the
// timers of that state run from start-up.
func (st *stepper) states(id site.ModeID) (entered bool) {
	x, p, v := &st.s.Modes[id], &st.modes[id], st.at.now
	take := func(fires func(*site.Transition) bool) {
		for i := range x.Transitions {
			t := &x.Transitions[i]
			if leaves(t, int(v[p.phase])) && fires(t) {
				st.roused[id] = st.roused[id] || v[p.phase] == 0 && t.To != 0
				v[p.phase], v[p.age] = uint16(t.To), 0
				entered = true
				return
			}
		}
	}
	take(func(t *site.Transition) bool {
		if t.After > 0 {
			return !st.startUp && int(v[p.age]) == st.ticks(t.After) && st.guard(t.Trigger.If)
		}
		return st.strikes(&t.Trigger)
	})
	take(func(t *site.Transition) bool { return t.After == 0 && st.causes(&t.Trigger) })
	return entered
}

func (st *stepper) sequence(id site.ModeID, entered bool) {
	p, v := &st.modes[id], st.at.now
	if p.stage == absent {
		return
	}
	switch {
	case entered:
		v[p.stage], v[p.stageAge] = 0, 0
		st.fresh[id] = true
	case st.s.Modes[id].Kind != site.States && !st.active(id, v):
		v[p.stage], v[p.stageAge] = 0, 0
	case st.asking(id, v):
		stages := st.stages(id, v)
		if g := &stages[v[p.stage]]; g.For > 0 && int(v[p.stageAge]) == st.ticks(g.For) {
			v[p.stage]++
			v[p.stageAge] = 0
			st.fresh[id] = int(v[p.stage]) < len(stages)
		}
	}
}

// rank orders the modes by recency anew: fresh ones last, equals equal. Modes
// that are not active have none.
func (st *stepper) rank() {
	v, top := st.at.now, uint16(0)
	alive := func(id site.ModeID) bool {
		return st.modes[id].rank != absent && (st.s.Modes[id].Kind == site.States || st.active(id, v))
	}
	for _, id := range st.order {
		if r := st.modes[id].rank; r != absent {
			if !alive(id) {
				v[r] = 0
			}
			top = max(top, v[r])
		}
	}
	for _, id := range st.order {
		if alive(id) && st.fresh[id] {
			v[st.modes[id].rank] = top + 1
		}
	}
	for want := uint16(1); ; want++ { // close the gaps
		least := uint16(0)
		for _, id := range st.order {
			if r := st.modes[id].rank; r != absent && v[r] >= want && (least == 0 || v[r] < least) {
				least = v[r]
			}
		}
		if least == 0 {
			return
		}
		for _, id := range st.order {
			if r := st.modes[id].rank; r != absent && v[r] == least {
				v[r] = want
			}
		}
	}
}
