// Sequences: stages played as phases, and the groups in which a certificate counts them.

package certify

import (
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// phase is a real phase of a sequence: a stage without flash, or one stretch of a flash.
type phase struct {
	stage  int // site.None: the sequence is over
	dark   bool
	length site.Millis // 0: no end
}

// group is a run of real phases of one meaning.
type group struct {
	stage  int  // that of its first phase
	dark   bool // off part of a flash
	length site.Millis
	next   int // group that follows
}

// maxPhases bounds the phases of one sequence.
const maxPhases = 1 << 20

// unroll lists the real phases of stages; loops tells that the last two are an endless flash.
func unroll(stages []site.Stage) (out []phase, loops bool) {
	for i := range stages {
		st := &stages[i]
		switch f := st.Flash; {
		case f == nil:
			out = append(out, phase{i, false, st.For})
			if st.For == 0 {
				return out, false
			}
		case st.For == 0:
			return append(out, phase{i, false, f.On}, phase{i, true, f.Off}), true
		default:
			dark := false
			for left := st.For; left > 0 && len(out) < maxPhases; dark = !dark {
				d := f.On
				if dark {
					d = f.Off
				}
				d = max(min(d, left), 1)
				out = append(out, phase{i, dark, d})
				left -= d
			}
		}
	}
	return append(out, phase{stage: site.None}), false
}

// takeSequences puts the phases of each state in the groups that the certificate says.
func (m *model) takeSequences() {
	m.keepLatest()
	lines := m.c.sequences
	for i := range m.modes {
		d := &m.modes[i]
		stays := m.stageRead[d.id] || d.latest || m.down != nil && m.site.Controller.Keeps && !d.def.Plant
		for st := range d.def.States {
			stages := d.def.States[st].Stages
			if len(stages) == 0 {
				d.sequences = append(d.sequences, []group{{stage: site.None}})
				continue
			}
			if len(lines) == 0 || lines[0].mode != d.id || lines[0].state != st {
				m.want(false, "expected the sequence of state %d of mode %d (%s)", st, d.id, d.def.Name)
				return
			}
			gs, err := m.groups(d, stages, lines[0].firsts, stays)
			if err != nil {
				m.want(false, "the sequence of state %d of mode %d (%s): %v", st, d.id, d.def.Name, err)
				return
			}
			d.sequences = append(d.sequences, gs)
			lines = lines[1:]
		}
	}
	m.want(len(lines) == 0, "a sequence of a mode that is not kept, or has no stages")
}

// keepLatest notes the modes whose recency may decide a kept request.
func (m *model) keepLatest() {
	for i := range m.modes {
		for k := range m.modes {
			for _, c := range m.c.requests {
				if i != k && m.ruleFor(c, m.modes[i].id, m.modes[k].id) == site.Latest {
					m.modes[i].latest = true
				}
			}
		}
	}
}

// groups checks the groups of a sequence, given by their first phases. stays tells that the stage itself matters.
func (m *model) groups(d *mode, stages []site.Stage, firsts []int, stays bool) ([]group, error) {
	all, loops := unroll(stages)
	n := len(all)
	if n >= maxPhases {
		return nil, fmt.Errorf("more than %d phases", maxPhases)
	}
	if firsts[0] != 0 || firsts[len(firsts)-1] >= n || len(firsts) >= 1<<16 {
		return nil, fmt.Errorf("groups must begin at phase 0 and below phase %d", n)
	}
	// Of an endless flash either both phases are in one group, which then has no end, or each begins a group.
	last := len(firsts) - 1
	split := firsts[last] == n-1
	if loops && split && (last == 0 || firsts[last-1] != n-2) {
		return nil, fmt.Errorf("an endless flash must begin a group, or be in one")
	}
	out := make([]group, len(firsts))
	for g, first := range firsts {
		end := n
		if g < last {
			end = firsts[g+1]
		}
		out[g] = group{stage: all[first].stage, dark: all[first].dark, next: g + 1}
		endless := false
		for _, p := range all[first:end] {
			if !m.alike(d, stages, all[first], p, stays) {
				return nil, fmt.Errorf("the phases from %d on are not alike, but are in one group", first)
			}
			out[g].length += p.length
			endless = endless || p.length == 0
		}
		if endless || loops && !split && g == last {
			out[g].length = 0
		}
	}
	if loops && split {
		out[last].next = last - 1
	}
	return out, nil
}

// alike tells whether no kept request could tell two phases apart, nor, if stays, anything else that reads the stage.
func (m *model) alike(d *mode, stages []site.Stage, a, b phase, stays bool) bool {
	if stays && a.stage != b.stage {
		return false
	}
	asksA, flashes := m.asksIn(d, stages, a)
	asksB, _ := m.asksIn(d, stages, b)
	switch {
	case !asksA && !asksB:
		return true
	case a.stage != b.stage:
		return false
	}
	return !flashes || a.dark == b.dark
}

// asksIn tells whether a phase's stage has settings on a kept request for which the mode counts, and whether any flashes.
func (m *model) asksIn(d *mode, stages []site.Stage, p phase) (asks, flashes bool) {
	if p.stage == site.None {
		return false, false
	}
	for i := range stages[p.stage].Settings {
		set := &stages[p.stage].Settings[i]
		for _, c := range set.Circuits {
			if slices.Contains(m.c.requests, c) && !slices.Contains(m.c.free[c], d.id) {
				asks, flashes = true, flashes || set.Flashing
			}
		}
	}
	return asks, flashes
}

// begin gives the group with which the present stage begins.
func (d *mode) begin(p place) uint16 {
	gs := d.sequence(p)
	g := p.group
	for g > 0 && gs[p.group].stage != site.None && gs[g-1].stage == gs[p.group].stage {
		g--
	}
	return g
}
