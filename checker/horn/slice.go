// The slice: what can influence a question.

package horn

import (
	"slices"

	"lampwarden/lang/site"
)

// clockTime is a clock-time trigger's time.
type clockTime struct {
	at   site.Millis
	days site.Days
}

// slice is what is written of a site; see the package comment for why the rest can be left out.
type slice struct {
	s        *site.Site
	inputs   map[site.InputID]bool
	events   map[event]bool
	bands    map[site.BandID]bool
	clocked  []clockTime
	sun      []*site.Trigger // triggers by the sun
	modes    map[site.ModeID]bool
	asks     map[site.ModeID]bool // modes that ask for a circuit of the slice
	staged   map[site.ModeID]bool // modes of which a stage is read
	latest   map[site.ModeID]bool // modes whose recency is read
	circuits map[site.CircuitID]bool
	seen     map[site.CircuitID]bool
	down     bool // something depends on whether the controller is down

	free   map[site.ModeID]bool // modes that are left free
	coarse bool                 // levels count as one that the requirement does not tell apart
	loose  bool                 // flashes have no rhythm, and changes of inputs may come at any time
	summed map[site.CircuitID]bool
}

type event struct {
	input   site.InputID
	gesture site.Gesture
}

// newSlice is the backward closure of what a requirement reads, but for modes that are to be free: they may ask for
// any of their levels at any time. A mode of which a condition or the requirement reads the state is not freed.
func newSlice(s *site.Site, q *Question) *slice {
	r := &q.Requirement
	in := &slice{s: s, coarse: q.Coarse, loose: q.Loose, summed: map[site.CircuitID]bool{}, inputs: map[site.InputID]bool{}, events: map[event]bool{}, bands: map[site.BandID]bool{},
		modes: map[site.ModeID]bool{}, asks: map[site.ModeID]bool{}, staged: map[site.ModeID]bool{}, latest: map[site.ModeID]bool{},
		circuits: map[site.CircuitID]bool{}, seen: map[site.CircuitID]bool{}, free: map[site.ModeID]bool{}}
	for _, m := range q.Free {
		in.free[m] = true
	}
	for _, x := range conditions(r) {
		in.expr(x)
	}
	for _, b := range r.Causes.Bands {
		in.band(b)
	}
	if r.Form == site.Settles {
		for _, m := range r.Causes.Modes {
			in.times(&s.Modes[m])
		}
	}
	for in.chains() {
	}
	return in
}

// chains adds what the assumptions bind to inputs of the slice so that it can not stay at rest. It tells whether
// there was anything to add.
func (in *slice) chains() bool {
	before := len(in.inputs)
	for i := range in.s.Assumptions {
		a := &in.s.Assumptions[i]
		if (a.Kind == site.Ladder || a.Kind == site.Charge) && slices.ContainsFunc(a.Inputs, func(x site.InputID) bool { return in.inputs[x] }) {
			for _, x := range a.Inputs {
				in.inputs[x] = true
			}
		}
	}
	for x := range in.inputs {
		if in.s.Inputs[x].Kind == site.Calendar {
			in.clockAt(0, 0)
		}
	}
	return len(in.inputs) > before
}

func (in *slice) clockAt(t site.Millis, days site.Days) {
	if c := (clockTime{t, days}); !slices.Contains(in.clocked, c) {
		in.clocked = append(in.clocked, c)
	}
}

func (in *slice) band(id site.BandID) { in.bands[id] = true }

func (in *slice) expr(x *site.Expr) {
	x.Walk(func(x *site.Expr) {
		switch x.Op {
		case site.OpInput:
			in.inputs[x.Input] = true
		case site.OpEvent:
			in.inputs[x.Input] = true
			in.events[event{x.Input, x.Gesture}] = true
		case site.OpBand:
			in.band(x.Band)
		case site.OpMode, site.OpState:
			in.mode(x.Mode)
		case site.OpStage:
			in.staged[x.Mode] = true
			in.mode(x.Mode)
		case site.OpLight:
			in.circuit(x.Circuit)
		case site.OpSum:
			for _, t := range x.Terms {
				in.summed[t.Circuit] = true
				in.circuit(t.Circuit)
				if x.Seen {
					in.seen[t.Circuit] = true
				}
			}
		}
	})
}

