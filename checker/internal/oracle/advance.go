// Time: what a tick moves on, and what is then due.

package oracle

import "lampwarden/lang/site"

// advance moves every running timer and the clock by one tick.
func (m *model) advance(v []uint16) {
	m.ages(v)
	if m.tod != absent {
		v[m.tod] = uint16((int(v[m.tod]) + 1) % m.round)
	}
	for _, id := range m.order {
		if m.runs(id, v) {
			m.advanceMode(id, v)
		}
	}
	for i := range m.circuits {
		c := &m.circuits[i]
		if c.lamp && v[c.left] > 0 {
			v[c.left]--
		}
		if c.seen != absent && v[c.seeing] > 0 {
			v[c.seeing]--
		}
	}
}

func (m *model) advanceMode(id site.ModeID, v []uint16) {
	p, x := &m.modes[id], &m.s.Modes[id]
	switch x.Kind {
	case site.While:
		if ph := v[p.phase]; ph == whileWaiting || ph == whileHolding || ph == whilePulsing {
			v[p.age]++
		}
	case site.Latch:
		if v[p.phase] == 1 && p.latch > 0 {
			v[p.age]++
		}
	case site.States:
		last := 0
		for _, d := range p.after[v[p.phase]] {
			last = max(last, d)
		}
		if last > 0 && int(v[p.age]) <= last { // past the last one the age says no more
			v[p.age]++
		}
	}
	if p.stage == absent || !m.asking(id, v) {
		return
	}
	switch g := &m.stages(id, v)[v[p.stage]]; {
	case g.For > 0:
		v[p.stageAge]++
	case g.Flash != nil:
		v[p.stageAge] = uint16((int(v[p.stageAge]) + 1) % m.ticks(g.Flash.On+g.Flash.Off))
	}
}

// due tells whether a timer, a clock time or a lamp is due in v, which has just
// been advanced from before.
func (m *model) due(before, v []uint16) bool {
	if m.tod != absent && m.clocks[v[m.tod]] {
		return true
	}
	for _, id := range m.order {
		if m.runs(id, v) && m.modeDue(id, v) {
			return true
		}
	}
	for i := range m.circuits {
		if c := &m.circuits[i]; c.lamp && before[c.left] == 1 || m.sightDue(c, before) {
			return true
		}
	}
	return false
}

func (m *model) modeDue(id site.ModeID, v []uint16) bool {
	p := &m.modes[id]
	switch age := int(v[p.age]); m.s.Modes[id].Kind {
	case site.While:
		ph := v[p.phase]
		if ph == whileWaiting && age == p.on || ph == whileHolding && age == p.off || ph == whilePulsing && age == p.pulse {
			return true
		}
	case site.Latch:
		if v[p.phase] == 1 && p.latch > 0 && age == p.latch {
			return true
		}
	case site.States:
		for _, d := range p.after[v[p.phase]] {
			if age == d {
				return true
			}
		}
	}
	if p.stage == absent || !m.asking(id, v) {
		return false
	}
	g, age := &m.stages(id, v)[v[p.stage]], int(v[p.stageAge])
	if g.For > 0 && age == m.ticks(g.For) {
		return true
	}
	if g.Flash == nil {
		return false
	}
	part := age % m.ticks(g.Flash.On+g.Flash.Off)
	return part == 0 || part == m.ticks(g.Flash.On)
}
