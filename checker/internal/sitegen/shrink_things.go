// Shrink: leaving out whole things. What names them goes too, or says "never".

package sitegen

import (
	"slices"

	"lampwarden/lang/site"
)

// dropThings leaves out one row of a table.
func dropThings(s *site.Site) (out []edit) {
	each := func(n int, f func(*site.Site, int)) {
		for i := range n {
			out = append(out, func(c *site.Site) { f(c, i) })
		}
	}
	each(len(s.Requirements), func(c *site.Site, i int) { c.Requirements = without(c.Requirements, i) })
	each(len(s.Modes), func(c *site.Site, i int) { dropMode(c, site.ModeID(i)) })
	each(len(s.Circuits), func(c *site.Site, i int) { dropCircuit(c, site.CircuitID(i)) })
	each(len(s.Supplies), func(c *site.Site, i int) { dropSupply(c, site.SupplyID(i)) })
	each(len(s.Inputs), func(c *site.Site, i int) { dropInput(c, site.InputID(i)) })
	each(len(s.Bands), func(c *site.Site, i int) { dropBand(c, site.BandID(i)) })
	each(len(s.Assumptions), func(c *site.Site, i int) { c.Assumptions = without(c.Assumptions, i) })
	each(len(s.Dates), func(c *site.Site, i int) { *c = *c.OnDate(i); noSun(c) })
	each(len(s.Covers), func(c *site.Site, i int) { c.Covers = without(c.Covers, i) })
	each(len(s.Jumps), func(c *site.Site, i int) { c.Jumps = without(c.Jumps, i) })
	return out
}

// never makes "never" of every atom that is about what has gone.
func never(s *site.Site, about func(*site.Expr) bool) {
	eachSlot(s, func(e **site.Expr) {
		(*e).Walk(func(x *site.Expr) {
			if about(x) {
				*x = site.Expr{Op: site.OpFalse}
			}
		})
	})
}

// eachNode calls f for every node of every condition.
func eachNode(s *site.Site, f func(*site.Expr)) {
	eachSlot(s, func(e **site.Expr) { (*e).Walk(f) })
}

func dropMode(s *site.Site, id site.ModeID) {
	isMode := func(x *site.Expr) bool { return x.Op == site.OpMode || x.Op == site.OpState || x.Op == site.OpStage }
	s.Modes = without(s.Modes, int(id))
	never(s, func(x *site.Expr) bool { return isMode(x) && x.Mode == id })
	eachNode(s, func(x *site.Expr) {
		if isMode(x) {
			x.Mode = moved(x.Mode, id)
		}
	})
	s.StepOrder = renumber(s.StepOrder, id)
	p := &s.Precedence
	p.Above, p.Equal = without(p.Above, int(id)), without(p.Equal, int(id))
	for i := range p.Above {
		p.Above[i], p.Equal[i] = without(p.Above[i], int(id)), without(p.Equal[i], int(id))
	}
	p.Pairs = slices.DeleteFunc(p.Pairs, func(x site.PrecedencePair) bool { return x.Over == id || x.Under == id })
	for i := range p.Pairs {
		p.Pairs[i].Over, p.Pairs[i].Under = moved(p.Pairs[i].Over, id), moved(p.Pairs[i].Under, id)
	}
	for i := range s.Requirements {
		c := &s.Requirements[i].Causes
		c.Modes = renumber(c.Modes, id)
	}
}

