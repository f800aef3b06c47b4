// Check: modes, expressions, assumptions, requirements.

package sitegen

import (
	"fmt"

	"lampwarden/lang/site"
)

// allow says which atoms an expression may have; plant: those of a plant mode.
type allow struct{ events, was, light, plant, sight bool }

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
	c.expr(m.Cond, where+" condition", allow{plant: m.Plant, sight: m.Plant})
	for _, t := range m.Starts {
		c.trigger(m, &t, where+" start")
	}
	for _, t := range m.Ends {
		c.trigger(m, &t, where+" end")
	}
	for i := range m.States {
		c.want(!m.Plant || len(m.States[i].Stages) == 0, "%s: a plant mode that asks", where)
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

func (c *checker) trigger(m *site.Mode, t *site.Trigger, where string) {
	if t.Void {
		c.want(t.Sun != nil, "%s: void without the sun", where)
	} else {
		c.timeOfDay(t.At, where)
	}
	c.want(t.On == nil || t.At == 0 && t.Days == 0 && t.Sun == nil, "%s: an expression and a clock time or days", where)
	c.days(t.Days, where)
	a := allow{events: true, was: true, plant: m.Plant, sight: m.Plant}
	c.expr(t.On, where, a)
	c.expr(t.If, where+" guard", a)
}

func (c *checker) transition(m *site.Mode, t *site.Transition, where string) {
	c.want(t.From == site.None || in(t.From, len(m.States)), "%s: from %d", where, t.From)
	c.want(in(t.To, len(m.States)), "%s: to %d", where, t.To)
	c.want(t.After >= 0, "%s: negative duration", where)
	c.want(t.After == 0 || t.Trigger.On == nil && t.Trigger.At == 0 && t.Trigger.Days == 0 && t.Trigger.Sun == nil, "%s: after and another trigger", where)
	c.trigger(m, &t.Trigger, where)
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
				if in(int(id), len(c.s.Circuits)) {
					x := &c.s.Circuits[id]
					c.want(ca.Over == 0 || !x.Output, "%s: a ramp of an output", at)
					c.want(!x.Colour || !st.Flashing && ca.Level > 0, "%s: a colour that flashes or is none", at)
					c.want(x.Colour == c.s.Circuits[st.Circuits[0]].Colour, "%s: colours and other circuits", at)
				}
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
		if !c.want(in(int(x.Mode), len(c.s.Modes)), "%s: mode %d out of range", where, x.Mode) {
			return
		}
		c.want(!a.plant || c.s.Modes[x.Mode].Plant, "%s: mode %d of the controller", where, x.Mode)
		if x.Op != site.OpMode {
			c.part(x, &c.s.Modes[x.Mode], where)
		}
	case site.OpLight:
		c.want(a.light, "%s: a light", where)
		c.want(in(int(x.Circuit), len(c.s.Circuits)), "%s: circuit %d out of range", where, x.Circuit)
		c.want(0 <= x.Lo && x.Lo <= x.Hi && x.Hi <= site.Full, "%s: levels %d..%d", where, x.Lo, x.Hi)
	case site.OpSum:
		c.want(x.Seen && a.sight || !x.Seen && a.light, "%s: a sum of levels", where)
		c.terms(x.Terms, where)
	default:
		c.want(false, "%s: operator %d unknown", where, x.Op)
	}
}

func (c *checker) terms(ts []site.Term, where string) {
	for _, t := range ts {
		c.want(in(int(t.Circuit), len(c.s.Circuits)) && !c.s.Circuits[t.Circuit].Colour, "%s: the level of circuit %d in a sum", where, t.Circuit)
		c.want(t.Weight >= 0, "%s: a weight of %d", where, t.Weight)
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
	case site.Ladder:
	case site.Charge:
		c.want(len(a.Inputs) == 2 && a.D >= 0 && a.Recharge >= 0, "%s: a charge of %d inputs, %d, %d", where, len(a.Inputs), a.D, a.Recharge)
	default:
		c.want(false, "%s: kind %d unknown", where, a.Kind)
	}
}

func (c *checker) requirement(r *site.Requirement, where string) {
	when, energy := r.Form == site.Whenever, r.Form == site.Energy
	timed := when || r.Form == site.LastsAtMost || r.Form == site.LastsAtLeast || r.Form == site.AtMostTimes || energy
	c.want(r.Form <= site.Energy, "%s: form %d unknown", where, r.Form)
	c.want((r.P != nil) != (when || energy) && (r.A != nil) == when && (r.B != nil) == when, "%s: P, A, B do not fit the form", where)
	c.want((r.Q != nil) == (r.Form == site.OnlyAfter), "%s: Q does not fit the form", where)
	c.want(r.Since == nil || r.Form == site.OnlyAfter, "%s: since", where)
	c.want(when || r.Until == nil && r.E == 0, "%s: until or for", where)
	c.want(r.E >= 0 && r.N >= 0 && r.D >= 0 && (r.D > 0 || when || !timed), "%s: D %d, E %d, N %d", where, r.D, r.E, r.N)
	for _, e := range []*site.Expr{r.P, r.A, r.B, r.Until, r.Q, r.Since, r.During} {
		c.expr(e, where, allow{events: true, light: true})
	}
	c.want(energy || r.During == nil && len(r.Draws) == 0 && r.Limit == 0 && r.Standing == 0, "%s: energy", where)
	c.want(r.Limit >= 0 && r.Standing >= 0, "%s: limit %d, standing %d", where, r.Limit, r.Standing)
	c.terms(r.Draws, where)
	c.want(r.AtMost >= 0 && (r.AtMost == 0 || len(r.Faults) > 0), "%s: at most %d faults of none", where, r.AtMost)
	for _, i := range r.Faults {
		c.want(in(int(i), len(c.s.Inputs)) && !c.s.Inputs[i].Kind.IsEvent(), "%s: fault %d", where, i)
	}
	c.causes(&r.Causes, where)
}

func (c *checker) causes(x *site.Causes, where string) {
	for _, i := range x.Inputs {
		c.want(in(int(i), len(c.s.Inputs)), "%s: input %d out of range", where, i)
	}
	for _, b := range x.Bands {
		c.want(in(int(b), len(c.s.Bands)), "%s: band %d out of range", where, b)
	}
	for _, m := range x.Modes {
		c.want(in(int(m), len(c.s.Modes)), "%s: mode %d out of range", where, m)
	}
}
