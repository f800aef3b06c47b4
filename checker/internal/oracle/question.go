// Questions: what is looked for, and the grain of time it needs.

package oracle

import (
	"context"
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

const defaultStates = 200_000

// question is what the search looks for.
type question struct {
	exprs    []*site.Expr // conditions that are evaluated at moments
	spans    []site.Millis
	lights   []site.CircuitID // circuits whose lamp is in the state
	requests []site.CircuitID // further circuits whose request is resolved
	monitor  monitorMaker     // nil: none
	goal     func([]resolution) bool
	reach    bool // the answer is Witness or NoWitness, not Broken or Holds
	ticks    int  // default ticks per unit
}

func requirementQuestion(r *site.Requirement) (question, error) {
	q := question{spans: []site.Millis{r.D, r.E}, reach: r.Form == site.Possible, ticks: 2}
	var need []*site.Expr
	switch r.Form {
	case site.Whenever:
		need = []*site.Expr{r.A, r.B}
	case site.OnlyAfter:
		need = []*site.Expr{r.P, r.Q}
	case site.AtMostTimes:
		q.ticks = 8
		need = []*site.Expr{r.P}
	default:
		need = []*site.Expr{r.P}
	}
	for _, e := range need {
		if e == nil {
			return q, fmt.Errorf("oracle: requirement %q lacks a condition of its form", r.Name)
		}
	}
	if r.D < 0 || r.E < 0 || r.N < 0 {
		return q, fmt.Errorf("oracle: requirement %q has a negative number", r.Name)
	}
	for _, e := range append(need, r.Until, r.Since) {
		if e != nil {
			q.exprs = append(q.exprs, e)
		}
	}
	seen := map[site.CircuitID]bool{}
	for _, e := range q.exprs {
		e.Walk(func(x *site.Expr) {
			if x.Op == site.OpLight && !seen[x.Circuit] {
				seen[x.Circuit] = true
				q.lights = append(q.lights, x.Circuit)
			}
		})
	}
	var err error
	q.monitor, err = monitorOf(r)
	return q, err
}

func ask(ctx context.Context, s *site.Site, q question, o Options) (Result, error) {
	if o.MaxStates <= 0 {
		o.MaxStates = defaultStates
	}
	if o.TicksPerUnit <= 0 {
		o.TicksPerUnit = max(q.ticks, 2)
	}
	m, err := compile(s, q, o)
	if err != nil {
		return Result{}, err
	}
	return search(ctx, m, o)
}

// gcd of non-negative numbers; gcd(0, b) is b.
func gcd(a, b site.Millis) site.Millis {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// grainOf gives the greatest common divisor of all durations and clock times
// of the parts that are kept; one second if there are none.
func grainOf(s *site.Site, k *kept, spans []site.Millis) site.Millis {
	g := site.Millis(0)
	add := func(ds ...site.Millis) {
		for _, d := range ds {
			g = gcd(g, d)
		}
	}
	add(spans...)
	for id := range s.Modes {
		if k.modes[id] {
			modeSpans(&s.Modes[id], k.sequences[id], add)
		}
	}
	for c := range s.Circuits {
		if k.lamps[c] {
			add(s.Controller.ReactsWithin + s.Circuits[c].Fade)
			rampSpans(s, site.CircuitID(c), add)
		}
	}
	for _, a := range s.Assumptions {
		if a.Kind != site.AtMost && k.anyInput(a.Inputs) {
			add(a.D)
		}
	}
	if k.clock {
		add(site.Day)
		for b := range s.Bands {
			if k.bands[b] {
				add(s.Bands[b].From, s.Bands[b].To)
			}
		}
	}
	if g == 0 {
		return 1000
	}
	return g
}

// rampSpans gives the times of movements by the ramps of a circuit.
func rampSpans(s *site.Site, c site.CircuitID, add func(...site.Millis)) {
	for i := range s.Modes {
		for _, st := range s.Modes[i].States {
			for _, g := range st.Stages {
				for _, set := range g.Settings {
					for _, ca := range set.Cases {
						if ca.Over > 0 && slices.Contains(set.Circuits, c) {
							add(s.Controller.ReactsWithin + ca.Over)
						}
					}
				}
			}
		}
	}
}

func modeSpans(m *site.Mode, sequence bool, add func(...site.Millis)) {
	add(m.OnDelay, m.OffDelay, m.Pulse, m.For)
	for _, ts := range [][]site.Trigger{m.Starts, m.Ends} {
		for _, t := range ts {
			add(t.At)
		}
	}
	for _, t := range m.Transitions {
		add(t.After, t.Trigger.At)
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
