// What the oracle needs of a site's data so that it can not run out of a table.

package oracle

import (
	"errors"
	"fmt"

	"lampwarden/lang/site"
)

func readable(s *site.Site, q *question) error {
	n := len(s.Modes)
	if len(s.StepOrder) != n || len(s.Precedence.Above) != n || len(s.Precedence.Equal) != n {
		return errors.New("oracle: step order or precedence do not fit the modes")
	}
	r := &reader{s: s}
	for _, id := range s.StepOrder {
		r.in(int(id), n, "mode of the step order")
	}
	for i := range n {
		if len(s.Precedence.Above[i]) != n || len(s.Precedence.Equal[i]) != n {
			return errors.New("oracle: precedence does not fit the modes")
		}
		r.mode(&s.Modes[i])
	}
	for i := range s.Circuits {
		if f := s.Circuits[i].FedBy; f != site.None {
			r.in(int(f), len(s.Supplies), "supply")
		}
		r.circuit(&s.Circuits[i])
	}
	r.expr(s.Controller.Down)
	for _, j := range s.Jumps {
		if j.At < 0 || j.At >= site.Day || j.By == 0 {
			r.fail("a jump by %d at %d", j.By, j.At)
		}
	}
	for i := range s.Bands {
		r.days(s.Bands[i].Days)
	}
	for i := range s.Supplies {
		if !s.Supplies[i].Battery && s.Supplies[i].Dead == nil {
			r.in(int(s.Supplies[i].Health), len(s.Inputs), "health input")
		}
	}
	for _, a := range s.Assumptions {
		for _, i := range a.Inputs {
			r.in(int(i), len(s.Inputs), "input of an assumption")
		}
		if len(a.Inputs) == 0 {
			r.fail("an assumption without inputs")
		}
		if a.Kind > site.Charge || a.Kind == site.Charge && len(a.Inputs) != 2 {
			r.fail("an assumption of kind %d on %d inputs", a.Kind, len(a.Inputs))
		}
	}
	for _, e := range q.exprs {
		r.expr(e)
		e.Walk(func(x *site.Expr) {
			if x.Op == site.OpWas {
				r.fail("a requirement with the state before a reaction")
			}
		})
	}
	for _, c := range append(q.requests, q.lights...) {
		r.in(int(c), len(s.Circuits), "circuit")
	}
	for _, i := range q.faults {
		r.in(int(i), len(s.Inputs), "input that may fail")
	}
	if c := q.causes; c != nil {
		r.causes(&c.Causes)
	}
	return r.err
}

type reader struct {
	s   *site.Site
	err error
}

func (r *reader) fail(format string, args ...any) {
	if r.err == nil {
		r.err = fmt.Errorf("oracle: "+format, args...)
	}
}

func (r *reader) in(id, n int, what string) {
	if id < 0 || id >= n {
		r.fail("%s %d is out of range", what, id)
	}
}

func (r *reader) days(d site.Days) {
	if d >= 1<<7 {
		r.fail("a day that no week has")
	}
}

func (r *reader) causes(c *site.Causes) {
	for _, i := range c.Inputs {
		r.in(int(i), len(r.s.Inputs), "input")
	}
	for _, b := range c.Bands {
		r.in(int(b), len(r.s.Bands), "band")
	}
	for _, m := range c.Modes {
		r.in(int(m), len(r.s.Modes), "mode")
	}
}

func (r *reader) circuit(c *site.Circuit) {
	r.expr(c.Dead)
	r.expr(c.Cut)
	if c.Colour {
		r.in(int(c.Light), len(r.s.Circuits), "light of a colour")
	}
	if c.SeenAfter < 0 {
		r.fail("a circuit seen before it is asked for")
	}
	for _, l := range []*site.Level{c.Fail, c.PowerOn} {
		if l != nil && (*l < 0 || *l > site.Full) {
			r.fail("a level of %d", *l)
		}
	}
}

func (r *reader) mode(m *site.Mode) {
	if len(m.States) == 0 || m.Kind > site.States || m.Kind == site.While && m.Cond == nil {
		r.fail("mode %q is not complete", m.Name)
	}
	r.expr(m.Cond)
	for _, ts := range [][]site.Trigger{m.Starts, m.Ends} {
		for _, t := range ts {
			r.days(t.Days)
			r.expr(t.On)
			r.expr(t.If)
		}
	}
	for _, t := range m.Transitions {
		r.days(t.Trigger.Days)
		r.expr(t.Trigger.On)
		r.expr(t.Trigger.If)
		r.in(t.To, len(m.States), "state")
		if t.From != site.None {
			r.in(t.From, len(m.States), "state")
		}
	}
	for _, st := range m.States {
		for _, g := range st.Stages {
			r.stage(&g)
		}
	}
}

func (r *reader) stage(g *site.Stage) {
	if g.Flash != nil && (g.Flash.On <= 0 || g.Flash.Off <= 0) {
		r.fail("a flash of no length")
	}
	for _, set := range g.Settings {
		for _, c := range set.Circuits {
			r.in(int(c), len(r.s.Circuits), "circuit")
		}
		for _, ca := range set.Cases {
			r.expr(ca.When)
			if ca.Over < 0 || ca.Over > 0 && set.Flashing {
				r.fail("a ramp of less than no time, or in a flash")
			}
		}
	}
}

func (r *reader) expr(e *site.Expr) {
	e.Walk(func(x *site.Expr) {
		switch x.Op {
		case site.OpNot, site.OpWas:
			if len(x.Kids) != 1 {
				r.fail("an operator with %d parts", len(x.Kids))
			}
		case site.OpInput, site.OpEvent:
			r.in(int(x.Input), len(r.s.Inputs), "input")
		case site.OpBand:
			r.in(int(x.Band), len(r.s.Bands), "band")
		case site.OpMode, site.OpState, site.OpStage:
			r.in(int(x.Mode), len(r.s.Modes), "mode")
		case site.OpLight:
			r.in(int(x.Circuit), len(r.s.Circuits), "circuit")
		case site.OpSum:
			for _, t := range x.Terms {
				r.in(int(t.Circuit), len(r.s.Circuits), "circuit")
			}
		}
	})
}
