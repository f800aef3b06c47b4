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
	before := make([]uint16, x.size)
	for i := range x.spaced {
		before[x.spaced[i].at] = uint16(x.spaced[i].d)
	}
	for i := range x.dwells {
		before[x.dwells[i].at] = uint16(x.dwells[i].d)
	}
	if x.tod != absent {
		before[x.tod] = beforeStart
	}
	var levels []site.InputID
	for _, c := range x.changes {
		if x.input[c.input] != absent {
			levels = append(levels, c.input)
		}
	}
	for clock := range max(x.round, 1) {
		for set := range 1 << len(levels) {
			v := x.copyOf(before)
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
			if x.counted(v) {
				x.react(before, v, &e, true)
			}
			x.give(v)
		}
	}
}

// counted tells whether the AtMost assumptions are kept.
func (x *explorer) counted(v []uint16) bool {
	for _, a := range x.atMosts {
		n := 0
		for _, in := range a.Inputs {
			if p := x.input[in]; p != absent {
				n += int(v[p])
			}
		}
		if n > a.N {
			return false
		}
	}
	return true
}

// expand emits the successors of v one tick later.
func (x *explorer) expand(v []uint16) {
	next := x.copyOf(v)
	defer x.give(next)
	e := edge{input: absent}
	if x.mon != nil && x.mon.tick(next[x.monAt:]) {
		x.emit(nil, &e, true)
		return
	}
	x.advance(next)
	clear(x.moved)
	x.tick(v, next, x.due(v, next), &e)
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
		x.change(before, v, i, e)
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

// change emits the reactions to one input change, if the assumptions allow it.
func (x *explorer) change(before, v []uint16, i int, e *edge) {
	in := x.changes[i].input
	p := x.input[in]
	for k := range x.spaced {
		if a := &x.spaced[k]; a.has[in] && int(v[a.at]) < a.d {
			return
		}
	}
	for k := range x.dwells {
		if a := &x.dwells[k]; a.input == in && (v[p] == 1) == a.value && int(v[a.at]) < a.d {
			return
		}
	}
	w := x.copyOf(v)
	defer x.give(w)
	for k := range x.spaced {
		if a := &x.spaced[k]; a.has[in] {
			w[a.at] = 0
		}
	}
	e.reaction, e.input = true, i
	if p != absent {
		w[p] = 1 - w[p]
		e.value = w[p] == 1
		if e.value && !x.counted(w) {
			return
		}
		for k := range x.dwells {
			if a := &x.dwells[k]; a.input == in {
				w[a.at] = uint16(a.d)
				if e.value == a.value {
					w[a.at] = 0
				}
			}
		}
	}
	x.react(before, w, e, false)
}

// react emits the outcomes of a reaction on v, in which the timers have been
// advanced and the input change is made. v is changed.
func (x *explorer) react(before, v []uint16, e *edge, startUp bool) {
	w := x.copyOf(v)
	defer x.give(w)
	at := moment{now: w, before: before}
	if e.input != absent && x.input[x.changes[e.input].input] == absent {
		at.event = &x.changes[e.input]
	}
	st := stepper{model: x.model, at: at, startUp: startUp, clock: absent, fresh: make([]bool, len(x.modes))}
	if x.tod != absent && !startUp {
		st.clock = int(w[x.tod])
	}
	for _, id := range x.order {
		st.step(id)
	}
	st.rank()
	rs := make([]resolution, len(x.circuits))
	for i := range x.circuits {
		rs[i] = x.resolve(x.circuits[i].id, at)
	}
	x.choose(w, at.event, rs, 0, e)
}

// choose settles the ambiguous circuits from index i on in every way, then
// finishes the reaction.
func (x *explorer) choose(w []uint16, ev *event, rs []resolution, i int, e *edge) {
	if i == len(rs) {
		x.finish(w, ev, rs, e)
		return
	}
	r, c := &rs[i], &x.circuits[i]
	if !r.ambiguous {
		w[c.sig], w[c.choice] = 0, 0
		x.choose(w, ev, rs, i+1, e)
		return
	}
	sig, old, chosen := x.signature(r), w[c.sig], w[c.choice]
	w[c.sig] = sig
	if sig == old {
		r.level = c.aims[chosen-1]
		x.choose(w, ev, rs, i+1, e)
	} else {
		for _, l := range r.levels {
			r.level = l
			w[c.choice] = c.aimIndex(l) + 1
			e.choices = append(e.choices, Choice{c.id, l})
			x.choose(w, ev, rs, i+1, e)
			e.choices = e.choices[:len(e.choices)-1]
		}
	}
	w[c.sig], w[c.choice] = old, chosen
}

// finish moves the lamps, tells the monitor of the instant and of the state
// after, and emits the state.
func (x *explorer) finish(w []uint16, ev *event, rs []resolution, e *edge) {
	out := x.copyOf(w)
	defer x.give(out)
	for i := range x.circuits {
		if c := &x.circuits[i]; c.lamp {
			x.follow(c, out, rs[i].level, rs[i].ramp())
		}
	}
	hit := x.q.goal != nil && x.q.goal(rs)
	hit = hit || x.told(out, ev)
	if !hit && ev != nil {
		hit = x.told(out, nil)
	}
	x.emit(out, e, hit)
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
