// Random requirements. Purely random conditions are mostly true at start-up, so
// that most requirements would be broken by the first reaction; most conditions
// are therefore conjunctions, which few moments satisfy.

package sitegen

import (
	"fmt"

	"lampwarden/lang/site"
)

func (g *gen) requirements() {
	sc := scope{modes: g.known, lights: true}
	withEvents := sc
	withEvents.events = true
	for i := range g.o.Requirements {
		r := site.Requirement{Name: fmt.Sprintf("r%d", i+1), Form: pick(g, g.o.Forms, "form")}
		switch r.Form {
		case site.Never, site.Possible:
			r.P = g.seldom(sc)
		case site.Always:
			r.P = &site.Expr{Op: site.OpNot, Kids: []*site.Expr{g.seldom(sc)}}
			if g.one(25, "plain always") {
				r.P = g.cond(2, sc)
			}
		case site.Whenever:
			g.whenever(&r, sc, withEvents)
		case site.LastsAtMost, site.LastsAtLeast:
			r.P, r.D = g.seldom(sc), g.units("D")
		case site.AtMostTimes:
			r.P, r.D, r.N = g.cond(1, withEvents), g.units("D"), 1+g.c.Intn(3, "N")
		case site.Settles:
			r.P, r.D, r.Causes = g.cond(1, sc), g.units("D"), g.causes()
		case site.CanReturn:
			r.P, r.D = g.cond(1, sc), g.units("D")
		case site.Energy:
			g.energy(&r, sc)
		case site.OnlyAfter:
			r.P, r.Q = g.seldom(sc), g.cond(1, withEvents)
			if g.one(50, "since") {
				r.Since = g.cond(1, withEvents)
			}
		}
		g.mayFail(&r)
		g.s.Requirements = append(g.s.Requirements, r)
	}
}

func (g *gen) whenever(r *site.Requirement, sc, withEvents scope) {
	r.A, r.B, r.D = g.cond(1, withEvents), g.cond(1, sc), g.units("D")
	if g.one(50, "until") {
		r.Until = g.cond(1, withEvents)
	}
	if g.one(40, "for") {
		r.E = g.units("E")
	}
}

// seldom makes a condition that is true at few moments: mostly two or three
// atoms or their opposites together.
func (g *gen) seldom(sc scope) *site.Expr {
	if g.one(30, "any condition") {
		return g.cond(2, sc)
	}
	e := &site.Expr{Op: site.OpAnd}
	for range 2 + g.c.Intn(2, "conjuncts") {
		k := g.atom(sc)
		if g.one(35, "opposite") {
			k = &site.Expr{Op: site.OpNot, Kids: []*site.Expr{k}}
		}
		e.Kids = append(e.Kids, k)
	}
	return e
}
