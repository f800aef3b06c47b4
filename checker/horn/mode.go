// Modes: what each remembers, and how each kind steps.

package horn

import (
	"slices"

	"lampwarden/lang/site"
)

// Places of a While mode. One with a pulse is pulsing in waitingPlace's stead and spent in holdingPlace's.
const (
	offPlace = iota
	onPlace
	waitingPlace
	holdingPlace
)

// mode is what is remembered of a mode.
type mode struct {
	id    site.ModeID
	m     *site.Mode
	place finite // While: the places above; Latch: inactive, active; States: the state
	// clocks: of a While the one of its delays or pulse, of a Latch the one of For, of a States mode one for each After
	// that can run in a state.
	clocks []cell
	afters [][]site.Millis // by state: the After times that run in it, one for each clock
	seq    *sequence       // nil: nothing reads it

	onDelay, offDelay, pulse, hold term
}

func (e *encoder) newMode(id site.ModeID) *mode {
	m := &e.s.Modes[id]
	out := &mode{id: id, m: m}
	name := "mode " + m.Name
	switch m.Kind {
	case site.While:
		out.onDelay, out.offDelay, out.pulse = e.length(m.OnDelay), e.length(m.OffDelay), e.length(m.Pulse)
		n := 2
		switch {
		case m.OffDelay > 0 || m.Pulse > 0:
			n = 4
		case m.OnDelay > 0:
			n = 3
		}
		out.place = e.finite(n, name+": off, on, waiting or pulsing, holding or spent")
		if n > 2 {
			out.clocks = []cell{e.timer(name + ": its delay")}
		}
	case site.Latch:
		out.place = e.finite(2, name+": active")
		out.hold = e.length(m.For)
		if m.For > 0 {
			out.clocks = []cell{e.timer(name + ": ends")}
		}
	case site.States:
		out.place = e.finite(len(m.States), name+": state")
		out.afters = make([][]site.Millis, len(m.States))
		most := 0
		for i := range m.States {
			for _, t := range m.Transitions {
				if t.After > 0 && leaves(&t, i) && !slices.Contains(out.afters[i], t.After) {
					out.afters[i] = append(out.afters[i], t.After)
					e.length(t.After)
				}
			}
			most = max(most, len(out.afters[i]))
		}
		for range most {
			out.clocks = append(out.clocks, e.timer(name+": since it entered the state"))
		}
	}
	out.seq = e.newSequence(out)
	return out
}

// leaves tells whether a transition is one out of the state.
func leaves(t *site.Transition, state int) bool {
	return t.From == state || t.From == site.None && t.To != state
}

// active tells whether a mode is.
func (e *encoder) active(id site.ModeID, st state) term {
	m := e.modes[id]
	return e.activeIn(m, e.get(m.place, st))
}

func (e *encoder) activeIn(m *mode, at choice) term {
	switch {
	case m.m.Kind != site.While:
		return e.not(at[0])
	case m.m.Pulse > 0:
		return at[waitingPlace]
	case len(at) == 4:
		return e.or(at[onPlace], at[holdingPlace])
	}
	return at[onPlace]
}

// tick is what a mode's step hangs on beside conditions.
type tick struct {
	d term // the delay since the step before
	// starts: this mode begins as at start-up; resumes: its timers start anew before it steps, with nothing due.
	starts, resumes term
	now             *view
	was             func(*site.Expr) term // a condition before this reaction
	strikes         func(t site.Millis, days site.Days) term
}

// changed is what a step of a mode did.
type changed struct {
	at      choice
	entered term // it became active, or entered a state
	recent  term // it also entered a stage
}

// step writes the mode's new values to st.
func (e *encoder) step(m *mode, pre, st state, k *tick) changed {
	var c changed
	switch m.m.Kind {
	case site.While:
		c = e.stepWhile(m, pre, st, k)
	case site.Latch:
		c = e.stepLatch(m, pre, st, k)
	case site.States:
		c = e.stepStates(m, pre, st, k)
	}
	e.put(m.place, st, c.at)
	c.recent = c.entered
	if m.seq != nil {
		c.recent = e.or(c.entered, e.stepSequence(m, pre, st, k, c))
	}
	return c
}

// left is what is left of a timer that may have started anew, in full, because the mode resumes.
func (e *encoder) left(k *tick, timer, full term) (left, due term) {
	return e.ite(k.resumes, full, e.sub(timer, k.d)), e.and(e.not(k.resumes), e.eq(timer, k.d))
}

