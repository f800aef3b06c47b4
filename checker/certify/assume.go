// What the environment may do (lang/SEMANTICS.md, section 3).

package certify

import (
	"slices"

	"lampwarden/lang/site"
)

// assumption is one that counts time.
type assumption struct {
	index int // into Site.Assumptions
	def   *site.Assumption
	clock int
	free  bool // its clock is relaxed: it forbids nothing that hangs on time
}

// few bounds which level inputs may be true at a time: at most n of them, or, of a ladder, each only with the one before.
type few struct {
	inputs []int // places
	n      int
	ladder bool
}

// guard is a bound on a clock: at least d, or less.
type guard struct {
	clock int
	d     site.Millis
	less  bool
}

// permission lets an event happen where the guards hold, and says what the assumptions remember of it.
type permission struct {
	guards     []guard
	runs, full []bool
	fresh      uint64 // clocks
}

// strikes tells whether an input may leave rest at all: a fault does only if the requirement lists it.
func (m *model) strikes(id site.InputID) bool {
	return !m.site.Inputs[id].Fault || slices.Contains(m.req.Faults, id)
}

// takeAssumptions finds the assumptions that speak of a kept input. What they say of the others is left out, which allows more.
func (m *model) takeAssumptions() {
	for i := range m.site.Assumptions {
		a := &m.site.Assumptions[i]
		var levels []int
		kept := false
		for _, id := range a.Inputs {
			if at := index(m.inputAt, int(id)); at >= 0 {
				levels, kept = append(levels, at), true
			}
			kept = kept || slices.ContainsFunc(m.events, func(e event) bool { return e.input == id })
		}
		switch {
		case !kept:
		case a.Kind == site.AtMost:
			m.few = append(m.few, few{inputs: levels, n: a.N})
		case a.Kind == site.Ladder:
			m.few = append(m.few, few{inputs: levels, ladder: true})
		default:
			m.assumed = append(m.assumed, assumption{index: i, def: a, clock: -1})
			for _, id := range a.Inputs {
				if a.Kind == site.Charge {
					m.want(m.inputAt[id] >= 0 || !m.strikes(id), "the input %s belongs to a battery with a kept input, but is not kept", m.inputName(id))
				}
			}
		}
	}
	if len(m.req.Faults) > 0 {
		f := few{n: m.req.AtMost}
		for _, id := range m.req.Faults {
			if at := index(m.inputAt, int(id)); at >= 0 {
				f.inputs = append(f.inputs, at)
			}
		}
		m.few = append(m.few, f)
	}
}

// fit tells whether the level inputs may have these values together.
func (m *model) fit(inputs []bool) bool {
	for _, f := range m.few {
		n, below := 0, true
		for _, at := range f.inputs {
			if f.ladder && inputs[at] && !below {
				return false
			}
			below = inputs[at]
			if below {
				n++
			}
		}
		if !f.ladder && n > f.n {
			return false
		}
	}
	return true
}

// startAssumptions sets what the assumptions remember at start-up: batteries are full, and one whose charger is lost is in use.
func (m *model) startAssumptions(s *state) (ok bool) {
	for i := range m.assumed {
		a := &m.assumed[i]
		if a.def.Kind != site.Charge {
			continue
		}
		if m.input(s, a.def.Inputs[0]) {
			return false
		}
		s.full[i] = true
		s.runs[i] = m.input(s, a.def.Inputs[1]) && !a.free && a.def.D > 0
	}
	return true
}

// input is the value of a level input; one that is not kept is at rest.
func (m *model) input(s *state, id site.InputID) bool {
	at := m.inputAt[id]
	return at >= 0 && s.inputs[at]
}

// permit tells when an event may happen in a state, in which ways.
func (m *model) permit(s *state, e event) []permission {
	if e.level {
		at := m.inputAt[e.input]
		inputs := slices.Clone(s.inputs)
		inputs[at] = !inputs[at]
		if !m.fit(inputs) {
			return nil
		}
	}
	all := []permission{{runs: slices.Clone(s.runs), full: slices.Clone(s.full)}}
	for i := range m.assumed {
		a := &m.assumed[i]
		if !slices.Contains(a.def.Inputs, e.input) {
			continue
		}
		switch a.def.Kind {
		case site.Spacing:
			m.spacing(all, i)
		case site.Dwell:
			m.dwell(all, i, m.input(s, e.input))
		case site.Charge:
			all = m.charge(all, i, s, e.input)
		}
	}
	return all
}

// start lets the clock of assumption i start in a permission.
func (m *model) start(p *permission, i int) {
	a := &m.assumed[i]
	p.runs[i] = !a.free
	p.fresh |= 1 << a.clock
}

// atLeast asks for time since the clock of assumption i started, if it runs.
func (m *model) atLeast(p *permission, i int, d site.Millis) {
	if p.runs[i] {
		p.guards = append(p.guards, guard{clock: m.assumed[i].clock, d: m.cooled(m.assumed[i].clock, d)})
	}
}

func (m *model) spacing(all []permission, i int) {
	for k := range all {
		m.atLeast(&all[k], i, m.assumed[i].def.D)
		m.start(&all[k], i)
	}
}

// dwell: is is the value before the change.
func (m *model) dwell(all []permission, i int, is bool) {
	a := m.assumed[i].def
	for k := range all {
		p := &all[k]
		if is == a.Value {
			m.atLeast(p, i, a.D)
			p.runs[i] = false
		} else {
			m.start(p, i)
		}
	}
}

// charge lets one of a battery's inputs change. While the charger is there, the clock counts how long it has been charging; while it is
// lost, how long a battery that was full has been in use. What is not known to be full may be flat at once.
func (m *model) charge(all []permission, i int, s *state, changed site.InputID) (out []permission) {
	a := m.assumed[i].def
	flat, lost := m.input(s, a.Inputs[0]), m.input(s, a.Inputs[1])
	for _, p := range all {
		switch {
		case changed == a.Inputs[0] && !flat: // it runs flat
			if !lost {
				continue
			}
			m.atLeast(&p, i, a.D)
			p.runs[i], p.full[i] = false, false
		case changed == a.Inputs[0]:
			if lost {
				continue
			}
		case lost: // the charger is back
			p.full[i] = false
			m.start(&p, i)
		case p.runs[i]: // the charger is lost while it charges
			if ck := m.assumed[i].clock; m.clocks[ck].treat == exact {
				q := permission{slices.Clone(p.guards), slices.Clone(p.runs), slices.Clone(p.full), p.fresh}
				if !flat {
					m.atLeast(&q, i, a.Recharge)
					q.full[i] = true
					m.start(&q, i)
					out = append(out, q)
				}
				p.guards = append(p.guards, guard{ck, a.Recharge, true})
			}
			p.runs[i] = false
		case p.full[i]:
			if flat {
				continue
			}
			m.start(&p, i)
		}
		out = append(out, p)
	}
	return out
}
