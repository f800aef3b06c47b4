// Mutants of who comes before whom.

package strength

import (
	"cmp"
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// pair is a pair of modes of which the first outranks the second.
type pair struct{ over, under site.ModeID }

// order makes the mutants of every written pair of modes. What is written stays as it is but for this one pair: of
// `a > b > c` without "a > b" there remain b > c and a > c; with the two swapped it is b > a > c.
func (b *builder) order() {
	p := &b.s.Precedence
	for i := range p.Pairs {
		x := &p.Pairs[i]
		if x.Rule != site.NoRule {
			b.equals(x)
			continue
		}
		k := b.ofPair(x, ">")
		if b.between(x.Over, x.Under) {
			k.add("the two left without order", "other pairs say the same", func(*site.Site) {})
			continue
		}
		dropped := pair{x.Over, x.Under}
		k.touches = touch{together: []site.ModeID{x.Over, x.Under}}
		k.add("the two left without order", b.sameOrder(dropped, nil), func(s *site.Site) { s.Precedence.Above[x.Over][x.Under] = false })
		added := b.swapped(dropped)
		for _, a := range added {
			k.touches.together = append(k.touches.together, a.over, a.under)
		}
		k.add("the other way round", b.sameOrder(dropped, added), func(s *site.Site) {
			s.Precedence.Above[x.Over][x.Under] = false
			for _, a := range added {
				s.Precedence.Above[a.over][a.under] = true
			}
		})
	}
}

// ofPair gives the maker of a pair's rule.
func (b *builder) ofPair(x *site.PrecedencePair, sign string) *maker {
	over, under := &b.s.Modes[x.Over], &b.s.Modes[x.Under]
	first, second := cmp.Or(over.Template, over.Name), cmp.Or(under.Template, under.Name)
	k := b.rule(OrderRule, x.Span, "", fmt.Sprintf("%s %s %s", first, sign, second))
	if over.Template != "" || under.Template != "" {
		k.where = fmt.Sprintf("%s %s %s", over.Name, sign, under.Name)
	}
	k.safety = b.counts(x.Over, b.shared(x.Over, x.Under))
	return k
}

// between tells whether some mode stands between the two, so that their order follows from others.
func (b *builder) between(over, under site.ModeID) bool {
	for m := range b.s.Modes {
		if b.s.Precedence.Above[over][m] && b.s.Precedence.Above[m][under] {
			return true
		}
	}
	return false
}

// swapped gives the pairs that come in when neighbours change places: what was above the lower one or is it comes above what was
// below the upper one or is it. As nothing stood between them, no circle arises.
func (b *builder) swapped(x pair) (out []pair) {
	p := &b.s.Precedence
	for i := range b.s.Modes {
		up := site.ModeID(i)
		if up != x.under && !p.Above[up][x.under] || up == x.over {
			continue
		}
		for j := range b.s.Modes {
			down := site.ModeID(j)
			if (down == x.over || p.Above[x.over][down]) && down != x.under && up != down && !p.Above[up][down] {
				out = append(out, pair{up, down})
			}
		}
	}
	return out
}

// shared lists the circuits of which both modes ask something.
func (b *builder) shared(m, n site.ModeID) (out []site.CircuitID) {
	for c, setters := range b.setters {
		if slices.Contains(setters, m) && slices.Contains(setters, n) {
			out = append(out, site.CircuitID(c))
		}
	}
	return out
}

// sameOrder tells why nobody can see that a pair goes and others come, "" if somebody may.
func (b *builder) sameOrder(dropped pair, added []pair) string {
	why := "the two never ask for the same circuit"
	for _, x := range added {
		if x != (pair{dropped.under, dropped.over}) && len(b.shared(x.over, x.under)) > 0 {
			return ""
		}
	}
	for _, c := range b.shared(dropped.over, dropped.under) {
		switch {
		case b.alike(dropped, c):
			why = "where both ask, they ask for the same"
		case len(added) > 0 && (b.deadThen(dropped.over, c) != "" || b.deadThen(dropped.under, c) != ""):
			why = "the lamps have no current when both ask"
		default:
			return ""
		}
	}
	return why
}

// alike tells whether the order of two modes makes no difference to a circuit: both always ask it for the same level, and
// the upper one is ordered with all others that ask.
func (b *builder) alike(x pair, c site.CircuitID) bool {
	l, ok := b.unchanging(x.over, c)
	k, ok2 := b.unchanging(x.under, c)
	if !ok || !ok2 || l != k {
		return false
	}
	p := &b.s.Precedence
	return !slices.ContainsFunc(b.setters[c], func(m site.ModeID) bool {
		return m != x.over && m != x.under && !p.Above[m][x.over] && !p.Above[x.over][m]
	})
}

// equals makes the mutants of a rule for equals.
func (b *builder) equals(x *site.PrecedencePair) {
	name := map[site.Rule]string{site.Highest: "highest", site.Latest: "latest"}
	k := b.ofPair(x, "and")
	b.rules[k.rule].Text += ": " + name[x.Rule]
	k.touches = touch{together: []site.ModeID{x.Over, x.Under}}
	if len(b.shared(x.Over, x.Under)) == 0 {
		k.same = "the two never ask for the same circuit"
	}
	set := func(r site.Rule) func(*site.Site) {
		return func(s *site.Site) { s.Precedence.Equal[x.Over][x.Under], s.Precedence.Equal[x.Under][x.Over] = r, r }
	}
	other := site.Highest + site.Latest - x.Rule
	k.add("left out", "", set(site.NoRule))
	k.add(name[other]+" instead of "+name[x.Rule], "", set(other))
}
