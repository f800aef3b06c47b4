// Observers of the three "whenever" forms: plain, until, for.

package observe

import "lampwarden/lang/site"

// Locations of the whenever observers.
const (
	idle    = iota
	pending // y runs: B is awaited
	due     // the deadline has passed: B must stay
	holding // y and z run: B has been true since z = 0
	late    // z runs: as holding, but the deadline has passed
)

// Whenever observes "whenever a then within d b". The oldest open obligation
// stands for all: a moment with b closes every one.
func Whenever(a, b *site.Expr, d site.Millis) Observer {
	return Observer{
		Name:   "whenever",
		Exprs:  []*site.Expr{a, b},
		D:      [2]site.Millis{d},
		Timers: pendingTimer,
		React: func(s State, dueNow uint8, moments []Values, out []Next) []Next {
			fresh := false
			for _, m := range moments {
				rise := m.Has(0) && !s.Prev
				s.Prev = m.Has(0)
				if m.Has(1) {
					s.Loc = idle
				} else if rise && s.Loc == idle {
					s.Loc, fresh = pending, true
				}
			}
			return append(out, Next{s, freshY(fresh), s.Loc == pending && overdue(fresh, dueNow, d)})
		},
	}
}

// WheneverUntil observes "whenever a then within d b until c". One c closes
// every open obligation, so the oldest, with the earliest deadline, stands for
// all.
func WheneverUntil(a, b, c *site.Expr, d site.Millis) Observer {
	return Observer{
		Name:   "whenever until",
		Exprs:  []*site.Expr{a, b, c},
		D:      [2]site.Millis{d},
		Timers: pendingTimer,
		React: func(s State, dueNow uint8, moments []Values, out []Next) []Next {
			fresh, bad, b := false, false, false
			for _, m := range moments {
				rise := m.Has(0) && !s.Prev
				s.Prev, b = m.Has(0), m.Has(1)
				switch {
				case m.Has(2):
					s.Loc = idle
				case s.Loc == idle && rise:
					s.Loc, fresh = pending, true
				case s.Loc == due && !b:
					bad = true
				}
			}
			if s.Loc == pending && overdue(fresh, dueNow, d) {
				s.Loc = due
				bad = bad || !b
			}
			return append(out, Next{s, freshY(fresh), bad})
		},
	}
}

// overdue tells whether the deadline of a pending obligation is reached at the end
// of a reaction. With d = 0 that is at the end of the reaction of its rise.
func overdue(fresh bool, dueNow uint8, d site.Millis) bool {
	return !fresh && dueNow>>Y&1 == 1 || d == 0
}

// pendingTimer runs y in the location pending.
func pendingTimer(s State) uint8 {
	if s.Loc == pending {
		return 1 << Y
	}
	return 0
}

func freshY(fresh bool) uint8 {
	if fresh {
		return 1 << Y
	}
	return 0
}

// WheneverFor observes "whenever a then within d b for e", with "until c" if c
// is not nil. It guesses which rise to follow.
func WheneverFor(a, b, c *site.Expr, d, e site.Millis) Observer {
	exprs := []*site.Expr{a, b}
	if c != nil {
		exprs = append(exprs, c)
	}
	return Observer{
		Name:  "whenever for",
		Exprs: exprs,
		D:     [2]site.Millis{d, e},
		Timers: func(s State) uint8 {
			return [...]uint8{idle: 0, pending: 1 << Y, due: 0, holding: 1<<Y | 1<<Z, late: 1 << Z}[s.Loc]
		},
		React: func(s State, dueNow uint8, moments []Values, out []Next) []Next {
			// At the very end of its stretch b may already end.
			if dueNow>>Z&1 == 1 && (s.Loc == holding || s.Loc == late) {
				s.Loc = idle
			}
			return forMoments(Next{State: s}, dueNow, moments, c != nil, d == 0, out)
		},
	}
}

// forMoments runs the observer of WheneverFor over the moments, branching at rises;
// atOnce means d = 0.
func forMoments(n Next, dueNow uint8, moments []Values, hasC, atOnce bool, out []Next) []Next {
	if len(moments) == 0 {
		if dueNow>>Y&1 == 1 && n.Fresh>>Y&1 == 0 || atOnce {
			switch n.State.Loc {
			case pending:
				n.Bad = true
			case holding:
				n.State.Loc = late
			}
		}
		return append(out, n)
	}
	m := moments[0]
	rise := m.Has(0) && !n.State.Prev
	n.State.Prev = m.Has(0)
	closed := hasC && m.Has(2)
	switch n.State.Loc {
	case idle:
		if rise && !closed {
			follow := n
			follow.State.Loc, follow.Fresh = pending, 1<<Y
			if m.Has(1) {
				follow.State.Loc, follow.Fresh = holding, 1<<Y|1<<Z
			}
			out = forMoments(follow, dueNow, moments[1:], hasC, atOnce, out)
		}
	case pending:
		if closed {
			n.State.Loc = idle
		} else if m.Has(1) {
			n.State.Loc = holding
			n.Fresh |= 1 << Z
		}
	case holding, late:
		if closed {
			n.State.Loc = idle
		} else if !m.Has(1) {
			n.Bad = n.Bad || n.State.Loc == late
			n.State.Loc = pending
		}
	}
	return forMoments(n, dueNow, moments[1:], hasC, atOnce, out)
}
