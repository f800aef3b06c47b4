// What of a site a question involves. Nothing that is left out is read by
// anything that is kept, so leaving it out changes no moment of any run but
// for reactions that change nothing; inputs that are left out stay false, which
// every assumption on what is kept allows.
//
// The form CanReturn asks more: what is left out must not stand in the way of a run
// that goes on. There inputs that share an assumption with one that is kept are
// kept, too.

package oracle

import (
	"slices"

	"lampwarden/lang/site"
)

// kept says which parts are in the state.
type kept struct {
	s         *site.Site
	modes     []bool
	sequences []bool // the mode's stages are tracked
	inputs    []bool
	may       []bool // by input: it may leave rest at all (a fault only if the question lists it)
	bands     []bool
	requests  []bool // the circuit's request is resolved
	lamps     []bool // and its lamp's aim followed
	levels    []bool // and its level
	dark      []bool // and whether that is 0, for a colour
	seen      []bool // and the level at which the sensors see it
	events    map[event]bool
	clock     bool             // the time of day is in the state
	weekly    bool             // and the day of the week
	down      bool             // whether the controller is down is in the state
	together  [][]site.InputID // CanReturn: inputs that may stand in each other's way
}

// event is an instant of an event input.
type event struct {
	input   site.InputID
	gesture site.Gesture
}

func (k *kept) anyInput(ids []site.InputID) bool {
	return slices.ContainsFunc(ids, func(i site.InputID) bool { return k.inputs[i] })
}

// assumes tells whether an assumption speaks of what is kept. What a battery may
// do says nothing of its charger.
func (k *kept) assumes(a *site.Assumption) bool {
	if a.Kind == site.Charge {
		return k.inputs[a.Inputs[0]]
	}
	return k.anyInput(a.Inputs)
}

// trim follows what is read, from the question's conditions and circuits, until
// nothing more comes up: what the sensors see of a lamp leads back to all that
// decides the lamp.
func trim(s *site.Site, q *question, whole bool) *kept {
	n := len(s.Circuits)
	k := &kept{s: s,
		modes: make([]bool, len(s.Modes)), sequences: make([]bool, len(s.Modes)),
		inputs: make([]bool, len(s.Inputs)), may: make([]bool, len(s.Inputs)), bands: make([]bool, len(s.Bands)),
		requests: make([]bool, n), lamps: make([]bool, n), levels: make([]bool, n), dark: make([]bool, n), seen: make([]bool, n),
		events: map[event]bool{},
	}
	for i := range s.Inputs {
		k.may[i] = !s.Inputs[i].Fault || slices.Contains(q.faults, site.InputID(i))
	}
	if q.back != nil {
		for i := range s.Assumptions {
			k.together = append(k.together, s.Assumptions[i].Inputs)
		}
		k.together = append(k.together, q.faults)
	}
	for _, c := range q.requests {
		k.requests[c] = true
	}
	for _, c := range q.lights {
		k.lamps[c], k.levels[c] = true, true
	}
	for _, e := range q.exprs {
		k.reads(e)
	}
	if q.causes != nil {
		k.causes(&q.causes.Causes)
	}
	if whole {
		k.keepAll()
	}
	for before := -1; before != k.size(); {
		before = k.size()
		k.more()
	}
	return k
}

// size counts what is kept.
func (k *kept) size() int {
	n := len(k.events)
	for _, set := range [][]bool{k.modes, k.sequences, k.inputs, k.bands, k.requests, k.lamps, k.levels, k.dark, k.seen,
		{k.clock, k.weekly, k.down}} {
		for _, in := range set {
			if in {
				n++
			}
		}
	}
	return n
}

// more keeps what the kept circuits, modes and assumptions need.
func (k *kept) more() {
	for c := range k.s.Circuits {
		x := &k.s.Circuits[c]
		if k.lamps[c] {
			k.requests[c] = true
			k.reads(x.Dead)
			k.reads(x.Cut)
		}
		if k.levels[c] && x.Colour {
			k.lamps[x.Light], k.levels[x.Light], k.dark[x.Light] = true, true, true
		}
		if k.requests[c] {
			k.control()
		}
	}
	for id := range k.s.Modes {
		if asksAny(&k.s.Modes[id], k.requests) {
			k.sequences[id] = true
			k.mode(site.ModeID(id))
		}
	}
	for _, ids := range k.together {
		if k.anyInput(ids) {
			for _, i := range ids {
				k.anyEvent(i)
			}
		}
	}
	for i := range k.s.Assumptions {
		switch a := &k.s.Assumptions[i]; a.Kind {
		case site.Ladder: // a rung stands on those before it
			for j := len(a.Inputs) - 1; j > 0; j-- {
				if k.inputs[a.Inputs[j]] {
					k.input(a.Inputs[j-1])
				}
			}
		case site.Charge: // a battery is flat only while its charger is lost
			if k.inputs[a.Inputs[0]] {
				k.input(a.Inputs[1])
			}
		}
	}
}

func (k *kept) keepAll() {
	for c := range k.s.Circuits {
		k.lamps[c], k.levels[c], k.seen[c] = true, true, k.s.Circuits[c].SeenAfter > 0
	}
	for i := range k.s.Inputs {
		k.anyEvent(site.InputID(i))
	}
	for b := range k.s.Bands {
		k.band(site.BandID(b))
	}
	for id := range k.s.Modes {
		k.mode(site.ModeID(id))
	}
}

// causes keeps the clock times that count as causes. Inputs that nothing reads
// need not be kept: without them there are fewer causes, which is what breaks a
// requirement.
func (k *kept) causes(c *site.Causes) {
	for _, b := range c.Bands {
		k.band(b)
	}
	for _, m := range c.Modes {
		eachClock(&k.s.Modes[m], func(t *site.Trigger) { k.strikes(t) })
	}
}
