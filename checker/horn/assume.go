// Assumptions: what the environment is taken never to do.

package horn

import (
	"lampwarden/lang/site"
)

// assumption is one that binds inputs of the slice, with what is remembered for it.
type assumption struct {
	a      *site.Assumption
	inputs []site.InputID // those in the slice
	d      term
	timer  cell // Spacing, Dwell: until the next change is allowed; Charge: until it may be flat
	full   cell // Charge: the battery is full
	charge cell // Charge: until it is full again
	again  term
}

func (e *encoder) newAssumptions() []*assumption {
	var out []*assumption
	for i := range e.s.Assumptions {
		a := &assumption{a: &e.s.Assumptions[i]}
		for _, x := range a.a.Inputs {
			if e.in.inputs[x] {
				a.inputs = append(a.inputs, x)
			}
		}
		timed := a.a.Kind == site.Spacing || a.a.Kind == site.Dwell
		if len(a.inputs) == 0 || timed && e.in.loose {
			continue
		}
		a.d = e.length(a.a.D)
		switch a.a.Kind {
		case site.Spacing:
			a.timer = e.countdown("assumption: until the next change")
		case site.Dwell:
			a.timer = e.countdown("assumption: how long the input keeps its value")
		case site.Charge:
			a.timer = e.countdown("assumption: until the battery may be flat")
			a.full = e.flag("assumption: the battery is full")
			a.charge = e.countdown("assumption: until the battery is full")
			a.again = e.length(a.a.Recharge)
		}
		out = append(out, a)
	}
	return out
}

// allowed tells whether the inputs' levels may be as they are, at start-up or after a change.
func (e *encoder) allowed(st state) term {
	var out []term
	level := func(ids []site.InputID) (ts []term) {
		for _, x := range ids {
			ts = append(ts, e.input(x, st))
		}
		return ts
	}
	for _, a := range e.assumed {
		switch a.a.Kind {
		case site.AtMost:
			out = append(out, e.not(e.atLeast(a.a.N+1, level(a.inputs))))
		case site.Ladder:
			ts := level(a.inputs)
			for i := 1; i < len(ts); i++ {
				out = append(out, e.implies(ts[i], ts[i-1]))
			}
		}
	}
	may := map[site.InputID]bool{}
	for _, x := range e.r.Faults {
		may[x] = true
	}
	for _, x := range e.in.inputList() {
		if e.s.Inputs[x].Fault && !may[x] {
			out = append(out, e.not(e.input(x, st)))
		}
	}
	if len(e.r.Faults) > 0 {
		out = append(out, e.not(e.atLeast(e.r.AtMost+1, level(e.r.Faults))))
	}
	return e.and(out...)
}

// startAssumptions sets what is remembered at start-up, and gives a condition on the inputs.
func (e *encoder) startAssumptions(st state) term {
	ok := e.allowed(st)
	for _, a := range e.assumed {
		if a.a.Kind == site.Charge {
			flat, lost := e.input(a.a.Inputs[0], st), e.input(a.a.Inputs[1], st)
			ok = e.and(ok, e.not(flat))
			st[a.full], st[a.charge] = yes, e.zero
			st[a.timer] = e.ite(lost, a.d, e.zero)
		}
	}
	return ok
}

// stepAssumptions sets what is remembered after a delay and a change, and gives the condition under which the change is
// allowed. changes tells which inputs change or have an event.
func (e *encoder) stepAssumptions(pre, st state, d term, changes map[site.InputID]term, begins func() term) term {
	ok := []term{e.allowed(st)}
	for _, a := range e.assumed {
		switch a.a.Kind {
		case site.Spacing:
			some := no
			for _, x := range a.inputs {
				some = e.or(some, changes[x])
			}
			ok = append(ok, e.implies(some, e.le(pre[a.timer], d)))
			st[a.timer] = e.ite(some, a.d, e.passed(a.timer, pre, d))
		case site.Dwell:
			x := a.inputs[0]
			becomes := e.and(changes[x], e.iff(st[e.inputs[x]], boolean(a.a.Value)))
			ends := e.and(changes[x], e.not(becomes))
			ok = append(ok, e.implies(ends, e.le(pre[a.timer], d)))
			st[a.timer] = e.ite(becomes, a.d, e.ite(ends, e.zero, e.passed(a.timer, pre, d)))
		case site.Charge:
			ok = append(ok, e.stepCharge(a, pre, st, d, changes))
		}
	}
	for x, c := range changes {
		if e.s.Inputs[x].Kind == site.Calendar {
			ok = append(ok, e.implies(c, begins()))
		}
	}
	return e.and(ok...)
}

// stepCharge: from full the battery lasts D at least, and it is full again after Recharge without a break.
func (e *encoder) stepCharge(a *assumption, pre, st state, d term, changes map[site.InputID]term) term {
	flat, lost := a.a.Inputs[0], a.a.Inputs[1]
	wasFlat, wasLost := e.input(flat, pre), e.input(lost, pre)
	full := e.or(pre[a.full], e.and(e.not(wasLost), e.le(pre[a.charge], d)))
	goesFlat, getsBetter := e.and(changes[flat], e.not(wasFlat)), e.and(changes[flat], wasFlat)
	goesLost, returns := e.and(changes[lost], e.not(wasLost)), e.and(changes[lost], wasLost)
	ok := e.and(
		e.implies(goesFlat, e.and(wasLost, e.le(pre[a.timer], d))),
		e.implies(getsBetter, e.not(wasLost)),
		e.implies(goesLost, e.not(e.and(full, wasFlat))))
	st[a.timer] = e.ite(e.and(goesLost, full), a.d, e.ite(returns, e.zero, e.passed(a.timer, pre, d)))
	st[a.charge] = e.ite(returns, a.again, e.passed(a.charge, pre, d))
	st[a.full] = e.and(full, e.not(goesFlat), e.not(returns))
	return ok
}
