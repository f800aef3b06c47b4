// Conditions at a moment (lang/SEMANTICS.md section 4).

package oracle

import "lampwarden/lang/site"

// moment is what a condition is evaluated at: a state, the state before the
// reaction for OpWas, and the event of the instant, if any.
type moment struct {
	now, before []uint16
	event       *event
}

func (m *model) holds(e *site.Expr, at moment) bool {
	switch e.Op {
	case site.OpTrue:
		return true
	case site.OpFalse:
		return false
	case site.OpNot:
		return !m.holds(e.Kids[0], at)
	case site.OpAnd:
		for _, k := range e.Kids {
			if !m.holds(k, at) {
				return false
			}
		}
		return true
	case site.OpOr:
		for _, k := range e.Kids {
			if m.holds(k, at) {
				return true
			}
		}
		return false
	case site.OpAtMost:
		return m.count(e.Kids, at) <= e.N
	case site.OpAtLeast:
		return m.count(e.Kids, at) >= e.N
	case site.OpInput:
		return m.on(at.now, e.Input)
	case site.OpEvent:
		return at.event != nil && *at.event == event{e.Input, e.Gesture}
	case site.OpBand:
		return m.inBand(&m.s.Bands[e.Band], at.now[m.tod])
	case site.OpMode:
		return m.active(e.Mode, at.now)
	case site.OpState:
		return int(at.now[m.modes[e.Mode].phase]) == e.State
	case site.OpStage:
		return m.active(e.Mode, at.now) && m.asking(e.Mode, at.now) && int(at.now[m.modes[e.Mode].stage]) == e.State
	case site.OpWas:
		return m.holds(e.Kids[0], moment{now: at.before, before: at.before})
	case site.OpLight:
		l := m.circuitOf(e.Circuit).present(at.now)
		return e.Lo <= l && l <= e.Hi
	case site.OpSum:
		return m.sum(e.Terms, e.Seen, e.Up, at.now) >= e.Need
	}
	return false
}

// given tells whether a condition of a feed or of the controller holds; nil: never.
func (m *model) given(e *site.Expr, v []uint16) bool { return e != nil && m.holds(e, moment{now: v}) }

func (m *model) count(kids []*site.Expr, at moment) int {
	n := 0
	for _, k := range kids {
		if m.holds(k, at) {
			n++
		}
	}
	return n
}

// sum adds levels times weights: those that the sensors see, or the present ones,
// each rounded to a resting level. A circuit without a seeing time is never seen.
func (m *model) sum(terms []site.Term, seen, up bool, v []uint16) int64 {
	total := int64(0)
	for _, t := range terms {
		p := m.circuitOf(t.Circuit)
		switch {
		case !seen:
			total += t.Weight * int64(site.Round(p.aims, p.present(v), up))
		case p != nil && p.seen != absent:
			total += t.Weight * int64(p.aims[v[p.seen]])
		}
	}
	return total
}

func (m *model) circuitOf(id site.CircuitID) *circuitPlace {
	for i := range m.circuits {
		if m.circuits[i].id == id {
			return &m.circuits[i]
		}
	}
	return nil
}

// active tells whether a mode is active.
func (m *model) active(id site.ModeID, v []uint16) bool {
	switch p := v[m.modes[id].phase]; m.s.Modes[id].Kind {
	case site.While:
		return p == whileOn || p == whileHolding || p == whilePulsing
	default: // Latch: 1 is active; States: every state but the first
		return p != 0
	}
}

// asking tells whether a mode's sequence is in a stage: it is active, or a
// States mode, and its sequence is not over.
func (m *model) asking(id site.ModeID, v []uint16) bool {
	x := &m.s.Modes[id]
	if x.Kind != site.States && !m.active(id, v) {
		return false
	}
	return int(v[m.modes[id].stage]) < len(m.stages(id, v))
}

// stages gives the sequence of the state in which the mode is.
func (m *model) stages(id site.ModeID, v []uint16) []site.Stage {
	x := &m.s.Modes[id]
	if x.Kind == site.States {
		return x.States[v[m.modes[id].phase]].Stages
	}
	return x.States[0].Stages
}
