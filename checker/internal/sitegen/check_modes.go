// Check: modes, expressions, assumptions, requirements.

package sitegen

import (
	"fmt"

	"lampwarden/lang/site"
)

// allow says which atoms an expression may have.
type allow struct{ events, was, light bool }

func (c *checker) mode(m *site.Mode, id site.ModeID) {
	where := fmt.Sprintf("mode %d", id)
	c.want(m.Area == site.None || in(int(m.Area), len(c.s.Areas)), "%s: area out of range", where)
	c.want(m.OnDelay >= 0 && m.OffDelay >= 0 && m.Pulse >= 0 && m.For >= 0, "%s: negative duration", where)
	isWhile, isLatch, isStates := m.Kind == site.While, m.Kind == site.Latch, m.Kind == site.States
	c.want(isWhile || isLatch || isStates, "%s: kind %d unknown", where, m.Kind)
	c.want(isWhile == (m.Cond != nil), "%s: condition and kind do not fit", where)
	c.want(isWhile || m.OnDelay+m.OffDelay+m.Pulse == 0, "%s: timers of a While", where)
	c.want(m.Pulse == 0 || m.OnDelay+m.OffDelay == 0, "%s: pulse and delays", where)
	c.want(isLatch || len(m.Starts)+len(m.Ends) == 0 && m.For == 0, "%s: triggers of a Latch", where)
	c.want(isStates || len(m.Transitions) == 0, "%s: transitions without states", where)
	c.want(isStates && len(m.States) > 0 || len(m.States) == 1, "%s: %d states", where, len(m.States))
	c.expr(m.Cond, where+" condition", allow{})
	for _, t := range m.Starts {
		c.trigger(&t, where+" start")
	}
	for _, t := range m.Ends {
		c.trigger(&t, where+" end")
	}
	for i := range m.Transitions {
		c.transition(m, &m.Transitions[i], fmt.Sprintf("%s transition %d", where, i))
	}
	for i := range m.States {
		for j := range m.States[i].Stages {
			c.stage(&m.States[i].Stages[j], fmt.Sprintf("%s state %d stage %d", where, i, j))
		}
	}
}

func (c *checker) trigger(t *site.Trigger, where string) {
	c.timeOfDay(t.At, where)
	c.want(t.On == nil || t.At == 0 && t.Days == 0, "%s: an expression and a clock time or days", where)
	c.days(t.Days, where)
	c.expr(t.On, where, allow{events: true, was: true})
	c.expr(t.If, where+" guard", allow{events: true, was: true})
}

func (c *checker) transition(m *site.Mode, t *site.Transition, where string) {
	c.want(t.From == site.None || in(t.From, len(m.States)), "%s: from %d", where, t.From)
	c.want(in(t.To, len(m.States)), "%s: to %d", where, t.To)
	c.want(t.After >= 0, "%s: negative duration", where)
	c.want(t.After == 0 || t.Trigger.On == nil && t.Trigger.At == 0 && t.Trigger.Days == 0, "%s: after and another trigger", where)
	c.trigger(&t.Trigger, where)
}

func (c *checker) stage(g *site.Stage, where string) {
	c.want(g.For >= 0, "%s: negative duration", where)
	if f := g.Flash; f != nil {
		c.want(f.On > 0 && f.Off > 0 && f.Times >= 0, "%s: flash %v", where, *f)
		c.want(f.Times == 0 || g.For == site.Millis(f.Times)*(f.On+f.Off), "%s: length of a counted flash", where)
	}
	for i, st := range g.Settings {
		at := fmt.Sprintf("%s setting %d", where, i)
		c.circuits(st.Circuits, at)
		c.want(!st.Flashing || g.Flash != nil, "%s: flashing without a flash", at)
		c.want(len(st.Cases) > 0, "%s: no cases", at)
		for _, ca := range st.Cases {
			c.want(0 <= ca.Level && ca.Level <= site.Full, "%s: level %d", at, ca.Level)
			c.want(ca.Over >= 0 && (ca.Over == 0 || !st.Flashing), "%s: a ramp of %d", at, ca.Over)
			for _, id := range st.Circuits {
				c.want(ca.Over == 0 || !in(int(id), len(c.s.Circuits)) || !c.s.Circuits[id].Output, "%s: a ramp of an output", at)
			}
			c.expr(ca.When, at, allow{})
		}
	}
}

func (c *checker) expr(e *site.Expr, where string, a allow) {
	e.Walk(func(x *site.Expr) { c.node(x, where, a) })
}

