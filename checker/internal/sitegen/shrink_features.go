// Shrink: features of circuits and the controller, parts of requirements, parts of conditions, shorter durations.

package sitegen

import "lampwarden/lang/site"

// dropFeatures makes circuits, inputs, bands and the controller plain.
func dropFeatures(s *site.Site) (out []edit) {
	add := func(is bool, f edit) {
		if is {
			out = append(out, f)
		}
	}
	add(s.Controller.Down != nil, func(c *site.Site) { c.Controller.Down, c.Controller.Keeps = nil, false })
	add(s.Controller.ReactsWithin > 0, func(c *site.Site) { c.Controller.ReactsWithin = 0 })
	add(s.Controller.FedBy != site.None, func(c *site.Site) { c.Controller.FedBy = site.None })
	for i := range s.Circuits {
		x := &s.Circuits[i]
		// A colour is dead and cut when its light is.
		both := func(f func(*site.Circuit)) edit {
			return func(c *site.Site) {
				for k := range c.Circuits {
					if k == i || c.Circuits[k].Colour && int(c.Circuits[k].Light) == i {
						f(&c.Circuits[k])
					}
				}
			}
		}
		add(x.Dead != nil && !x.Colour, both(func(x *site.Circuit) { x.Dead, x.FedBy = nil, site.None }))
		add(x.Cut != nil && !x.Colour, both(func(x *site.Circuit) { x.Cut = nil }))
		one := func(f func(*site.Circuit)) edit { return func(c *site.Site) { f(&c.Circuits[i]) } }
		add(x.Fade > 0, one(func(x *site.Circuit) { x.Fade = 0 }))
		add(x.Fail != nil, one(func(x *site.Circuit) { x.Fail = nil }))
		add(x.PowerOn != nil, one(func(x *site.Circuit) { x.PowerOn = nil }))
		add(x.SeenAfter > 0, one(func(x *site.Circuit) { x.Adds, x.SeenAfter = 0, 0 }))
		add(!x.Switched && !x.Colour && (x.Min > 1 || x.Max < site.Full), one(func(x *site.Circuit) { x.Min, x.Max = 1, site.Full }))
	}
	for i := range s.Bands {
		add(s.Bands[i].Days != 0, func(c *site.Site) { c.Bands[i].Days = 0 })
		add(s.Bands[i].Overnight, func(c *site.Site) { c.Bands[i].Overnight = false })
	}
	for i := range s.Inputs {
		add(s.Inputs[i].Fault, func(c *site.Site) { c.Inputs[i].Fault = false })
	}
	for i := range s.Areas {
		add(len(s.Areas[i].Tags) > 0, func(c *site.Site) { c.Areas[i].Tags = nil })
	}
	return out
}

// dropFromRequirements leaves out what a requirement can do without.
func dropFromRequirements(s *site.Site) (out []edit) {
	for i := range s.Requirements {
		r := &s.Requirements[i]
		add := func(is bool, f func(*site.Requirement)) {
			if is {
				out = append(out, func(c *site.Site) { f(&c.Requirements[i]) })
			}
		}
		add(r.Until != nil, func(r *site.Requirement) { r.Until = nil })
		add(r.Since != nil, func(r *site.Requirement) { r.Since = nil })
		add(r.During != nil, func(r *site.Requirement) { r.During = nil })
		add(r.E > 0, func(r *site.Requirement) { r.E = 0 })
		add(r.N > 1, func(r *site.Requirement) { r.N-- })
		add(r.Standing > 0, func(r *site.Requirement) { r.Standing = 0 })
		add(len(r.Faults) > 0, func(r *site.Requirement) { r.Faults, r.AtMost = nil, 0 })
		add(r.AtMost > 1, func(r *site.Requirement) { r.AtMost-- })
		for k := range r.Draws {
			add(true, func(r *site.Requirement) { r.Draws = without(r.Draws, k) })
		}
		for k := range r.Causes.Inputs {
			add(true, func(r *site.Requirement) { r.Causes.Inputs = without(r.Causes.Inputs, k) })
		}
		for k := range r.Causes.Bands {
			add(true, func(r *site.Requirement) { r.Causes.Bands = without(r.Causes.Bands, k) })
		}
		for k := range r.Causes.Modes {
			add(true, func(r *site.Requirement) { r.Causes.Modes = without(r.Causes.Modes, k) })
		}
	}
	return out
}

