// Reading a timeline: any part of the state after any step.

package rehearse

import (
	"sort"

	"lampwarden/lang/site"
)

// Mode is the mode after the step.
func (tl *Timeline) Mode(step int, id site.ModeID) ModeView {
	return tl.plan.modeView(tl.Steps[step].state, id)
}

// Level is the circuit's level after the step.
func (tl *Timeline) Level(step int, c site.CircuitID) site.Level {
	return tl.Steps[step].state.circuits[c].level
}

// Input is the level input after the step.
func (tl *Timeline) Input(step int, in site.InputID) bool { return tl.Steps[step].state.inputs[in] }

// Band tells whether the band holds after the step.
func (tl *Timeline) Band(step int, b site.BandID) bool { return tl.Steps[step].state.bands[b] }

// Ambiguous tells whether the circuit is ambiguous after the step.
func (tl *Timeline) Ambiguous(step int, c site.CircuitID) bool {
	return tl.Steps[step].state.circuits[c].ambiguous != nil
}

// Down tells whether the controller is down after the step.
func (tl *Timeline) Down(step int) bool { return tl.Steps[step].state.down }

// Seen is the level at which the sensors see the circuit after the step.
func (tl *Timeline) Seen(step int, c site.CircuitID) site.Level {
	return tl.Steps[step].state.circuits[c].seen
}

// Lamp is the circuit after the step.
func (tl *Timeline) Lamp(step int, c site.CircuitID) Lamp {
	return tl.plan.lampView(tl.Steps[step].state, c)
}

// Reason tells who decides the circuit's request after the step.
func (tl *Timeline) Reason(step int, c site.CircuitID) Reason {
	for !tl.Steps[step].Reaction { // a move changes no request
		step--
	}
	v := tl.after(step)
	v.event = tl.Steps[step].Event
	return tl.plan.reason(v, c)
}

// before is the state before the step.
func (tl *Timeline) before(step int) *state {
	if step == 0 {
		return rest(tl.Site)
	}
	return tl.Steps[step-1].state
}

// stepAt is the last step at or before the time, or -1.
func (tl *Timeline) stepAt(at Nanos) int {
	return sort.Search(len(tl.Steps), func(i int) bool { return tl.Steps[i].At > at }) - 1
}

// Holds tells whether the expression is true at the time, after all that happened then; false outside the run.
func Holds(s *site.Site, tl *Timeline, e *site.Expr, at Nanos) bool {
	i := tl.stepAt(at)
	if i < 0 || at > tl.Script.End || len(tl.Site.Modes) != len(s.Modes) {
		return false
	}
	return tl.after(i).holds(e)
}

// after is the view of the moment after the step.
func (tl *Timeline) after(step int) view {
	return view{plan: tl.plan, now: tl.Steps[step].state, before: tl.before(step)}
}
