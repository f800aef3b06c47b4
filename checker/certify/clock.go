// Clocks: which there are, which run in a state, and what they are compared with.

package certify

import (
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

type clockKind uint8

const (
	ofDay clockKind = iota
	ofMode
	ofPhase
	ofLamp
	ofSight
	ofWatch
	ofAssumption
)

// clock is one of the certificate's clocks; at is the place of what it belongs to.
type clock struct {
	kind  clockKind
	at    int
	treat treatment
}

// takeClocks lists the clocks in their order and compares them with the certificate's.
func (m *model) takeClocks() {
	var names []string
	add := func(kind clockKind, at int, name string, args ...any) (index int) {
		m.clocks = append(m.clocks, clock{kind: kind, at: at})
		names = append(names, fmt.Sprintf(name, args...))
		return len(m.clocks) - 1
	}
	if m.segments() > 0 {
		add(ofDay, 0, "day")
	}
	for _, id := range m.site.StepOrder {
		at := m.modeAt[id]
		if at < 0 {
			continue
		}
		d := &m.modes[at]
		timed := d.def.OnDelay+d.def.OffDelay+d.def.Pulse+d.def.For > 0
		if timed || slices.ContainsFunc(d.afterTimes, func(a []site.Millis) bool { return len(a) > 0 }) {
			d.clock = add(ofMode, at, "mode %d", id)
		}
		if slices.ContainsFunc(d.sequences, func(gs []group) bool { return len(gs) > 1 }) {
			d.phase = add(ofPhase, at, "phase %d", id)
		}
	}
	for i := range m.lamps {
		if m.lamps[i].slow() {
			m.lamps[i].clock = add(ofLamp, i, "lamp %d", m.lamps[i].id)
		}
	}
	for i := range m.sights {
		m.sights[i].clock = add(ofSight, i, "seen %d", m.sights[i].circuit)
	}
	for i, d := range m.watcher.d {
		if d > 0 {
			add(ofWatch, i, "observer %d", i)
		}
	}
	for i := range m.assumed {
		m.assumed[i].clock = add(ofAssumption, i, "assume %d", m.assumed[i].index)
	}
	if !m.want(len(names) <= maxTimer, "more than %d clocks", maxTimer) {
		return
	}
	for i := range min(len(names), len(m.c.clocks)) {
		m.want(names[i] == m.c.clocks[i].name, "expected clock %d to be %q, not %q", i, names[i], m.c.clocks[i].name)
		m.clocks[i].treat = m.c.clocks[i].treat
	}
	if !m.want(len(names) == len(m.c.clocks), "expected %d clocks, not %d", len(names), len(m.c.clocks)) {
		return
	}
	for i := range m.assumed {
		m.assumed[i].free = m.clocks[m.assumed[i].clock].treat == relaxed
	}
	m.checkUnit()
}

// checkUnit checks that all durations are multiples of the unit.
func (m *model) checkUnit() {
	u := m.c.unit
	if !m.want(u > 0, "the unit must be 1 ms at least") {
		return
	}
	for ck, c := range m.clocks {
		if c.treat == relaxed {
			continue
		}
		for _, d := range m.durations(c) {
			d = m.cooled(ck, d)
			m.want(d%u == 0 && d/u < maxNumber/4, "the duration of %d ms of clock %d is no multiple of the unit", d, ck)
		}
	}
}

// durations lists what a clock may be compared with.
func (m *model) durations(c clock) (out []site.Millis) {
	switch c.kind {
	case ofDay:
		for i := range m.c.segments {
			out = append(out, m.wall.length(i))
		}
	case ofMode:
		d := &m.modes[c.at]
		out = append(out, d.def.OnDelay, d.def.OffDelay, d.def.Pulse, d.def.For)
		for _, a := range d.afterTimes {
			out = append(out, a...)
		}
	case ofPhase:
		for _, gs := range m.modes[c.at].sequences {
			for _, g := range gs {
				out = append(out, g.length)
			}
		}
	case ofLamp:
		for _, p := range m.lamps[c.at].paces {
			out = append(out, p.time)
		}
	case ofSight:
		out = append(out, m.sights[c.at].after)
	case ofWatch:
		out = append(out, m.watcher.d[c.at])
	case ofAssumption:
		a := m.assumed[c.at].def
		out = append(out, a.D, a.Recharge)
	}
	return out
}

// length is the duration with which a clock that runs in a state is compared, 0 if it does not run.
func (m *model) length(s *state, ck int) site.Millis {
	c := m.clocks[ck]
	switch c.kind {
	case ofDay:
		return m.wall.length(s.segment)
	case ofMode:
		if d := &m.modes[c.at]; !s.down || d.def.Plant {
			return d.lasts(s.modes[c.at])
		}
	case ofPhase:
		if d, p := &m.modes[c.at], s.modes[c.at]; (!s.down || d.def.Plant) && d.playing(p) {
			return d.group(p).length
		}
	case ofLamp:
		if l := s.lamps[c.at]; l.doing == moving {
			return m.lamps[c.at].paces[l.pace].time
		}
	case ofSight:
		if v := s.sights[c.at]; v.target != v.seen {
			return m.sights[c.at].after
		}
	case ofWatch:
		if m.watcher.timers(s.watch)[c.at] {
			return m.watcher.d[c.at]
		}
	case ofAssumption:
		if s.runs[c.at] {
			return m.assumedLength(s, c.at)
		}
	}
	return 0
}

// assumedLength is what the clock of an assumption is compared with.
func (m *model) assumedLength(s *state, i int) site.Millis {
	a := m.assumed[i].def
	if a.Kind == site.Charge && !m.input(s, a.Inputs[1]) {
		return a.Recharge
	}
	return a.D
}

// cooled is a duration, or of a cooling clock the part of it that counts.
func (m *model) cooled(ck int, d site.Millis) site.Millis {
	if m.clocks[ck].treat == cooling {
		return min(d, m.c.horizon)
	}
	return d
}

// running is a clock of a zone.
type running struct {
	ck    int
	d     int64 // in units
	due   bool  // an exact timer: it is due when its clock reaches d, which it does not pass
	ready bool  // a cooling timer: it may be due from d on
}

// zoneClocks lists the clocks of the zones of a state, in order.
func (m *model) zoneClocks(s *state) []running {
	in := m.room.running.take(len(m.clocks))[:0]
	for ck := range m.clocks {
		d := m.length(s, ck)
		if d == 0 || m.isLoose(s, ck) || m.clocks[ck].treat == relaxed {
			continue
		}
		timer := m.clocks[ck].kind != ofAssumption
		in = append(in, running{ck: ck, d: int64(m.cooled(ck, d) / m.c.unit),
			due: timer && m.clocks[ck].treat == exact, ready: timer && m.clocks[ck].treat == cooling})
	}
	return in
}

// looseClocks lists the timers that run without a clock: they may be due at any moment.
func (m *model) looseClocks(s *state) (loose []int) {
	for ck := range m.clocks {
		if m.isLoose(s, ck) && m.length(s, ck) > 0 {
			loose = append(loose, ck)
		}
	}
	return loose
}

// isLoose tells whether a clock, if it runs, is that of a relaxed or a cooled down timer.
func (m *model) isLoose(s *state, ck int) bool {
	c := m.clocks[ck]
	return c.kind != ofAssumption && (c.treat == relaxed || c.treat == cooling && s.young>>ck&1 == 0)
}
