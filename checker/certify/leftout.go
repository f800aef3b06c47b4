// Inputs that are left out: they stay at rest.

package certify

import (
	"slices"

	"lampwarden/lang/site"
)

// checkInputs checks that each input that is read but not kept may stay at rest: a fault that does not strike, or one of
// which a kept input can do all.
func (m *model) checkInputs() {
	var where *reader
	for i, out := range m.leftOut {
		id := site.InputID(i)
		if !out || !m.strikes(id) {
			continue
		}
		if where == nil {
			where = m.readers()
		}
		m.want(slices.ContainsFunc(m.c.inputs, func(kept site.InputID) bool { return m.standsFor(where, kept, id) }),
			"the input %s is read, but not kept, and no kept one stands for it", m.inputName(id))
	}
}

// standsFor tells whether a kept input can do all that it and another one can: of both only the disjunction is read, and
// neither has a part in anything else.
func (m *model) standsFor(where *reader, kept, out site.InputID) bool {
	for _, id := range []site.InputID{kept, out} {
		if m.spokenOf(id) || m.site.Inputs[id].Kind == site.Calendar || where.alone[id] {
			return false
		}
	}
	if m.watcher.needsCauses() && slices.Contains(m.req.Causes.Inputs, kept) && !slices.Contains(m.req.Causes.Inputs, out) {
		return false // a change of the other would count as a cause
	}
	return slices.Equal(where.places[kept], where.places[out])
}

// spokenOf tells whether an assumption, or what the requirement says of faults, names an input.
func (m *model) spokenOf(id site.InputID) bool {
	return slices.Contains(m.req.Faults, id) || slices.ContainsFunc(m.site.Assumptions, func(a site.Assumption) bool {
		return slices.Contains(a.Inputs, id)
	})
}

// reader notes in which disjunctions each input stands, negations moved to the atoms: an "or" with the input, or an "and" with
// the input negated. One in another is the same.
type reader struct {
	n      int
	places map[site.InputID][]int // ascending, each once
	alone  map[site.InputID]bool  // it stands elsewhere, too
}

func (m *model) readers() *reader {
	r := &reader{places: map[site.InputID][]int{}, alone: map[site.InputID]bool{}}
	for _, e := range m.reads {
		r.read(e, true, 0, 0)
	}
	return r
}

// read notes the inputs of e, which is negated if positive is not set. or and and are the disjunction and the conjunction that it is a
// part of, 0 for none.
func (r *reader) read(e *site.Expr, positive bool, or, and int) {
	kids := func(positive bool, or, and int) {
		for _, k := range e.Kids {
			r.read(k, positive, or, and)
		}
	}
	switch e.Op {
	case site.OpNot:
		kids(!positive, or, and)
	case site.OpAnd, site.OpOr:
		if (e.Op == site.OpOr) == positive {
			kids(positive, r.within(or), 0)
		} else {
			kids(positive, 0, r.within(and))
		}
	case site.OpInput:
		at := or
		if !positive {
			at = and
		}
		if at == 0 {
			r.alone[e.Input] = true
		} else if ps := r.places[e.Input]; len(ps) == 0 || ps[len(ps)-1] < at {
			r.places[e.Input] = append(ps, at)
		}
	default:
		kids(true, 0, 0)
	}
}

// within is the given group, or a new one.
func (r *reader) within(group int) int {
	if group == 0 {
		r.n++
		group = r.n
	}
	return group
}
