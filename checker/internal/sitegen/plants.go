// Plant modes: the hysteresis of daylight, latched alarms, generators.

package sitegen

import (
	"fmt"

	"lampwarden/lang/site"
)

// plants makes the plant modes. They stand after the controller's in the table,
// and before them in the order of steps.
func (g *gen) plants() {
	g.plant = true
	g.feeds()
	if len(g.rungs) > 0 {
		g.bright("bright")
		if g.one(25, "two thresholds") {
			g.bright("very bright")
		}
	}
	if g.some(g.o.PlantPercent, "another plant mode") {
		m := site.Mode{Name: "panel"}
		if g.one(50, "latched") {
			m.Kind = site.Latch
			g.latch(&m)
		} else {
			g.while(&m)
		}
		g.addPlant(m)
	}
	g.plant = false
}

func (g *gen) addPlant(m site.Mode) site.ModeID {
	m.Plant, m.Area, m.States = true, site.None, []site.State{{}}
	id := site.ModeID(len(g.s.Modes))
	g.s.Modes = append(g.s.Modes, m)
	g.s.StepOrder, g.known = append(g.s.StepOrder, id), append(g.known, id)
	return id
}

// daylight makes the rungs of a sensor.
func (g *gen) daylight() {
	if !g.some(g.o.DaylightPercent, "daylight") {
		return
	}
	area := g.area()
	for i := range 1 + g.c.Intn(3, "rungs") {
		lux := int64(100 * (i + 1))
		g.rungs = append(g.rungs, g.addInput(site.Input{Name: fmt.Sprintf("lux%d", lux), Kind: site.Daylight, Area: area,
			Lux: lux, Sensor: "lux"}))
	}
}

// bright makes a plant mode of what the sensor reads: a hysteresis or a delay.
func (g *gen) bright(name string) {
	m := site.Mode{Name: name, Kind: site.Latch}
	if g.one(35, "delayed") {
		m.Kind, m.Cond = site.While, g.reading()
		if g.one(60, "on delay") {
			m.OnDelay = g.units("on delay")
		}
		if g.one(50, "off delay") {
			m.OffDelay = g.units("off delay")
		}
	} else {
		m.Starts = []site.Trigger{{On: g.reading()}}
		m.Ends = []site.Trigger{{On: opposite(g.reading())}}
		if g.one(10, "for") {
			m.For = g.units("for")
		}
	}
	g.addPlant(m)
}

// reading is "the sensor reads at least so much": a rung, or a lower one with the
// light of the lamps that it sees.
func (g *gen) reading() *site.Expr {
	at := g.c.Intn(len(g.rungs), "rung")
	rung := input(g.rungs[at])
	var terms []site.Term
	for c := range g.s.Circuits {
		if x := &g.s.Circuits[c]; x.SeenAfter > 0 {
			terms = append(terms, site.Term{Circuit: site.CircuitID(c), Weight: x.Adds})
		}
	}
	if len(terms) == 0 || g.one(20, "daylight alone") {
		return rung
	}
	sight := &site.Expr{Op: site.OpSum, Seen: true, Terms: terms,
		Need: terms[0].Weight * int64(pick(g, []site.Level{site.Full, 3000, 500, 6000}, "seen"))}
	if at > 0 && g.one(50, "a lower rung") {
		return either(rung, both(sight, input(g.rungs[at-1])))
	}
	return either(rung, sight)
}

// lasting lets a condition, in a site with plant modes, often hang on one of them.
func (g *gen) lasting(e *site.Expr) *site.Expr {
	if n := len(g.s.Modes) - g.own; n > 0 && !g.plant && g.one(40, "hangs on the plant") {
		k := &site.Expr{Op: site.OpMode, Mode: site.ModeID(g.own + g.c.Intn(n, "plant mode"))}
		if g.one(60, "not") {
			k = opposite(k)
		}
		if g.one(50, "alone") {
			return k
		}
		return both(k, e)
	}
	return e
}
