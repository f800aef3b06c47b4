// Which parts of a site protect people: alarm modes, and the circuits of ways out and of emergency supplies.

package strength

import (
	"slices"

	"lampwarden/lang/site"
)

// lights tells for every circuit why its light under an alarm counts: it lights a way out (it lies in an area tagged escape), it
// hangs on a battery or a generator, or only because alarm modes use it.
func lights(s *site.Site) []Safety {
	out := make([]Safety, len(s.Circuits))
	for i := range s.Circuits {
		switch c := &s.Circuits[i]; {
		case c.Area != site.None && s.Areas[c.Area].HasTag("escape"):
			out[i] = WayOut
		case emergency(s, c.FedBy):
			out[i] = Emergency
		default:
			out[i] = OtherLight
		}
	}
	for i := range s.Circuits {
		if c := &s.Circuits[i]; c.Colour {
			out[i] = out[c.Light]
		}
	}
	return out
}

// held tells whether every light of a way out stands at full while the controller is down, so that it does not hang on how
// soon that comes back and what it then knows.
func (b *builder) held() bool {
	for i := range b.s.Circuits {
		c := &b.s.Circuits[i]
		if !c.Colour && b.light[i] == WayOut && (c.Fail == nil || *c.Fail != c.Top()) {
			return false
		}
	}
	return true
}

// guarded gives the reason of a circuit of a way out or of an emergency supply.
func (b *builder) guarded(id site.CircuitID) Safety {
	if l := b.light[id]; l != OtherLight {
		return l
	}
	return NoSafety
}

// counts tells why a change counts that touches what a mode does to circuits: only if it is an alarm mode, or of the plant behind one.
func (b *builder) counts(id site.ModeID, circuits []site.CircuitID) Safety {
	out := NoSafety
	if !b.alarm[id] {
		return out
	}
	for _, c := range circuits {
		if out == NoSafety || b.light[c] < out {
			out = b.light[c]
		}
	}
	return out
}

// lightOf gives for every mode the circuits that hang on it: what it sets; of a plant mode what the modes set that start by it,
// and what it takes the current from; of one that takes the controller down, everything.
func lightOf(s *site.Site) [][]site.CircuitID {
	out := make([][]site.CircuitID, len(s.Modes))
	for i := range s.Modes {
		eachSetting(&s.Modes[i], func(_, _, _ int, set *site.Setting) { out[i] = append(out[i], set.Circuits...) })
	}
	for range s.Modes { // plant modes behind plant modes
		before := sizes(out)
		for i := range s.Modes {
			for _, e := range comings(&s.Modes[i]) {
				for _, m := range e.Modes() {
					if s.Modes[m].Plant {
						out[m] = append(out[m], out[i]...)
					}
				}
			}
		}
		for i := range s.Circuits {
			for _, e := range []*site.Expr{s.Circuits[i].Dead, s.Circuits[i].Cut, s.Controller.Down} {
				for _, m := range e.Modes() {
					out[m] = append(out[m], site.CircuitID(i))
				}
			}
		}
		for i := range out {
			slices.Sort(out[i])
			out[i] = slices.Compact(out[i])
		}
		if sizes(out) == before {
			break
		}
	}
	return out
}

func sizes(lists [][]site.CircuitID) (n int) {
	for _, l := range lists {
		n += len(l)
	}
	return n
}

// alarmModes tells which modes are alarm modes, and which of the plant stand behind them, behind a guarded circuit or behind
// the controller.
func alarmModes(s *site.Site) []bool {
	out := make([]bool, len(s.Modes))
	a := &alarms{s: s, plant: make([]uint8, len(s.Modes))}
	for i := range s.Modes {
		m := &s.Modes[i]
		out[i] = !m.Plant && slices.ContainsFunc(comings(m), a.called)
	}
	needed := make([]bool, len(s.Modes))
	var need func(e *site.Expr)
	need = func(e *site.Expr) {
		for _, m := range e.Modes() {
			if s.Modes[m].Plant && !needed[m] {
				needed[m] = true
				for _, c := range comings(&s.Modes[m]) {
					need(c)
				}
			}
		}
	}
	for i := range s.Modes {
		if out[i] {
			for _, e := range comings(&s.Modes[i]) {
				need(e)
			}
		}
	}
	for i, l := range lights(s) {
		if l != OtherLight {
			need(s.Circuits[i].Dead)
			need(s.Circuits[i].Cut)
		}
	}
	need(s.Controller.Down)
	for i := range needed {
		out[i] = out[i] || needed[i] && a.ofPlant(site.ModeID(i))
	}
	return out
}

// comings gives the conditions whose coming starts a mode.
func comings(m *site.Mode) (out []*site.Expr) {
	if m.Kind == site.While {
		out = append(out, m.Cond)
	}
	for _, t := range m.Starts {
		out = append(out, t.On)
	}
	for _, t := range m.Transitions {
		if t.To != 0 && (t.From == 0 || t.From == site.None) {
			out = append(out, t.Trigger.On)
		}
	}
	return out
}

// alarms looks for alarms, lost supplies and faults in conditions.
type alarms struct {
	s     *site.Site
	plant []uint8 // by plant mode: 0 not looked at, 1 no, 2 yes
}

// raised tells whether an alarm, the loss of a supply or a fault may make a condition of the plant true by coming.
func (a *alarms) raised(e *site.Expr) bool { return a.in(e, true, true) }

// called is raised for a mode of the controller, which does not know of faults: what it reads of them is a sensor that sticks.
func (a *alarms) called(e *site.Expr) bool { return a.in(e, true, false) }

func (a *alarms) in(e *site.Expr, positive, faults bool) bool {
	if e == nil {
		return false
	}
	switch e.Op {
	case site.OpNot, site.OpAtMost:
		positive = !positive
	case site.OpWas:
		return false
	case site.OpInput:
		k := a.s.Inputs[e.Input].Kind
		return positive && (k == site.Alarm || k == site.SupplyHealth || k == site.Flatness || faults && k == site.Failure)
	case site.OpMode:
		return positive && a.s.Modes[e.Mode].Plant && a.ofPlant(e.Mode)
	}
	return slices.ContainsFunc(e.Kids, func(k *site.Expr) bool { return a.in(k, positive, faults) })
}

// ofPlant tells whether an alarm, a lost supply or a fault may start a plant mode.
func (a *alarms) ofPlant(m site.ModeID) bool {
	if a.plant[m] == 0 {
		a.plant[m] = 1
		if slices.ContainsFunc(comings(&a.s.Modes[m]), a.raised) {
			a.plant[m] = 2
		}
	}
	return a.plant[m] == 2
}
