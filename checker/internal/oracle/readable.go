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
		r.expr(s.Circuits[i].Dead)
	}
	for i := range s.Bands {
		r.days(s.Bands[i].Days)
	}
	for i := range s.Supplies {
		if !s.Supplies[i].Battery {
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
		}
	})
}
