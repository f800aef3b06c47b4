// Observers that count from the last cause from outside: "settles", and the finding of hunting.

package observe

import "lampwarden/lang/site"

// Locations of Settles.
const (
	stirred = iota // y runs: a cause is less than d ago
	still          // nothing may change any more
)

// Settles observes "p settles within d". The moment at d after the cause itself is still free.
func Settles(p *site.Expr, d site.Millis, causes *site.Causes) Observer {
	return Observer{
		Name:   "settles",
		Exprs:  []*site.Expr{p},
		D:      [2]site.Millis{d},
		Causes: causes,
		Timers: func(s State) uint8 {
			if s.Loc == stirred && d > 0 {
				return 1 << Y
			}
			return 0
		},
		React: func(s State, dueNow uint8, moments []Values, out []Next) []Next {
			caused := dueNow&Caused != 0
			bad := false
			if caused {
				s.Loc = stirred
			}
			for _, m := range moments {
				bad = bad || s.Loc == still && m.Has(0) != s.Prev
				s.Prev = m.Has(0)
			}
			if s.Loc == stirred && (!caused && dueNow>>Y&1 == 1 || d == 0) {
				s.Loc = still
			}
			return append(out, Next{s, freshY(caused && d > 0), bad})
		},
	}
}

// Begins is the index of the truth that the machine adds for an observer with Began set: whether that mode became active
// in the reaction, also if it had just ended.
const Begins = 5

// Hunts observes that mode m becomes active twice with no cause from the first time on; active is that it is.
func Hunts(m site.ModeID, active *site.Expr, causes *site.Causes) Observer {
	const none, once = 0, 1
	return Observer{
		Name:   "hunts",
		Exprs:  []*site.Expr{active},
		Causes: causes,
		Began:  &m,
		Timers: noTimers,
		React: func(s State, dueNow uint8, moments []Values, out []Next) []Next {
			caused := dueNow&Caused != 0
			if caused {
				s.Loc = none
			}
			bad := false
			if !caused && moments[0].Has(Begins) {
				bad = s.Loc == once
				s.Loc = once
			}
			return append(out, Next{State: s, Bad: bad})
		},
	}
}
