// What can influence a mode: the closure over what it reads (for the finding "hunting").

package rehearse

import (
	"slices"

	"lampwarden/lang/site"
)

// ReadsSeen tells whether the mode reads what the sensors see of the lamps.
func ReadsSeen(s *site.Site, m site.ModeID) bool {
	found := false
	eachCondition(&s.Modes[m], func(e *site.Expr) {
		e.Walk(func(x *site.Expr) { found = found || x.Op == site.OpSum && x.Seen })
	})
	return found
}

// CausesOf gives all causes that can influence the mode: the inputs and bands that it reads, itself or by the modes that
// it names and the lamps that it sees, and all those modes, for their clock times. The lamps bring whatever can ask for
// them, and what kills or cuts them.
func CausesOf(s *site.Site, m site.ModeID) site.Causes {
	in := influence{s: s, inputs: map[site.InputID]bool{}, bands: map[site.BandID]bool{},
		modes: map[site.ModeID]bool{}, circuits: map[site.CircuitID]bool{}}
	in.mode(m)
	return site.Causes{Inputs: sorted(in.inputs), Bands: sorted(in.bands), Modes: sorted(in.modes)}
}

// sorted lists a set.
func sorted[T ~int](set map[T]bool) []T {
	var out []T
	for x := range set {
		out = append(out, x)
	}
	slices.Sort(out)
	return out
}

// influence is the closure in the making.
type influence struct {
	s        *site.Site
	inputs   map[site.InputID]bool
	bands    map[site.BandID]bool
	modes    map[site.ModeID]bool
	circuits map[site.CircuitID]bool
}

// expr takes all that an expression reads.
func (in *influence) expr(e *site.Expr) {
	e.Walk(func(x *site.Expr) {
		switch x.Op {
		case site.OpInput, site.OpEvent:
			in.inputs[x.Input] = true
		case site.OpBand:
			in.bands[x.Band] = true
		case site.OpMode, site.OpState, site.OpStage:
			in.mode(x.Mode)
		case site.OpLight:
			in.circuit(x.Circuit)
		case site.OpSum:
			for _, t := range x.Terms {
				in.circuit(t.Circuit)
			}
		}
	})
}

// mode takes all that makes a mode step.
func (in *influence) mode(id site.ModeID) {
	if in.modes[id] {
		return
	}
	in.modes[id] = true
	m := &in.s.Modes[id]
	eachCondition(m, in.expr)
	if !m.Plant {
		in.expr(in.s.Controller.Down)
	}
}

// eachCondition calls f for all conditions, triggers and guards by which a mode steps. Some are nil.
func eachCondition(m *site.Mode, f func(*site.Expr)) {
	f(m.Cond)
	trigger := func(t *site.Trigger) {
		f(t.On)
		f(t.If)
	}
	for i := range m.Starts {
		trigger(&m.Starts[i])
	}
	for i := range m.Ends {
		trigger(&m.Ends[i])
	}
	for i := range m.Transitions {
		trigger(&m.Transitions[i].Trigger)
	}
}

// circuit takes all that decides what a circuit is asked for and whether it follows.
func (in *influence) circuit(c site.CircuitID) {
	if in.circuits[c] {
		return
	}
	in.circuits[c] = true
	cir := &in.s.Circuits[c]
	in.expr(cir.Dead)
	in.expr(cir.Cut)
	in.expr(in.s.Controller.Down)
	for id := range in.s.Modes {
		in.setter(site.ModeID(id), c)
	}
}

// setter takes the mode if it may ask for the circuit, with the cases by which it does.
func (in *influence) setter(id site.ModeID, c site.CircuitID) {
	for _, st := range in.s.Modes[id].States {
		for _, stage := range st.Stages {
			for _, set := range stage.Settings {
				if !slices.Contains(set.Circuits, c) {
					continue
				}
				in.mode(id)
				for i := range set.Cases {
					in.expr(set.Cases[i].When)
				}
			}
		}
	}
}
