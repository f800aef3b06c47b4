// Sequences as flat lists of phases.

package machine

import (
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// phase is a stretch of a sequence with one behaviour.
type phase struct {
	stage int         // index of the stage, or site.None when the sequence is over
	off   bool        // the off part of the stage's flash
	dur   site.Millis // 0: no end
	next  int         // phase after this one
	first int         // index in the sequence as it was before neighbours were joined
	sig   string      // what it means for the slice: equal neighbours may be joined
}

// sequence is the phases of one state. A phase that closes a loop has a next
// that is not greater than itself.
type sequence []phase

// unroll flattens stages: a counted flash becomes 2*Times phases, an endless one a
// loop of two, a flash in a stage with a length as many as fit.
func unroll(stages []site.Stage) sequence {
	var out sequence
	add := func(stage int, off bool, dur site.Millis) {
		out = append(out, phase{stage: stage, off: off, dur: dur, next: len(out) + 1, first: len(out)})
	}
	for i, st := range stages {
		switch {
		case st.Flash == nil:
			add(i, false, st.For)
		case st.For == 0:
			add(i, false, st.Flash.On)
			add(i, true, st.Flash.Off)
			out[len(out)-1].next = len(out) - 2
			return out
		default:
			off, left := false, st.For
			for left > 0 {
				d := min(left, st.Flash.On)
				if off {
					d = min(left, st.Flash.Off)
				}
				add(i, off, d)
				left -= d
				off = !off
			}
		}
		if out[len(out)-1].dur == 0 {
			return out
		}
	}
	add(site.None, false, 0)
	return out
}

// sign writes each phase's meaning for the tracked circuits of the slice. With
// exact set, a stage's number is part of it (its entry is seen by a condition or
// by a latest rule).
func (q sequence) sign(stages []site.Stage, tracked []site.CircuitID, exact bool) {
	for i := range q {
		p := &q[i]
		p.sig = "-"
		if p.stage == site.None {
			if exact {
				p.sig = "over"
			}
			continue
		}
		asks, flashes := false, false
		for _, set := range stages[p.stage].Settings {
			for _, c := range set.Circuits {
				if slices.Contains(tracked, c) {
					asks, flashes = true, flashes || set.Flashing
				}
			}
		}
		if asks || exact {
			p.sig = fmt.Sprint(p.stage, flashes && p.off)
		}
	}
}

// join merges neighbours of equal meaning, so that a flash of lamps outside the
// slice costs no timer. The result starts at phase 0 as before.
func (q sequence) join() sequence {
	if len(q) == 0 {
		return sequence{{stage: site.None}}
	}
	last := q[len(q)-1]
	if last.next < len(q) && last.next == len(q)-2 && q[last.next].sig == last.sig { // a loop of one meaning
		q = q[:len(q)-1]
		q[len(q)-1].dur = 0
		q[len(q)-1].next = len(q)
	}
	loop := -1
	if l := q[len(q)-1]; l.dur > 0 {
		loop = l.next
	}
	var out sequence
	at := make([]int, len(q)) // new index of each old phase
	for i, p := range q {
		if k := len(out) - 1; k >= 0 && out[k].sig == p.sig && i != loop && (loop < 0 || i < loop) {
			at[i] = k
			if out[k].dur += p.dur; p.dur == 0 {
				out[k].dur = 0
			}
			continue
		}
		at[i] = len(out)
		out = append(out, p)
	}
	for i := range out {
		out[i].next = i + 1
	}
	if loop >= 0 {
		out[len(out)-1].next = at[loop]
	}
	return out
}
