// What a step changed, and why: the records of a timeline.

package rehearse

import (
	"slices"

	"lampwarden/lang/site"
)

// describe writes a finished reaction down.
func (r *reaction) describe(c clock) Step {
	st := Step{At: r.at, TimeOfDay: r.tow % Day, Weekday: weekday(r.tow), Reaction: true, Event: r.event, Causes: r.causes(c),
		Controller: controllerChange(r.before, r.after), state: r.after}
	for i := range r.s.Modes {
		id := site.ModeID(i)
		from, to := r.modeView(r.before, id), r.modeView(r.after, id)
		if from != to || r.restarted[i] {
			st.Modes = append(st.Modes, ModeChange{id, from, to, r.restarted[i], r.fired[id]})
		}
	}
	for i := range r.s.Circuits {
		c := site.CircuitID(i)
		from, to := r.lampView(r.before, c), r.lampView(r.after, c)
		if from != to {
			st.Circuits = append(st.Circuits, CircuitChange{c, from, to, r.took[c], r.reason(r.now(), c)})
		}
	}
	return st
}

// causes lists what made the reaction happen.
func (r *reaction) causes(c clock) []Cause {
	if r.startUp {
		return []Cause{{Kind: StartUp}}
	}
	var out []Cause
	if ev := r.event; ev != nil {
		out = append(out, Cause{Kind: InputChange, Input: ev.Input, Value: ev.Value, Gesture: ev.Gesture,
			Span: r.s.Inputs[ev.Input].Span})
	}
	r.dues(r.before, c, func(at Nanos, cause Cause) {
		if at == r.at {
			cause.Lost = r.lost(cause)
			out = append(out, cause)
		}
	})
	return out
}

// lost tells whether the cause is a time of a mode whose controller is down or just wakes up.
func (r *reaction) lost(c Cause) bool {
	return (r.after.down || r.still) && (c.Kind == TimerDue || c.Kind == ClockDue) && !r.s.Modes[c.Mode].Plant
}

// controllerChange tells what the controller itself did.
func controllerChange(before, after *state) ControllerChange {
	switch {
	case after.down && !before.down:
		return GoesDown
	case before.down && !after.down:
		return WakesUp
	}
	return AsBefore
}

// describeMove writes a move down.
func (r *run) describeMove(tow Nanos, mv Move, after *state) Step {
	from, to := r.lampView(r.now, mv.Circuit), r.lampView(after, mv.Circuit)
	return Step{
		At: mv.At, TimeOfDay: tow % Day, Weekday: weekday(tow), state: after,
		Causes:   []Cause{{Kind: LampMoves, Circuit: mv.Circuit, Level: mv.Level, Span: r.s.Circuits[mv.Circuit].Span}},
		Circuits: []CircuitChange{{mv.Circuit, from, to, NoLevel, r.last.reason(r.last.now(), mv.Circuit)}},
	}
}

// modeView is how a mode looks from outside.
func (p *plan) modeView(st *state, id site.ModeID) ModeView {
	ms := st.modes[id]
	v := ModeView{Active: ms.active(), Phase: ms.phase, State: ms.state, Stage: ms.stage}
	if !v.Active && p.s.Modes[id].Kind != site.States {
		v.Stage = Over
		return v
	}
	if st.down && !p.s.Modes[id].Plant {
		return v // a flash stands still
	}
	if stage := stageOf(p.s, id, ms); stage != nil && stage.Flash != nil {
		v.Flashing, v.FlashOn = true, flashOn(stage.Flash, ms.stageSince, st.at)
	}
	return v
}

// lampView is how a circuit looks from outside.
func (p *plan) lampView(st *state, c site.CircuitID) Lamp {
	cs := st.circuits[c]
	return Lamp{cs.request, cs.level, cs.aim, cs.moving, cs.due, cs.dead, cs.cut}
}

// reason tells who decides the circuit's request in the view of a reaction.
func (p *plan) reason(v view, c site.CircuitID) Reason {
	d := p.decide(v, c)
	out := Reason{Rule: d.rule, Ambiguous: d.ambiguous}
	request := v.now.circuits[c].request
	if d.ambiguous {
		out.Candidates = levelsOf(d.rest)
		out.Kept = slices.Equal(v.before.circuits[c].ambiguous, v.now.circuits[c].ambiguous)
	}
	for _, a := range d.asks {
		rests := slices.ContainsFunc(d.rest, func(b Ask) bool { return b.Mode == a.Mode })
		if rests && a.Level == request {
			out.Winners = append(out.Winners, a)
		} else {
			out.Losers = append(out.Losers, p.loss(v.now, c, a, d, rests))
		}
	}
	return out
}

// loss tells why an ask lost, and to whom.
func (p *plan) loss(st *state, c site.CircuitID, a Ask, d decision, rests bool) Loss {
	request := st.circuits[c].request
	if !rests {
		// Precedence is transitive, so one of M outranks it; look there first.
		for _, b := range slices.Concat(d.rest, d.asks) {
			if p.s.Precedence.Outranks(b.Mode, a.Mode) {
				return Loss{a, Outranked, b.Mode, p.chain(b.Mode, a.Mode)}
			}
		}
	}
	won := d.rest[slices.IndexFunc(d.rest, func(b Ask) bool { return b.Level == request })]
	why := NotChosen
	switch d.rule {
	case site.Highest:
		why = Lower
	case site.Latest:
		why, won = Earlier, latest(st, d.rest)
	}
	out := Loss{Ask: a, Why: why, By: won.Mode}
	for _, pair := range p.s.Precedence.Pairs {
		same := pair.Over == a.Mode && pair.Under == won.Mode || pair.Over == won.Mode && pair.Under == a.Mode
		if same && p.read(c, pair.Rule) == d.rule && d.rule != site.NoRule {
			out.Pairs = []site.PrecedencePair{pair}
			break
		}
	}
	return out
}

// chain finds written pairs that lead from over down to under, as few as possible.
func (p *plan) chain(over, under site.ModeID) []site.PrecedencePair {
	from := map[site.ModeID]int{over: -1} // the pair by which each mode was reached
	queue := []site.ModeID{over}
	for len(queue) > 0 && queue[0] != under {
		for i, pair := range p.s.Precedence.Pairs {
			if _, seen := from[pair.Under]; !seen && pair.Rule == site.NoRule && pair.Over == queue[0] {
				from[pair.Under] = i
				queue = append(queue, pair.Under)
			}
		}
		queue = queue[1:]
	}
	if len(queue) == 0 {
		return nil
	}
	var out []site.PrecedencePair
	for m := under; m != over; {
		pair := p.s.Precedence.Pairs[from[m]]
		out = append(out, pair)
		m = pair.Over
	}
	slices.Reverse(out)
	return out
}
