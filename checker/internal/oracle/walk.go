// Walking over the parts of a mode.

package oracle

import "lampwarden/lang/site"

// eachClock calls f for the clock-time triggers of a mode that are ever due.
func eachClock(m *site.Mode, f func(*site.Trigger)) {
	visit := func(t *site.Trigger) {
		if t.On == nil && !t.Void {
			f(t)
		}
	}
	for _, ts := range [][]site.Trigger{m.Starts, m.Ends} {
		for i := range ts {
			visit(&ts[i])
		}
	}
	for i := range m.Transitions {
		if m.Transitions[i].After == 0 {
			visit(&m.Transitions[i].Trigger)
		}
	}
}

// eachCondition calls f for every condition of a mode; some are nil.
func eachCondition(m *site.Mode, f func(*site.Expr)) {
	f(m.Cond)
	for _, ts := range [][]site.Trigger{m.Starts, m.Ends} {
		for _, t := range ts {
			f(t.On)
			f(t.If)
		}
	}
	for _, t := range m.Transitions {
		f(t.Trigger.On)
		f(t.Trigger.If)
	}
	eachCase(m, func(_ *site.Setting, ca *site.Case) { f(ca.When) })
}

// eachCase calls f for every case of a mode's settings.
func eachCase(m *site.Mode, f func(*site.Setting, *site.Case)) {
	for i := range m.States {
		for j := range m.States[i].Stages {
			g := &m.States[i].Stages[j]
			for k := range g.Settings {
				for l := range g.Settings[k].Cases {
					f(&g.Settings[k], &g.Settings[k].Cases[l])
				}
			}
		}
	}
}
