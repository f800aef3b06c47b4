// Shrink: leaving out parts of modes, features of circuits, parts of requirements.

package sitegen

import (
	"slices"

	"lampwarden/lang/site"
)

// dropParts leaves out parts of modes: states, transitions, triggers, timers, stages, settings, cases, precedence.
func dropParts(s *site.Site) (out []edit) {
	for i := range s.Modes {
		m := &s.Modes[i]
		mode := func(f func(*site.Mode)) { out = append(out, func(c *site.Site) { f(&c.Modes[i]) }) }
		for k := 1; k < len(m.States) && len(m.States) > 2; k++ {
			out = append(out, func(c *site.Site) { dropState(c, site.ModeID(i), k) })
		}
		for k := range m.Transitions {
			mode(func(m *site.Mode) { m.Transitions = without(m.Transitions, k) })
		}
		for k := range m.Starts {
			if len(m.Starts) > 1 {
				mode(func(m *site.Mode) { m.Starts = without(m.Starts, k) })
			}
		}
		for k := range m.Ends {
			mode(func(m *site.Mode) { m.Ends = without(m.Ends, k) })
		}
		for _, t := range []func(*site.Mode) *site.Millis{onDelay, offDelay, pulse, lasts} {
			if *t(m) > 0 {
				mode(func(m *site.Mode) { *t(m) = 0 })
			}
		}
		for j := range m.States {
			for k := range m.States[j].Stages {
				out = append(out, func(c *site.Site) { dropStage(c, site.ModeID(i), j, k) })
				stage := func(f func(*site.Stage)) { mode(func(m *site.Mode) { f(&m.States[j].Stages[k]) }) }
				out = dropStageParts(&m.States[j].Stages[k], stage, out)
			}
		}
	}
	out = append(out, triggersWithout(s)...)
	for i := range s.Modes {
		for k := range s.Modes {
			if a, b := site.ModeID(i), site.ModeID(k); s.Precedence.Above[i][k] || i < k && s.Precedence.Equal[i][k] != site.NoRule {
				out = append(out, func(c *site.Site) { unorder(&c.Precedence, a, b) })
			}
		}
	}
	return out
}

func onDelay(m *site.Mode) *site.Millis  { return &m.OnDelay }
func offDelay(m *site.Mode) *site.Millis { return &m.OffDelay }
func pulse(m *site.Mode) *site.Millis    { return &m.Pulse }
func lasts(m *site.Mode) *site.Millis    { return &m.For }

func dropStageParts(g *site.Stage, stage func(func(*site.Stage)), out []edit) []edit {
	if g.Flash != nil {
		stage(func(g *site.Stage) {
			g.Flash = nil
			for i := range g.Settings {
				g.Settings[i].Flashing = false
			}
		})
	}
	if g.For > 0 {
		stage(func(g *site.Stage) { g.For = 0 })
	}
	for i := range g.Settings {
		stage(func(g *site.Stage) { g.Settings = without(g.Settings, i) })
		for k := range g.Settings[i].Circuits {
			stage(func(g *site.Stage) { g.Settings[i].Circuits = without(g.Settings[i].Circuits, k) })
		}
		for k := range g.Settings[i].Cases {
			stage(func(g *site.Stage) { g.Settings[i].Cases = without(g.Settings[i].Cases, k) })
			if g.Settings[i].Cases[k].When != nil {
				stage(func(g *site.Stage) { g.Settings[i].Cases[k].When = nil })
			}
			if g.Settings[i].Cases[k].Over > 0 {
				stage(func(g *site.Stage) { g.Settings[i].Cases[k].Over = 0 })
			}
		}
	}
	return out
}

// triggersWithout leaves out the guards and the days of triggers.
func triggersWithout(s *site.Site) (out []edit) {
	n := 0
	eachTrigger(s, func(t *site.Trigger) {
		at := n
		n++
		one := func(f func(*site.Trigger)) edit {
			return func(c *site.Site) {
				k := 0
				eachTrigger(c, func(t *site.Trigger) {
					if k == at {
						f(t)
					}
					k++
				})
			}
		}
		if t.If != nil {
			out = append(out, one(func(t *site.Trigger) { t.If = nil }))
		}
		if t.Days != 0 {
			out = append(out, one(func(t *site.Trigger) { t.Days = 0 }))
		}
	})
	return out
}

// dropState leaves out a state with the transitions to and from it.
func dropState(s *site.Site, id site.ModeID, gone int) {
	m := &s.Modes[id]
	m.States = without(m.States, gone)
	m.Transitions = slices.DeleteFunc(m.Transitions, func(t site.Transition) bool { return t.From == gone || t.To == gone })
	for i := range m.Transitions {
		m.Transitions[i].From, m.Transitions[i].To = moved(m.Transitions[i].From, gone), moved(m.Transitions[i].To, gone)
	}
	dropIndex(s, site.OpState, id, gone)
}

// dropStage leaves out a stage. What names stages of the mode names others then, where there are several states.
func dropStage(s *site.Site, id site.ModeID, state, gone int) {
	m := &s.Modes[id]
	m.States[state].Stages = without(m.States[state].Stages, gone)
	if len(m.States) == 1 {
		dropIndex(s, site.OpStage, id, gone)
	}
}

func dropIndex(s *site.Site, op site.Op, id site.ModeID, gone int) {
	never(s, func(x *site.Expr) bool { return x.Op == op && x.Mode == id && x.State == gone })
	eachNode(s, func(x *site.Expr) {
		if x.Op == op && x.Mode == id {
			x.State = moved(x.State, gone)
		}
	})
}

// unorder takes a pair, or a rule, out of the order of precedence. Where others imply it, Check refuses.
func unorder(p *site.Precedence, a, b site.ModeID) {
	p.Above[a][b], p.Equal[a][b], p.Equal[b][a] = false, site.NoRule, site.NoRule
	p.Pairs = slices.DeleteFunc(p.Pairs, func(x site.PrecedencePair) bool {
		return x.Over == a && x.Under == b || x.Rule != site.NoRule && x.Over == b && x.Under == a
	})
}
