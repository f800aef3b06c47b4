// Lamps (lang/SEMANTICS.md section 2, step 4).

package rehearse

import (
	"fmt"

	"lampwarden/lang/site"
)

// lamp is step 4 for one circuit; w is what was asked of it.
func (r *reaction) lamp(c site.CircuitID, w want) {
	cir, l, before := &r.s.Circuits[c], &r.after.circuits[c], &r.before.circuits[c]
	// A movement that is due now arrives.
	if l.moving && l.due == r.at {
		l.stand(l.aim)
	}
	l.dead = r.now().given(cir.Dead)
	l.cut = r.after.down || r.now().given(cir.Cut)
	switch {
	case l.dead:
		l.stand(0)
	case l.cut && cir.Fail != nil:
		l.stand(*cir.Fail)
		if !before.cut || before.dead {
			r.take(c, FailureLevel)
		}
	case before.dead && cir.PowerOn != nil:
		l.stand(*cir.PowerOn)
		r.take(c, PowerOnLevel)
	}
	if cir.Colour && !w.asked {
		l.request = l.aim // nobody asks: nothing changes
	}
	if !l.dead && !l.cut {
		r.follow(c, w)
	}
	if !r.lazy {
		l.arrive()
	}
}

// follow makes the lamp act on its request.
func (r *reaction) follow(c site.CircuitID, w want) {
	l := &r.after.circuits[c]
	length := r.s.Circuits[c].Fade
	if w.ramp > 0 {
		length = w.ramp
	}
	slow, t := length > 0, FromMillis(r.s.Controller.ReactsWithin+length)
	switch {
	case l.request == l.aim: // nothing starts, whoever decides it now
	case t == 0 || r.fromDark(c):
		l.stand(l.request)
	case l.moving && !l.slow && !slow && !r.lazy: // the running movement goes on to the newest request
		l.aim = l.request
	default: // a new movement starts from wherever the level is
		l.aim, l.moving, l.due, l.slow = l.request, true, r.at+t, slow
	}
}

// fromDark: "A colour follows at once in a reaction before which the level of its light was 0". In a lazy run, of a light
// that is on its way nothing sure is known.
func (r *reaction) fromDark(c site.CircuitID) bool {
	if !r.s.Circuits[c].Colour {
		return false
	}
	light := &r.before.circuits[r.s.Circuits[c].Light]
	return light.level == 0 && !(r.lazy && light.moving)
}

// take notes for the reasons that the lamp took a level of its own.
func (r *reaction) take(c site.CircuitID, t Took) {
	if r.took == nil {
		r.took = map[site.CircuitID]Took{}
	}
	r.took[c] = t
}

// arrive ends a movement whose level has reached the aim.
func (l *circuitState) arrive() {
	if l.moving && l.level == l.aim {
		l.stand(l.aim)
	}
}

// stand puts the lamp at a level at once; no movement runs.
func (l *circuitState) stand(at site.Level) {
	l.level, l.aim = at, at
	l.moving, l.due, l.slow = false, 0, false
}

// move is a move of a lamp between two reactions: monotonic, towards the aim, and a change.
func (p *plan) move(st *state, mv Move) (*state, error) {
	circuit, l := &p.s.Circuits[mv.Circuit], st.circuits[mv.Circuit]
	low, high := min(l.level, l.aim), max(l.level, l.aim)
	switch {
	case !l.moving:
		return nil, fmt.Errorf("circuit %q is not moving", circuit.Name)
	case mv.Level == l.level:
		return nil, fmt.Errorf("circuit %q is at %s already", circuit.Name, levelText(circuit, mv.Level))
	case mv.Level < low || mv.Level > high:
		return nil, fmt.Errorf("circuit %q goes from %s to %s and cannot be at %s", circuit.Name,
			levelText(circuit, l.level), levelText(circuit, l.aim), levelText(circuit, mv.Level))
	case jumps(circuit, low, high) && mv.Level != l.aim:
		return nil, fmt.Errorf("circuit %q goes from %s to %s at a stroke and cannot be at %s", circuit.Name,
			levelText(circuit, l.level), levelText(circuit, l.aim), levelText(circuit, mv.Level))
	}
	next := st.clone()
	next.circuits[mv.Circuit].level = mv.Level
	next.circuits[mv.Circuit].arrive()
	return next, nil
}

// jumps tells whether a lamp that goes between two levels is never between them: a switched circuit, and a colour unless
// both are colour temperatures.
func jumps(c *site.Circuit, low, high site.Level) bool {
	return c.Switched || c.Colour && (low < site.LeastKelvin || high < site.LeastKelvin)
}

// levelText writes a level, or the code of a colour, for an error message.
func levelText(c *site.Circuit, l site.Level) string {
	switch {
	case !c.Colour:
		return fmt.Sprintf("%g %%", float64(l)/100)
	case l > 0 && int(l) < len(site.Colours):
		return site.Colours[l]
	case l >= site.LeastKelvin:
		return fmt.Sprintf("%d K", l)
	}
	return fmt.Sprintf("colour code %d", l)
}
