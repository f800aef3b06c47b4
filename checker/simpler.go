// Requirements with sums that can only be true, or only false.

package checker

import (
	"slices"

	"lampwarden/lang/site"
)

// simpler gives the requirement with every sum decided that is so whatever the circuits do: one whose terms at the
// highest resting levels do not come up to Need, or whose Need is nothing. So a bound on the power of a whole building
// need not look at all its circuits together where there is no doubt. A sum of one term becomes a comparison of its level,
// which has one threshold instead of one for each resting level.
func (p *prover) simpler(r *site.Requirement) *site.Requirement {
	out := *r
	for _, e := range []**site.Expr{&out.P, &out.A, &out.B, &out.Until, &out.Q, &out.Since} {
		*e = p.decided(*e)
	}
	return &out
}

func (p *prover) decided(e *site.Expr) *site.Expr {
	if e == nil {
		return nil
	}
	out := *e
	if e.Op == site.OpSum && !e.Seen {
		most := int64(0)
		for _, t := range e.Terms {
			rests := p.site.Rests(t.Circuit)
			most += t.Weight * int64(rests[len(rests)-1])
		}
		switch {
		case e.Need <= 0:
			return &site.Expr{Op: site.OpTrue, Span: e.Span}
		case most < e.Need:
			return &site.Expr{Op: site.OpFalse, Span: e.Span}
		case len(e.Terms) == 1:
			return p.single(e)
		}
	}
	out.Kids = slices.Clone(e.Kids)
	for i, k := range out.Kids {
		out.Kids[i] = p.decided(k)
	}
	return &out
}

// single turns a sum of one term into a comparison: rounded down, the level reaches what is needed from the least resting
// level on that does; rounded up, from just above the greatest that does not.
func (p *prover) single(e *site.Expr) *site.Expr {
	t := e.Terms[0]
	rests := p.site.Rests(t.Circuit)
	i := slices.IndexFunc(rests, func(l site.Level) bool { return t.Weight*int64(l) >= e.Need })
	lo := rests[i]
	if e.Up && i > 0 {
		lo = rests[i-1] + 1
	}
	return &site.Expr{Op: site.OpLight, Circuit: t.Circuit, Lo: lo, Hi: site.Full, Span: e.Span}
}
