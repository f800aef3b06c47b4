// What a requirement or an assumption counts of a supply, when a circuit goes over to another one.

package strength

import (
	"math/big"
	"slices"

	"lampwarden/lang/site"
)

// draws lists what a supply feeds, with the power of each, as requirements count it.
func draws(s *site.Site, fed site.SupplyID) (out []site.Term) {
	for i := range s.Circuits {
		if c := &s.Circuits[i]; c.FedBy == fed && c.Power > 0 {
			out = append(out, site.Term{Circuit: site.CircuitID(i), Weight: c.Power})
		}
	}
	return out
}

// counted tells whether something in the site counts just what the supply feeds.
func (b *builder) counted(fed site.SupplyID) bool {
	if f := &b.s.Supplies[fed]; slices.ContainsFunc(b.s.Assumptions, func(a site.Assumption) bool { return charges(&a, f) }) {
		return true
	}
	of, found := draws(b.s, fed), false
	for i := range b.s.Requirements {
		r := &b.s.Requirements[i]
		found = found || len(of) > 0 && slices.Equal(r.Draws, of)
		for _, e := range []*site.Expr{r.P, r.A, r.B, r.Until, r.Q, r.Since, r.During} {
			e.Walk(func(x *site.Expr) { found = found || len(of) > 0 && slices.Equal(x.Terms, of) })
		}
	}
	return found
}

func charges(a *site.Assumption, f *site.Supply) bool {
	return a.Kind == site.Charge && f.Battery && a.Inputs[0] == f.Flat
}

// recount hands a circuit from one supply to another. Sums over just what one of them feeds follow, and so does how
// long a battery lasts.
func recount(s *site.Site, id site.CircuitID, from, to site.SupplyID) {
	was := [2][]site.Term{draws(s, from), draws(s, to)}
	s.Circuits[id].FedBy = to
	now := [2][]site.Term{draws(s, from), draws(s, to)}
	terms := func(in []site.Term) []site.Term {
		for k := range was {
			if len(was[k]) > 0 && slices.Equal(in, was[k]) {
				return now[k]
			}
		}
		return in
	}
	var expr func(*site.Expr) *site.Expr
	expr = func(e *site.Expr) *site.Expr {
		if e == nil {
			return nil
		}
		out := *e
		out.Terms = terms(e.Terms)
		out.Kids = slices.Clone(e.Kids)
		for i, k := range out.Kids {
			out.Kids[i] = expr(k)
		}
		return &out
	}
	for i := range s.Requirements {
		r := &s.Requirements[i]
		r.Draws = terms(r.Draws)
		for _, e := range []**site.Expr{&r.P, &r.A, &r.B, &r.Until, &r.Q, &r.Since, &r.During} {
			*e = expr(*e)
		}
	}
	for i := range s.Assumptions {
		for _, f := range []site.SupplyID{from, to} {
			if a := &s.Assumptions[i]; charges(a, &s.Supplies[f]) {
				a.D = lasts(s, f)
			}
		}
	}
}

// longest is the longest that a battery is taken to last.
const longest = 366 * site.Day

// lasts tells how long a full battery feeds, at least, all that it feeds at the greatest level at which each ever rests.
func lasts(s *site.Site, id site.SupplyID) site.Millis {
	f := &s.Supplies[id]
	full := big.NewInt(int64(site.Full))
	load := new(big.Int).Mul(big.NewInt(f.Standing), full)
	for _, t := range draws(s, id) {
		rests := s.Rests(t.Circuit)
		load.Add(load, new(big.Int).Mul(big.NewInt(t.Weight), big.NewInt(int64(rests[len(rests)-1]))))
	}
	if load.Sign() == 0 {
		return longest
	}
	energy := new(big.Int).Mul(big.NewInt(f.Capacity), big.NewInt(int64(f.Usable)))
	energy.Mul(energy, big.NewInt(3_600_000))
	if energy.Div(energy, load); !energy.IsInt64() {
		return longest
	}
	return min(longest, site.Millis(energy.Int64()))
}