func (in *slice) controller() {
	if !in.down {
		in.down = true
		in.expr(in.s.Controller.Down)
	}
}

func (in *slice) mode(id site.ModeID) {
	delete(in.free, id)
	if in.modes[id] {
		return
	}
	in.modes[id] = true
	m := &in.s.Modes[id]
	if !m.Plant {
		in.controller()
	}
	in.expr(m.Cond)
	in.times(m)
	triggers := slices.Concat(m.Starts, m.Ends)
	for i := range m.Transitions {
		triggers = append(triggers, m.Transitions[i].Trigger)
	}
	for i := range triggers {
		in.expr(triggers[i].On)
		in.expr(triggers[i].If)
	}
	// It may already have been passed by as free.
	for c := range in.circuits {
		in.asking(id, c)
	}
}

// times adds the clock times of a mode's triggers.
func (in *slice) times(m *site.Mode) {
	add := func(t *site.Trigger, after site.Millis) {
		if t.Sun != nil {
			in.sun = append(in.sun, t)
		}
		if t.On == nil && after == 0 && !t.Void {
			in.clockAt(t.At, t.Days)
		}
	}
	for i := range m.Starts {
		add(&m.Starts[i], 0)
	}
	for i := range m.Ends {
		add(&m.Ends[i], 0)
	}
	for i := range m.Transitions {
		add(&m.Transitions[i].Trigger, m.Transitions[i].After)
	}
}

func (in *slice) circuit(id site.CircuitID) {
	if in.circuits[id] {
		return
	}
	in.circuits[id] = true
	c := &in.s.Circuits[id]
	in.controller()
	in.expr(c.Dead)
	in.expr(c.Cut)
	if c.Colour {
		in.circuit(c.Light)
	}
	for m := range in.s.Modes {
		in.asking(site.ModeID(m), id)
	}
	ms := asking(in.s, id)
	for _, a := range ms {
		for _, b := range ms {
			if a != b && in.s.Precedence.RuleFor(a, b) != site.NoRule {
				in.latest[a], in.latest[b] = true, true
			}
		}
	}
}

// asking adds what a mode needs to ask for the circuit, if it does and is not free.
func (in *slice) asking(id site.ModeID, c site.CircuitID) {
	asks := false
	eachSetting(&in.s.Modes[id], c, func(_, _ int, set *site.Setting) {
		asks = true
		if in.free[id] {
			return
		}
		for i := range set.Cases {
			in.expr(set.Cases[i].When)
		}
	})
	if asks && !in.free[id] {
		in.asks[id] = true
		in.mode(id)
	}
}

// eachSetting calls f for every setting of a mode that lists the circuit.
func eachSetting(m *site.Mode, c site.CircuitID, f func(state, stage int, set *site.Setting)) {
	for i := range m.States {
		for j := range m.States[i].Stages {
			for k := range m.States[i].Stages[j].Settings {
				if set := &m.States[i].Stages[j].Settings[k]; slices.Contains(set.Circuits, c) {
					f(i, j, set)
				}
			}
		}
	}
}

// asking lists the modes that may ask for a circuit.
func asking(s *site.Site, c site.CircuitID) []site.ModeID {
	var out []site.ModeID
	for m := range s.Modes {
		some := false
		eachSetting(&s.Modes[m], c, func(int, int, *site.Setting) { some = true })
		if some {
			out = append(out, site.ModeID(m))
		}
	}
	return out
}

func (in *slice) inputList() []site.InputID { return sorted(in.inputs) }

func (in *slice) circuitList() []site.CircuitID { return sorted(in.circuits) }

func sorted[K ~int, V any](m map[K]V) []K {
	var out []K
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}
