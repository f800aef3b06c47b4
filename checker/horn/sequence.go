// Sequences: the stage that a mode is in, and the part of its flash.

package horn

import (
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// sequence is what is remembered of a mode's sequence: the stage (one more than there are: it is over), what is left
// of it, the flash.
type sequence struct {
	states [][]stageTimes // by state
	n      int            // stages of the longest
	stage  finite
	timer  cell
	timed  bool
	on     cell
	flash  cell
	flashy bool
}

type stageTimes struct{ length, on, off term }

// newSequence gives nil if nothing that is read depends on the sequence: there is but one stage, which does not end.
func (e *encoder) newSequence(m *mode) *sequence {
	if !e.in.asks[m.id] && !e.in.staged[m.id] {
		return nil
	}
	q := &sequence{}
	simple := true
	for _, st := range m.m.States {
		var times []stageTimes
		if e.steady(m.id, &st) {
			times = []stageTimes{{e.zero, e.zero, e.zero}}
		} else {
			for i := range st.Stages {
				sg := &st.Stages[i]
				t := stageTimes{length: e.length(sg.For), on: e.zero, off: e.zero}
				q.timed = q.timed || sg.For > 0
				if e.flashes(sg) {
					t.on, t.off = e.length(sg.Flash.On), e.length(sg.Flash.Off)
					q.flashy = true
				}
				times = append(times, t)
			}
		}
		simple = simple && len(times) <= 1
		q.states = append(q.states, times)
		q.n = max(q.n, len(times))
	}
	if q.n == 0 || simple && !q.timed && !q.flashy {
		return nil
	}
	name := "mode " + m.m.Name
	q.stage = e.finite(q.n+1, name+": stage")
	if q.timed {
		q.timer = e.timer(name + ": what is left of the stage")
	}
	if q.flashy {
		q.on = e.flag(name + ": the flash is in its on part")
		q.flash = e.timer(name + ": what is left of the part of the flash")
	}
	return q
}

// flashes tells whether a circuit that is read flashes in the stage, in a rhythm that is written.
func (e *encoder) flashes(sg *site.Stage) bool {
	return !e.in.loose && sg.Flash != nil && slices.ContainsFunc(sg.Settings, func(set site.Setting) bool {
		return set.Flashing && slices.ContainsFunc(set.Circuits, func(c site.CircuitID) bool { return e.in.circuits[c] })
	})
}

// steady tells whether a state asks for the same in all stages, as far as it is read, so that they count as one.
func (e *encoder) steady(id site.ModeID, st *site.State) bool {
	if e.in.staged[id] || e.in.latest[id] || len(st.Stages) == 0 || st.Stages[len(st.Stages)-1].For > 0 {
		return false
	}
	first := e.readOf(&st.Stages[0])
	for i := range st.Stages {
		if e.flashes(&st.Stages[i]) || e.readOf(&st.Stages[i]) != first {
			return false
		}
	}
	return true
}

// readOf writes down what a stage asks of the circuits that are read. Conditions count as equal only if they are none
// or the very same; so the text may differ where the meaning does not, which costs a stage and no more.
func (e *encoder) readOf(sg *site.Stage) string {
	out := ""
	for _, c := range e.in.circuitList() {
		for i := range sg.Settings {
			if set := &sg.Settings[i]; slices.Contains(set.Circuits, c) {
				for _, cs := range set.Cases {
					out += fmt.Sprintf("%d: %p %d %d %t; ", c, cs.When, e.s.Circuits[c].Clamp(cs.Level), cs.Over, set.Flashing)
				}
			}
		}
	}
	return out
}

// stage tells whether the sequence is in the stage, given that the mode is active, or in whatever state it is in.
func (e *encoder) stage(id site.ModeID, i int, st state) term {
	m := e.modes[id]
	if m.seq != nil {
		if i >= m.seq.n {
			return no
		}
		return e.and(e.get(m.seq.stage, st)[i], e.hasStage(m, i, e.get(m.place, st)))
	}
	return e.hasStage(m, i, e.get(m.place, st))
}

// hasStage tells whether the state that the mode is in has the stage.
func (e *encoder) hasStage(m *mode, i int, at choice) term {
	if m.m.Kind != site.States {
		return boolean(i < len(m.m.States[0].Stages))
	}
	out := no
	for s := range m.m.States {
		if i < len(m.m.States[s].Stages) {
			out = e.or(out, at[s])
		}
	}
	return out
}

// stepSequence steps the sequence after its mode has stepped. It tells whether a stage after the first begins.
func (e *encoder) stepSequence(m *mode, pre, st state, k *tick, c changed) term {
	q := m.seq
	states := m.m.Kind == site.States
	lasts := yes
	if !states {
		lasts = e.activeIn(m, c.at)
	}
	begins := c.entered
	if states {
		begins = e.or(begins, k.starts)
	}
	stage, place := e.get(q.stage, pre), e.get(m.place, pre)
	due := no
	if q.timed {
		due = e.and(e.not(begins), lasts, e.not(k.resumes), e.eq(pre[q.timer], k.d))
	}
	// inState pairs a state of the mode with a stage of it.
	inState := func(at choice, s int) term {
		if !states {
			return yes
		}
		return at[s]
	}
	next := make(choice, q.n+1)
	for s := range q.states {
		in := inState(c.at, s)
		first := 0
		if len(q.states[s]) == 0 {
			first = q.n
		}
		next[first] = e.or(next[first], e.and(in, begins))
		for j := range stage {
			to := j + 1
			if to >= len(q.states[s]) {
				to = q.n
			}
			next[to] = e.or(next[to], e.and(in, due, stage[j]))
			next[j] = e.or(next[j], e.and(in, e.not(begins), e.not(due), lasts, stage[j]))
		}
	}
	next[0] = e.or(next[0], e.not(lasts))
	e.put(q.stage, st, next)
	// full gives a time of the stage that the mode is in.
	full := func(at, stage choice, of func(t stageTimes) term) term {
		out := e.zero
		for s := range q.states {
			for j := range q.states[s] {
				out = e.ite(e.and(inState(at, s), stage[j]), of(q.states[s][j]), out)
			}
		}
		return out
	}
	length := func(t stageTimes) term { return t.length }
	onTime := func(t stageTimes) term { return t.on }
	offTime := func(t stageTimes) term { return t.off }
	anew := e.or(begins, due)
	less := func(timer cell) term {
		return e.ite(e.lt(k.d, pre[timer]), e.sub(pre[timer], k.d), e.zero)
	}
	if q.timed {
		left := e.ite(k.resumes, full(place, stage, length), less(q.timer))
		st[q.timer] = e.ite(e.not(lasts), e.zero, e.ite(anew, full(c.at, next, length), left))
	}
	if q.flashy {
		turns := e.and(e.not(k.resumes), e.eq(pre[q.flash], k.d))
		on := e.or(anew, k.resumes, e.differ(pre[q.on], turns))
		flashing := no
		for s := range q.states {
			for j := range q.states[s] {
				if q.states[s][j].on != e.zero {
					flashing = e.or(flashing, e.and(inState(c.at, s), next[j]))
				}
			}
		}
		flashing = e.and(flashing, lasts)
		st[q.on] = e.and(flashing, on)
		left := e.ite(k.resumes, full(place, stage, onTime), less(q.flash))
		part := e.ite(on, full(c.at, next, onTime), full(c.at, next, offTime))
		st[q.flash] = e.ite(flashing, e.ite(e.or(anew, turns), part, left), e.zero)
	}
	return due
}
