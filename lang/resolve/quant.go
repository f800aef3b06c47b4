// Quantifiers: every, any, no, at most N, at least N, over circuits or areas.

package resolve

import (
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

func (r *resolver) quantified(sc scope, q *syntax.QuantAtom) *site.Expr {
	if q.Circuits != nil {
		return r.quantCircuits(sc, q)
	}
	return r.quantAreas(sc, q)
}

func (r *resolver) quantCircuits(sc scope, q *syntax.QuantAtom) *site.Expr {
	if !r.lightAllowed(sc, q.Span) {
		return poison(q.Span)
	}
	colour := r.isColour(q.Circuits.Light)
	var lr lightRange
	ok := true
	if !colour {
		lr, ok = r.lightRange(q.Circuits.Light)
	}
	ids, sure := r.circuitsOf(sc, q.Circuits)
	if !ok || !sure {
		return poison(q.Span)
	}
	if len(ids) == 0 {
		if !r.unsure[kindCircuit] {
			r.errorf(source.EmptySelection, q.Span, "this speaks of no circuit at all")
		}
		return poison(q.Span)
	}
	if colour {
		return r.quantColours(q, ids)
	}
	all := r.overCircuits(site.OpAnd, ids, lr, q.Span)
	if isPoison(all) {
		return all
	}
	return r.quantify(q, all.Kids)
}

// circuitsOf lists the circuits that a quantifier ranges over.
func (r *resolver) circuitsOf(sc scope, q *syntax.CircuitRange) (ids []site.CircuitID, sure bool) {
	sure = true
	if q.Places == nil {
		ids = r.lamps()
	} else {
		ids, sure = r.circuitsAt(sc, q.Places, true)
	}
	for _, ref := range q.Except {
		out, ok := r.excepted(sc, ref)
		sure = sure && ok
		ids = without(ids, out)
	}
	return ids, sure
}

// excepted lists the circuits of an area, a group or a circuit that an
// `except` takes out.
func (r *resolver) excepted(sc scope, ref *syntax.Ref) ([]site.CircuitID, bool) {
	id := ref.Name
	if s := r.names[id.Name]; s != nil && (s.kind == kindCircuit || s.kind == kindGroup) {
		return r.circuitsOfRef(s, ref.Numbers)
	}
	if id.Name != sc.name && r.names[id.Name] == nil {
		r.unknown(id, kindArea, kindGroup, kindCircuit)
		return nil, false
	}
	a := r.areaRef(sc, ref)
	if a == poisonArea {
		return nil, false
	}
	return r.circuitsIn(a), true
}

func (r *resolver) quantAreas(sc scope, q *syntax.QuantAtom) *site.Expr {
	light := q.Areas.State == "lit" || q.Areas.State == "dark"
	if light && !r.lightAllowed(sc, q.Span) {
		return poison(q.Span)
	}
	areas, sure := r.chosenAreas(sc, q.Areas.Tags, q.Areas.In)
	for _, id := range q.Areas.Except {
		a := r.areaNamed(sc, id)
		sure = sure && a != poisonArea
		areas = slices.DeleteFunc(areas, func(x site.AreaID) bool { return x == a })
	}
	if !sure {
		return poison(q.Span)
	}
	if len(areas) == 0 {
		r.errorf(source.EmptySelection, q.Span, "this speaks of no area at all")
		return poison(q.Span)
	}
	counted := q.Quant.N != nil
	if counted {
		areas = r.countable(areas, q.Areas.State)
	}
	var kids []*site.Expr
	for _, a := range areas {
		if q.Quant.Word == "every" && (q.Areas.State == "lit" || q.Areas.State == "occupied") && !r.seesArea(a, q.Areas.State) {
			r.neverSo(q, a)
			return poison(q.Span)
		}
		kids = append(kids, r.areaIs(sc, a, q.Areas.State, counted, q.Span))
	}
	return r.quantify(q, kids)
}

// neverSo reports an area that makes "every area ..." false for ever.
func (r *resolver) neverSo(q *syntax.QuantAtom, a site.AreaID) {
	area, what := &r.site.Areas[a], "circuit"
	if q.Areas.State == "occupied" {
		what = "presence input"
	}
	d := r.errorf(source.EmptySelection, q.Span, "this can never be true: the area `%s` has no %s", area.Name, what)
	relate(d, area.Span, "declared here")
	d.Suggestion = "take it out with `except " + area.Name + "`"
}

// quantify applies the quantifier's word to the conditions it ranges over.
func (r *resolver) quantify(q *syntax.QuantAtom, kids []*site.Expr) *site.Expr {
	e := &site.Expr{Op: site.OpAnd, Kids: kids, Span: q.Span}
	switch q.Quant.Word {
	case "any":
		e.Op = site.OpOr
	case "no":
		e.Op = site.OpOr
		return not(e, q.Span)
	case "most":
		n, ok := r.count(q.Quant.N)
		if !ok {
			return poison(q.Span)
		}
		e.Op, e.N = site.OpAtMost, n
	case "least":
		n, ok := r.count(q.Quant.N)
		if !ok {
			return poison(q.Span)
		}
		e.Op, e.N = site.OpAtLeast, n
		if e.N > len(kids) {
			r.errorf(source.BadCount, q.Quant.Span, "there are only %d to choose from, never at least %d", len(kids), e.N)
		} else if e.N == 0 {
			r.errorf(source.BadCount, q.Quant.Span, "at least 0 are always so")
		}
	}
	return e
}
