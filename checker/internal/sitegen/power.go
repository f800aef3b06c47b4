// Supplies that come back, run flat or stand in; what takes circuits and the
// controller away.

package sitegen

import (
	"fmt"

	"lampwarden/lang/site"
)

func (g *gen) addInput(in site.Input) site.InputID {
	g.s.Inputs = append(g.s.Inputs, in)
	return site.InputID(len(g.s.Inputs) - 1)
}

// moreInputs makes the inputs of the features, after all others.
func (g *gen) moreInputs() {
	g.daylight()
	if g.clock && g.some(g.o.CalendarPercent, "calendar") {
		g.addInput(site.Input{Name: "holiday", Kind: site.Calendar, Area: site.None})
	}
	if g.some(g.o.FailurePercent, "failures") {
		for i := range 1 + g.c.Intn(2, "failures") {
			id := g.addInput(site.Input{Name: fmt.Sprintf("failed%d", i), Kind: site.Failure, Area: site.None, Fault: g.one(80, "fault")})
			if g.s.Inputs[id].Fault {
				g.fails = append(g.fails, id)
			}
		}
	}
	if g.some(g.o.GeneratorPercent, "generator") {
		g.mains()
		g.s.Supplies = append(g.s.Supplies, site.Supply{Name: "genset", Health: site.None, ChargedBy: site.None, Flat: site.None})
	}
	if g.some(g.o.BatteryPercent, "battery that runs flat") {
		g.cell()
	}
}

// mains gives the mains supply, which it makes if there is none.
func (g *gen) mains() site.SupplyID {
	for i := range g.s.Supplies {
		if s := &g.s.Supplies[i]; !s.Battery && s.Health != site.None {
			return site.SupplyID(i)
		}
	}
	health := g.addInput(site.Input{Name: "mains", Kind: site.SupplyHealth, Area: site.None})
	g.s.Supplies = append(g.s.Supplies, site.Supply{Name: "mains", Health: health, ChargedBy: site.None, Flat: site.None})
	return site.SupplyID(len(g.s.Supplies) - 1)
}

// cell makes a battery that runs flat.
func (g *gen) cell() {
	charger := g.mains()
	flat := g.addInput(site.Input{Name: "cell", Kind: site.Flatness, Area: site.None})
	g.s.Supplies = append(g.s.Supplies, site.Supply{Name: "cell", Battery: true, Health: site.None, ChargedBy: charger, Flat: flat,
		Capacity: 1000, Usable: site.Full, Standing: 1000})
	g.flats = append(g.flats, site.Assumption{Kind: site.Charge, D: g.units("lasts"), Recharge: g.units("recharge"),
		Inputs: []site.InputID{flat, g.s.Supplies[charger].Health}})
}

// tell gives a light a failure level and a power on level, and lets the sensor see it.
func (g *gen) tell(c *site.Circuit) {
	if len(g.rungs) > 0 && g.some(g.o.SightPercent, "seen") {
		c.Adds, c.SeenAfter = 100, g.units("seen after")
	}
	if g.some(g.o.LevelsPercent, "levels of its own") {
		both := g.c.Intn(3, "failure or power on")
		if both != 1 {
			l := c.Clamp(g.askedLevel())
			c.Fail = &l
		}
		if both != 0 {
			l := c.Clamp(g.askedLevel())
			c.PowerOn = &l
		}
	}
}

// feeds tells when each circuit is dead or cut and when the controller is down,
// once it is known what the supplies are.
func (g *gen) feeds() {
	for i := range g.s.Supplies {
		if s := &g.s.Supplies[i]; !s.Battery && s.Health == site.None {
			g.generator(s)
		}
	}
	for i := range g.s.Circuits {
		c := &g.s.Circuits[i]
		if c.Colour {
			c.Dead, c.Cut = cloneExpr(g.s.Circuits[c.Light].Dead), cloneExpr(g.s.Circuits[c.Light].Cut)
			continue
		}
		if c.Dead = g.s.FeedDead(c.FedBy); c.Dead != nil && g.some(g.o.ReturnPercent, "comes back later") {
			c.Dead = g.held(c.Name+" returns", c.Dead)
		}
		if g.some(g.o.CutPercent, "cut") {
			c.Cut = g.trouble()
		}
	}
	if g.some(g.o.DownPercent, "down") {
		down := g.trouble()
		if g.one(40, "starts within") {
			down = g.held("starting", down)
		}
		g.s.Controller.Down, g.s.Controller.Keeps = down, g.one(50, "keeps")
	}
}

func (g *gen) generator(s *site.Supply) {
	lost := input(g.s.Supplies[g.mains()].Health)
	run := cloneExpr(lost)
	if len(g.fails) > 0 && g.one(40, "fails to start") {
		run = both(run, opposite(input(pick(g, g.fails, "fault"))))
	}
	id := g.addPlant(site.Mode{Name: s.Name + " running", Kind: site.While, Cond: run, OnDelay: g.units("start")})
	s.Dead = both(lost, opposite(&site.Expr{Op: site.OpMode, Mode: id}))
}

// held makes a plant mode that holds while a condition does and some time after.
func (g *gen) held(name string, cond *site.Expr) *site.Expr {
	id := g.addPlant(site.Mode{Name: name, Kind: site.While, Cond: cond, OffDelay: g.units("off delay")})
	return &site.Expr{Op: site.OpMode, Mode: id}
}

// trouble is a condition that takes something away: mostly one of the inputs.
func (g *gen) trouble() *site.Expr {
	var from []site.InputID
	from = append(from, g.fails...)
	for i := range g.s.Supplies {
		if h := g.s.Supplies[i].Health; h != site.None {
			from = append(from, h)
		}
	}
	if len(from) == 0 || g.one(40, "another input") {
		from = g.levelInputs()
	}
	e := input(pick(g, from, "trouble"))
	if g.one(15, "two troubles") {
		e = &site.Expr{Op: pick(g, []site.Op{site.OpOr, site.OpAnd}, "operator"), Kids: []*site.Expr{e, input(pick(g, from, "trouble"))}}
	}
	return e
}

func input(id site.InputID) *site.Expr { return &site.Expr{Op: site.OpInput, Input: id} }
func both(a, b *site.Expr) *site.Expr  { return &site.Expr{Op: site.OpAnd, Kids: []*site.Expr{a, b}} }
func either(a, b *site.Expr) *site.Expr {
	return &site.Expr{Op: site.OpOr, Kids: []*site.Expr{a, b}}
}
