// Lamps in a reaction and between two (lang/SEMANTICS.md section 2.4).

package oracle

import "lampwarden/lang/site"

// follow makes a lamp follow its circuit's request. v is the state under way;
// r.now is the one before any lamp has moved in this reaction.
func (m *model) follow(c *circuitPlace, v []uint16, r *reaction, want *resolution) {
	if v[c.left] == 0 { // still, or due now
		v[c.level] = c.region(c.aims[v[c.aim]])
	}
	x := &m.s.Circuits[c.id]
	back := !r.startUp && m.given(x.Dead, r.before) // it was dead
	switch {
	case m.given(x.Dead, v):
		m.put(c, v, 0)
	case r.down || m.given(x.Cut, v):
		if x.Fail != nil {
			m.put(c, v, *x.Fail)
		} else if back && x.PowerOn != nil {
			m.put(c, v, *x.PowerOn)
		}
	default:
		if back && x.PowerOn != nil {
			m.put(c, v, *x.PowerOn)
		}
		if !x.Colour || len(want.most) > 0 { // else a colour stays
			m.request(c, v, want, m.travel(c, r, want.ramp()))
		}
	}
	m.settle(c, v)
}

// put gives a lamp a level at once.
func (m *model) put(c *circuitPlace, v []uint16, l site.Level) {
	v[c.level], v[c.aim], v[c.left] = c.region(l), c.aimIndex(l), 0
}

// travel gives the ticks that a lamp takes to follow a request that changes now:
// the controller's time to react and a fade or ramp; none for the colour of a
// light that was dark.
func (m *model) travel(c *circuitPlace, r *reaction, ramp site.Millis) int {
	x := &m.s.Circuits[c.id]
	if x.Colour && m.k.levels[c.id] {
		if light := m.circuitOf(x.Light); r.now[light.level] == light.region(0) {
			return 0
		}
	}
	if ramp > 0 {
		return m.ticks(m.s.Controller.ReactsWithin + ramp)
	}
	return m.ticks(m.s.Controller.ReactsWithin + x.Fade)
}

// request gives a lamp the aim that is asked for. A movement that runs starts anew
// if it or the new one has a ramp or the circuit a fade, and else keeps the time it has.
func (m *model) request(c *circuitPlace, v []uint16, want *resolution, travel int) {
	aim := c.aimIndex(want.level)
	if aim == v[c.aim] {
		return
	}
	ramp := want.ramp() > 0
	if v[c.left] == 0 || m.s.Circuits[c.id].Fade > 0 || ramp || c.slow != absent && v[c.slow] == 1 {
		v[c.left] = uint16(travel)
		m.slowly(c, v, ramp)
	}
	v[c.aim] = aim
	if travel == 0 {
		v[c.level] = c.region(want.level)
	}
}

// slowly notes whether the movement that runs now is a ramp, where that matters.
func (m *model) slowly(c *circuitPlace, v []uint16, slow bool) {
	if c.slow == absent {
		return
	}
	v[c.slow] = 0
	if slow {
		v[c.slow] = 1
	}
}

// settle ends a movement whose level is in the region of its aim. For a circuit
// without a fade that region is the aim alone, and the movement ends by the
// rules. For one with a fade no comparison sees the rest of the movement, and
// the next one takes its full time in any case.
func (m *model) settle(c *circuitPlace, v []uint16) {
	if v[c.level] == c.region(c.aims[v[c.aim]]) {
		v[c.left] = 0
	}
	if v[c.left] == 0 {
		m.slowly(c, v, false)
	}
}

// steps gives the regions to which a lamp on its way may move now: its aim, and
// one region of each look on the way. Of several with the same look the first
// that is not an aim is enough: from each of them the lamp can go on in the same
// way, and exactly at an aim, unless it is its own, it stays on its way.
func (m *model) steps(c *circuitPlace, v []uint16) []uint16 {
	from, to := v[c.level], c.region(c.aims[v[c.aim]])
	if from == to {
		return nil
	}
	x := &m.s.Circuits[c.id]
	named := x.Colour && (c.present(v) < site.LeastKelvin || c.aims[v[c.aim]] < site.LeastKelvin)
	if x.Switched || named { // nothing lies between
		return []uint16{to}
	}
	step := 1
	if to < from {
		step = -1
	}
	var out []uint16
	look, settled := c.looks[from], true // settled: the look has its region
	for r := int(from) + step; r != int(to); r += step {
		if c.looks[r] != look {
			look, settled = c.looks[r], false
			out = append(out, uint16(r))
		}
		if !settled && !c.isAim(r) {
			out[len(out)-1], settled = uint16(r), true
		}
	}
	return append(out, to)
}