// dropCircuit leaves out a circuit, first its colour.
func dropCircuit(s *site.Site, id site.CircuitID) {
	for i := len(s.Circuits) - 1; i >= 0; i-- {
		if c := &s.Circuits[i]; c.Colour && c.Light == id {
			dropCircuit(s, site.CircuitID(i))
		}
	}
	s.Circuits = without(s.Circuits, int(id))
	for i := range s.Circuits {
		if c := &s.Circuits[i]; c.Colour {
			c.Light = moved(c.Light, id)
		}
	}
	never(s, func(x *site.Expr) bool { return x.Op == site.OpLight && x.Circuit == id })
	eachNode(s, func(x *site.Expr) {
		x.Circuit = moved(x.Circuit, id)
		x.Terms = dropTerm(x.Terms, id)
	})
	for i := range s.Requirements {
		s.Requirements[i].Draws = dropTerm(s.Requirements[i].Draws, id)
	}
	for i := range s.Groups {
		s.Groups[i].Circuits = renumber(s.Groups[i].Circuits, id)
	}
	eachStage(s, func(g *site.Stage) {
		for k := range g.Settings {
			g.Settings[k].Circuits = renumber(g.Settings[k].Circuits, id)
		}
		g.Settings = slices.DeleteFunc(g.Settings, func(x site.Setting) bool { return len(x.Circuits) == 0 })
	})
}

func dropTerm(ts []site.Term, id site.CircuitID) (out []site.Term) {
	for _, t := range ts {
		if t.Circuit != id {
			out = append(out, site.Term{Circuit: moved(t.Circuit, id), Weight: t.Weight})
		}
	}
	return out
}

// dropSupply leaves out a supply; when its circuits are dead stays with them (dropFeatures takes that).
func dropSupply(s *site.Site, id site.SupplyID) {
	s.Supplies = without(s.Supplies, int(id))
	for i := range s.Supplies {
		s.Supplies[i].ChargedBy = lost(s.Supplies[i].ChargedBy, id)
	}
	for i := range s.Circuits {
		s.Circuits[i].FedBy = lost(s.Circuits[i].FedBy, id)
	}
	s.Controller.FedBy = lost(s.Controller.FedBy, id)
}

// dropInput leaves out an input; one that a supply has is refused by Check, as the supply has to go first.
func dropInput(s *site.Site, id site.InputID) {
	isInput := func(x *site.Expr) bool { return x.Op == site.OpInput || x.Op == site.OpEvent }
	never(s, func(x *site.Expr) bool { return isInput(x) && x.Input == id })
	eachNode(s, func(x *site.Expr) { x.Input = moved(x.Input, id) })
	s.Inputs = without(s.Inputs, int(id))
	for i := range s.Supplies {
		s.Supplies[i].Health, s.Supplies[i].Flat = lost(s.Supplies[i].Health, id), lost(s.Supplies[i].Flat, id)
	}
	for i := range s.Assumptions {
		s.Assumptions[i].Inputs = renumber(s.Assumptions[i].Inputs, id)
	}
	s.Assumptions = slices.DeleteFunc(s.Assumptions, func(a site.Assumption) bool {
		return len(a.Inputs) == 0 || a.Kind == site.Charge && len(a.Inputs) < 2
	})
	for i := range s.Requirements {
		r := &s.Requirements[i]
		r.Causes.Inputs = renumber(r.Causes.Inputs, id)
		if r.Faults = renumber(r.Faults, id); len(r.Faults) < r.AtMost {
			r.AtMost = len(r.Faults)
		}
	}
}

func dropBand(s *site.Site, id site.BandID) {
	never(s, func(x *site.Expr) bool { return x.Op == site.OpBand && x.Band == id })
	eachNode(s, func(x *site.Expr) { x.Band = moved(x.Band, id) })
	s.Bands = without(s.Bands, int(id))
	for i := range s.Covers {
		s.Covers[i].Bands = renumber(s.Covers[i].Bands, id)
	}
	s.Covers = slices.DeleteFunc(s.Covers, func(c site.Cover) bool { return len(c.Bands) == 0 })
	for i := range s.Requirements {
		c := &s.Requirements[i].Causes
		c.Bands = renumber(c.Bands, id)
	}
}

// noSun makes plain times of a dated site's, where they are any.
func noSun(s *site.Site) {
	s.Date = ""
	for i := range s.Bands {
		if b := &s.Bands[i]; !b.Void {
			b.FromSun, b.ToSun, b.Overnight = nil, nil, false
		}
	}
	eachTrigger(s, func(t *site.Trigger) {
		if !t.Void {
			t.Sun = nil
		}
	})
}
