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
	Gestures [][4]bool                        // kept events, by InputID
	Bands    []bool                           // kept bands
	Modes    []bool                           // kept modes
	Stages   []bool                           // kept modes whose stage is read by a condition
	Lamps    []site.CircuitID                 // circuits whose light is read
	Requests []site.CircuitID                 // circuits whose request matters; contains Lamps
	Free     map[site.CircuitID][]site.ModeID // free setters of a request circuit
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
}

// NewSlice closes over expressions whose value matters and circuits whose
// request matters. isFree tells which setters of a circuit to free; nil frees
// none (the structural slice).
func NewSlice(s *site.Site, setters [][]site.ModeID, exprs []*site.Expr, requests []site.CircuitID,
	isFree func(site.CircuitID, site.ModeID) bool) *Slice {
	c := closer{&Slice{
		Site: s, Inputs: make([]bool, len(s.Inputs)), Gestures: make([][4]bool, len(s.Inputs)),
		Bands: make([]bool, len(s.Bands)), Modes: make([]bool, len(s.Modes)), Stages: make([]bool, len(s.Modes)),
		Free: map[site.CircuitID][]site.ModeID{},
	}, setters, isFree}
	for _, e := range exprs {
		c.expr(e)
	}
	for _, r := range requests {
		c.request(r)
	}
	slices.Sort(c.Lamps)
	slices.Sort(c.Requests)
	return c.Slice
}

func (c *closer) expr(e *site.Expr) {
	e.Walk(func(x *site.Expr) {
		switch x.Op {
		case site.OpInput:
			c.Inputs[x.Input] = true
		case site.OpEvent:
			c.Inputs[x.Input] = true
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
		}
	})
}

func (c *closer) mode(m site.ModeID) {
	if c.Modes[m] {
		return
	}
	c.Modes[m] = true
	md := &c.Site.Modes[m]
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
	if h := deadInput(c.Site, id); h != site.None {
		c.Inputs[h] = true
	}
	c.request(id)
}

// request keeps all that decides a circuit's request.
func (c *closer) request(id site.CircuitID) {
	if slices.Contains(c.Requests, id) {
		return
	}
	c.Requests = append(c.Requests, id)
	for _, m := range c.setters[id] {
		if c.isFree != nil && c.isFree(id, m) {
			c.Free[id] = append(c.Free[id], m)
			continue
		}
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
}

// deadInput is the input that is true while the circuit's feed is dead, or None.
func deadInput(s *site.Site, c site.CircuitID) site.InputID {
	f := s.Circuits[c].FedBy
	if f == site.None || s.Supplies[f].Battery {
		return site.None
	}
	return s.Supplies[f].Health
}