func (e *encoder) stepWhile(m *mode, pre, st state, k *tick) changed {
	at, cond := e.get(m.place, pre), e.holds(m.m.Cond, k.now)
	out := make(choice, len(at))
	if m.m.Pulse > 0 {
		left, due := e.left(k, pre[m.clocks[0]], m.pulse)
		begins := e.and(at[offPlace], cond)
		pulsing, spent := at[waitingPlace], at[holdingPlace]
		goesOn := e.and(pulsing, e.not(due))
		out[onPlace] = no
		out[waitingPlace] = e.or(begins, goesOn)
		out[holdingPlace] = e.and(cond, e.or(e.and(pulsing, due), spent))
		out[offPlace] = e.not(e.or(out[waitingPlace], out[holdingPlace]))
		st[m.clocks[0]] = e.ite(begins, m.pulse, e.ite(goesOn, left, e.zero))
		return changed{at: out, entered: begins}
	}
	waiting, holding := no, no
	if len(at) > 2 {
		waiting = at[waitingPlace]
	}
	if len(at) > 3 {
		holding = at[holdingPlace]
	}
	due, left := no, e.zero
	if len(m.clocks) > 0 {
		full := e.ite(waiting, m.onDelay, m.offDelay)
		left, due = e.left(k, pre[m.clocks[0]], full)
	}
	begins := e.and(at[offPlace], cond)
	starts := begins // becomes active
	beginsToWait := no
	if m.m.OnDelay > 0 {
		beginsToWait = begins
		starts = e.and(waiting, cond, due)
	}
	waits := e.and(waiting, cond, e.not(due))
	ends := e.and(at[onPlace], e.not(cond))
	beginsToHold := no
	if m.m.OffDelay > 0 {
		beginsToHold = ends
	}
	holds := e.and(holding, e.not(cond), e.not(due))
	out[onPlace] = e.or(starts, e.and(e.or(at[onPlace], holding), cond))
	if len(at) > 2 {
		out[waitingPlace] = e.or(beginsToWait, waits)
	}
	if len(at) > 3 {
		out[holdingPlace] = e.or(beginsToHold, holds)
	}
	out[offPlace] = e.not(e.or(out[onPlace:]...))
	if len(m.clocks) > 0 {
		st[m.clocks[0]] = e.ite(beginsToWait, m.onDelay, e.ite(beginsToHold, m.offDelay, e.ite(e.or(waits, holds), left, e.zero)))
	}
	return changed{at: out, entered: starts}
}

// fires tells whether a trigger fires: by the clock if clock is set, else by its expression.
func (e *encoder) fires(t *site.Trigger, clock bool, k *tick) term {
	if (t.On == nil) != clock || t.Void {
		return no
	}
	guard := e.holds(t.If, k.now)
	if clock {
		return e.and(guard, k.strikes(t.At, t.Days))
	}
	return e.and(guard, e.holds(t.On, k.now), e.not(k.was(t.On)))
}

func (e *encoder) anyFires(ts []site.Trigger, clock bool, k *tick) term {
	out := no
	for i := range ts {
		out = e.or(out, e.fires(&ts[i], clock, k))
	}
	return out
}

func (e *encoder) stepLatch(m *mode, pre, st state, k *tick) changed {
	was := e.get(m.place, pre)[1]
	left, due := e.zero, no
	if len(m.clocks) > 0 {
		left, due = e.left(k, pre[m.clocks[0]], m.hold)
	}
	endsByTime := e.and(was, e.or(due, e.anyFires(m.m.Ends, true, k)))
	startsByTime := e.and(e.not(was), e.anyFires(m.m.Starts, true, k))
	between := e.either(was, e.not(endsByTime), startsByTime)
	starts := e.and(e.not(between), e.anyFires(m.m.Starts, false, k))
	ends := e.and(between, e.anyFires(m.m.Ends, false, k))
	active := e.either(between, e.not(ends), starts)
	entered := e.and(active, e.or(startsByTime, starts))
	if len(m.clocks) > 0 {
		st[m.clocks[0]] = e.ite(entered, m.hold, e.ite(active, left, e.zero))
	}
	return changed{at: choice{e.not(active), active}, entered: entered}
}

func (e *encoder) stepStates(m *mode, pre, st state, k *tick) changed {
	at := e.get(m.place, pre)
	n := len(at)
	full := make([][]term, len(m.clocks))
	for j := range m.clocks {
		for i := range n {
			if j < len(m.afters[i]) {
				full[j] = append(full[j], e.number(int64(m.afters[i][j]/e.unit)))
			} else {
				full[j] = append(full[j], e.zero)
			}
		}
	}
	fullAt := func(j int, at choice) term {
		out := full[j][0]
		for i := 1; i < n; i++ {
			out = e.ite(at[i], full[j][i], out)
		}
		return out
	}
	// dueIn: the After of a state is due.
	dueIn := func(i int, after site.Millis) term {
		j := slices.Index(m.afters[i], after)
		_, due := e.left(k, pre[m.clocks[j]], e.zero)
		return e.and(due, e.not(k.starts))
	}
	moves := func(at choice, fires func(t *site.Transition, from int) term) (to choice, moved term) {
		moved = no
		to = slices.Clone(at)
		var target = make([]term, n)
		for i := range n {
			open := at[i]
			for j := range m.m.Transitions {
				t := &m.m.Transitions[j]
				if !leaves(t, i) {
					continue
				}
				taken := e.and(open, fires(t, i))
				target[t.To] = e.or(target[t.To], taken)
				moved = e.or(moved, taken)
				open = e.and(open, e.not(taken))
			}
			to[i] = open
		}
		for i := range n {
			to[i] = e.or(to[i], target[i])
		}
		return to, moved
	}
	guards := map[*site.Transition]term{}
	between, byTime := moves(at, func(t *site.Transition, from int) term {
		if t.After > 0 {
			return e.and(dueIn(from, t.After), e.holds(t.Trigger.If, k.now))
		}
		return e.fires(&t.Trigger, true, k)
	})
	after, byCause := moves(between, func(t *site.Transition, from int) term {
		if t.After > 0 {
			return no
		}
		if _, ok := guards[t]; !ok {
			guards[t] = e.fires(&t.Trigger, false, k)
		}
		return guards[t]
	})
	entered := e.or(byTime, byCause)
	for j, c := range m.clocks {
		left := e.ite(e.lt(k.d, pre[c]), e.sub(pre[c], k.d), e.zero)
		left = e.ite(e.or(k.resumes, k.starts), fullAt(j, at), left)
		st[c] = e.ite(entered, fullAt(j, after), left)
	}
	return changed{at: after, entered: entered}
}
