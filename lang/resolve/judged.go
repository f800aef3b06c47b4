// Strict judging: where a requirement speaks of sums, what it says of lamps on the move.
//
// A lamp between two levels counts as one of them. In a place where it is good for the requirement that the condition is true,
// the condition has to hold for the less favourable of the two, and in a place where it is bad, for the more favourable. A
// condition that counts what may be true more often than it is, is said to be judged *over*, else *under*.

package resolve

import "lampwarden/lang/site"

// fillSums writes out the conditions on sums in requirements and expectations.
func (r *resolver) fillSums() {
	for i := range r.site.Requirements {
		q := &r.site.Requirements[i]
		r.fill(q.P, judgedOver(q.Form))
		r.fill(q.A, true) // a rise more is an obligation more
		r.fill(q.B, false)
		r.fill(q.Until, false) // it ends an obligation
		r.fill(q.Q, false)
		r.fill(q.Since, true) // it makes a new Q needed
		r.fill(q.During, true)
	}
	for i := range r.site.Scenarios {
		for _, st := range r.site.Scenarios[i].Steps {
			r.fill(st.Expect, false)
		}
	}
}

// judgedOver tells whether P of a form is judged over. Where it is neither good nor bad that P is true (its changes
// count), P of `at most N times` is judged over, and P of `lasts at least` and of `settles` under.
func judgedOver(f site.Form) bool {
	switch f {
	case site.Never, site.LastsAtMost, site.OnlyAfter, site.AtMostTimes:
		return true
	}
	return false
}

// fill writes out the conditions on sums in an expression.
func (r *resolver) fill(e *site.Expr, over bool) {
	if e == nil || len(r.pending) == 0 {
		return
	}
	if write := r.pending[e]; write != nil {
		label := e.Label
		*e = *write(over)
		e.Label = label
		return
	}
	if e.Op == site.OpNot || e.Op == site.OpAtMost {
		over = !over
	}
	for _, k := range e.Kids {
		r.fill(k, over)
	}
}

// later gives a node that is written out when all settings are known.
func (r *resolver) later(e site.Expr, write func(over bool) *site.Expr) *site.Expr {
	e.Op = site.OpTrue
	r.pending[&e] = write
	return &e
}
