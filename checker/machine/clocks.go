// Clocks of a system: which exist, which run in a state, and up to when.

package machine

import (
	"slices"

	"lampwarden/lang/site"
)

// keepClocks numbers the clocks and finds the common unit of all times.
func (s *System) keepClocks() {
	add := func(k clockKind, id int) int {
		s.clocks = append(s.clocks, clock{k, id})
		return len(s.clocks) - 1
	}
	if s.clocked {
		add(dayClock, 0)
	}
	for i := range s.modes {
		m := &s.modes[i]
		m.locCk, m.phaseCk = -1, -1
		if d := m.def; d.OnDelay+d.OffDelay+d.Pulse+d.For > 0 || slices.ContainsFunc(m.after, func(a []site.Millis) bool { return len(a) > 0 }) {
			m.locCk = add(locClock, i)
		}
		if m.phased {
			m.phaseCk = add(phaseClock, i)
		}
	}
	for i := range s.lamps {
		if s.lamps[i].moves() {
			s.lamps[i].ck = add(lampClock, i)
		}
	}
	for i := range s.sights {
		s.sights[i].ck = add(sightClock, i)
	}
	for i, d := range s.obs.D {
		s.obsCk[i] = -1
		if d > 0 {
			s.obsCk[i] = add(obsClock, i)
		}
	}
	for i := range s.assume {
		if s.assume[i].clocked {
			s.assume[i].ck = add(assumeClock, i)
		}
	}
	for i := range s.clocks {
		for _, d := range s.durations(i) {
			s.unit = gcd(s.unit, d)
		}
	}
	s.unit = max(s.unit, 1)
}

func gcd(a, b site.Millis) site.Millis {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// durations lists every constant that a clock can be compared with.
func (s *System) durations(ck int) (out []site.Millis) {
	c := s.clocks[ck]
	switch c.kind {
	case dayClock:
		for _, sg := range s.segs {
			out = append(out, sg.len)
		}
	case locClock:
		m := &s.modes[c.id]
		out = append(out, m.def.OnDelay, m.def.OffDelay, m.def.Pulse, m.def.For)
		for _, a := range m.after {
			out = append(out, a...)
		}
	case phaseClock:
		for _, q := range s.modes[c.id].seqs {
			for _, p := range q {
				out = append(out, p.dur)
			}
		}
	case lampClock:
		for _, p := range s.lamps[c.id].paces {
			out = append(out, p.t)
		}
	case obsClock:
		out = append(out, s.obs.D[c.id])
	case assumeClock:
		out = append(out, s.assume[c.id].D)
		if s.assume[c.id].Kind == site.Charge {
			out = append(out, s.assume[c.id].Recharge)
		}
	case sightClock:
		out = append(out, s.site.Circuits[s.sights[c.id].id].SeenAfter)
	}
	return out
}

// running is a clock that runs in a state.
type running struct {
	ck  int
	d   int32 // its constant in units
	due bool  // an exact timer, due at d; else only compared with d from below
	two bool  // or, of these, from both sides
}

// clocksOf lists the clocks that run in f, in clock order: clock i of the zone is
// entry i-1.
func (s *System) clocksOf(f *frame, out []running) []running {
	for ck := range s.clocks {
		bit := uint64(1) << ck
		if s.relaxed&bit != 0 {
			continue
		}
		d, due := s.deadline(f, ck), s.clocks[ck].kind != assumeClock
		if s.cooling&bit != 0 {
			if due && f.cool&bit == 0 {
				continue
			}
			d, due = min(d, s.horizon), false
		}
		if d > 0 {
			out = append(out, running{ck, int32(d / s.unit), due, s.recharges(f, ck)})
		}
	}
	return out
}

// recharges tells whether the clock measures how long a battery has been charging.
func (s *System) recharges(f *frame, ck int) bool {
	c := s.clocks[ck]
	if c.kind != assumeClock || s.cooling>>ck&1 == 1 {
		return false
	}
	a := &s.assume[c.id]
	return a.Kind == site.Charge && !f.in[a.Inputs[1]]
}

// deadline gives the constant of clock ck in f, 0 if it does not run.
func (s *System) deadline(f *frame, ck int) site.Millis {
	c := s.clocks[ck]
	switch c.kind {
	case dayClock:
		return s.segs[f.seg].len
	case locClock:
		m := &s.modes[c.id]
		if f.down && !m.def.Plant {
			return 0
		}
		return m.locDeadline(f)
	case phaseClock:
		m := &s.modes[c.id]
		if f.down && !m.def.Plant || m.def.Kind != site.States && !s.active(f, m.id) {
			return 0
		}
		return s.phaseOf(f, m.id).dur
	case lampClock:
		if f.aim[c.id] >= 0 {
			return s.lamps[c.id].paces[f.pace[c.id]].t
		}
	case obsClock:
		if s.obs.Timers(f.obs)>>c.id&1 == 1 {
			return s.obs.D[c.id]
		}
	case assumeClock:
		if f.since[c.id] {
			return s.assume[c.id].constant(f)
		}
	case sightClock:
		if f.tgt[c.id] != f.seen[c.id] {
			return s.site.Circuits[s.sights[c.id].id].SeenAfter
		}
	}
	return 0
}

// constant is what the running clock of an assumption is compared with.
func (a *assumption) constant(f *frame) site.Millis {
	if a.Kind == site.Charge && !f.in[a.Inputs[1]] {
		return a.Recharge
	}
	return a.D
}

func (m *modeInfo) locDeadline(f *frame) site.Millis {
	loc := f.loc[m.id]
	switch m.def.Kind {
	case site.While:
		switch loc {
		case locWaiting:
			return m.def.OnDelay
		case locHolding:
			return m.def.OffDelay
		case locPulsing:
			return m.def.Pulse
		}
	case site.Latch:
		if loc == locOn {
			return m.def.For
		}
	case site.States:
		if a, k := m.after[loc], int(f.aft[m.id]); k < len(a) {
			return a[k]
		}
	}
	return 0
}

// phaseOf is the present phase of a mode's sequence.
func (s *System) phaseOf(f *frame, m site.ModeID) *phase {
	info := &s.modes[s.byID[m]]
	return &info.seqs[info.seqIndex(f)][f.ph[m]]
}

func (m *modeInfo) seqIndex(f *frame) int {
	if m.def.Kind == site.States {
		return int(f.loc[m.id])
	}
	return 0
}

func (s *System) Names(m uint64) (out string) {
	for ck, c := range s.clocks {
		if m>>ck&1 == 1 {
			switch c.kind {
			case dayClock:
				out += " day"
			case locClock:
				out += " loc:" + s.modes[c.id].def.Name
			case phaseClock:
				out += " ph:" + s.modes[c.id].def.Name
			case lampClock:
				out += " lamp"
			case obsClock:
				out += " obs"
			case sightClock:
				out += " sight:" + s.site.Circuits[s.sights[c.id].id].Name
			default:
				out += " asm:" + s.site.Inputs[s.assume[c.id].Inputs[0]].Name
			}
		}
	}
	return out
}
