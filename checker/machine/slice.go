// Slices: which part of a site can influence a question.

package machine

import (
	"slices"

	"lampwarden/lang/site"
)

// Slice is the part of a site that a question needs. Everything that it keeps
// behaves as in the whole site; everything that it leaves out can not influence
// what it keeps:
//
//   - a mode is read only through conditions and through the circuits it sets, so
//     the backward closure over "is named by" and "sets" is complete;
//   - of inputs that are read only as "any of them" one is kept (merge.go);
//   - modes never block time or an input, and inputs are free but for assumptions,
//     so a run of the slice extends to a run of the site in which the inputs left
//     out keep still (an at-most-N over some inputs, or a spacing, restricts the
//     kept ones most when the others keep still at rest), and every run of the
//     site, restricted to the kept parts, is a run of the slice.
//
// A *conditional* slice also has free modes: modes that may set a tracked circuit
// but are taken to ask for anything at any time. It has more behaviours than the
// site, so it can only prove. Which modes are freed is a guess about what can be
// outranked while the question's own condition holds (conditional.go); soundness
// does not rest on that guess, because a free mode counts as soon as no kept mode
// that asks outranks it.
type Slice struct {
	Site     *site.Site
	Inputs   []bool                           // kept inputs, by InputID
	Gestures [][gestures]bool                 // kept events, by InputID
	Bands    []bool                           // kept bands
	Modes    []bool                           // kept modes
	Stages   []bool                           // kept modes whose stage is read by a condition
	Lamps    []site.CircuitID                 // circuits whose light is read
	Requests []site.CircuitID                 // circuits whose request matters; contains Lamps
	Free     map[site.CircuitID][]site.ModeID // free setters of a request circuit
	Seen     []site.CircuitID                 // circuits whose light as the sensors see it is read
	down     bool                             // what takes the controller down is kept
	jumps    bool                             // all changes of the local clock are kept
	Faults   []site.InputID                   // what may strike, at most AtMost at a time
	AtMost   int
	merged   []bool // inputs for which a kept one stands (merge.go)
}

// Setters lists, for every circuit, the modes with a setting that names it.
func Setters(s *site.Site) [][]site.ModeID {
	out := make([][]site.ModeID, len(s.Circuits))
	for m := range s.Modes {
		for _, st := range s.Modes[m].States {
			for _, sg := range st.Stages {
				for _, set := range sg.Settings {
					for _, c := range set.Circuits {
						if k := len(out[c]); k == 0 || out[c][k-1] != site.ModeID(m) {
							out[c] = append(out[c], site.ModeID(m))
						}
					}
				}
			}
		}
	}
	return out
}

// closer works out a slice's closure.
type closer struct {
	*Slice
	setters [][]site.ModeID
	isFree  func(site.CircuitID, site.ModeID) bool
	exprs   []*site.Expr // all that the slice reads
	causes  *site.Causes
}

// Question is what a slice is made for.
type Question struct {
	Exprs    []*site.Expr     // whose value matters
	Requests []site.CircuitID // whose request matters
	Faults   []site.InputID   // that may strike, at most AtMost of them at a time
	AtMost   int
	Causes   *site.Causes // from outside that the observer asks for
	// Together keeps also what shares an assumption with a kept input. Where the question is whether a run can go on in some
	// way, an input that plays no other part may stand in the way.
	Together bool
	// Jumps keeps all changes of the local clock (see System.WantsJumps).
	Jumps bool
	// Free tells which setters of a circuit to free; nil frees none (the structural slice).
	Free func(site.CircuitID, site.ModeID) bool
}

// NewSlice closes over what a question reads.
func NewSlice(s *site.Site, setters [][]site.ModeID, q Question) *Slice {
	c := closer{Slice: &Slice{
		Site: s, Inputs: make([]bool, len(s.Inputs)), merged: make([]bool, len(s.Inputs)), Gestures: make([][gestures]bool, len(s.Inputs)),
		Bands: make([]bool, len(s.Bands)), Modes: make([]bool, len(s.Modes)), Stages: make([]bool, len(s.Modes)),
		Free: map[site.CircuitID][]site.ModeID{}, Faults: q.Faults, AtMost: q.AtMost, jumps: q.Jumps,
	}, setters: setters, isFree: q.Free, causes: q.Causes}
	for _, e := range q.Exprs {
		c.expr(e)
	}
	for _, r := range q.Requests {
		c.request(r)
	}
	if q.Together {
		c.together()
	}
	c.keepFreed()
	c.mergeInputs()
	slices.Sort(c.Lamps)
	slices.Sort(c.Requests)
	slices.Sort(c.Seen)
	return c.Slice
}

// together keeps the inputs that share an assumption with a kept one, and so on.
func (c *closer) together() {
	groups := [][]site.InputID{c.Faults}
	for i := range c.Site.Assumptions {
		groups = append(groups, c.Site.Assumptions[i].Inputs)
	}
	for more := true; more; {
		more = false
		for _, g := range groups {
			if !slices.ContainsFunc(g, func(i site.InputID) bool { return c.Inputs[i] }) {
				continue
			}
			for _, i := range g {
				if c.Inputs[i] {
					continue
				}
				if c.input(i); c.Inputs[i] {
					more = true
				}
				if c.Site.Inputs[i].Kind.IsEvent() {
					c.Gestures[i][site.Tap] = true // any of its events counts alike
				}
			}
		}
	}
}

