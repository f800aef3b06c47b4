// Requirements about energy: claims about single circuits, and their sum.

package certify

import (
	"fmt"
	"math/big"
	"slices"

	"lampwarden/lang/site"
)

// claim says that a circuit never has the level, or a higher one, from the time after on for which During has been true; at no time at
// all if the requirement has no During.
type claim struct {
	circuit site.CircuitID
	level   site.Level
	after   site.Millis
}

// part is the question whether the claim is true.
func (c *claim) part(r *site.Requirement) part {
	high := &site.Expr{Op: site.OpLight, Circuit: c.circuit, Lo: c.level, Hi: site.Full}
	if r.During == nil {
		return part{form: site.Never, exprs: []*site.Expr{high}}
	}
	return part{form: site.Energy, exprs: []*site.Expr{r.During, high}, d: [2]site.Millis{c.after}}
}

// later: the light is not that high once During has been true for D.
func (o observer) later(n obsNext, due [2]bool, moments []truth) obsNext {
	if n.state.place == 1 && due[0] {
		n.state.place = 2
	}
	for _, m := range moments {
		switch {
		case !m.has(0):
			n.state.place, n.fresh[0] = 0, false
		case n.state.place == 0 && o.d[0] == 0:
			n.state.place = 2
		case n.state.place == 0:
			n.enter(1, 0)
		}
		n.broken = n.broken || n.state.place == 2 && m.has(1)
	}
	return n
}

// energy tells why the claims do not prove an energy requirement, "" if they do: whether the sum over its circuits, each at the highest
// resting level that the claims leave it, from one After to the next, is within the limit. Without any claim it is the sum at the
// highest resting levels.
func energy(s *site.Site, r *site.Requirement, claims []claim) string {
	steps := []site.Millis{0}
	for _, c := range claims {
		if r.During != nil && c.after > 0 && c.after < r.D {
			steps = append(steps, c.after)
		}
	}
	slices.Sort(steps)
	steps = append(slices.Compact(steps), r.D)
	used := new(big.Int) // in milliwatt milliseconds times Full
	for k := range len(steps) - 1 {
		power := new(big.Int).Mul(big.NewInt(r.Standing), big.NewInt(int64(site.Full)))
		for _, d := range r.Draws {
			most := highest(s, d.Circuit, steps[k], claims, r.During == nil)
			power.Add(power, new(big.Int).Mul(big.NewInt(d.Weight), big.NewInt(int64(most))))
		}
		used.Add(used, power.Mul(power, big.NewInt(int64(steps[k+1]-steps[k]))))
	}
	hour := big.NewInt(3_600_000 * int64(site.Full))
	if used.Cmp(new(big.Int).Mul(big.NewInt(r.Limit), hour)) <= 0 {
		return ""
	}
	most := new(big.Rat).SetFrac(used, hour)
	return fmt.Sprintf("with what is certified a run may use up to %s mWh, and the limit is %d mWh", most.FloatString(0), r.Limit)
}

// highest is the highest resting level that counts for a circuit from a time on.
func highest(s *site.Site, id site.CircuitID, from site.Millis, claims []claim, ever bool) site.Level {
	rests := s.Rests(id)
	most := rests[len(rests)-1]
	for _, c := range claims {
		if c.circuit == id && (ever || c.after <= from) {
			most = min(most, site.Round(rests, max(0, c.level-1), true))
		}
	}
	return most
}
