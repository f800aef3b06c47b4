// Which parts of a condition are responsible for its value.

package rehearse

import "lampwarden/lang/site"

// blame lists the smallest parts of e that make it what it is at this moment. Of an "and" that is false those are in
// its false kids, of one that is true in all; of an "or" the other way round; of a count that is too low in the false
// kids, of one that is too high in the true ones.
func (v view) blame(e *site.Expr) []*site.Expr {
	value := v.holds(e)
	switch e.Op {
	case site.OpAnd:
		return v.blameKids(e, func(kid bool) bool { return value || !kid })
	case site.OpOr:
		return v.blameKids(e, func(kid bool) bool { return !value || kid })
	case site.OpAtMost:
		return v.blameKids(e, func(kid bool) bool { return kid != value })
	case site.OpAtLeast:
		return v.blameKids(e, func(kid bool) bool { return kid == value })
	case site.OpNot:
		switch e.Kids[0].Op {
		case site.OpAnd, site.OpOr, site.OpNot, site.OpAtMost, site.OpAtLeast:
			return v.blame(e.Kids[0])
		}
	}
	return []*site.Expr{e}
}

// blameKids gathers the parts of the kids whose value is picked; the expression itself if there are none.
func (v view) blameKids(e *site.Expr, picked func(bool) bool) []*site.Expr {
	var out []*site.Expr
	for _, k := range e.Kids {
		if picked(v.holds(k)) {
			out = append(out, v.blame(k)...)
		}
	}
	if len(out) == 0 {
		return []*site.Expr{e}
	}
	return out
}
