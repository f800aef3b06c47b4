// Lamps (lang/SEMANTICS.md section 2, step 4).

package rehearse

import (
	"fmt"

	"lampwarden/lang/site"
)

// lamp is step 4 for one circuit. ramp is that of the setting that decides the request; 0: the circuit's own fade.
func (r *reaction) lamp(c site.CircuitID, ramp site.Millis) {
	l := &r.after.circuits[c]
	// A movement that is due now arrives.
	if l.moving && l.due == r.at {
		l.level = l.aim
		l.rest()
	}
	length := r.s.Circuits[c].Fade
	if ramp > 0 {
		length = ramp
	}
	slow, t := length > 0, FromMillis(r.s.Controller.ReactsWithin+length)
	switch {
	case r.feedDead(r.after, c):
		l.level, l.aim = 0, 0
		l.rest()
	case l.request == l.aim: // nothing starts, whoever decides it now
	case t == 0:
		l.level, l.aim = l.request, l.request
		l.rest()
	case l.moving && !l.slow && !slow && !r.lazy: // the running movement goes on to the newest request
		l.aim = l.request
	default: // a new movement starts from wherever the level is
		l.aim, l.moving, l.due, l.slow = l.request, true, r.at+t, slow
	}
	if !r.lazy {
		l.arrive()
	}
}

// arrive ends a movement whose level has reached the aim.
func (l *circuitState) arrive() {
	if l.moving && l.level == l.aim {
		l.rest()
	}
}

// rest ends the movement, if there is one.
func (l *circuitState) rest() { l.moving, l.due, l.slow = false, 0, false }

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
