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
	// For reasons only: which modes started anew, and what fired in each.
	restarted []bool
	fired     map[site.ModeID][]source.Span
	// choose settles an ambiguity: one of the candidates.
	choose chooser
}

// chooser is the environment's choice for a circuit that becomes ambiguous.
type chooser func(at Nanos, c site.CircuitID, candidates []site.Level) (site.Level, error)

// now is what conditions read in this reaction: new inputs, bands and modes, the event true.
func (r *reaction) now() view { return view{now: r.after, event: r.event, before: r.before} }

// due tells whether a timer that started at since is due in this reaction.
func (r *reaction) due(since Nanos, d site.Millis) bool { return d > 0 && r.at == since+FromMillis(d) }

// clockDue tells whether the clock time of the days is due in this reaction. At start-up it has passed.
func (r *reaction) clockDue(t site.Millis, on site.Days) bool {
	return !r.startUp && r.tow%Day == FromMillis(t) && on.Has(weekday(r.tow))
}

// run makes the whole reaction. given are the level inputs that start true; nil but at start-up.
func (r *reaction) run(given []site.InputID) error {
	// Step 1. The time moves on, bands take their new values, the input change applies.
	r.after = r.before.clone()
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
	// Step 2. Modes step in dependency order.
	r.restarted = make([]bool, len(r.s.Modes))
	for _, id := range r.s.StepOrder {
		r.stepMode(id)
	}
	// Steps 3 and 4. Requests, then lamps.
	for i := range r.after.circuits {
		c := site.CircuitID(i)
		ramp, err := r.request(c)
		if err != nil {
			return err
		}
		r.lamp(c, ramp)
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
