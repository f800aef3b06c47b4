// Areas, inputs, supplies, bands, circuits, assumptions.

package sitegen

import (
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

func (g *gen) areas() {
	names := []string{"hall", "yard"}
	tags := []string{"escape", "sleeping"}
	for i := range 1 + g.c.Intn(2, "areas") {
		a := site.Area{Name: names[i], Parent: site.None}
		if g.one(50, "tagged") {
			a.Tags = []string{tags[i]}
		}
		g.s.Areas = append(g.s.Areas, a)
	}
}

func (g *gen) area() site.AreaID { return site.AreaID(g.c.Intn(len(g.s.Areas), "area")) }

func (g *gen) inputs() {
	if g.one(40, "mains") {
		g.s.Supplies = append(g.s.Supplies, site.Supply{Name: "mains", ChargedBy: site.None, Flat: site.None})
	}
	if g.one(20, "battery") {
		b := site.Supply{Name: "ups", Battery: true, Health: site.None, ChargedBy: site.None, Flat: site.None, Standing: 12_000}
		if len(g.s.Supplies) > 0 {
			b.ChargedBy = 0
		}
		g.s.Supplies = append(g.s.Supplies, b)
		g.s.Controller.FedBy = site.SupplyID(len(g.s.Supplies) - 1)
	}
	kinds := []site.InputKind{site.Switch, site.Button, site.Presence, site.Alarm, site.Contact, site.Bell, site.Button}
	word := map[site.InputKind]string{site.Switch: "sw", site.Button: "key", site.Presence: "pir",
		site.Alarm: "alm", site.Contact: "win", site.Bell: "door"}
	for i := range 1 + g.c.Intn(g.o.MaxInputs, "inputs") {
		k := pick(g, kinds, "input kind")
		in := site.Input{Name: fmt.Sprintf("%s%d", word[k], i), Kind: k, Area: site.None}
		if k != site.Alarm && k != site.Bell {
			in.Area = g.area()
		}
		g.s.Inputs = append(g.s.Inputs, in)
	}
	if len(g.levelInputs()) == 0 && (len(g.s.Supplies) == 0 || g.s.Supplies[0].Battery) {
		// A condition needs something that lasts.
		sw := site.Input{Name: fmt.Sprintf("sw%d", len(g.s.Inputs)), Kind: site.Switch, Area: g.area()}
		g.s.Inputs = append(g.s.Inputs, sw)
	}
	for i := range g.s.Supplies {
		if sup := &g.s.Supplies[i]; !sup.Battery {
			sup.Health = site.InputID(len(g.s.Inputs))
			g.s.Inputs = append(g.s.Inputs, site.Input{Name: sup.Name, Kind: site.SupplyHealth, Area: site.None})
		}
	}
}

func (g *gen) inputsThat(ok func(site.InputKind) bool) []site.InputID {
	var out []site.InputID
	for i, in := range g.s.Inputs {
		if ok(in.Kind) && !in.Fault {
			out = append(out, site.InputID(i))
		}
	}
	return out
}

func (g *gen) levelInputs() []site.InputID {
	return g.inputsThat(func(k site.InputKind) bool { return !k.IsEvent() })
}
func (g *gen) eventInputs() []site.InputID { return g.inputsThat(site.InputKind.IsEvent) }

// bands makes one or two bands; one in three runs past midnight or starts at it.
func (g *gen) bands() {
	if !g.clock {
		return
	}
	for i := range 1 + g.c.Intn(2, "bands") {
		b := site.Band{Name: fmt.Sprintf("band%d", i), From: g.clockTime("from"), To: g.clockTime("to"),
			Days: g.days("band days")}
		if b.From == b.To {
			b.To = (b.From + g.grain) % site.Day
		}
		g.s.Bands = append(g.s.Bands, b)
	}
	if len(g.s.Bands) == 2 && g.one(30, "cover") {
		g.s.Covers = []site.Cover{{Bands: []site.BandID{0, 1}}}
	}
}

func (g *gen) circuits() {
	if g.one(g.o.ReactsPercent, "reacts within") {
		g.s.Controller.ReactsWithin = g.units("reacts within")
	}
	for i := range 1 + g.c.Intn(g.o.MaxCircuits, "circuits") {
		c := site.Circuit{Name: fmt.Sprintf("lamp%d", i), Area: g.area(), Min: 1, Max: site.Full, FedBy: site.None,
			Power: 10_000}
		if g.one(30, "switched") {
			c.Switched = true
		} else {
			if g.one(30, "range") {
				c.Min, c.Max = pick(g, []site.Level{1, 1000, 4000}, "min"), pick(g, []site.Level{site.Full, 8000}, "max")
			}
			if g.one(g.o.FadePercent, "fades") {
				c.Fade = g.units("fade")
			}
		}
		if n := len(g.s.Supplies); n > 0 && g.one(60, "fed") {
			c.FedBy = site.SupplyID(g.c.Intn(n, "feed"))
		}
		g.tell(&c)
		g.s.Circuits = append(g.s.Circuits, c)
	}
}

// outputs makes one or two outputs, after the circuits; the second is a notice.
func (g *gen) outputs() {
	if !g.one(g.o.OutputPercent, "outputs") {
		return
	}
	for i := range 1 + g.c.Intn(2, "outputs") {
		c := site.Circuit{Name: fmt.Sprintf("out%d", i), Area: site.None, Output: true, Switched: true, Min: 1, Max: site.Full,
			FedBy: site.None}
		if i == 1 {
			c.Notice = "something is to be told"
		}
		g.s.Circuits = append(g.s.Circuits, c)
	}
}

// lights counts the circuits that are lights; they stand before the outputs.
func (g *gen) lights() int {
	return g.before(func(c *site.Circuit) bool { return c.Output || c.Colour })
}

// before counts the circuits before the first that is one of those asked for.
func (g *gen) before(is func(*site.Circuit) bool) int {
	for i := range g.s.Circuits {
		if is(&g.s.Circuits[i]) {
			return i
		}
	}
	return len(g.s.Circuits)
}

func (g *gen) assumptions() {
	levels := g.levelInputs()
	for range g.c.Intn(4, "assumptions") {
		switch g.c.Intn(3, "assumption") {
		case 0:
			a := site.Assumption{Kind: site.Spacing, D: g.units("spacing")}
			for _, i := range g.subset(len(g.s.Inputs), "spaced input") {
				a.Inputs = append(a.Inputs, site.InputID(i))
			}
			g.s.Assumptions = append(g.s.Assumptions, a)
		case 1:
			if len(levels) > 0 {
				g.s.Assumptions = append(g.s.Assumptions, site.Assumption{Kind: site.Dwell, D: g.units("dwell"),
					Inputs: []site.InputID{pick(g, levels, "dwelling input")}, Value: g.one(60, "dwell value")})
			}
		case 2:
			if len(levels) > 1 {
				a := site.Assumption{Kind: site.AtMost, Inputs: slices.Clone(levels), N: 1}
				if len(levels) > 2 {
					a.N = 1 + g.c.Intn(len(levels)-1, "at most")
				}
				g.s.Assumptions = append(g.s.Assumptions, a)
			}
		}
	}
}
