// The words for what fails: flat batteries and faults, and conditions that stuck inputs are worked into.

package site

import "strings"

// The endings of the names of Failure inputs, as the language writes them.
const (
	endStuckOn  = " stuck on"
	endStuckOff = " stuck off"
	endStuck    = " stuck"
	endFailed   = " failed"
	endNoStart  = " fails to start"
)

// flatName gives the name of the battery of a Flatness input.
func (in *Input) flatName() string { return strings.TrimSuffix(in.Name, " flat") }

// failureText tells that a battery has run flat or is charged again, or that a fault has come or gone: "hall_pir sticks
// on", "the controller restarts".
func (in *Input) failureText(value bool) string {
	if in.Kind == Flatness {
		return map[bool]string{true: in.flatName() + " runs flat", false: in.flatName() + " is charged again"}[value]
	}
	for _, x := range [][3]string{
		{endStuckOn, " sticks on", " works again"},
		{endStuckOff, " sticks off", " works again"},
		{endStuck, " sticks", " works again"},
		{endFailed, " fails", " works again"},
		{endNoStart, " fails to start", " can start again"},
	} {
		if thing, ok := strings.CutSuffix(in.Name, x[0]); ok {
			return thing + map[bool]string{true: x[1], false: x[2]}[value]
		}
	}
	switch {
	case in.Name == "controller down" && value:
		return "the controller goes down"
	case in.Name == "controller down":
		return "the controller restarts"
	case in.Name == "control bus lost" && value:
		return "the control bus is lost"
	case in.Name == "control bus lost":
		return "the control bus is back"
	case value:
		return in.Name
	}
	return in.Name + " no more"
}

// unstuck gives what was written of an atom that the faults of its input are worked into: `hall_pir` for (hall_pir or
// hall_pir stuck on) and not hall_pir stuck off. All of it stands at the place of the atom, which tells it from a
// condition that was written so. Any other condition is given as it is.
func (s *Site) unstuck(e *Expr) *Expr {
	x := e
	if x.Op == OpAnd && len(x.Kids) == 2 && x.Kids[1].Op == OpNot && x.Span == x.Kids[0].Span {
		if kid := x.Kids[1].Kids[0]; s.isFault(kid, x.Kids[0], endStuckOff) || s.isFault(kid, x.Kids[0], endStuck) {
			x = x.Kids[0]
		}
	}
	if x.Op == OpOr && len(x.Kids) == 2 && x.Span == x.Kids[0].Span && s.isFault(x.Kids[1], x.Kids[0], endStuckOn) {
		x = x.Kids[0]
	}
	return x
}

// isFault tells whether fault is the fault with the ending of the input that e reads, be it within a stuck-on.
func (s *Site) isFault(fault, e *Expr, end string) bool {
	if e.Op == OpOr && len(e.Kids) == 2 && s.isFault(e.Kids[1], e.Kids[0], endStuckOn) {
		e = e.Kids[0]
	}
	if fault.Op != OpInput || e.Op != OpInput && e.Op != OpEvent {
		return false
	}
	in := &s.Inputs[fault.Input]
	return in.Kind == Failure && in.Name == s.Inputs[e.Input].Name+end
}
