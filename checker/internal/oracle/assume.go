// Inputs and assumptions (lang/SEMANTICS.md section 3).

package oracle

import "lampwarden/lang/site"

// spaced is a Spacing assumption: its age is the time since the last change of
// its inputs, no more than d.
type spaced struct {
	at, d int
	has   []bool // by input
}

// dwell is a Dwell assumption: its age is the time since the input took the
// value, no more than d, and d while nothing hinders it.
type dwell struct {
	at, d int
	input site.InputID
	value bool
}

// charge is a Charge assumption. Its number counts down. While the charger works
// it is the time until the battery is full. While it is lost it is the time until
// the battery may be flat, 0 from the start if the battery was not full then: once
// lost, full or not, the next charge starts from nothing.
type charge struct {
	at, d, recharge int
	flat, lost      site.InputID
}

// counted is an AtMost assumption, or a requirement's rule for its faults.
type counted struct {
	inputs []site.InputID
	n      int
}

func (m *model) placeInputs() {
	m.input = make([]int, len(m.s.Inputs))
	for i := range m.s.Inputs {
		m.input[i] = absent
		if !m.k.inputs[i] {
			continue
		}
		if m.s.Inputs[i].Kind.IsEvent() {
			for g := range site.Gesture(gestures) {
				if e := (event{site.InputID(i), g}); m.k.events[e] {
					m.changes = append(m.changes, e)
				}
			}
			continue
		}
		m.input[i] = m.place()
		m.changes = append(m.changes, event{input: site.InputID(i)})
	}
	for i := range m.s.Assumptions {
		if a := &m.s.Assumptions[i]; m.k.assumes(a) {
			m.assumption(a)
		}
	}
	if len(m.q.faults) > 0 {
		m.counts = append(m.counts, counted{m.q.faults, m.q.atMost})
	}
}

// gestures is a number above that of every gesture.
const gestures = 8

func (m *model) assumption(a *site.Assumption) {
	switch a.Kind {
	case site.Spacing:
		sp := spaced{at: m.place(), d: m.ticks(a.D), has: make([]bool, len(m.s.Inputs))}
		for _, in := range a.Inputs {
			sp.has[in] = true
		}
		m.spaced = append(m.spaced, sp)
	case site.Dwell:
		m.dwells = append(m.dwells, dwell{at: m.place(), d: m.ticks(a.D), input: a.Inputs[0], value: a.Value})
	case site.AtMost:
		m.counts = append(m.counts, counted{a.Inputs, a.N})
	case site.Ladder:
		m.ladders = append(m.ladders, a.Inputs)
	case site.Charge:
		m.charges = append(m.charges, charge{at: m.place(), d: m.ticks(a.D), recharge: m.ticks(a.Recharge),
			flat: a.Inputs[0], lost: a.Inputs[1]})
	}
}

// on gives the value of a level input; one that is left out is at rest.
func (m *model) on(v []uint16, in site.InputID) bool {
	p := m.input[in]
	return p != absent && v[p] == 1
}

// ages moves the numbers of the assumptions on by a tick.
func (m *model) ages(v []uint16) {
	for i := range m.spaced {
		if a := &m.spaced[i]; int(v[a.at]) < a.d {
			v[a.at]++
		}
	}
	for i := range m.dwells {
		if a := &m.dwells[i]; int(v[a.at]) < a.d {
			v[a.at]++
		}
	}
	for i := range m.charges {
		if a := &m.charges[i]; v[a.at] > 0 {
			v[a.at]--
		}
	}
}

// mayChange tells whether an input may change now, by all assumptions but those
// on the values that then hold.
func (m *model) mayChange(v []uint16, in site.InputID) bool {
	if m.s.Inputs[in].Kind == site.Calendar && int(v[m.tod])%m.day != 0 {
		return false
	}
	for i := range m.spaced {
		if a := &m.spaced[i]; a.has[in] && int(v[a.at]) < a.d {
			return false
		}
	}
	for i := range m.dwells {
		if a := &m.dwells[i]; a.input == in && m.on(v, in) == a.value && int(v[a.at]) < a.d {
			return false
		}
	}
	for i := range m.charges {
		switch a := &m.charges[i]; {
		case in == a.flat && m.on(v, in):
			if m.on(v, a.lost) {
				return false
			}
		case in == a.flat:
			if !m.on(v, a.lost) || v[a.at] > 0 {
				return false
			}
		case in == a.lost && !m.on(v, in):
			if v[a.at] == 0 && m.on(v, a.flat) {
				return false
			}
		}
	}
	return true
}

// change gives a level input its other value, with what the assumptions remember
// of it, and tells whether the values may then hold. An event has no value.
func (m *model) change(v []uint16, in site.InputID) bool {
	for i := range m.spaced {
		if a := &m.spaced[i]; a.has[in] {
			v[a.at] = 0
		}
	}
	if m.input[in] == absent {
		return true
	}
	value := !m.on(v, in)
	v[m.input[in]] = bit(value)
	for i := range m.dwells {
		if a := &m.dwells[i]; a.input == in {
			v[a.at] = uint16(a.d)
			if value == a.value {
				v[a.at] = 0
			}
		}
	}
	for i := range m.charges {
		switch a := &m.charges[i]; {
		case in == a.lost && !value:
			v[a.at] = uint16(a.recharge)
		case in == a.lost && v[a.at] == 0:
			v[a.at] = uint16(a.d)
		case in == a.lost:
			v[a.at] = 0
		}
	}
	return m.allowed(v)
}

// rested gives the assumptions what they remember before any change, given the
// inputs at start-up.
func (m *model) rested(v []uint16) {
	for i := range m.spaced {
		v[m.spaced[i].at] = uint16(m.spaced[i].d)
	}
	for i := range m.dwells {
		v[m.dwells[i].at] = uint16(m.dwells[i].d)
	}
	for i := range m.charges {
		if a := &m.charges[i]; m.on(v, a.lost) {
			v[a.at] = uint16(a.d)
		}
	}
}

// allowed tells whether the values of the inputs keep the AtMost and Ladder
// assumptions and the rule for faults.
func (m *model) allowed(v []uint16) bool {
	for _, a := range m.counts {
		n := 0
		for _, in := range a.inputs {
			if m.on(v, in) {
				n++
			}
		}
		if n > a.n {
			return false
		}
	}
	for _, rungs := range m.ladders {
		for i := 1; i < len(rungs); i++ {
			if m.on(v, rungs[i]) && !m.on(v, rungs[i-1]) {
				return false
			}
		}
	}
	return true
}

// mayStart tells whether the inputs may have these values at start-up.
func (m *model) mayStart(v []uint16) bool {
	for i := range m.charges {
		if m.on(v, m.charges[i].flat) {
			return false
		}
	}
	return m.allowed(v)
}
