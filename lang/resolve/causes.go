// What may make a condition change: the causes of `settles within`.

package resolve

import (
	"slices"

	"lampwarden/lang/site"
)

// causes fills in what can influence the condition of each `settles within`, when the site is complete.
func (r *resolver) causes() {
	var asks map[site.CircuitID][]ask
	for i := range r.site.Requirements {
		q := &r.site.Requirements[i]
		if q.Form != site.Settles {
			continue
		}
		if asks == nil {
			asks = askedBy(r.site)
		}
		c := influence{s: r.site, asks: asks, inputs: map[site.InputID]bool{}, bands: map[site.BandID]bool{},
			modes: map[site.ModeID]bool{}, circuits: map[site.CircuitID]bool{}}
		c.expr(q.P)
		c.run()
		q.Causes = c.causes()
	}
}

// ask is a setting that speaks of a circuit, with its mode.
type ask struct {
	mode    site.ModeID
	setting *site.Setting
}

// askedBy lists for each circuit what may ask something of it.
func askedBy(s *site.Site) map[site.CircuitID][]ask {
	out := map[site.CircuitID][]ask{}
	for m := range s.Modes {
		for _, st := range s.Modes[m].States {
			for _, stage := range st.Stages {
				for k := range stage.Settings {
					set := &stage.Settings[k]
					for _, c := range set.Circuits {
						out[c] = append(out[c], ask{site.ModeID(m), set})
					}
				}
			}
		}
	}
	return out
}

// influence collects all that a condition hangs on, through modes and circuits: a structural closure, which may take in
// more than what really has an influence.
type influence struct {
	s        *site.Site
	asks     map[site.CircuitID][]ask
	inputs   map[site.InputID]bool
	bands    map[site.BandID]bool
	modes    map[site.ModeID]bool
	circuits map[site.CircuitID]bool
	todo     []func()
}

// expr takes in what a condition names.
func (c *influence) expr(e *site.Expr) {
	e.Walk(func(x *site.Expr) {
		switch x.Op {
		case site.OpInput, site.OpEvent:
			c.inputs[x.Input] = true
		case site.OpBand:
			c.bands[x.Band] = true
		case site.OpMode, site.OpState, site.OpStage:
			c.mode(x.Mode)
		case site.OpLight:
			c.circuit(x.Circuit)
		}
		for _, t := range x.Terms {
			c.circuit(t.Circuit)
		}
	})
}

func (c *influence) mode(id site.ModeID) {
	if c.modes[id] {
		return
	}
	c.modes[id] = true
	c.todo = append(c.todo, func() { c.readsOf(&c.s.Modes[id]) })
}

func (c *influence) circuit(id site.CircuitID) {
	if c.circuits[id] {
		return
	}
	c.circuits[id] = true
	c.todo = append(c.todo, func() {
		x := &c.s.Circuits[id]
		c.expr(x.Dead)
		c.expr(x.Cut)
		c.expr(c.s.Controller.Down)
		if x.Colour {
			c.circuit(x.Light)
		}
		for _, a := range c.asks[id] {
			c.mode(a.mode)
			for _, k := range a.setting.Cases {
				c.expr(k.When)
			}
		}
	})
}

// readsOf takes in what makes a mode start, end and go on.
func (c *influence) readsOf(m *site.Mode) {
	if !m.Plant {
		c.expr(c.s.Controller.Down)
	}
	c.expr(m.Cond)
	for _, t := range slices.Concat(m.Starts, m.Ends) {
		c.expr(t.On)
		c.expr(t.If)
	}
	for _, t := range m.Transitions {
		c.expr(t.Trigger.On)
		c.expr(t.Trigger.If)
	}
}

// run follows everything to its end.
func (c *influence) run() {
	for len(c.todo) > 0 {
		next := c.todo[len(c.todo)-1]
		c.todo = c.todo[:len(c.todo)-1]
		next()
	}
}

// causes gives what can change by itself, in the order of the tables.
func (c *influence) causes() site.Causes {
	var out site.Causes
	for i := range c.s.Inputs {
		if c.inputs[site.InputID(i)] {
			out.Inputs = append(out.Inputs, site.InputID(i))
		}
	}
	for i := range c.s.Bands {
		if c.bands[site.BandID(i)] {
			out.Bands = append(out.Bands, site.BandID(i))
		}
	}
	for i := range c.s.Modes {
		if c.modes[site.ModeID(i)] && byClock(&c.s.Modes[i]) {
			out.Modes = append(out.Modes, site.ModeID(i))
		}
	}
	return out
}

// byClock tells whether the mode has a clock-time trigger.
func byClock(m *site.Mode) bool {
	for _, t := range slices.Concat(m.Starts, m.Ends) {
		if t.On == nil {
			return true
		}
	}
	return slices.ContainsFunc(m.Transitions, func(t site.Transition) bool { return t.After == 0 && t.Trigger.On == nil })
}
