// What the environment is taken never to do (lang/SEMANTICS.md section 3).

package rehearse

import (
	"fmt"
	"math"
	"slices"

	"lampwarden/lang/site"
)

// AssumptionError tells which assumption a script breaks, where, and by which input.
type AssumptionError struct {
	Assumption int   // index into Site.Assumptions
	At         Nanos // since start-up
	Input      site.InputID
	text       string
}

// Error says it in a sentence.
func (e *AssumptionError) Error() string { return e.text }

// environment remembers the inputs' changes for the assumptions.
type environment struct {
	s      *site.Site
	values []bool
	last   []Nanos // last change or event of each input; noChange before the first
	// charge is the battery of each Charge, by the index of its assumption.
	charge map[int]*charge
}

// noChange: "Nothing counts as a change before the first one after start-up."
const noChange Nanos = -1

// newEnvironment starts with the given inputs true.
func newEnvironment(s *site.Site, given []site.InputID) *environment {
	e := &environment{s: s, values: make([]bool, len(s.Inputs)), last: make([]Nanos, len(s.Inputs)), charge: map[int]*charge{}}
	for i := range e.last {
		e.last[i] = noChange
	}
	for _, in := range given {
		e.values[in] = true
	}
	for i := range s.Assumptions {
		if s.Assumptions[i].Kind == site.Charge {
			e.charge[i] = &charge{wasFull: true}
		}
	}
	return e
}

// checkStart applies the assumptions to the inputs at start-up: AtMost, Ladder and Charge speak of them.
func (e *environment) checkStart() error {
	for i := range e.s.Assumptions {
		if text := e.start(&e.s.Assumptions[i]); text != "" {
			return &AssumptionError{Assumption: i, Input: site.None, text: "at start-up " + text}
		}
	}
	return nil
}

// start tells what is wrong with the inputs at start-up, "" if nothing.
func (e *environment) start(a *site.Assumption) string {
	switch a.Kind {
	case site.AtMost:
		if n := e.trueOf(a, site.None); n > a.N {
			return fmt.Sprintf("%d of the inputs of the assumption \"at most %d\" are true", n, a.N)
		}
	case site.Ladder:
		for k := 1; k < len(a.Inputs); k++ {
			if in, below := a.Inputs[k], a.Inputs[k-1]; e.values[in] && !e.values[below] {
				return fmt.Sprintf("%s is true, but %s is not", e.name(in), e.name(below))
			}
		}
	case site.Charge:
		if flat := a.Inputs[0]; e.values[flat] {
			return fmt.Sprintf("%s is true, but a battery is taken to be full then", e.name(flat))
		}
	}
	return ""
}

// check tells whether the change is one that the assumptions allow.
func (e *environment) check(ev Event) error {
	for i := range e.s.Assumptions {
		w, why := e.window(i, ev.Input)
		switch {
		case why != "":
			why += ", which an assumption excludes"
		case ev.At < w.from:
			why = fmt.Sprintf("changes %s too early for an assumption", w.from-ev.At)
		case ev.At >= w.before:
			why = "becomes true while the battery is full and flat is true, which an assumption excludes"
		}
		if why != "" {
			return &AssumptionError{i, ev.At, ev.Input, fmt.Sprintf("%s: %s %s", ev.At, e.name(ev.Input), why)}
		}
	}
	return nil
}

// window is a time in which an input may change: from inclusive, before exclusive.
type window struct{ from, before Nanos }

// anyTime is the window without bounds.
func anyTime() window { return window{0, math.MaxInt64} }

// window is the time in which assumption i lets the input change next. If it does not at all while the other inputs
// stay as they are, why says what the change would do.
func (e *environment) window(i int, in site.InputID) (w window, why string) {
	a := &e.s.Assumptions[i]
	w = anyTime()
	if !slices.Contains(a.Inputs, in) {
		return w, ""
	}
	d := FromMillis(a.D)
	switch a.Kind {
	case site.Spacing: // any two changes of the listed inputs are at least D apart
		for _, other := range a.Inputs {
			if e.last[other] != noChange {
				w.from = max(w.from, e.last[other]+d)
			}
		}
	case site.Dwell: // after a change to Value it does not change back before D has passed
		if e.values[in] == a.Value && e.last[in] != noChange {
			w.from = e.last[in] + d
		}
	case site.AtMost:
		if !e.values[in] && e.trueOf(a, in) > a.N {
			return w, fmt.Sprintf("would make more than %d true", a.N)
		}
	case site.Ladder:
		return w, e.offLadder(a, in)
	case site.Charge:
		return e.charge[i].when(e, i, in)
	}
	return w, ""
}

// offLadder: each listed input but the first is true only if the one listed before it is.
func (e *environment) offLadder(a *site.Assumption, in site.InputID) string {
	k := slices.Index(a.Inputs, in)
	switch {
	case !e.values[in] && k > 0 && !e.values[a.Inputs[k-1]]:
		return fmt.Sprintf("would become true while %s is not", e.name(a.Inputs[k-1]))
	case e.values[in] && k+1 < len(a.Inputs) && e.values[a.Inputs[k+1]]:
		return fmt.Sprintf("would become false while %s is true", e.name(a.Inputs[k+1]))
	}
	return ""
}

// trueOf counts the true inputs of an AtMost, the one named counted as true.
func (e *environment) trueOf(a *site.Assumption, more site.InputID) int {
	n := 0
	for _, in := range a.Inputs {
		if e.values[in] || in == more {
			n++
		}
	}
	return n
}

// change applies an event that was checked.
func (e *environment) change(ev Event) {
	e.last[ev.Input] = ev.At
	if !e.s.Inputs[ev.Input].Kind.IsEvent() {
		e.values[ev.Input] = ev.Value
	}
	for i, b := range e.charge {
		b.change(&e.s.Assumptions[i], ev)
	}
}

func (e *environment) name(in site.InputID) string {
	return fmt.Sprintf("input %q", e.s.Inputs[in].Name)
}
