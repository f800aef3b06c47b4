// Steps of the whole site: start-up, a reaction after a delay, a move of a lamp after a delay.

package horn

import "lampwarden/lang/site"

// outcome is a step: the state after it, the condition under which it can be, and what the observer needs.
type outcome struct {
	st    state
	ok    term
	event func(site.InputID, site.Gesture) term // the reaction's event
	cause term                                  // a cause of the requirement "settles"
	d     term                                  // the delay before it
}

// start is the reaction of start-up.
func (e *encoder) start() outcome {
	pre := e.initial()
	st := pre.clone()
	for _, id := range e.inputList() {
		st[e.inputs[id]] = e.any(isBool)
	}
	ok := e.and(e.day.start(e, st), e.startAssumptions(st))
	r := &reaction{e: e, pre: pre, st: st, d: e.number(1), first: true,
		strikes: func(site.Millis, site.Days) term { return no }, before: &view{st: pre, rest: true}}
	r.run()
	return outcome{st: st, ok: ok, cause: yes}
}

func (e *encoder) inputList() []site.InputID { return sorted(e.inputs) }

// delay is a free delay. Time can not pass the moment at which a timer of the site is due, and reaches it only with the
// reaction that this makes (reacts): another move may as well come a little earlier.
func (e *encoder) delay(pre state, reacts bool) (d, ok term) {
	d = e.any(isReal)
	all := []term{e.lt(e.zero, d)}
	for i, c := range e.cells {
		if !c.forced {
			continue
		}
		before := e.lt(d, pre[i])
		if reacts {
			before = e.le(d, pre[i])
		}
		if e.day != nil && cell(i) == e.day.left { // it always runs
			all = append(all, before)
			continue
		}
		all = append(all, e.or(e.le(pre[i], e.zero), before))
	}
	return d, e.and(all...)
}

// react is a reaction after a delay. It may be one of which nobody sees anything: such a one changes nothing.
func (e *encoder) react(pre state) outcome {
	d, can := e.delay(pre, true)
	st := pre.clone()
	ok := []term{can}
	// What changes: nothing, one input, or one event.
	var events []event
	for _, id := range e.in.inputList() {
		if e.s.Inputs[id].Kind.IsEvent() {
			for g := site.Tap; g <= site.Release; g++ {
				if ev := (event{id, g}); e.in.events[ev] {
					events = append(events, ev)
				}
			}
		}
	}
	levels := e.inputList()
	picks := e.anyOf(1 + len(levels) + len(events))
	changes := map[site.InputID]term{}
	for i, id := range levels {
		changes[id] = picks[1+i]
		st[e.inputs[id]] = e.differ(pre[e.inputs[id]], picks[1+i])
	}
	happens := map[event]term{}
	for i, ev := range events {
		p := picks[1+len(levels)+i]
		happens[ev] = p
		changes[ev.input] = e.or(changes[ev.input], p)
	}
	begins, jumps := e.day.run(e, pre, st, d)
	strikes := func(t site.Millis, days site.Days) term { return e.day.strikes(e, begins, t, days) }
	ok = append(ok, e.stepAssumptions(pre, st, d, changes, func() term { return strikes(0, 0) }))
	was := &view{st: pre}
	r := &reaction{e: e, pre: pre, st: st, d: d, strikes: strikes, before: was,
		event: func(id site.InputID, g site.Gesture) term { return happens[event{id, g}] }}
	r.run()
	e.watch.pass(e, pre, st, d)
	return outcome{st: st, ok: e.and(ok...), d: d, event: r.event, cause: e.cause(was, st, changes, strikes, jumps)}
}

// cause tells whether the reaction is a cause of the requirement.
func (e *encoder) cause(was *view, st state, changes map[site.InputID]term, strikes func(site.Millis, site.Days) term, jumps term) term {
	if e.r.Form != site.Settles {
		return no
	}
	out := jumps
	for _, id := range e.r.Causes.Inputs {
		out = e.or(out, changes[id])
	}
	for _, b := range e.r.Causes.Bands {
		out = e.or(out, e.differ(e.day.band(e, b, was.st), e.day.band(e, b, st)))
	}
	for _, m := range e.r.Causes.Modes {
		mode := &e.s.Modes[m]
		each := func(t *site.Trigger, after site.Millis) {
			if t.On == nil && after == 0 && !t.Void {
				out = e.or(out, strikes(t.At, t.Days))
			}
		}
		for i := range mode.Starts {
			each(&mode.Starts[i], 0)
		}
		for i := range mode.Ends {
			each(&mode.Ends[i], 0)
		}
		for i := range mode.Transitions {
			each(&mode.Transitions[i].Trigger, mode.Transitions[i].After)
		}
	}
	return out
}

// move is a move of a lamp after a delay.
func (e *encoder) move(pre state, l *lamp) outcome {
	d, can := e.delay(pre, false)
	st := pre.clone()
	for i, c := range e.cells {
		switch {
		case !c.forced:
		case e.day != nil && cell(i) == e.day.left:
			st[i] = e.sub(pre[i], d)
		default:
			st[i] = e.passed(cell(i), pre, d)
		}
	}
	for _, a := range e.assumed {
		switch a.a.Kind {
		case site.Spacing, site.Dwell:
			st[a.timer] = e.passed(a.timer, pre, d)
		case site.Charge:
			st[a.timer] = e.passed(a.timer, pre, d)
			st[a.charge] = e.passed(a.charge, pre, d)
			st[a.full] = e.or(pre[a.full], e.and(e.not(e.input(a.a.Inputs[1], pre)), e.le(pre[a.charge], d)))
		}
	}
	ok := e.wanders(l, pre, st)
	e.watch.pass(e, pre, st, d)
	return outcome{st: st, ok: e.and(can, ok), d: d, cause: no}
}

