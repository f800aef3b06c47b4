// The power of circuits at a moment: `power of ups at most 200 W`.

package resolve

import (
	"strings"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// powerAtom compares the power of circuits, at their present levels, and the standing loads of the batteries among the targets. A
// circuit without a power would make the sum too low, so it is reported.
func (r *resolver) powerAtom(sc scope, a *syntax.PowerAtom) *site.Expr {
	if !r.lightAllowed(sc, a.Span) {
		return poison(a.Span)
	}
	ids, standing, sure := r.loadOf(sc, a.Targets)
	if !sure {
		return poison(a.Span)
	}
	terms := r.drawsOf(ids)
	if len(terms) < len(ids) {
		r.noPower(a.Targets.Span, ids)
		return poison(a.Span)
	}
	if len(ids) == 0 {
		r.errorf(source.EmptySelection, a.Targets.Span, "no circuit takes its power from this")
		return poison(a.Span)
	}
	return r.comparison(a.Is, "power of "+a.Targets.Text(), a.Span, func(m *syntax.Measure) (int64, bool) {
		n, ok := r.measured(m, aPower)
		return n * int64(site.Full), ok
	}, func(need int64, over bool) *site.Expr {
		return r.sumAtLeast(total{terms: terms}, need-standing*int64(site.Full), over, a.Span)
	})
}

// noPower reports circuits that do not tell their power.
func (r *resolver) noPower(sp source.Span, ids []site.CircuitID) *source.Diagnostic {
	var names []string
	for _, id := range ids {
		if c := &r.site.Circuits[id]; c.Power == 0 && !r.unsure[kindCircuit] {
			names = append(names, "`"+c.Name+"`")
		}
	}
	if len(names) == 0 {
		return &source.Diagnostic{}
	}
	d := r.errorf(source.NoPower, sp, "the power of %s is not told", names[0])
	if n := len(names) - 1; n > 0 {
		d.Notes = append(d.Notes, "nor is that of "+strings.Join(names[1:min(n, 5)+1], ", ")+map[bool]string{true: " and others", false: ""}[n > 5])
	}
	d.Suggestion = "write, in its braces, `power 40 W`, or take it out with `except`"
	return d
}
