// Colours of lights.

package sitegen

import "lampwarden/lang/site"

// colours gives dimmed lights colours, after all other circuits.
func (g *gen) colours() {
	for i := range g.lights() {
		x := &g.s.Circuits[i]
		if x.Switched || !g.some(g.o.ColourPercent, "colour") {
			continue
		}
		c := site.Circuit{Name: x.Name + " colour", Area: site.None, FedBy: site.None, Colour: true, Light: site.CircuitID(i)}
		if g.one(g.o.FadePercent, "its colour fades") {
			c.Fade = g.units("fade")
		}
		if x.PowerOn != nil && g.one(40, "power on colour") {
			l := g.code()
			c.PowerOn = &l
		}
		if x.Fail != nil && g.one(40, "failure colour") {
			l := g.code()
			c.Fail = &l
		}
		g.s.Circuits = append(g.s.Circuits, c)
	}
}

// code gives a named colour or a colour temperature.
func (g *gen) code() site.Level { return pick(g, []site.Level{2700, 1, 4000, 3}, "colour") }

// coloured adds, now and then, a setting of colours to those of a stage.
func (g *gen) coloured(out []site.Setting) []site.Setting {
	first := g.before(func(c *site.Circuit) bool { return c.Colour })
	n := len(g.s.Circuits) - first
	if n == 0 || !g.one(60, "colours asked") {
		return out
	}
	var st site.Setting
	for _, c := range g.subset(n, "coloured") {
		st.Circuits = append(st.Circuits, site.CircuitID(first+c))
	}
	st.Cases = g.cases()
	g.dress(&st)
	for i := range st.Cases {
		st.Cases[i].Level = g.code()
	}
	return append(out, st)
}
