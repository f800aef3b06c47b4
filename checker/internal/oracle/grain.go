// The grain of time that a question needs.

package oracle

import (
	"slices"

	"lampwarden/lang/site"
)

// gcd of non-negative numbers; gcd(0, b) is b.
func gcd(a, b site.Millis) site.Millis {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// grainOf gives the greatest common divisor of all durations and clock times
// of the parts that are kept; one second if there are none.
func grainOf(s *site.Site, k *kept, q *question) site.Millis {
	g := site.Millis(0)
	add := func(ds ...site.Millis) {
		for _, d := range ds {
			g = gcd(g, max(d, -d))
		}
	}
	add(q.spans...)
	for id := range s.Modes {
		m := &s.Modes[id]
		if k.modes[id] {
			modeSpans(m, k.sequences[id], add)
		}
		eachCase(m, func(set *site.Setting, ca *site.Case) {
			if ca.Over > 0 && slices.ContainsFunc(set.Circuits, func(c site.CircuitID) bool { return k.levels[c] }) {
				add(s.Controller.ReactsWithin + ca.Over)
			}
		})
		if k.modes[id] || q.causes.hasMode(k, site.ModeID(id)) {
			eachClock(m, func(t *site.Trigger) { add(t.At) })
		}
	}
	for c := range s.Circuits {
		x := &s.Circuits[c]
		if k.levels[c] {
			add(s.Controller.ReactsWithin + x.Fade)
		}
		if k.seen[c] {
			add(x.SeenAfter)
		}
	}
	for i := range s.Assumptions {
		a := &s.Assumptions[i]
		if timed := a.Kind != site.AtMost && a.Kind != site.Ladder; timed && k.assumes(a) {
			add(a.D, a.Recharge)
		}
	}
	if k.clock {
		add(site.Day)
		for b := range s.Bands {
			if k.bands[b] && !s.Bands[b].Void {
				add(s.Bands[b].From, s.Bands[b].To)
			}
		}
		for _, j := range s.Jumps {
			add(j.At, j.By)
		}
	}
	if g == 0 {
		return 1000
	}
	return g
}

func modeSpans(m *site.Mode, sequence bool, add func(...site.Millis)) {
	add(m.OnDelay, m.OffDelay, m.Pulse, m.For)
	for _, t := range m.Transitions {
		add(t.After)
	}
	if !sequence {
		return
	}
	for _, st := range m.States {
		for _, g := range st.Stages {
			add(g.For)
			if g.Flash != nil {
				add(g.Flash.On, g.Flash.Off)
			}
		}
	}
}
