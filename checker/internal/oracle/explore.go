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
	pace := 1
	if r, ok := x.mon.(*returnMonitor); ok {
		pace = r.pace
	}
	for clock := 0; clock < max(x.round, 1); clock += pace {
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
