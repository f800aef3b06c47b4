// How modes step (lang/SEMANTICS.md section 2, step 2).

package rehearse

import "lampwarden/lang/site"

// stepMode steps one mode and its sequence.
func (r *reaction) stepMode(id site.ModeID) {
	m, before := &r.s.Modes[id], r.after.modes[id] // as it was before, or as it wakes up
	var now modeState
	started := false // became active in this reaction, or entered a state
	switch m.Kind {
	case site.While:
		now = r.stepWhile(m, before)
		started = now.active() && !before.active()
	case site.Latch:
		now, started = r.stepLatch(id, m, before)
	case site.States:
		now, started = r.stepStates(id, m, before)
	}
	r.restarted[id] = started
	r.after.modes[id] = r.sequence(id, now, started)
}

// stepWhile is "While": IEC 61131-3 TON and TOF, or TP with a pulse.
func (r *reaction) stepWhile(m *site.Mode, ms modeState) modeState {
	cond := r.now().holds(m.Cond)
	enter := func(p Phase) modeState {
		ms.phase, ms.since = p, r.at
		return ms
	}
	switch ms.phase {
	case Off:
		switch {
		case !cond:
			return ms
		case m.Pulse > 0:
			return enter(Pulsing)
		case m.OnDelay > 0:
			return enter(Waiting)
		}
		return enter(On)
	case Waiting:
		if !cond { // fall wins, even when due
			return enter(Off)
		}
		if r.due(ms.since, m.OnDelay) {
			return enter(On)
		}
	case On:
		switch {
		case cond:
			return ms
		case m.OffDelay > 0:
			return enter(Holding)
		}
		return enter(Off)
	case Holding:
		if cond { // no gap, even when due
			return enter(On)
		}
		if r.due(ms.since, m.OffDelay) {
			return enter(Off)
		}
	case Pulsing:
		if r.due(ms.since, m.Pulse) {
			if cond {
				return enter(Spent)
			}
			return enter(Off)
		}
	case Spent:
		if !cond {
			return enter(Off)
		}
	}
	return ms
}

// stepLatch is "Latch": first by time, then by cause from there.
func (r *reaction) stepLatch(id site.ModeID, m *site.Mode, ms modeState) (modeState, bool) {
	active, started := ms.phase == On, false
	// First by time.
	if active {
		if r.due(ms.since, m.For) || r.clockFires(id, m.Ends) {
			active = false
		}
	} else if r.clockFires(id, m.Starts) {
		active, started = true, true
	}
	// Then by cause.
	if !active {
		if r.causeFires(id, m.Starts) {
			active, started = true, true
		}
	} else if r.causeFires(id, m.Ends) {
		active, started = false, false
	}
	ms.phase = Off
	if active {
		ms.phase = On
	}
	if started {
		ms.since = r.at
	}
	return ms, started
}

// clockFires tells whether a clock-time trigger of the list fires.
func (r *reaction) clockFires(id site.ModeID, ts []site.Trigger) bool {
	for i := range ts {
		if r.triggerByClock(&ts[i]) {
			r.fire(id, ts[i].Span)
			return true
		}
	}
	return false
}

// causeFires tells whether an expression trigger of the list fires.
func (r *reaction) causeFires(id site.ModeID, ts []site.Trigger) bool {
	for i := range ts {
		if r.triggerByCause(&ts[i]) {
			r.fire(id, ts[i].Span)
			return true
		}
	}
	return false
}

// triggerByClock: a clock-time trigger fires when its time of day is due on one of its days and its guard is true now.
func (r *reaction) triggerByClock(t *site.Trigger) bool {
	return t.On == nil && !t.Void && r.clockDue(t.At, t.Days) && r.now().holds(t.If)
}

// triggerByCause: an expression trigger fires when it is true now, was false before (no event true), and its guard is
// true now.
func (r *reaction) triggerByCause(t *site.Trigger) bool {
	return t.On != nil && r.now().holds(t.On) && !r.now().was().holds(t.On) && r.now().holds(t.If)
}

// stepStates is "States": first by time, then by cause from the state now reached.
func (r *reaction) stepStates(id site.ModeID, m *site.Mode, ms modeState) (modeState, bool) {
	entered := false
	take := func(fires func(*site.Transition) bool) {
		for i := range m.Transitions {
			tr := &m.Transitions[i]
			if leaves(tr, ms.state) && fires(tr) {
				ms.state, entered = tr.To, true
				r.fire(id, tr.Span)
				return // the first in written order
			}
		}
	}
	since := ms.since
	take(func(tr *site.Transition) bool {
		if tr.After > 0 {
			return r.due(since, tr.After) && r.now().holds(tr.Trigger.If)
		}
		return r.triggerByClock(&tr.Trigger)
	})
	take(func(tr *site.Transition) bool { return tr.After == 0 && r.triggerByCause(&tr.Trigger) })
	if entered {
		ms.since = r.at
	}
	ms.phase = Off
	if ms.state != 0 { // active in every state but the first
		ms.phase = On
	}
	return ms, entered
}

// leaves tells whether the transition leaves the state. One from every state does not apply in its own target; a
// written self-transition does.
func leaves(tr *site.Transition, state int) bool {
	if tr.From == site.None {
		return tr.To != state
	}
	return tr.From == state
}

// sequence is "Sequence" and "Recency".
func (r *reaction) sequence(id site.ModeID, ms modeState, started bool) modeState {
	m := &r.s.Modes[id]
	if started {
		ms.stage, ms.stageSince = firstStage(&m.States[ms.state]), r.at
		ms.recency = r.number
		return ms
	}
	if !ms.active() && m.Kind != site.States {
		return ms
	}
	if stage := stageOf(r.s, id, ms); stage != nil && r.due(ms.stageSince, stage.For) {
		ms.stageSince = r.at
		if ms.stage+1 < len(m.States[ms.state].Stages) {
			ms.stage++
			ms.recency = r.number
		} else {
			ms.stage = Over
		}
	}
	return ms
}
