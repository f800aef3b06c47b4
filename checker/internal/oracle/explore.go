// One tick: all successors of a state.

package oracle

import (
	"slices"

	"lampwarden/lang/site"
)

// edge is how a successor came about. Its slices are valid during the call that
// gets it only.
type edge struct {
	reaction bool
	input    int // index into model.changes, or absent
	value    bool
	moves    []move
	choices  []Choice
	initial  []site.InputID // start-up
	jump     site.Millis    // by which the clock jumps, or 0
}

// move is a lamp that moves to a region.
type move struct {
	circuit int // index into model.circuits
	region  uint16
}

// explorer makes successors.
type explorer struct {
	*model
	signatures map[string]uint16
	free       [][]uint16
	moved      map[string]bool // states made by moves at the present tick
	key        []byte
	emit       func(v []uint16, e *edge, hit bool) // v is nil if time can not pass without the hit
}

func newExplorer(m *model) *explorer {
	return &explorer{model: m, signatures: map[string]uint16{}, moved: map[string]bool{}}
}

// copyOf gives a vector from the free list; give returns it.
func (x *explorer) copyOf(v []uint16) []uint16 {
	if n := len(x.free); n > 0 {
		c := x.free[n-1]
		x.free = x.free[:n-1]
		copy(c, v)
		return c
	}
	return slices.Clone(v)
}

func (x *explorer) give(v []uint16) { x.free = append(x.free, v) }

// starts emits the states after start-up: every time of the clock, every value of the
// inputs that the assumptions allow.
func (x *explorer) starts() {
	var levels []site.InputID
	for _, c := range x.changes {
		if x.input[c.input] != absent {
			levels = append(levels, c.input)
		}
	}
	for clock := range max(x.round, 1) {
		for set := range 1 << len(levels) {
			v := x.copyOf(x.initial)
			e := edge{reaction: true, input: absent}
			if x.tod != absent {
				v[x.tod] = uint16(clock)
			}
			for i, in := range levels {
				if set>>i&1 == 1 {
					v[x.input[in]] = 1
					e.initial = append(e.initial, in)
				}
			}
			x.rested(v)
			if x.mayStart(v) {
				x.react(x.initial, v, &e, true)
			}
			x.give(v)
		}
	}
}

// expand emits the successors of v one tick later.
func (x *explorer) expand(v []uint16) {
	x.pass(v)
	if g, ok := x.mon.(guesser); ok && g.guess(v[x.monAt:]) {
		w := x.copyOf(v)
		defer x.give(w)
		g.begin(w[x.monAt:])
		x.pass(w)
	}
}

// pass lets a tick pass.
func (x *explorer) pass(v []uint16) {
	next := x.copyOf(v)
	defer x.give(next)
	e := edge{input: absent}
	if g, ok := x.mon.(guesser); ok && g.over(v[x.monAt:]) {
		return
	}
	if x.mon != nil && x.mon.tick(next[x.monAt:], v) {
		x.emit(nil, &e, true)
		return
	}
	x.advance(next)
	clear(x.moved)
	x.tick(v, next, x.due(v, next), &e)
	for _, l := range x.leaps(next) {
		next[x.tod], next[x.jumped], e.jump = l.to, 1, l.by
		clear(x.moved)
		x.tick(v, next, true, &e)
	}
}

// tick emits what can come at a tick: first any moves of lamps, then a reaction
// if something is due or an input changes.
func (x *explorer) tick(before, v []uint16, due bool, e *edge) {
	e.reaction, e.input = due, absent
	if due {
		x.react(before, v, e, false)
	} else {
		x.emit(v, e, false)
	}
	for i := range x.changes {
		x.changed(before, v, i, e)
	}
	for i := range x.circuits {
		c := &x.circuits[i]
		if !c.lamp {
			continue
		}
		for _, region := range x.steps(c, v) {
			e.moves = append(e.moves, move{i, region})
			x.move(before, v, region, due, e)
			e.moves = e.moves[:len(e.moves)-1]
		}
	}
}

// move emits what can come after one more move, the last of e, unless the same
// moves in another order have led here.
func (x *explorer) move(before, v []uint16, region uint16, due bool, e *edge) {
	c := &x.circuits[e.moves[len(e.moves)-1].circuit]
	w := x.copyOf(v)
	defer x.give(w)
	w[c.level] = region
	x.settle(c, w)
	if e.reaction, e.input = false, absent; x.toldBefore(before, w) {
		x.emit(w, e, true)
		return
	}
	if x.key = pack(x.key[:0], w); !x.moved[string(x.key)] {
		x.moved[string(x.key)] = true
		x.tick(before, w, due, e)
	}
}

// changed emits the reactions to one input change, if the assumptions allow it.
func (x *explorer) changed(before, v []uint16, i int, e *edge) {
	in := x.changes[i].input
	if !x.mayChange(v, in) {
		return
	}
	w := x.copyOf(v)
	defer x.give(w)
	if x.change(w, in) {
		e.reaction, e.input, e.value = true, i, x.on(w, in)
		x.react(before, w, e, false)
	}
}

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

// toldBefore tells the monitor of a lamp's move, which is before the reaction of
// the tick: bands that begin or end at it have not done so yet.
func (x *explorer) toldBefore(before, v []uint16) bool {
	if x.tod == absent {
		return x.told(v, nil)
	}
	now := v[x.tod]
	v[x.tod] = before[x.tod]
	hit := x.told(v, nil)
	v[x.tod] = now
	return hit
}

// told tells the monitor of a moment.
func (x *explorer) told(v []uint16, ev *event) bool {
	if x.mon == nil {
		return false
	}
	at := moment{now: v, event: ev}
	return x.mon.moment(v[x.monAt:], func(e *site.Expr) bool { return x.holds(e, at) })
}
