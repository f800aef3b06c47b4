// What a controller does that goes down and wakes up again (lang/SEMANTICS.md section 2, step 2).

package rehearse

import "lampwarden/lang/site"

// controller is the second half of step 2: whether the controller is down, and the steps of the modes that it runs.
func (r *reaction) controller() {
	r.after.down = r.now().given(r.s.Controller.Down)
	switch {
	case r.after.down && r.s.Controller.Keeps:
		return // "they stay as they are"
	case r.after.down:
		r.each(func(id site.ModeID) { r.after.modes[id] = restMode(&r.s.Modes[id], 0) })
		return
	case r.before.down:
		r.wake()
	}
	r.each(r.stepMode)
}

// each calls f for the modes that the controller runs, in step order.
func (r *reaction) each(f func(site.ModeID)) {
	for _, id := range r.s.StepOrder {
		if !r.s.Modes[id].Plant {
			f(id)
		}
	}
}

// wake is the first reaction in which the controller is not down any more: modes step with nothing due, from what was
// kept ("every timer that belongs to their present places starts from zero"), or "as at start-up: for their triggers and
// OpWas, before is the state before start-up".
func (r *reaction) wake() {
	r.still = true
	if !r.s.Controller.Keeps {
		r.past = rest(r.s)
	}
	r.each(func(id site.ModeID) {
		ms := &r.after.modes[id]
		ms.since, ms.stageSince = r.at, r.at
	})
}
