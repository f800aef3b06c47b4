// The controller: down, and what its modes then do (lang/SEMANTICS.md section 2.2).

package oracle

import "lampwarden/lang/site"

// control tells the stepper whether the controller runs now, and prepares its
// modes. Plant modes have stepped.
func (st *stepper) control() (down bool) {
	if st.down == absent {
		return false
	}
	v, was := st.at.now, st.at.before[st.down] == 1
	down = st.given(st.s.Controller.Down, v)
	v[st.down] = bit(down)
	switch {
	case down:
		for _, id := range st.order {
			if !st.s.Modes[id].Plant {
				st.rest(id, v)
			}
		}
	case was:
		st.clock = absent // what was due by the clock is lost
		if !st.s.Controller.Keeps {
			st.at.before, st.startUp = st.initial, true
		}
	}
	return down
}

// rest keeps a mode where it is, with its timers at zero, for they start anew
// when the controller is back; or it forgets where it was.
func (m *model) rest(id site.ModeID, v []uint16) {
	p := &m.modes[id]
	v[p.age] = 0
	if p.stage != absent {
		v[p.stageAge] = 0
	}
	if m.s.Controller.Keeps {
		return
	}
	v[p.phase] = 0
	if p.stage != absent {
		v[p.stage] = 0
	}
	if p.rank != absent {
		v[p.rank] = 0
	}
}

// runs tells whether a mode's timers run in a state.
func (m *model) runs(id site.ModeID, v []uint16) bool {
	return m.s.Modes[id].Plant || m.down == absent || v[m.down] == 0
}
