// Conditions at a moment.

package horn

import (
	"slices"

	"lampwarden/lang/site"
)

// view is a moment at which a condition is read.
type view struct {
	st state
	// rest: before start-up, when no band holds.
	rest bool
	// event tells whether the event happens; nil: none does.
	event func(site.InputID, site.Gesture) term
	// was reads what OpWas stands before; nil: this moment itself.
	was func(*site.Expr) term
}

// holds is the condition at the moment; nil is true.
func (e *encoder) holds(x *site.Expr, v *view) term {
	if x == nil {
		return yes
	}
	kids := func() []term {
		out := make([]term, len(x.Kids))
		for i, k := range x.Kids {
			out[i] = e.holds(k, v)
		}
		return out
	}
	switch x.Op {
	case site.OpTrue:
		return yes
	case site.OpFalse:
		return no
	case site.OpNot:
		return e.not(e.holds(x.Kids[0], v))
	case site.OpAnd:
		return e.and(kids()...)
	case site.OpOr:
		return e.or(kids()...)
	case site.OpAtLeast:
		return e.atLeast(x.N, kids())
	case site.OpAtMost:
		return e.not(e.atLeast(x.N+1, kids()))
	case site.OpInput:
		return e.input(x.Input, v.st)
	case site.OpEvent:
		if v.event == nil {
			return no
		}
		return v.event(x.Input, x.Gesture)
	case site.OpBand:
		if v.rest {
			return no
		}
		return e.day.band(e, x.Band, v.st)
	case site.OpMode:
		return e.active(x.Mode, v.st)
	case site.OpState:
		return e.get(e.modes[x.Mode].place, v.st)[x.State]
	case site.OpStage:
		return e.and(e.active(x.Mode, v.st), e.stage(x.Mode, x.State, v.st))
	case site.OpWas:
		if v.was != nil {
			return v.was(x.Kids[0])
		}
		quiet := *v
		quiet.event = nil
		return e.holds(x.Kids[0], &quiet)
	case site.OpLight:
		l := e.lamps[x.Circuit]
		return e.and(e.reaches(l, l.level.get(v.st), x.Lo), e.not(e.reaches(l, l.level.get(v.st), x.Hi+1)))
	}
	return e.sumHolds(x, v.st) // OpSum
}

// input reads an input; one outside the slice is at rest.
func (e *encoder) input(id site.InputID, st state) term {
	if c, ok := e.inputs[id]; ok {
		return st[c]
	}
	return no
}

// sumHolds tells whether a sum of levels is at least what is needed.
func (e *encoder) sumHolds(x *site.Expr, st state) term {
	var parts []term
	for _, t := range x.Terms {
		var h height
		l := e.lamps[t.Circuit]
		switch {
		case !x.Seen:
			h = l.level.get(st)
		case e.sights[t.Circuit] == nil:
			continue // seen never
		default:
			h = e.sights[t.Circuit].seen.get(st)
		}
		rests := e.s.Rests(t.Circuit)
		value := func(i int) int64 {
			r := l.rungs[i]
			if x.Up {
				return int64(site.Round(rests, r.hi, true))
			}
			return int64(site.Round(rests, r.lo, false))
		}
		parts = append(parts, e.number(t.Weight*value(0)))
		for i := range h {
			if step := t.Weight * (value(i+1) - value(i)); step != 0 {
				parts = append(parts, e.ite(h[i], e.number(step), e.zero))
			}
		}
	}
	return e.le(e.number(x.Need), e.sum(parts...))
}

// reaches tells whether a lamp's height stands for a level of at least lo.
func (e *encoder) reaches(l *lamp, h height, lo site.Level) term {
	i := slices.IndexFunc(l.rungs, func(r rung) bool { return r.lo >= lo })
	switch i {
	case -1:
		return no
	case 0:
		return yes
	}
	return h[i-1]
}