// dropConditions makes one node of one condition simpler: one of its kids, one kid less, or true or false. When a
// circuit is dead or cut is left as it is, as its colour has the same condition.
func dropConditions(s *site.Site) (out []edit) {
	fixed := map[*site.Expr]bool{}
	for i := range s.Circuits {
		fixed[s.Circuits[i].Dead], fixed[s.Circuits[i].Cut] = true, true
	}
	n := 0
	eachSlot(s, func(e **site.Expr) {
		free := !fixed[*e]
		(*e).Walk(func(x *site.Expr) {
			at := n
			n++
			if !free {
				return
			}
			for _, f := range simpler(x) {
				out = append(out, func(c *site.Site) { f(nodeAt(c, at)) })
			}
		})
	})
	return out
}

// nodeAt finds a node by its number in the order of the walk.
func nodeAt(s *site.Site, at int) (out *site.Expr) {
	n := 0
	eachNode(s, func(x *site.Expr) {
		if n == at {
			out = x
		}
		n++
	})
	return out
}

// simpler lists what may take the place of a node. Each is smaller, so that shrinking ends.
func simpler(x *site.Expr) (out []func(*site.Expr)) {
	if x.Op == site.OpTrue || x.Op == site.OpFalse {
		return nil
	}
	for _, op := range []site.Op{site.OpFalse, site.OpTrue} {
		out = append(out, func(x *site.Expr) { *x = site.Expr{Op: op} })
	}
	for i := range x.Kids {
		out = append(out, func(x *site.Expr) { *x = *x.Kids[i] })
		if len(x.Kids) > 1 {
			out = append(out, func(x *site.Expr) {
				x.Kids = without(x.Kids, i)
				x.N = min(x.N, len(x.Kids))
			})
		}
	}
	for i := range x.Terms {
		out = append(out, func(x *site.Expr) { x.Terms = without(x.Terms, i) })
	}
	return out
}

// shorten makes one duration as short as the shortest of the site; a counted flash keeps its stage's length right.
func shorten(s *site.Site) (out []edit) {
	least := site.Millis(0)
	for _, d := range durations(s) {
		if *d > 0 && (least == 0 || *d < least) {
			least = *d
		}
	}
	for i, d := range durations(s) {
		if *d > least {
			out = append(out, func(c *site.Site) {
				*durations(c)[i] = least
				eachStage(c, func(g *site.Stage) {
					if f := g.Flash; f != nil && f.Times > 0 {
						g.For = site.Millis(f.Times) * (f.On + f.Off)
					}
				})
			})
		}
	}
	n := 0
	eachStage(s, func(g *site.Stage) {
		at := n
		n++
		if g.Flash != nil && g.Flash.Times > 1 {
			out = append(out, func(c *site.Site) {
				k := 0
				eachStage(c, func(g *site.Stage) {
					if k == at {
						g.Flash.Times--
						g.For = site.Millis(g.Flash.Times) * (g.Flash.On + g.Flash.Off)
					}
					k++
				})
			})
		}
	})
	return out
}

// durations lists the durations of a site; that of a stage with a counted flash follows from the flash.
func durations(s *site.Site) (out []*site.Millis) {
	out = append(out, &s.Controller.ReactsWithin)
	for i := range s.Circuits {
		out = append(out, &s.Circuits[i].Fade, &s.Circuits[i].SeenAfter)
	}
	for i := range s.Modes {
		m := &s.Modes[i]
		out = append(out, &m.OnDelay, &m.OffDelay, &m.Pulse, &m.For)
		for k := range m.Transitions {
			out = append(out, &m.Transitions[k].After)
		}
	}
	eachStage(s, func(g *site.Stage) {
		if g.Flash != nil {
			out = append(out, &g.Flash.On, &g.Flash.Off)
		}
		if g.Flash == nil || g.Flash.Times == 0 {
			out = append(out, &g.For)
		}
		for i := range g.Settings {
			for k := range g.Settings[i].Cases {
				out = append(out, &g.Settings[i].Cases[k].Over)
			}
		}
	})
	for i := range s.Assumptions {
		out = append(out, &s.Assumptions[i].D, &s.Assumptions[i].Recharge)
	}
	for i := range s.Requirements {
		out = append(out, &s.Requirements[i].D, &s.Requirements[i].E)
	}
	return out
}
