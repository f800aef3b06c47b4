// One reaction: modes, requests, choices, lamps.

package oracle

// reaction is one reaction under way.
type reaction struct {
	before, now []uint16 // before it; as it is now, with the lamps where they were
	event       *event
	startUp     bool
	down        bool // the controller is down
	hit         bool
	wants       []resolution // by index of model.circuits
	e           *edge
}

// react emits the outcomes of a reaction on v, in which the timers have been
// advanced and the input change is made.
func (x *explorer) react(before, v []uint16, e *edge, startUp bool) {
	w := x.copyOf(v)
	defer x.give(w)
	r := &reaction{before: before, now: w, startUp: startUp, e: e}
	if e.input != absent && x.input[x.changes[e.input].input] == absent {
		r.event = &x.changes[e.input]
	}
	c, ok := x.mon.(causeMonitor)
	caused := ok && x.isCause(before, w, e, startUp)
	if caused {
		c.cause(w[x.monAt:])
	}
	x.see(before, w)
	st := x.step(r)
	if h, ok := x.mon.(*huntMonitor); ok && st.roused[h.mode] {
		r.hit = h.rouse(w[x.monAt:], caused)
	}
	r.wants = make([]resolution, len(x.circuits))
	for i := range x.circuits {
		if id := x.circuits[i].id; r.down {
			r.wants[i] = resolution{circuit: id}
		} else {
			r.wants[i] = x.resolve(id, st.at)
		}
	}
	x.choose(r, 0)
}

// step lets the modes step: plant modes, then the controller's, if that runs.
func (x *explorer) step(r *reaction) *stepper {
	n := len(x.modes)
	st := &stepper{model: x.model, at: moment{now: r.now, before: r.before, event: r.event}, startUp: r.startUp, clock: absent,
		fresh: make([]bool, n), roused: make([]bool, n)}
	if x.tod != absent && !r.startUp {
		st.clock = int(r.now[x.tod])
	}
	plants := 0
	for plants < len(x.order) && x.s.Modes[x.order[plants]].Plant {
		st.step(x.order[plants])
		plants++
	}
	if r.down = st.control(); !r.down {
		for _, id := range x.order[plants:] {
			st.step(id)
		}
	}
	st.rank()
	return st
}

// choose settles the ambiguous circuits from index i on in every way, then
// finishes the reaction.
func (x *explorer) choose(r *reaction, i int) {
	if i == len(x.circuits) {
		x.finish(r)
		return
	}
	want, c, w := &r.wants[i], &x.circuits[i], r.now
	if !want.ambiguous {
		w[c.sig], w[c.choice] = 0, 0
		x.choose(r, i+1)
		return
	}
	sig, old, chosen := x.signature(want), w[c.sig], w[c.choice]
	w[c.sig] = sig
	if sig == old {
		want.level = c.aims[chosen-1]
		x.choose(r, i+1)
	} else {
		for _, l := range want.levels {
			want.level = l
			w[c.choice] = c.aimIndex(l) + 1
			r.e.choices = append(r.e.choices, Choice{c.id, l})
			x.choose(r, i+1)
			r.e.choices = r.e.choices[:len(r.e.choices)-1]
		}
	}
	w[c.sig], w[c.choice] = old, chosen
}

// finish moves the lamps, tells the monitor of the instant and of the state
// after, and emits the state.
func (x *explorer) finish(r *reaction) {
	out := x.copyOf(r.now)
	defer x.give(out)
	for i := range x.circuits {
		if c := &x.circuits[i]; c.lamp {
			x.follow(c, out, r, &r.wants[i])
			x.look(c, r.before, out)
		}
	}
	hit := r.hit || x.q.goal != nil && x.q.goal(r.wants)
	hit = hit || x.told(out, r.event)
	if !hit && r.event != nil {
		hit = x.told(out, nil)
	}
	x.emit(out, r.e, hit)
}
