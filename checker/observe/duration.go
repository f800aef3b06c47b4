// Observers of durations, counts and order: "lasts at most", "lasts at least",
// "at most N times", "only after".

package observe

import "lampwarden/lang/site"

// Locations of the duration observers.
const (
	off  = iota
	on   // y runs: the stretch, or the window, began at y = 0
	long // the stretch is long enough
)

func onTimer(s State) uint8 {
	if s.Loc == on {
		return 1 << Y
	}
	return 0
}

// LastsAtMost observes "p lasts at most d".
func LastsAtMost(p *site.Expr, d site.Millis) Observer {
	return Observer{
		Name:   "lasts at most",
		Exprs:  []*site.Expr{p},
		D:      [2]site.Millis{d},
		Timers: onTimer,
		React: func(s State, dueNow uint8, moments []Values, out []Next) []Next {
			fresh := false
			for _, m := range moments {
				if !m.Has(0) {
					s.Loc = off
				} else if s.Loc == off {
					s.Loc, fresh = on, true
				}
			}
			return append(out, Next{s, freshY(fresh), s.Loc == on && (!fresh && dueNow != 0 || d == 0)})
		},
	}
}

// LastsAtLeast observes "p lasts at least d".
func LastsAtLeast(p *site.Expr, d site.Millis) Observer {
	return Observer{
		Name:   "lasts at least",
		Exprs:  []*site.Expr{p},
		D:      [2]site.Millis{d},
		Timers: onTimer,
		React: func(s State, dueNow uint8, moments []Values, out []Next) []Next {
			if dueNow != 0 && s.Loc == on {
				s.Loc = long
			}
			fresh, bad := false, false
			for _, m := range moments {
				if m.Has(0) {
					if s.Loc == off {
						s.Loc, fresh = on, true
					}
					continue
				}
				bad = bad || s.Loc == on && d > 0
				s.Loc = off
			}
			return append(out, Next{s, freshY(fresh), bad})
		},
	}
}

// AtMostTimes observes "at most n times p within d": it guesses the first rise
// of a window and counts those that come less than d later.
func AtMostTimes(p *site.Expr, n int, d site.Millis) Observer {
	return Observer{
		Name:   "at most times",
		N:      n,
		Exprs:  []*site.Expr{p},
		D:      [2]site.Millis{d},
		Timers: onTimer,
		React: func(s State, dueNow uint8, moments []Values, out []Next) []Next {
			if dueNow != 0 && s.Loc == on {
				s.Loc, s.Count = off, 0
			}
			if d == 0 { // no two rises are less than nothing apart
				return append(out, Next{State: s})
			}
			return countMoments(Next{State: s}, n, moments, out)
		},
	}
}

func countMoments(x Next, n int, moments []Values, out []Next) []Next {
	if len(moments) == 0 {
		return append(out, x)
	}
	rise := moments[0].Has(0) && !x.State.Prev
	x.State.Prev = moments[0].Has(0)
	switch {
	case !rise:
	case x.State.Loc == on:
		x.State.Count++
		x.Bad = x.Bad || int(x.State.Count) > n
	default:
		follow := x
		follow.State.Loc, follow.State.Count, follow.Fresh = on, 1, 1<<Y
		follow.Bad = n == 0
		out = countMoments(follow, n, moments[1:], out)
	}
	return countMoments(x, n, moments[1:], out)
}

// OnlyAfter observes "p only after q", with "since r" if r is not nil.
func OnlyAfter(p, q, r *site.Expr) Observer {
	exprs := []*site.Expr{p, q}
	if r != nil {
		exprs = append(exprs, r)
	}
	return Observer{
		Name:   "only after",
		Exprs:  exprs,
		Timers: noTimers,
		React: func(s State, _ uint8, moments []Values, out []Next) []Next {
			bad := false
			for _, m := range moments {
				if r != nil && m.Has(2) {
					s.Loc = off
				}
				if m.Has(1) {
					s.Loc = on
				}
				bad = bad || m.Has(0) && s.Loc == off
			}
			return append(out, Next{State: s, Bad: bad})
		},
	}
}