func (c *checker) node(x *site.Expr, where string, a allow) {
	switch x.Op {
	case site.OpNot, site.OpWas:
		c.want(len(x.Kids) == 1, "%s: operator %d with %d kids", where, x.Op, len(x.Kids))
		c.want(x.Op != site.OpWas || a.was, "%s: was", where)
	case site.OpTrue, site.OpFalse, site.OpAnd, site.OpOr, site.OpAtMost, site.OpAtLeast:
	case site.OpInput:
		if c.want(in(int(x.Input), len(c.s.Inputs)), "%s: input %d out of range", where, x.Input) {
			c.want(!c.s.Inputs[x.Input].Kind.IsEvent(), "%s: the level of event input %d", where, x.Input)
		}
	case site.OpEvent:
		c.want(a.events, "%s: an event", where)
		if c.want(in(int(x.Input), len(c.s.Inputs)), "%s: input %d out of range", where, x.Input) {
			c.want(c.s.Inputs[x.Input].Kind.IsEvent(), "%s: an event of level input %d", where, x.Input)
		}
	case site.OpBand:
		c.want(in(int(x.Band), len(c.s.Bands)), "%s: band %d out of range", where, x.Band)
	case site.OpMode, site.OpState, site.OpStage:
		if c.want(in(int(x.Mode), len(c.s.Modes)), "%s: mode %d out of range", where, x.Mode) && x.Op != site.OpMode {
			c.part(x, &c.s.Modes[x.Mode], where)
		}
	case site.OpLight:
		c.want(a.light, "%s: a light", where)
		c.want(in(int(x.Circuit), len(c.s.Circuits)), "%s: circuit %d out of range", where, x.Circuit)
		c.want(0 <= x.Lo && x.Lo <= x.Hi && x.Hi <= site.Full, "%s: levels %d..%d", where, x.Lo, x.Hi)
	default:
		c.want(false, "%s: operator %d unknown", where, x.Op)
	}
}

// part checks the index of a state or stage.
func (c *checker) part(x *site.Expr, m *site.Mode, where string) {
	if x.Op == site.OpState {
		c.want(m.Kind == site.States && in(x.State, len(m.States)), "%s: state %d of mode %d", where, x.State, x.Mode)
		return
	}
	most := 0
	for i := range m.States {
		most = max(most, len(m.States[i].Stages))
	}
	c.want(in(x.State, most), "%s: stage %d of mode %d", where, x.State, x.Mode)
}

func (c *checker) assumption(a *site.Assumption, where string) {
	c.want(len(a.Inputs) > 0, "%s: no inputs", where)
	for _, i := range a.Inputs {
		if c.want(in(int(i), len(c.s.Inputs)), "%s: input %d out of range", where, i) {
			c.want(a.Kind == site.Spacing || !c.s.Inputs[i].Kind.IsEvent(), "%s: the level of event input %d", where, i)
		}
	}
	switch a.Kind {
	case site.Spacing:
		c.want(a.D > 0, "%s: duration %d", where, a.D)
	case site.Dwell:
		c.want(a.D > 0 && len(a.Inputs) == 1, "%s: a dwell of %d inputs for %d", where, len(a.Inputs), a.D)
	case site.AtMost:
		c.want(a.N >= 0, "%s: at most %d", where, a.N)
	default:
		c.want(false, "%s: kind %d unknown", where, a.Kind)
	}
}

func (c *checker) requirement(r *site.Requirement, where string) {
	when := r.Form == site.Whenever
	timed := when || r.Form == site.LastsAtMost || r.Form == site.LastsAtLeast || r.Form == site.AtMostTimes
	c.want(r.Form <= site.Possible, "%s: form %d unknown", where, r.Form)
	c.want((r.P != nil) != when && (r.A != nil) == when && (r.B != nil) == when, "%s: P, A, B do not fit the form", where)
	c.want((r.Q != nil) == (r.Form == site.OnlyAfter), "%s: Q does not fit the form", where)
	c.want(r.Since == nil || r.Form == site.OnlyAfter, "%s: since", where)
	c.want(when || r.Until == nil && r.E == 0, "%s: until or for", where)
	c.want(r.E >= 0 && r.N >= 0 && r.D >= 0 && (r.D > 0 || when || !timed), "%s: D %d, E %d, N %d", where, r.D, r.E, r.N)
	for _, e := range []*site.Expr{r.P, r.A, r.B, r.Until, r.Q, r.Since} {
		c.expr(e, where, allow{events: true, light: true})
	}
}
