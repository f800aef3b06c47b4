// Requests and lamps in a reaction (lang/SEMANTICS.md sections 2.3 and 2.4).

package oracle

import (
	"encoding/binary"
	"slices"

	"lampwarden/lang/site"
)

// request is what one mode asks of a circuit, and by which setting.
type request struct {
	mode                  site.ModeID
	state, stage, setting int
	level                 site.Level
	over                  site.Millis // time of a ramp, or 0
}

// resolution is how a circuit's request came about.
type resolution struct {
	circuit   site.CircuitID
	most      []request // those that are not outranked
	level     site.Level
	ambiguous bool
	levels    []site.Level // ambiguous: what may be chosen
}

// winners gives the requests that agree with the outcome.
func (r *resolution) winners() []request {
	var out []request
	for _, a := range r.most {
		if a.level == r.level {
			out = append(out, a)
		}
	}
	return out
}

// ramp gives the time of the ramp of the setting that decides, of several that of
// the mode written last; 0 if it has none, or if nothing decides.
func (r *resolution) ramp() site.Millis {
	over := site.Millis(0)
	for _, a := range r.winners() { // in written order
		over = a.over
	}
	return over
}

// asked gives what a mode asks of a circuit.
func (m *model) asked(id site.ModeID, c site.CircuitID, at moment) (request, bool) {
	p := &m.modes[id]
	if p.stage == absent || !m.asking(id, at.now) {
		return request{}, false
	}
	r := request{mode: id, stage: int(at.now[p.stage])}
	if m.s.Modes[id].Kind == site.States {
		r.state = int(at.now[p.phase])
	}
	g := &m.stages(id, at.now)[r.stage]
	for i := len(g.Settings) - 1; i >= 0; i-- {
		set := &g.Settings[i]
		if !slices.Contains(set.Circuits, c) {
			continue
		}
		for _, ca := range set.Cases {
			if ca.When != nil && !m.holds(ca.When, at) {
				continue
			}
			r.setting, r.level, r.over = i, m.s.Circuits[c].Clamp(ca.Level), ca.Over
			if set.Flashing && g.Flash != nil &&
				int(at.now[p.stageAge])%m.ticks(g.Flash.On+g.Flash.Off) >= m.ticks(g.Flash.On) {
				r.level, r.over = 0, 0
			}
			return r, true
		}
	}
	return request{}, false
}

// resolve settles a circuit's request, but for the choice of an ambiguous one.
func (m *model) resolve(c site.CircuitID, at moment) resolution {
	var all []request
	for id := range m.s.Modes {
		if a, ok := m.asked(site.ModeID(id), c, at); ok {
			all = append(all, a)
		}
	}
	out := resolution{circuit: c}
	for _, a := range all {
		if !slices.ContainsFunc(all, func(b request) bool { return m.s.Precedence.Outranks(b.mode, a.mode) }) {
			out.most = append(out.most, a)
		}
	}
	if len(out.most) == 0 {
		return out
	}
	for _, a := range out.most {
		if !slices.Contains(out.levels, a.level) {
			out.levels = append(out.levels, a.level)
		}
	}
	switch {
	case len(out.levels) == 1:
		out.level = out.levels[0]
	case m.everyPair(c, out.most, site.Highest):
		out.level = slices.Max(out.levels)
	case m.everyPair(c, out.most, site.Latest):
		out.level = m.latest(out.most, at.now).level
	default:
		out.ambiguous = true
	}
	return out
}

// everyPair tells whether a rule stands between each two of the requests. For a
// colour, Highest is read as Latest.
func (m *model) everyPair(c site.CircuitID, most []request, r site.Rule) bool {
	for i := range most {
		for j := range i {
			rule := m.s.Precedence.RuleFor(most[i].mode, most[j].mode)
			if m.s.Circuits[c].Colour && rule == site.Highest {
				rule = site.Latest
			}
			if rule != r {
				return false
			}
		}
	}
	return true
}

// latest gives the request of the mode with the greatest recency, the last
// written of equals; most is in written order.
func (m *model) latest(most []request, v []uint16) request {
	best := most[0]
	for _, a := range most[1:] {
		if v[m.modes[a.mode].rank] >= v[m.modes[best.mode].rank] {
			best = a
		}
	}
	return best
}

// signature names an ambiguity: the modes and the levels that they ask.
func (x *explorer) signature(r *resolution) uint16 {
	var b []byte
	for _, a := range r.most {
		b = binary.AppendVarint(b, int64(a.mode))
		b = binary.AppendVarint(b, int64(a.level))
	}
	id, ok := x.signatures[string(b)]
	if !ok {
		id = uint16(len(x.signatures) + 1)
		x.signatures[string(b)] = id
	}
	return id
}

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
