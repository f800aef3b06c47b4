// The parts of requirements that came later: sums, causes, energy, faults.

package sitegen

import "lampwarden/lang/site"

// moreAssumptions makes those that the features need.
func (g *gen) moreAssumptions() {
	if len(g.rungs) > 0 {
		g.s.Assumptions = append(g.s.Assumptions, site.Assumption{Kind: site.Ladder, Inputs: g.rungs})
	}
	g.s.Assumptions = append(g.s.Assumptions, g.flats...)
}

// special gives atoms that speak of the site's features, so that requirements do not pass them by.
func (g *gen) special() (out []*site.Expr) {
	for i, in := range g.s.Inputs {
		if in.Kind > site.Bell {
			out = append(out, input(site.InputID(i)))
		}
	}
	for i := range g.s.Modes {
		if g.s.Modes[i].Plant {
			out = append(out, &site.Expr{Op: site.OpMode, Mode: site.ModeID(i)})
		}
	}
	for range 2 {
		if d := g.s.Controller.Down; d != nil {
			out = append(out, opposite(cloneExpr(d)), cloneExpr(d))
		}
	}
	for i := range g.s.Circuits {
		id := site.CircuitID(i)
		if cut := g.s.Circuits[i].Cut; cut != nil {
			out = append(out, cloneExpr(cut))
		}
		switch c := &g.s.Circuits[i]; {
		case c.Colour:
			out = append(out, &site.Expr{Op: site.OpLight, Circuit: id, Lo: 1, Hi: 1},
				&site.Expr{Op: site.OpLight, Circuit: id, Lo: 2700, Hi: 2700}, &site.Expr{Op: site.OpLight, Circuit: id, Lo: 2701, Hi: site.Full})
		case c.Fail != nil:
			out = append(out, &site.Expr{Op: site.OpLight, Circuit: id, Lo: *c.Fail, Hi: *c.Fail})
		case c.PowerOn != nil:
			out = append(out, &site.Expr{Op: site.OpLight, Circuit: id, Lo: *c.PowerOn, Hi: *c.PowerOn})
		}
	}
	return out
}

// sum makes a comparison of the present levels of some lights.
func (g *gen) sum() *site.Expr {
	e := &site.Expr{Op: site.OpSum, Up: g.one(50, "up")}
	for _, c := range g.subset(g.lights(), "summed") {
		w := int64(1 + g.c.Intn(2, "weight"))
		e.Terms = append(e.Terms, site.Term{Circuit: site.CircuitID(c), Weight: w})
		e.Need += w * int64(pick(g, []site.Level{3000, 500, 0, site.Full}, "part of the sum"))
	}
	e.Need++ // more than
	if g.one(50, "not less than") {
		e.Need--
	}
	return e
}

// causes gives all that there is, or some of it.
func (g *gen) causes() (c site.Causes) {
	some := g.one(30, "some causes")
	counts := func() bool { return !some || g.one(60, "cause") }
	for i := range g.s.Inputs {
		if counts() {
			c.Inputs = append(c.Inputs, site.InputID(i))
		}
	}
	for i := range g.s.Bands {
		if counts() {
			c.Bands = append(c.Bands, site.BandID(i))
		}
	}
	for i := range g.s.Modes {
		if counts() {
			c.Modes = append(c.Modes, site.ModeID(i))
		}
	}
	return c
}

// energy makes a limit of about what the circuits can use. A weight of 3.6 kW makes
// whole milliwatt-hours of a full lamp in each grain.
func (g *gen) energy(r *site.Requirement, sc scope) {
	const weight = 3_600_000
	r.D = g.units("D")
	most := int64(0)
	for _, c := range g.subset(g.lights(), "draws") {
		r.Draws = append(r.Draws, site.Term{Circuit: site.CircuitID(c), Weight: weight})
		most += weight
	}
	if g.one(30, "standing") {
		r.Standing = weight / 10
		most += r.Standing
	}
	if g.one(60, "during") {
		r.During = g.cond(1, sc)
	}
	// What they use in D at the very most, and a quarter of that at least for ticks to make a difference.
	r.Limit = most * int64(r.D) / 3_600_000 * int64(1+g.c.Intn(4, "limit")) / 4
}

// mayFail lists faults that the requirement is to survive.
func (g *gen) mayFail(r *site.Requirement) {
	from := append([]site.InputID(nil), g.fails...)
	for i := range g.s.Supplies {
		if h := g.s.Supplies[i].Health; h != site.None && len(g.fails) > 0 {
			from = append(from, h)
		}
	}
	if len(from) == 0 || !g.some(g.o.FaultPercent, "even with") {
		return
	}
	for _, i := range g.subset(len(from), "fault") {
		r.Faults = append(r.Faults, from[i])
	}
	r.AtMost = 1 + g.c.Intn(len(r.Faults), "at most")
}
