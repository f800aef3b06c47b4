// What the environment is taken never to do (lang/SEMANTICS.md section 3).

package rehearse

import (
	"fmt"

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
}

// noChange: "Nothing counts as a change before the first one after start-up."
const noChange Nanos = -1

// newEnvironment starts with the given inputs true.
func newEnvironment(s *site.Site, given []site.InputID) *environment {
	e := &environment{s: s, values: make([]bool, len(s.Inputs)), last: make([]Nanos, len(s.Inputs))}
	for i := range e.last {
		e.last[i] = noChange
	}
	for _, in := range given {
		e.values[in] = true
	}
	return e
}

// checkStart applies the assumptions to the inputs at start-up: only AtMost speaks of them.
func (e *environment) checkStart() error {
	for i := range e.s.Assumptions {
		a := &e.s.Assumptions[i]
		if a.Kind != site.AtMost {
			continue
		}
		if n := e.trueOf(a, site.None); n > a.N {
			return &AssumptionError{Assumption: i, Input: site.None, text: fmt.Sprintf(
				"at start-up %d of the inputs of the assumption \"at most %d\" are true", n, a.N)}
		}
	}
	return nil
}

// check tells whether the change is one that the assumptions allow.
func (e *environment) check(ev Event) error {
	for i := range e.s.Assumptions {
		a := &e.s.Assumptions[i]
		if t, ok := e.earliest(a, ev.Input); !ok {
			return &AssumptionError{i, ev.At, ev.Input, fmt.Sprintf("%s: %s would make more than %d true, "+
				"which an assumption excludes", ev.At, e.name(ev.Input), a.N)}
		} else if ev.At < t {
			return &AssumptionError{i, ev.At, ev.Input, fmt.Sprintf("%s: %s changes %s too early for an assumption",
				ev.At, e.name(ev.Input), t-ev.At)}
		}
	}
	return nil
}

// earliest is the first time at which the assumption lets the input change next; ok is false if it does not while the
// other inputs stay as they are.
func (e *environment) earliest(a *site.Assumption, in site.InputID) (at Nanos, ok bool) {
	if !lists(a, in) {
		return 0, true
	}
	d := FromMillis(a.D)
	switch a.Kind {
	case site.Spacing: // any two changes of the listed inputs are at least D apart
		for _, other := range a.Inputs {
			if e.last[other] != noChange {
				at = max(at, e.last[other]+d)
			}
		}
	case site.Dwell: // after a change to Value it does not change back before D has passed
		if e.values[in] == a.Value && e.last[in] != noChange {
			at = e.last[in] + d
		}
	case site.AtMost:
		return 0, e.values[in] || e.trueOf(a, in) <= a.N
	}
	return at, true
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

// lists tells whether the assumption speaks of the input.
func lists(a *site.Assumption, in site.InputID) bool {
	for _, i := range a.Inputs {
		if i == in {
			return true
		}
	}
	return false
}

// change applies an event that was checked.
func (e *environment) change(ev Event) {
	e.last[ev.Input] = ev.At
	if !e.s.Inputs[ev.Input].Kind.IsEvent() {
		e.values[ev.Input] = ev.Value
	}
}

func (e *environment) name(in site.InputID) string {
	return fmt.Sprintf("input %q", e.s.Inputs[in].Name)
}
