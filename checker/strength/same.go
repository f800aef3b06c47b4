// Changes that nobody can see, where that is cheap to prove. What is not proved is not guessed.

package strength

import (
	"slices"

	"lampwarden/lang/site"
)

// sameFor gives the reason why a change cannot be seen on any of the circuits, the one of the first; "" if it can be on one.
func (b *builder) sameFor(ids []site.CircuitID, why func(site.CircuitID) string) (first string) {
	for _, c := range ids {
		w := why(c)
		if w == "" {
			return ""
		}
		if first == "" {
			first = w
		}
	}
	return first
}

// covered: a later setting of the stage asks the circuit for light whatever the condition.
func (b *builder) covered(g *site.Stage, n int, c site.CircuitID) string {
	for _, later := range g.Settings[n+1:] {
		if slices.Contains(later.Circuits, c) && slices.ContainsFunc(later.Cases, func(x site.Case) bool { return x.When == nil }) {
			return "a later setting of the stage counts instead"
		}
	}
	return ""
}

// darkAnyway: the setting asks for nothing but darkness, without a ramp, and there is nothing that it keeps from being lit: every
// other mode that asks something of the circuit outranks this one.
func (b *builder) darkAnyway(id site.ModeID, g *site.Stage, n int, c site.CircuitID) string {
	if b.s.Circuits[c].Colour || slices.ContainsFunc(g.Settings[n].Cases, func(x site.Case) bool { return x.Level != 0 || x.Over != 0 }) {
		return ""
	}
	for i := range g.Settings {
		if i != n && slices.Contains(g.Settings[i].Circuits, c) {
			return ""
		}
	}
	for _, m := range b.setters[c] {
		if m != id && !b.s.Precedence.Outranks(m, id) {
			return ""
		}
	}
	return "the lamps are dark anyway when only this mode asks"
}

// deadThen: whenever the mode asks, the circuit has no current.
func (b *builder) deadThen(id site.ModeID, c site.CircuitID) string {
	m := &b.s.Modes[id]
	if m.Kind != site.While || m.OffDelay > 0 || m.Pulse > 0 || b.s.Circuits[c].Colour || !b.implies(m.Cond, b.s.Circuits[c].Dead, 0) {
		return ""
	}
	return "the lamps have no current whenever this mode asks"
}

// implies tells whether p surely implies q; depth bounds the way through plant modes.
func (b *builder) implies(p, q *site.Expr, depth int) bool {
	if p == nil || q == nil || depth > 8 {
		return false
	}
	if equal(p, q) {
		return true
	}
	switch {
	case q.Op == site.OpOr:
		return slices.ContainsFunc(q.Kids, func(k *site.Expr) bool { return b.implies(p, k, depth+1) })
	case q.Op == site.OpMode:
		m := &b.s.Modes[q.Mode]
		return m.Plant && m.Kind == site.While && m.OnDelay == 0 && m.Pulse == 0 && b.implies(p, m.Cond, depth+1)
	case p.Op == site.OpOr:
		return len(p.Kids) > 0 && !slices.ContainsFunc(p.Kids, func(k *site.Expr) bool { return !b.implies(k, q, depth+1) })
	case p.Op == site.OpAnd:
		return slices.ContainsFunc(p.Kids, func(k *site.Expr) bool { return b.implies(k, q, depth+1) })
	}
	return false
}

// equal compares two conditions but for their places and labels.
func equal(p, q *site.Expr) bool {
	if p == nil || q == nil {
		return p == q
	}
	same := p.Op == q.Op && p.N == q.N && p.Input == q.Input && p.Gesture == q.Gesture && p.Band == q.Band && p.Mode == q.Mode &&
		p.State == q.State && p.Circuit == q.Circuit && p.Lo == q.Lo && p.Hi == q.Hi && p.Need == q.Need && p.Up == q.Up && p.Seen == q.Seen &&
		slices.Equal(p.Terms, q.Terms)
	return same && slices.EqualFunc(p.Kids, q.Kids, equal)
}

// sameCase: the case is never reached, or what comes after it asks for the same in the same way.
func (b *builder) sameCase(set *site.Setting, x int) string {
	for _, before := range set.Cases[:x] {
		if before.When == nil {
			return "an earlier case always holds"
		}
	}
	if x+1 < len(set.Cases) {
		c, next := &set.Cases[x], &set.Cases[x+1]
		if next.When == nil && c.Over == next.Over && !slices.ContainsFunc(set.Circuits, func(id site.CircuitID) bool {
			return b.s.Circuits[id].Clamp(c.Level) != b.s.Circuits[id].Clamp(next.Level)
		}) {
			return "the next case asks for the same"
		}
	}
	return ""
}

// unchanging gives the level for which the mode always asks the circuit when it asks, if there is only one and no rhythm or ramp.
func (b *builder) unchanging(id site.ModeID, c site.CircuitID) (level site.Level, ok bool) {
	first := true
	ok = true
	eachSetting(&b.s.Modes[id], func(_, _, _ int, set *site.Setting) {
		if !slices.Contains(set.Circuits, c) {
			return
		}
		for _, x := range set.Cases {
			l := b.s.Circuits[c].Clamp(x.Level)
			if set.Flashing || x.Over > 0 || !first && l != level {
				ok = false
			}
			level, first = l, false
		}
	})
	return level, ok && !first
}
