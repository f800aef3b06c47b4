// Questions: what is looked for, and the grain of time it needs.

package oracle

import (
	"context"
	"fmt"

	"lampwarden/lang/site"
)

const defaultStates = 200_000

// question is what the search looks for.
type question struct {
	exprs    []*site.Expr // conditions that are evaluated at moments
	spans    []site.Millis
	lights   []site.CircuitID // circuits whose lamp is in the state, beside those that exprs read
	requests []site.CircuitID // further circuits whose request is resolved
	draws    []site.Term      // circuits whose power counts
	faults   []site.InputID   // inputs of which atMost may be away from rest
	atMost   int
	causes   *causes      // nil: nothing asks for causes
	monitor  monitorMaker // nil: none
	goal     func([]resolution) bool
	reach    bool         // the answer is Witness or NoWitness, not Broken or Holds
	back     *site.Millis // CanReturn: within this
	ticks    int          // default ticks per unit
}

// defaultTicks gives the ticks per unit with which a form is first looked at.
func defaultTicks(f site.Form) int {
	switch f {
	case site.AtMostTimes:
		return 8
	case site.CanReturn: // all that brings P back has to fit in D
		return 4
	}
	return 2
}

func requirementQuestion(r *site.Requirement) (question, error) {
	q := question{spans: []site.Millis{r.D, r.E}, reach: r.Form == site.Possible, ticks: defaultTicks(r.Form),
		faults: r.Faults, atMost: r.AtMost}
	need := []*site.Expr{r.P}
	switch r.Form {
	case site.Whenever:
		need = []*site.Expr{r.A, r.B}
	case site.OnlyAfter:
		need = append(need, r.Q)
	case site.Settles:
		q.causes = &causes{Causes: r.Causes}
	case site.CanReturn:
		q.back = &r.D
	case site.Energy:
		need = nil
		q.draws = r.Draws
		for _, t := range r.Draws {
			q.lights = append(q.lights, t.Circuit)
		}
	}
	for _, e := range need {
		if e == nil {
			return q, fmt.Errorf("oracle: requirement %q lacks a condition of its form", r.Name)
		}
	}
	if r.D < 0 || r.E < 0 || r.N < 0 || r.AtMost < 0 || r.Limit < 0 || r.Standing < 0 {
		return q, fmt.Errorf("oracle: requirement %q has a negative number", r.Name)
	}
	for _, e := range append(need, r.Until, r.Since, r.During) {
		if e != nil {
			q.exprs = append(q.exprs, e)
		}
	}
	var err error
	q.monitor, err = monitorOf(r)
	return q, err
}

// ask answers a question about a site, or about each of its dates until one of
// them has the run that is looked for.
func ask(ctx context.Context, s *site.Site, q question, o Options) (Result, error) {
	if len(s.Dates) == 0 {
		return askDated(ctx, s, q, o)
	}
	var all Result
	for i := range s.Dates {
		r, err := askDated(ctx, s.OnDate(i), q, o)
		r.Date, r.States = i, r.States+all.States
		if err != nil || r.Verdict == Broken || r.Verdict == Witness {
			return r, err
		}
		if i == 0 || r.Verdict == TooBig {
			all.Verdict = r.Verdict
		}
		all.States, all.Ticks, all.Grain = r.States, r.Ticks, r.Grain
	}
	return all, nil
}

func askDated(ctx context.Context, s *site.Site, q question, o Options) (Result, error) {
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
	if q.back != nil {
		return searchReturn(ctx, m, o, *q.back)
	}
	return search(ctx, m, o)
}
