// Shrink: walking over the parts of a site.

package sitegen

import "lampwarden/lang/site"

// eachSlot calls f for every place of a site that holds a condition.
func eachSlot(s *site.Site, f func(**site.Expr)) {
	slot := func(e **site.Expr) {
		if *e != nil {
			f(e)
		}
	}
	slot(&s.Controller.Down)
	for i := range s.Supplies {
		slot(&s.Supplies[i].Dead)
	}
	for i := range s.Circuits {
		slot(&s.Circuits[i].Dead)
		slot(&s.Circuits[i].Cut)
	}
	for i := range s.Modes {
		slot(&s.Modes[i].Cond)
	}
	eachTrigger(s, func(t *site.Trigger) {
		slot(&t.On)
		slot(&t.If)
	})
	eachStage(s, func(g *site.Stage) {
		for k := range g.Settings {
			for l := range g.Settings[k].Cases {
				slot(&g.Settings[k].Cases[l].When)
			}
		}
	})
	for i := range s.Requirements {
		r := &s.Requirements[i]
		for _, e := range []**site.Expr{&r.P, &r.A, &r.B, &r.Until, &r.Q, &r.Since, &r.During} {
			slot(e)
		}
	}
}

func eachTrigger(s *site.Site, f func(*site.Trigger)) {
	for i := range s.Modes {
		m := &s.Modes[i]
		for _, ts := range [][]site.Trigger{m.Starts, m.Ends} {
			for k := range ts {
				f(&ts[k])
			}
		}
		for k := range m.Transitions {
			f(&m.Transitions[k].Trigger)
		}
	}
}

func eachStage(s *site.Site, f func(*site.Stage)) {
	for i := range s.Modes {
		for j := range s.Modes[i].States {
			for k := range s.Modes[i].States[j].Stages {
				f(&s.Modes[i].States[j].Stages[k])
			}
		}
	}
}
