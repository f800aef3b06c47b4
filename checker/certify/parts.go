// The parts of a requirement: questions that can be answered one by one.

package certify

import "lampwarden/lang/site"

// maxParts bounds the parts that an "and" is taken apart into.
const maxParts = 2000

// part is one question of a requirement. The requirement holds if each part does.
type part struct {
	form site.Form
	// exprs are the conditions that the observer looks at, a truth having a bit for each:
	//
	//	Never, Always, Possible   what must not come true
	//	Whenever, with for        A, B, Until
	//	Whenever until            A, what must not be true from D on, Until
	//	LastsAtMost, LastsAtLeast, AtMostTimes, Settles   P
	//	OnlyAfter                 P, Q, Since
	//	Energy, a claim           During, that the light is high
	//
	// A nil one is never true.
	exprs []*site.Expr
	d     [2]site.Millis // durations of the observer's timers: D, E
	n     int
}

// lasting tells whether the part is a Whenever with for, until whether it is one with until alone.
func (p *part) lasting() bool { return p.form == site.Whenever && p.d[1] > 0 }
func (p *part) until() bool   { return p.form == site.Whenever && p.d[1] == 0 && p.exprs[2] != nil }

// readsEvents tells whether a condition reads an event, so that the instant of a reaction matters.
func (p *part) readsEvents() bool {
	found := false
	for _, e := range p.exprs {
		e.Walk(func(x *site.Expr) { found = found || x.Op == site.OpEvent })
	}
	return found
}

// needsCauses tells whether the observer must know what causes a reaction.
func (p *part) needsCauses() bool { return p.form == site.Settles }

// parts takes a requirement apart; nil, false for a form that has no certificates. That a condition can not be true at all may
// leave no part.
func parts(r *site.Requirement) (out []part, ok bool) {
	one := part{form: r.Form, d: [2]site.Millis{r.D, r.E}, n: r.N}
	each := func(bad []*site.Expr, exprs func(*site.Expr) []*site.Expr) {
		for _, e := range bad {
			p := one
			p.exprs = exprs(e)
			out = append(out, p)
		}
	}
	alone := func(e *site.Expr) []*site.Expr { return []*site.Expr{e} }
	switch r.Form {
	case site.Never:
		each(disjuncts(r.P, true), alone)
	case site.Always:
		each(disjuncts(r.P, false), alone)
	case site.Possible, site.LastsAtMost, site.LastsAtLeast, site.AtMostTimes, site.Settles:
		each([]*site.Expr{r.P}, alone)
	case site.OnlyAfter:
		each([]*site.Expr{r.P}, func(p *site.Expr) []*site.Expr { return []*site.Expr{p, r.Q, r.Since} })
	case site.Whenever:
		bad := []*site.Expr{r.B}
		if r.E == 0 && r.Until != nil { // B false at one moment breaks it, so each way to be false is a question of its own
			bad = disjuncts(r.B, false)
		}
		each(bad, func(b *site.Expr) []*site.Expr { return []*site.Expr{r.A, b, r.Until} })
	default:
		return nil, false
	}
	return out, true
}

// disjuncts gives expressions of which one at least is true whenever e has the value, and never otherwise: negations go down to
// the atoms, "and" over "or" is multiplied out.
func disjuncts(e *site.Expr, value bool) []*site.Expr { return multiply(toAtoms(e, value)) }

// toAtoms gives an expression that is true whenever e has the value, with negations at atoms only.
func toAtoms(e *site.Expr, value bool) *site.Expr {
	out := *e
	switch e.Op {
	case site.OpNot:
		return toAtoms(e.Kids[0], !value)
	case site.OpAnd, site.OpOr:
		if !value {
			out.Op = map[site.Op]site.Op{site.OpAnd: site.OpOr, site.OpOr: site.OpAnd}[e.Op] // De Morgan
		}
		out.Kids = make([]*site.Expr, len(e.Kids))
		for i, k := range e.Kids {
			out.Kids[i] = toAtoms(k, value)
		}
		return &out
	}
	if value {
		return e
	}
	switch {
	case e.Op == site.OpTrue, e.Op == site.OpAtLeast && e.N <= 0:
		return &site.Expr{Op: site.OpFalse, Span: e.Span}
	case e.Op == site.OpFalse:
		return &site.Expr{Op: site.OpTrue, Span: e.Span}
	case e.Op == site.OpAtMost:
		out.Op, out.N = site.OpAtLeast, e.N+1
	case e.Op == site.OpAtLeast:
		out.Op, out.N = site.OpAtMost, e.N-1
	default:
		return &site.Expr{Op: site.OpNot, Kids: []*site.Expr{e}, Span: e.Span}
	}
	return &out
}

// multiply gives the expressions whose disjunction e is; the first kid of an "and" varies slowest.
func multiply(e *site.Expr) []*site.Expr {
	switch e.Op {
	case site.OpOr:
		var out []*site.Expr
		for _, k := range e.Kids {
			out = append(out, multiply(k)...)
		}
		return out
	case site.OpAnd:
		factors := make([][]*site.Expr, len(e.Kids))
		count := 1
		for i, k := range e.Kids {
			factors[i] = multiply(k)
			if count *= len(factors[i]); count > maxParts {
				return []*site.Expr{e}
			}
		}
		products := [][]*site.Expr{nil}
		for _, f := range factors {
			var next [][]*site.Expr
			for _, p := range products {
				for _, x := range f {
					next = append(next, append(append([]*site.Expr(nil), p...), x))
				}
			}
			products = next
		}
		out := make([]*site.Expr, len(products))
		for i, kids := range products {
			out[i] = &site.Expr{Op: site.OpAnd, Kids: kids, Span: e.Span}
		}
		return out
	}
	return []*site.Expr{e}
}
