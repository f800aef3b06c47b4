// Requests in a reaction (lang/SEMANTICS.md section 2.3).

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
