// Scenarios: a timed list of events written in the site, with expectations (lang/LANGUAGE.md, "Scenarios").
//
// A scenario says nothing of how lamps travel, so its run has no moves. An expectation about a lamp on its way is met
// only where it *surely* holds: for every level that the lamp may have at that moment. What is expected of a lamp is
// therefore met at the latest when it arrives, and never on the way by luck.

package rehearse

import (
	"errors"
	"fmt"

	"lampwarden/lang/site"
)

// ScenarioError tells which step of a scenario cannot be played, and why.
type ScenarioError struct {
	Step int // index into Scenario.Steps; -1: what is given at start-up
	Err  error
}

// Error names the reason.
func (e *ScenarioError) Error() string { return e.Err.Error() }

// Unwrap gives the *ScriptError or *AssumptionError.
func (e *ScenarioError) Unwrap() error { return e.Err }

// Rehearse plays a scenario, on its date if the site has dates, and tells which expectations were met. The error is a
// *ScenarioError.
func Rehearse(s *site.Site, sc *site.Scenario) (*Timeline, []Expectation, error) {
	if len(s.Dates) > 0 {
		s = s.OnDate(sc.Date)
	}
	script := Script{Start: FromMillis(sc.Start), Initial: sc.Given}
	for i := range sc.Steps {
		st := &sc.Steps[i]
		at := FromMillis(st.After)
		if st.Expect == nil {
			script.Events = append(script.Events, Event{at, st.Input, st.Value, st.Gesture})
		}
		script.End = max(script.End, at+FromMillis(st.Within))
	}
	if err := script.simultaneous(); err != nil {
		return nil, nil, &ScenarioError{stepOf(sc, err), err}
	}
	tl, err := play(s, script, true)
	if err != nil {
		return nil, nil, &ScenarioError{stepOf(sc, err), err}
	}
	return tl, expectations(tl, sc), nil
}

// simultaneous refuses two changes at one instant with a sentence of its own, as it is easily written.
func (sc Script) simultaneous() error {
	for i := 1; i < len(sc.Events); i++ {
		if at := sc.Events[i].At; at == sc.Events[i-1].At {
			return badScript(at, "two inputs change at one instant; let some time pass between them")
		}
	}
	return nil
}

// stepOf finds the step that an error speaks of: the last change at its time.
func stepOf(sc *site.Scenario, err error) int {
	var at Nanos
	var script *ScriptError
	var assumption *AssumptionError
	switch {
	case errors.As(err, &script):
		at = script.At
	case errors.As(err, &assumption):
		at = assumption.At
	}
	found := -1
	for i, st := range sc.Steps {
		if st.Expect == nil && FromMillis(st.After) == at {
			found = i
		}
	}
	return found
}

// expectations goes through the run once and marks each expectation at the first moment of its window at which it
// surely holds.
func expectations(tl *Timeline, sc *site.Scenario) []Expectation {
	var out []Expectation
	for i := range sc.Steps {
		if st := &sc.Steps[i]; st.Expect != nil {
			out = append(out, Expectation{Step: i, At: FromMillis(st.After + st.Within)})
		}
	}
	lights := newSight(tl.Site)
	for i := range tl.Steps {
		lights.step(tl, i)
		next := tl.Script.End + 1
		if i+1 < len(tl.Steps) {
			next = tl.Steps[i+1].At
		}
		for k := range out {
			out[k].look(tl, lights, i, next, &sc.Steps[out[k].Step])
		}
	}
	return out
}

// look holds one expectation against the moments of step i and the time from it to the next step.
func (x *Expectation) look(tl *Timeline, lights *sight, i int, next Nanos, st *site.ScenarioStep) {
	from, to := FromMillis(st.After), FromMillis(st.After+st.Within)
	at, after := tl.Steps[i].At, tl.after(i)
	if x.Met || at > to || next <= from {
		return
	}
	met := func(v view, at Nanos, onTheWay bool) {
		if !x.Met && lights.surely(st.Expect, v, onTheWay) == yes {
			x.Met, x.At = true, at
		}
	}
	if at > from && tl.Steps[i].Event != nil {
		instant := after
		instant.event = tl.Steps[i].Event
		met(instant, at, false)
	}
	if at >= from {
		met(after, at, false)
	}
	if at < from {
		met(after, from, true)
	}
	if x.Met || next <= to {
		return
	}
	onTheWay := at < to // else the window ends at this very moment
	x.Unsure = lights.surely(st.Expect, after, onTheWay) == maybe
	x.Why = lights.doubts(st.Expect, after, onTheWay)
}

// String says which expectation it is and how it came out.
func (x Expectation) String() string {
	if x.Met {
		return fmt.Sprintf("step %d: met at %s", x.Step, x.At)
	}
	return fmt.Sprintf("step %d: not met by %s", x.Step, x.At)
}
