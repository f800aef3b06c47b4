// What of a site a question involves. Nothing that is left out is read by
// anything that is kept, so leaving it out changes no moment of any run but
// for reactions that change nothing; inputs that are left out stay false, which
// every assumption allows.

package oracle

import "lampwarden/lang/site"

// kept says which parts are in the state.
type kept struct {
	modes     []bool
	sequences []bool // the mode's stages are tracked
	inputs    []bool
	bands     []bool
	requests  []bool // the circuit's request is resolved
	lamps     []bool // and its lamp followed
	events    map[event]bool
	clock     bool // the time of day is in the state
	weekly    bool // and the day of the week
}

// event is an instant of an event input.
type event struct {
	input   site.InputID
	gesture site.Gesture
}

func (k *kept) anyInput(ids []site.InputID) bool {
	for _, i := range ids {
		if k.inputs[i] {
			return true
		}
	}
	return false
}

// trim follows what is read, from the question's conditions and circuits.
func trim(s *site.Site, q *question, whole bool) *kept {
	k := &kept{
		modes: make([]bool, len(s.Modes)), sequences: make([]bool, len(s.Modes)),
		inputs: make([]bool, len(s.Inputs)), bands: make([]bool, len(s.Bands)),
		requests: make([]bool, len(s.Circuits)), lamps: make([]bool, len(s.Circuits)),
		events: map[event]bool{},
	}
	for _, c := range q.requests {
		k.requests[c] = true
	}
	for _, c := range q.lights {
		k.requests[c], k.lamps[c] = true, true
	}
	if whole {
		k.keepAll(s)
	}
	for c := range s.Circuits {
		if k.lamps[c] {
			k.reads(s, s.Circuits[c].Dead)
		}
	}
	for _, e := range q.exprs {
		k.reads(s, e)
	}
	for id := range s.Modes {
		if asksAny(&s.Modes[id], k.requests) {
			k.sequences[id] = true
			k.mode(s, site.ModeID(id))
		}
	}
	if whole {
		for id := range s.Modes {
			k.mode(s, site.ModeID(id))
		}
	}
	return k
}

func (k *kept) keepAll(s *site.Site) {
	for c := range s.Circuits {
		k.requests[c], k.lamps[c] = true, true
	}
	for i := range s.Inputs {
		k.inputs[i] = true
		if s.Inputs[i].Kind.IsEvent() {
			k.events[event{site.InputID(i), site.Tap}] = true
		}
	}
	for b := range s.Bands {
		k.bands[b], k.clock = true, true
		k.days(s.Bands[b].Days)
	}
}

// days keeps the day of the week if a set does not have them all.
func (k *kept) days(on site.Days) {
	const all = 1<<7 - 1
	k.weekly = k.weekly || on != 0 && on != all
}

func asksAny(m *site.Mode, circuits []bool) bool {
	for _, st := range m.States {
		for _, g := range st.Stages {
			for _, set := range g.Settings {
				for _, c := range set.Circuits {
					if circuits[c] {
						return true
					}
				}
			}
		}
	}
	return false
}

// mode keeps a mode and everything it reads.
func (k *kept) mode(s *site.Site, id site.ModeID) {
	if k.modes[id] {
		return
	}
	k.modes[id] = true
	m := &s.Modes[id]
	k.reads(s, m.Cond)
	for _, ts := range [][]site.Trigger{m.Starts, m.Ends} {
		for i := range ts {
			k.trigger(s, &ts[i], 0)
		}
	}
	for i := range m.Transitions {
		k.trigger(s, &m.Transitions[i].Trigger, m.Transitions[i].After)
	}
	for _, st := range m.States {
		for _, g := range st.Stages {
			for _, set := range g.Settings {
				for _, ca := range set.Cases {
					k.reads(s, ca.When)
				}
			}
		}
	}
}

func (k *kept) trigger(s *site.Site, t *site.Trigger, after site.Millis) {
	if t.On == nil && after == 0 {
		k.clock = true
		k.days(t.Days)
	}
	k.reads(s, t.On)
	k.reads(s, t.If)
}

func (k *kept) reads(s *site.Site, e *site.Expr) {
	e.Walk(func(x *site.Expr) {
		switch x.Op {
		case site.OpInput:
			k.inputs[x.Input] = true
		case site.OpEvent:
			k.inputs[x.Input] = true
			k.events[event{x.Input, x.Gesture}] = true
		case site.OpBand:
			k.bands[x.Band], k.clock = true, true
			k.days(s.Bands[x.Band].Days)
		case site.OpStage:
			k.sequences[x.Mode] = true
			k.mode(s, x.Mode)
		case site.OpMode, site.OpState:
			k.mode(s, x.Mode)
		}
	})
}
