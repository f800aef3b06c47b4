// The encoder: one question about one site, and the variables of its state.

package horn

import (
	"fmt"

	"lampwarden/lang/site"
)

// encoder holds what is known while a question is written.
type encoder struct {
	*bank
	s    *site.Site
	r    *site.Requirement
	in   *slice
	zero term

	// Every duration is divided by unit; lengths collects them, to find the unit.
	unit    site.Millis
	lengths []site.Millis

	cells   []cellInfo
	inputs  map[site.InputID]cell
	modes   map[site.ModeID]*mode
	lamps   map[site.CircuitID]*lamp
	sights  map[site.CircuitID]*sight
	newer   map[pair]cell
	day     *dayClock
	assumed []*assumption
	watch   observer

	fresh int    // free variables so far
	free  []term // free variables of the step being built
	sorts []sort // and their sorts
}

type pair struct{ a, b site.ModeID }

// newEncoder lays out the state of a question, with durations in the unit given.
func newEncoder(s *site.Site, r *site.Requirement, in *slice, unit site.Millis) *encoder {
	e := &encoder{bank: newBank(), s: s, r: r, in: in, unit: unit,
		inputs: map[site.InputID]cell{}, modes: map[site.ModeID]*mode{}, lamps: map[site.CircuitID]*lamp{},
		sights: map[site.CircuitID]*sight{}, newer: map[pair]cell{}}
	e.zero = e.number(0)
	for _, id := range in.inputList() {
		if !s.Inputs[id].Kind.IsEvent() {
			e.inputs[id] = e.flag("input " + s.Inputs[id].Name)
		}
	}
	e.day = e.newDayClock()
	for _, id := range s.StepOrder {
		if in.modes[id] {
			e.modes[id] = e.newMode(id)
		}
	}
	for _, id := range in.circuitList() {
		e.lamps[id] = e.newLamp(id)
	}
	for _, id := range in.circuitList() {
		if in.seen[id] && s.Circuits[id].SeenAfter > 0 {
			e.sights[id] = e.newSight(id)
		}
	}
	for _, l := range e.lamps {
		e.needRecency(l)
	}
	e.assumed = e.newAssumptions()
	e.watch = e.newObserver()
	return e
}

// encode gives an encoder whose durations are as small as whole numbers can be. Dense time has no unit of its own: with
// every duration divided by the same number the same orders of events are possible.
func encode(s *site.Site, r *site.Requirement, in *slice) *encoder {
	e := newEncoder(s, r, in, 1)
	unit := site.Millis(0)
	for _, d := range e.lengths {
		for d != 0 {
			unit, d = d, unit%d
		}
	}
	if unit <= 1 {
		return e
	}
	return newEncoder(s, r, in, unit)
}

// length is a duration as a constant. All are asked for while the state is laid out.
func (e *encoder) length(d site.Millis) term {
	e.lengths = append(e.lengths, d)
	if d%e.unit != 0 {
		panic(fmt.Sprintf("horn: %d ms are no multiple of %d", d, e.unit)) // a length that was not asked for before
	}
	return e.number(int64(d / e.unit))
}

// any makes a free variable of a step: a choice of the environment.
func (e *encoder) any(s sort) term {
	t := e.variable(fmt.Sprintf("c%d", e.fresh))
	e.fresh++
	e.free, e.sorts = append(e.free, t), append(e.sorts, s)
	return t
}

// anyOf is a free choice of one of n.
func (e *encoder) anyOf(n int) choice {
	var bits []term
	for k := 1; k < n; k *= 2 {
		bits = append(bits, e.any(isBool))
	}
	c := e.decode(bits, n)
	// Digits that stand for no value stand for the first.
	c[0] = e.not(e.or(c[1:]...))
	return c
}
