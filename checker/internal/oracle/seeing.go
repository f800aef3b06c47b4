// What the daylight sensors see of a lamp (lang/SEMANTICS.md section 2.5).

package oracle

// see lets the sensors see the lamps whose seeing timers are due now at the aims
// that they had after the last reaction.
func (m *model) see(before, v []uint16) {
	for i := range m.circuits {
		if c := &m.circuits[i]; m.sightDue(c, before) {
			v[c.seen] = before[c.aim]
		}
	}
}

// sightDue tells whether a lamp is seen anew one tick after a state.
func (m *model) sightDue(c *circuitPlace, before []uint16) bool {
	return c.seen != absent && before[c.seeing] == 1
}

// look starts or stops a lamp's seeing timer at the end of a reaction.
func (m *model) look(c *circuitPlace, before, v []uint16) {
	if c.seen == absent || v[c.aim] == before[c.aim] {
		return
	}
	v[c.seeing] = 0
	if v[c.aim] != v[c.seen] {
		v[c.seeing] = uint16(c.seenAfter)
	}
}