// keepFreed makes free setters that are kept after all, because something names them, setters like any other: what they
// ask for plays a part as they are kept, so what it hangs on has to be kept, too.
func (c *closer) keepFreed() {
	for more := true; more; {
		more = false
		for id, free := range c.Free {
			left := slices.DeleteFunc(slices.Clone(free), func(m site.ModeID) bool { return c.Modes[m] })
			if len(left) == len(free) {
				continue
			}
			more = true
			if c.Free[id] = left; len(left) == 0 {
				delete(c.Free, id)
			}
			for _, m := range free {
				if c.Modes[m] && !slices.Contains(left, m) {
					c.setter(id, m)
				}
			}
		}
	}
}

// Causes lists what can influence the slice from outside.
func (sl *Slice) Causes() (c site.Causes) {
	for i, kept := range sl.Inputs {
		if kept || sl.merged[i] {
			c.Inputs = append(c.Inputs, site.InputID(i))
		}
	}
	for b, kept := range sl.Bands {
		if kept {
			c.Bands = append(c.Bands, site.BandID(b))
		}
	}
	for m, kept := range sl.Modes {
		if kept {
			c.Modes = append(c.Modes, site.ModeID(m))
		}
	}
	return c
}

// input keeps an input; one that is a fault stays at rest unless it may strike.
func (c *closer) input(i site.InputID) {
	if c.Site.Inputs[i].Fault && !slices.Contains(c.Faults, i) || c.Inputs[i] {
		return
	}
	c.Inputs[i] = true
	for k := range c.Site.Assumptions {
		a := &c.Site.Assumptions[k]
		at := slices.Index(a.Inputs, i)
		switch {
		case at < 0:
		case a.Kind == site.Charge: // when a battery can be flat hangs on its charger, and the other way round
			c.input(a.Inputs[0])
			c.input(a.Inputs[1])
		case a.Kind == site.Ladder: // what is above can stay at rest
			for _, below := range a.Inputs[:at] {
				c.input(below)
			}
		}
	}
}

func (c *closer) expr(e *site.Expr) {
	c.exprs = append(c.exprs, e)
	e.Walk(func(x *site.Expr) {
		switch x.Op {
		case site.OpInput:
			c.input(x.Input)
		case site.OpEvent:
			c.input(x.Input)
			c.Gestures[x.Input][x.Gesture] = true
		case site.OpBand:
			c.Bands[x.Band] = true
		case site.OpStage:
			c.Stages[x.Mode] = true
			c.mode(x.Mode)
		case site.OpMode, site.OpState:
			c.mode(x.Mode)
		case site.OpLight:
			c.lamp(x.Circuit)
		case site.OpSum:
			for _, t := range x.Terms {
				if x.Seen {
					c.see(t.Circuit)
				} else {
					c.lamp(t.Circuit)
				}
			}
		}
	})
}

// controller keeps what takes the controller down, which stops modes and lamps alike.
func (c *closer) controller() {
	if !c.down {
		c.down = true
		c.expr(c.Site.Controller.Down)
	}
}

// see keeps how the sensors see a circuit. Its request has to be known.
func (c *closer) see(id site.CircuitID) {
	if slices.Contains(c.Seen, id) {
		return
	}
	c.Seen = append(c.Seen, id)
	c.reach(id)
	c.request(id)
	for _, m := range c.Free[id] { // freed before it was known that it is seen
		c.setter(id, m)
	}
	delete(c.Free, id)
}

// reach keeps what takes a circuit's current or the controller's reach away.
func (c *closer) reach(id site.CircuitID) {
	c.controller()
	c.expr(c.Site.Circuits[id].Dead)
	c.expr(c.Site.Circuits[id].Cut)
}

func (c *closer) mode(m site.ModeID) {
	if c.Modes[m] {
		return
	}
	c.Modes[m] = true
	md := &c.Site.Modes[m]
	if !md.Plant {
		c.controller()
	}
	c.expr(md.Cond)
	for _, t := range md.Starts {
		c.trigger(t)
	}
	for _, t := range md.Ends {
		c.trigger(t)
	}
	for _, t := range md.Transitions {
		c.trigger(t.Trigger)
	}
}

func (c *closer) trigger(t site.Trigger) {
	c.expr(t.On)
	c.expr(t.If)
}

func (c *closer) lamp(id site.CircuitID) {
	if slices.Contains(c.Lamps, id) {
		return
	}
	c.Lamps = append(c.Lamps, id)
	c.reach(id)
	c.request(id)
	if cir := &c.Site.Circuits[id]; cir.Colour {
		c.lamp(cir.Light)
	}
}

// request keeps all that decides a circuit's request.
func (c *closer) request(id site.CircuitID) {
	if slices.Contains(c.Requests, id) {
		return
	}
	c.Requests = append(c.Requests, id)
	c.controller()
	for _, m := range c.setters[id] {
		if c.isFree != nil && c.isFree(id, m) && !slices.Contains(c.Seen, id) {
			c.Free[id] = append(c.Free[id], m)
			continue
		}
		c.setter(id, m)
	}
}

// setter keeps a mode that sets circuit id, with the conditions under which it does.
func (c *closer) setter(id site.CircuitID, m site.ModeID) {
	c.mode(m)
	for _, st := range c.Site.Modes[m].States {
		for _, sg := range st.Stages {
			for _, set := range sg.Settings {
				if slices.Contains(set.Circuits, id) {
					for _, cs := range set.Cases {
						c.expr(cs.When)
					}
				}
			}
		}
	}
}

// gestures is the number of gestures that an event input may have.
const gestures = int(site.Release) + 1
