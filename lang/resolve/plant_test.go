package resolve_test

import (
	"testing"

	"lampwarden/lang/site"
)

// checkPlant checks what lang/site promises of the plant: its modes step first and read only inputs, bands, seen light
// and modes of the plant; so do the conditions of circuits and controller; faults are listed where they may strike.
func checkPlant(t *testing.T, s *site.Site) {
	t.Helper()
	plant := func(what string, e *site.Expr) {
		e.Walk(func(x *site.Expr) {
			switch x.Op {
			case site.OpMode, site.OpState:
				if !s.Modes[x.Mode].Plant {
					t.Errorf("%s reads the mode %s", what, s.Modes[x.Mode].Name)
				}
			case site.OpLight, site.OpStage:
				t.Errorf("%s reads %s", what, s.ExprText(x))
			case site.OpSum:
				if !x.Seen {
					t.Errorf("%s reads light that no sensor sees", what)
				}
			}
		})
	}
	others := false
	for _, m := range s.StepOrder {
		if s.Modes[m].Plant && others {
			t.Errorf("%s steps among the modes of the controller", s.Modes[m].Name)
		}
		others = others || !s.Modes[m].Plant
	}
	for i := range s.Modes {
		m := &s.Modes[i]
		if !m.Plant {
			continue
		}
		plant(m.Name, m.Cond)
		for _, st := range m.States {
			if len(st.Stages) > 0 {
				t.Errorf("%s asks for light", m.Name)
			}
		}
	}
	for i := range s.Circuits {
		c := &s.Circuits[i]
		plant(c.Name, c.Dead)
		plant(c.Name, c.Cut)
		for _, l := range []*site.Level{c.Fail, c.PowerOn} {
			if l != nil && *l != c.Clamp(*l) {
				t.Errorf("%s cannot stand at %s", c.Name, *l)
			}
		}
	}
	plant("the controller", s.Controller.Down)
	for i := range s.Requirements {
		q := &s.Requirements[i]
		if (q.Faults == nil) != (q.AtMost == 0) || q.AtMost > len(q.Faults) {
			t.Errorf("%s bears %d of %d faults", q.Name, q.AtMost, len(q.Faults))
		}
		if q.Form == site.Energy && (len(q.Draws) == 0 && q.Standing == 0 && q.During == nil || q.Limit < 0) {
			t.Errorf("%s: %+v", q.Name, q)
		}
	}
	for _, a := range s.Assumptions {
		if a.Kind == site.Charge && (len(a.Inputs) != 2 || s.Inputs[a.Inputs[0]].Kind != site.Flatness ||
			s.Inputs[a.Inputs[1]].Kind != site.SupplyHealth || a.D < 0 || a.Recharge <= 0) {
			t.Errorf("assumption %+v", a)
		}
	}
}
