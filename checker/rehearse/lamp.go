// Lamps (lang/SEMANTICS.md section 2, step 4).

package rehearse

import (
	"fmt"

	"lampwarden/lang/site"
)

// lamp is step 4 for one circuit.
func (r *reaction) lamp(c site.CircuitID) {
	l := &r.after.circuits[c]
	// A movement that is due now arrives.
	if l.moving && l.due == r.at {
		l.level, l.moving, l.due = l.aim, false, 0
	}
	switch t := r.travel[c]; {
	case r.feedDead(r.after, c):
		l.level, l.aim, l.moving, l.due = 0, 0, false, 0
	case l.request == l.aim:
	case t == 0:
		l.level, l.aim = l.request, l.request
	case l.moving && r.s.Circuits[c].Fade == 0 && !r.lazy: // the running movement goes on to the newest request
		l.aim = l.request
	default: // a new movement starts from wherever the level is
		l.aim, l.moving, l.due = l.request, true, r.at+t
	}
	if !r.lazy {
		l.arrive()
	}
}

// arrive ends a movement whose level has reached the aim.
func (l *circuitState) arrive() {
	if l.moving && l.level == l.aim {
		l.moving, l.due = false, 0
	}
}

// feedDead: the circuit hangs on a mains supply that is lost.
func (p *plan) feedDead(st *state, c site.CircuitID) bool {
	h := p.health[c]
	return h != site.None && st.inputs[h]
}

// move is a move of a lamp between two reactions: monotonic, towards the aim, and a change.
func (p *plan) move(st *state, mv Move) (*state, error) {
	circuit, l := &p.s.Circuits[mv.Circuit], st.circuits[mv.Circuit]
	low, high := min(l.level, l.aim), max(l.level, l.aim)
	switch {
	case !l.moving:
		return nil, fmt.Errorf("circuit %q is not moving", circuit.Name)
	case mv.Level == l.level:
		return nil, fmt.Errorf("circuit %q is at %s already", circuit.Name, percent(mv.Level))
	case mv.Level < low || mv.Level > high:
		return nil, fmt.Errorf("circuit %q goes from %s to %s and cannot be at %s", circuit.Name,
			percent(l.level), percent(l.aim), percent(mv.Level))
	case circuit.Switched && mv.Level != 0 && mv.Level != circuit.Top():
		return nil, fmt.Errorf("circuit %q is switched and cannot be at %s", circuit.Name, percent(mv.Level))
	}
	next := st.clone()
	next.circuits[mv.Circuit].level = mv.Level
	next.circuits[mv.Circuit].arrive()
	return next, nil
}

// percent writes a level for an error message.
func percent(l site.Level) string { return fmt.Sprintf("%g %%", float64(l)/100) }
