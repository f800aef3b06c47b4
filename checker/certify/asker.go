// Who may ask a circuit, and for what.

package certify

import (
	"slices"

	"lampwarden/lang/site"
)

// asker is a mode with its settings on the circuit.
type asker struct {
	at   int         // place of the mode
	sets [][][]asked // by state and stage, last written first
}

type asked struct {
	flashing bool
	cases    []askedCase
}

type askedCase struct {
	when  *cond
	level site.Level // clamped
	over  site.Millis
}

// freeAsker is a free mode with the regions of the lamp that it may ask for.
type freeAsker struct {
	id   site.ModeID
	mask uint64
}

// compileRequests looks up who may ask the kept circuits.
func (m *model) compileRequests() {
	places(m, "circuit", m.c.requests, len(m.site.Circuits))
	for id, free := range m.c.free {
		places(m, "mode", free, len(m.site.Modes))
		m.want(slices.Contains(m.c.requests, id), "modes are free for circuit %d, which has no kept request", id)
		m.want(!slices.Contains(m.c.seen, id), "modes are free for circuit %d, which the sensors see", id)
	}
	if m.err != nil {
		return
	}
	for _, id := range m.c.requests {
		r := request{circuit: id, lamp: m.lampAt(id), sight: slices.Index(m.c.seen, id)}
		for k := range m.site.Modes {
			if sets := m.settings(site.ModeID(k), id); sets {
				m.addAsker(&r, site.ModeID(k))
			}
		}
		m.requests = append(m.requests, r)
	}
}

// settings tells whether a mode has a setting on the circuit.
func (m *model) settings(id site.ModeID, c site.CircuitID) (any bool) {
	eachSetting(&m.site.Modes[id], c, func(int, int, *site.Setting) { any = true })
	return any
}

// eachSetting calls f for the settings of a mode on a circuit.
func eachSetting(d *site.Mode, c site.CircuitID, f func(state, stage int, set *site.Setting)) {
	for st := range d.States {
		for sg := range d.States[st].Stages {
			sets := d.States[st].Stages[sg].Settings
			for i := range sets {
				if slices.Contains(sets[i].Circuits, c) {
					f(st, sg, &sets[i])
				}
			}
		}
	}
}

func (m *model) addAsker(r *request, id site.ModeID) {
	d, cir := &m.site.Modes[id], &m.site.Circuits[r.circuit]
	if slices.Contains(m.c.free[r.circuit], id) {
		f := freeAsker{id: id}
		if r.lamp >= 0 {
			l := &m.lamps[r.lamp]
			eachSetting(d, r.circuit, func(_, _ int, set *site.Setting) {
				if set.Flashing {
					f.mask |= 1 << l.regionOf(0)
				}
				for _, cs := range set.Cases {
					f.mask |= 1 << l.regionOf(cir.Clamp(cs.Level))
				}
			})
		}
		r.free = append(r.free, f)
		return
	}
	a := asker{at: m.modeAt[id]}
	if !m.want(a.at >= 0, "the mode %s sets %s, but is neither kept nor free", d.Name, cir.Name) {
		return
	}
	for st := range d.States {
		a.sets = append(a.sets, make([][]asked, len(d.States[st].Stages)))
	}
	eachSetting(d, r.circuit, func(st, sg int, set *site.Setting) {
		out := asked{flashing: set.Flashing}
		for i := range set.Cases {
			cs := &set.Cases[i]
			out.cases = append(out.cases, askedCase{m.compile(cs.When), cir.Clamp(cs.Level), cs.Over})
		}
		a.sets[st][sg] = append([]asked{out}, a.sets[st][sg]...)
	})
	r.askers = append(r.askers, a)
}
