// One reaction (lang/SEMANTICS.md section 2).

package rehearse

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// reaction is one reaction in the making.
type reaction struct {
	*plan
	number  int // from 0, the start-up
	at      Nanos
	tow     Nanos // time of the week
	startUp bool
	event   *Event
	before  *state
	after   *state
	// past is what triggers and OpWas take for the state before: before, but for modes that wake up forgetful.
	past *state
	// still: the modes that step now have just been woken, and no clock time is due for them.
	still bool
	// For reasons only: which modes started anew, what fired in each, which lamps took a level of their own.
	restarted []bool
	fired     map[site.ModeID][]source.Span
	took      map[site.CircuitID]Took
	// choose settles an ambiguity: one of the candidates.
	choose chooser
}

// chooser is the environment's choice for a circuit that becomes ambiguous.
type chooser func(at Nanos, c site.CircuitID, candidates []site.Level) (site.Level, error)

// now is what conditions read in this reaction: new inputs, bands and modes, the event true.
func (r *reaction) now() view {
	return view{plan: r.plan, now: r.after, event: r.event, before: r.past}
}

// due tells whether a timer that started at since is due in this reaction.
func (r *reaction) due(since Nanos, d site.Millis) bool { return d > 0 && r.at == since+FromMillis(d) }

// clockDue tells whether the clock time of the days is due in this reaction. At start-up, and for modes that wake up, it
// has passed.
func (r *reaction) clockDue(t site.Millis, on site.Days) bool {
	return !r.startUp && !r.still && r.tow%Day == FromMillis(t) && on.Has(weekday(r.tow))
}

// run makes the whole reaction. given are the level inputs that start true; nil but at start-up.
func (r *reaction) run(given []site.InputID) error {
	// Step 1. The time moves on, bands take their new values, the input change applies.
	r.after, r.past = r.before.clone(), r.before
	r.after.at = r.at
	for i := range r.s.Bands {
		r.after.bands[i] = r.s.Bands[i].Holds(site.Millis(r.tow / Milli))
	}
	for _, in := range given {
		r.after.inputs[in] = true
	}
	if r.event != nil && !r.s.Inputs[r.event.Input].Kind.IsEvent() {
		r.after.inputs[r.event.Input] = r.event.Value
	}
	for i := range r.after.circuits {
		r.after.circuits[i].look(r.at)
	}
	// Step 2. Modes step in dependency order, plant modes first.
	r.restarted = make([]bool, len(r.s.Modes))
	for _, id := range r.s.StepOrder {
		if r.s.Modes[id].Plant {
			r.stepMode(id)
		}
	}
	r.controller()
	// Steps 3 to 5. Requests, then lamps, then what is seen of them.
	for i := range r.after.circuits {
		c := site.CircuitID(i)
		w, err := r.request(c)
		if err != nil {
			return err
		}
		r.lamp(c, w)
		r.see(c)
	}
	return nil
}

// fire notes for the reasons that a trigger or transition of the mode fired.
func (r *reaction) fire(id site.ModeID, span source.Span) {
	if r.fired == nil {
		r.fired = map[site.ModeID][]source.Span{}
	}
	r.fired[id] = append(r.fired[id], span)
}
