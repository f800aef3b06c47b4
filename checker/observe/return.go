// Observers for "can always return", and for what holds some time after a rise.

package observe

import "lampwarden/lang/site"

// Locations of Waits and Reaches.
const (
	roaming = iota
	waiting // y runs since the moment from which p is to be reached
)

// Quick is the index of the truth that the machine adds for an observer with Quick set: whether p can be reached at once,
// by nothing but events.
const Quick = 6

// Waits observes a way to return to p from any moment on: let nothing happen until p is true, or can be made true at
// once. It guesses the moment from which that does not lead to p within d.
func Waits(p *site.Expr, d site.Millis) Observer {
	return Observer{
		Name:   "waits",
		Exprs:  []*site.Expr{p},
		D:      [2]site.Millis{d},
		Quick:  true,
		Timers: waitingTimer,
		Calm:   func(s State) bool { return s.Loc == waiting },
		React: func(s State, dueNow uint8, moments []Values, out []Next) []Next {
			if s.Loc == waiting {
				return stillWaits(s, dueNow, moments, out)
			}
			out = append(out, Next{State: s})
			if d > 0 && !meets(moments, 1<<0|1<<Quick) || d == 0 && !meets(moments, 1<<0) {
				out = append(out, Next{State{Loc: waiting}, 1 << Y, d == 0})
			}
			return out
		},
	}
}

// stillWaits goes on with a wait, which ends where p is met, or can be at once before it is too late.
func stillWaits(s State, dueNow uint8, moments []Values, out []Next) []Next {
	late := dueNow>>Y&1 == 1
	switch {
	case meets(moments, 1<<0), !late && meets(moments, 1<<Quick):
		return out
	}
	return append(out, Next{State: s, Bad: late})
}

// Reaches observes, from a state of Waits in which it waits, that p comes true within the time that is left.
func Reaches(p *site.Expr, d site.Millis) Observer {
	return Observer{
		Name:   "reaches",
		Exprs:  []*site.Expr{p},
		D:      [2]site.Millis{d},
		Timers: waitingTimer,
		React: func(s State, dueNow uint8, moments []Values, out []Next) []Next {
			switch {
			case s.Loc != waiting:
				return out
			case meets(moments, 1<<0):
				return append(out, Next{State: s, Bad: true})
			case dueNow>>Y&1 == 1:
				return out
			}
			return append(out, Next{State: s})
		},
	}
}

func waitingTimer(s State) uint8 {
	if s.Loc == waiting {
		return 1 << Y
	}
	return 0
}

// meets tells whether at one of the moments one of the truths in mask holds.
func meets(moments []Values, mask Values) bool {
	for _, m := range moments {
		if m&mask != 0 {
			return true
		}
	}
	return false
}

// Later observes that p is true d or more after the last rise of during, while that lasts.
func Later(during, p *site.Expr, d site.Millis) Observer {
	const before, early, late = 0, 1, 2
	return Observer{
		Name:  "later",
		Exprs: []*site.Expr{during, p},
		D:     [2]site.Millis{d},
		Timers: func(s State) uint8 {
			if s.Loc == early {
				return 1 << Y
			}
			return 0
		},
		React: func(s State, dueNow uint8, moments []Values, out []Next) []Next {
			if s.Loc == early && dueNow>>Y&1 == 1 {
				s.Loc = late
			}
			fresh, bad := false, false
			for _, m := range moments {
				switch {
				case !m.Has(0):
					s.Loc = before
				case s.Loc == before && d == 0:
					s.Loc = late
				case s.Loc == before:
					s.Loc, fresh = early, true
				}
				bad = bad || s.Loc == late && m.Has(1)
			}
			return append(out, Next{s, freshY(fresh), bad})
		},
	}
}
