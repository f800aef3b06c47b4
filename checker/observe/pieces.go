// From a requirement to the questions that together decide it.

package observe

import (
	"slices"

	"lampwarden/lang/site"
)

// Piece is one question of reachability. A requirement holds exactly if none of
// its pieces reaches its error (Possible: if its piece reaches its goal).
type Piece struct {
	Observer Observer
	// Given are conditions that hold at every moment at which the error is reached.
	// The conditional slice is built from them.
	Given []*site.Expr
}

// maxPieces bounds the splitting of one requirement, and maxParts the conditions in
// all pieces of one "and" together; what would give more is left whole, which costs
// time and never changes a verdict.
const (
	maxPieces = 2000
	maxParts  = 200_000
)

// Pieces splits a requirement. "never P" with P a disjunction is one piece for
// each part; "whenever A then within D B until C" with B a conjunction likewise,
// since B must hold at every moment from the deadline on. The forms whose parts
// must hold at one common moment are not split.
func Pieces(r *site.Requirement) []Piece {
	switch r.Form {
	case site.Never:
		return never(r.P)
	case site.Always:
		return never(not(r.P))
	case site.Possible:
		return []Piece{{Observer: Goal(r.P), Given: conjuncts(normal(r.P, false))}}
	case site.Whenever:
		return whenever(r)
	case site.LastsAtMost:
		return []Piece{{Observer: LastsAtMost(r.P, r.D), Given: conjuncts(normal(r.P, false))}}
	case site.LastsAtLeast:
		return []Piece{{Observer: LastsAtLeast(r.P, r.D)}}
	case site.AtMostTimes:
		return []Piece{{Observer: AtMostTimes(r.P, r.N, r.D), Given: steady(conjuncts(normal(r.P, false)))}}
	case site.OnlyAfter:
		return []Piece{{Observer: OnlyAfter(r.P, r.Q, r.Since), Given: steady(conjuncts(normal(r.P, false)))}}
	case site.CanReturn:
		return []Piece{{Observer: Waits(r.P, r.D)}}
	case site.Settles:
		return []Piece{{Observer: Settles(r.P, r.D, &r.Causes)}}
	}
	panic("observe: unknown form")
}

// Whole is the one piece of a requirement that is not split.
func Whole(r *site.Requirement) Piece {
	switch {
	case r.Form == site.Never:
		return goalPiece(normal(r.P, false))
	case r.Form == site.Always:
		return goalPiece(normal(r.P, true))
	case r.Form == site.Whenever && r.E == 0 && r.Until != nil:
		return Piece{Observer: WheneverUntil(r.A, r.B, r.Until, r.D), Given: steady(conjuncts(normal(r.Until, true)))}
	}
	return Pieces(r)[0] // the only one
}

func goalPiece(p *site.Expr) Piece { return Piece{Observer: Goal(p), Given: steady(conjuncts(p))} }

func never(p *site.Expr) (out []Piece) {
	for _, part := range disjuncts(normal(p, false)) {
		out = append(out, goalPiece(part))
	}
	return out
}

func whenever(r *site.Requirement) (out []Piece) {
	if r.E > 0 {
		return []Piece{{Observer: WheneverFor(r.A, r.B, r.Until, r.D, r.E)}}
	}
	if r.Until == nil {
		return []Piece{{Observer: Whenever(r.A, r.B, r.D)}}
	}
	for _, part := range disjuncts(normal(r.B, true)) {
		b := not(part)
		given := append(conjuncts(normal(r.Until, true)), conjuncts(part)...)
		out = append(out, Piece{Observer: WheneverUntil(r.A, b, r.Until, r.D), Given: steady(given)})
	}
	return out
}

// steady keeps the conditions without events; an event holds at its instant only.
func steady(es []*site.Expr) []*site.Expr {
	return slices.DeleteFunc(es, func(e *site.Expr) bool {
		has := false
		e.Walk(func(x *site.Expr) { has = has || x.Op == site.OpEvent })
		return has
	})
}

func not(e *site.Expr) *site.Expr {
	return &site.Expr{Op: site.OpNot, Kids: []*site.Expr{e}, Span: e.Span}
}

// normal gives e, or its negation, with negations at the atoms only.
func normal(e *site.Expr, negate bool) *site.Expr {
	n := *e
	switch e.Op {
	case site.OpNot:
		return normal(e.Kids[0], !negate)
	case site.OpTrue, site.OpFalse:
		if negate {
			n.Op = site.OpTrue + site.OpFalse - e.Op
		}
		return &n
	case site.OpAnd, site.OpOr:
		if negate {
			n.Op = site.OpAnd + site.OpOr - e.Op
		}
		n.Kids = make([]*site.Expr, len(e.Kids))
		for i, k := range e.Kids {
			n.Kids[i] = normal(k, negate)
		}
		return &n
	case site.OpAtMost, site.OpAtLeast:
		if !negate {
			return e
		}
		n.Op = site.OpAtMost + site.OpAtLeast - e.Op
		n.N = e.N + 1
		if e.Op == site.OpAtLeast {
			n.N = e.N - 1
		}
		if n.N < 0 {
			return &site.Expr{Op: site.OpFalse, Span: e.Span}
		}
		return &n
	}
	if negate {
		return not(e)
	}
	return e
}

// conjuncts lists the parts of a normal expression that hold whenever it does.
func conjuncts(e *site.Expr) []*site.Expr {
	if e.Op != site.OpAnd {
		return []*site.Expr{e}
	}
	var out []*site.Expr
	for _, k := range e.Kids {
		out = append(out, conjuncts(k)...)
	}
	return out
}

// disjuncts splits a normal expression into parts of which one holds exactly
// when it does, distributing "and" over "or" while the number stays bounded.
func disjuncts(e *site.Expr) []*site.Expr {
	switch e.Op {
	case site.OpOr:
		var out []*site.Expr
		for _, k := range e.Kids {
			if out = append(out, disjuncts(k)...); len(out) > maxPieces {
				return sides(e)
			}
		}
		return out
	case site.OpAnd:
		lists, n := make([][]*site.Expr, len(e.Kids)), 1
		for i, k := range e.Kids {
			lists[i] = disjuncts(k)
			if n *= max(1, len(lists[i])); n > maxPieces || n*len(lists) > maxParts {
				return []*site.Expr{e}
			}
		}
		return product(e, lists)
	}
	return []*site.Expr{e}
}

// sides lists what stands between the "or"s of a normal expression, as it is written.
func sides(e *site.Expr) []*site.Expr {
	if e.Op != site.OpOr {
		return []*site.Expr{e}
	}
	var out []*site.Expr
	for _, k := range e.Kids {
		out = append(out, sides(k)...)
	}
	return out
}

// product gives an "and" for each choice of one expression from each list, the last list varying fastest.
func product(e *site.Expr, lists [][]*site.Expr) (out []*site.Expr) {
	n := 1
	for _, l := range lists {
		n *= len(l)
	}
	for i := range n {
		kids, rest := make([]*site.Expr, len(lists)), i
		for k := len(lists) - 1; k >= 0; k-- {
			kids[k], rest = lists[k][rest%len(lists[k])], rest/len(lists[k])
		}
		out = append(out, &site.Expr{Op: site.OpAnd, Kids: kids, Span: e.Span})
	}
	return out
}
