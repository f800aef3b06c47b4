// What a mode asks for: sequences, stages, flashes, settings, cases.

package sitegen

import "lampwarden/lang/site"

// sequence makes one to three stages.
func (g *gen) sequence() []site.Stage {
	n := []int{1, 1, 1, 2, 2, 3}[g.c.Intn(6, "stages")]
	out := make([]site.Stage, n)
	for i := range out {
		last := i == n-1
		st := &out[i]
		switch g.c.Intn(5, "stage") {
		case 3: // a flash without end, until the stage or the mode ends
			st.Flash = g.flash(0)
		case 4: // a counted flash, which sets the stage's length
			st.Flash = g.flash(1 + g.c.Intn(2, "times"))
			st.For = site.Millis(st.Flash.Times) * (st.Flash.On + st.Flash.Off)
		}
		if st.For == 0 && (!last || g.one(25, "last stage ends")) {
			st.For = g.units("stage")
		}
		st.Settings = g.settings(st.Flash != nil)
	}
	return out
}

func (g *gen) flash(times int) *site.Flash {
	return &site.Flash{Times: times, On: g.grain, Off: g.units("flash off")}
}

// settings makes one or two settings; the first of a flashing stage flashes. A
// setting is of lights or, not flashing, of outputs.
func (g *gen) settings(flashing bool) []site.Setting {
	out := make([]site.Setting, 1+g.c.Intn(2, "settings"))
	for i := range out {
		st := &out[i]
		first, n, end := 0, g.lights(), g.before(func(c *site.Circuit) bool { return c.Colour })
		flashes := flashing && i == 0
		if n < end && !flashes && g.one(40, "outputs asked") {
			first, n = n, end-n
		}
		for _, c := range g.subset(n, "target") {
			st.Circuits = append(st.Circuits, site.CircuitID(first+c))
		}
		if flashes {
			st.Flashing = true
			st.Cases = []site.Case{{Level: pick(g, []site.Level{site.Full, 5000}, "flash level")}}
			continue
		}
		st.Cases = g.cases()
		g.dress(st)
	}
	return g.coloured(out)
}

// cases makes an unconditional level, or up to two conditional ones with or
// without an "otherwise".
func (g *gen) cases() []site.Case {
	if !g.one(30, "cases") {
		return []site.Case{{Level: g.askedLevel()}}
	}
	var out []site.Case
	for range 1 + g.c.Intn(2, "conditional cases") {
		out = append(out, site.Case{When: g.cond(1, scope{modes: g.known}), Level: g.askedLevel()})
	}
	if g.one(50, "otherwise") {
		out = append(out, site.Case{Level: g.askedLevel()})
	}
	return out
}

// dress gives a setting of outputs the levels on and off, and one of lights now and
// then a ramp.
func (g *gen) dress(st *site.Setting) {
	output := g.s.Circuits[st.Circuits[0]].Output
	for i := range st.Cases {
		ca := &st.Cases[i]
		switch {
		case output:
			ca.Level = pick(g, []site.Level{site.Full, 0}, "output")
		case g.ramps && g.one(g.o.RampPercent, "ramp"):
			ca.Over = g.units("over")
		}
	}
}

func (g *gen) askedLevel() site.Level {
	return pick(g, []site.Level{site.Full, 0, 3000, 500, 6000}, "level")
}