// reaction is one under way.
type reaction struct {
	e       *encoder
	pre, st state
	d       term
	first   bool
	before  *view
	event   func(site.InputID, site.Gesture) term
	strikes func(t site.Millis, days site.Days) term
}

// run writes the state after the reaction; the inputs and the day are in it already.
func (r *reaction) run() {
	e := r.e
	now := &view{st: r.st, event: r.event}
	wasDown := no
	if e.in.down && e.s.Controller.Down != nil && !r.first {
		wasDown = e.holds(e.s.Controller.Down, r.before)
	}
	for _, id := range sorted(e.sights) {
		e.see(e.sights[id], r.pre, r.st, r.d)
	}
	entered := map[site.ModeID]term{}
	down := no
	known := false
	plainBefore := func(x *site.Expr) term { return e.holds(x, r.before) }
	var k tick
	for _, id := range e.s.StepOrder {
		m := e.modes[id]
		if m == nil {
			continue
		}
		if m.m.Plant {
			now.was = plainBefore
			k = tick{d: r.d, starts: boolean(r.first), resumes: no, now: now, was: plainBefore, strikes: r.strikes}
			entered[id] = e.step(m, r.pre, r.st, &k).recent
			continue
		}
		if !known {
			known = true
			down = r.down(now)
			k = r.controllerTick(now, down, wasDown)
		}
		c := e.step(m, r.pre, r.st, &k)
		entered[id] = e.and(c.recent, e.not(down))
		r.rests(m, down)
	}
	if !known {
		down = r.down(now)
	}
	r.recency(entered, down, wasDown)
	r.lamps(down, wasDown)
}

// down tells whether the controller is down now.
func (r *reaction) down(now *view) term {
	if r.e.s.Controller.Down == nil || !r.e.in.down {
		return no
	}
	return r.e.holds(r.e.s.Controller.Down, now)
}

// controllerTick is what the modes of the controller step by.
func (r *reaction) controllerTick(now *view, down, wasDown term) tick {
	e := r.e
	back := e.and(wasDown, e.not(down))
	k := tick{d: r.d, starts: boolean(r.first), resumes: no, now: now, strikes: r.strikes}
	k.was = func(x *site.Expr) term { return e.holds(x, r.before) }
	if e.s.Controller.Keeps {
		k.resumes = back
	} else if back != no {
		k.starts = e.or(k.starts, back)
		rest := &view{st: e.initial(), rest: true}
		k.was = func(x *site.Expr) term { return e.either(back, e.holds(x, rest), e.holds(x, r.before)) }
	}
	if back != no {
		k.strikes = func(t site.Millis, days site.Days) term { return e.and(e.not(back), r.strikes(t, days)) }
	}
	now.was = k.was
	return k
}

// rests undoes the step of a mode while the controller is down.
func (r *reaction) rests(m *mode, down term) {
	if down == no {
		return
	}
	e, initial := r.e, r.e.initial()
	set := func(c cell, timer bool) {
		v := initial[c]
		if e.s.Controller.Keeps && !timer {
			v = r.pre[c]
		}
		if timer {
			r.st[c] = e.ite(down, v, r.st[c])
		} else {
			r.st[c] = e.either(down, v, r.st[c])
		}
	}
	for _, c := range m.place.bits {
		set(c, false)
	}
	for _, c := range m.clocks {
		set(c, true)
	}
	if q := m.seq; q != nil {
		for _, c := range q.stage.bits {
			set(c, false)
		}
		if q.timed {
			set(q.timer, true)
		}
		if q.flashy {
			set(q.on, false)
			set(q.flash, true)
		}
	}
}

// recency tells which modes are more recent than others now.
func (r *reaction) recency(entered map[site.ModeID]term, down, wasDown term) {
	e := r.e
	for p, c := range e.newer {
		a, b := entered[p.a], entered[p.b]
		was := r.pre[c]
		if !e.s.Controller.Keeps {
			was = e.and(was, e.not(wasDown), e.not(down))
		}
		r.st[c] = e.and(e.not(b), e.or(a, was))
	}
}

// lamps lets the requests be made and the lamps react, and the sensors look.
func (r *reaction) lamps(down, wasDown term) {
	e := r.e
	now := &view{st: r.st}
	for _, id := range sorted(e.lamps) {
		l := e.lamps[id]
		var before []ask
		if l.ambiguous && !r.first {
			before = e.asks(l, r.before, wasDown)
		}
		light := yes
		if l.c.Colour {
			light = e.lamps[l.c.Light].level.get(r.pre)[0]
		}
		t := e.decide(l, r.pre, r.st, now, down, before, light)
		e.stepLamp(l, r.pre, r.st, r.d, r.before, now, down, t)
	}
	for _, id := range sorted(e.sights) {
		e.look(e.sights[id], r.pre, r.st)
	}
}
