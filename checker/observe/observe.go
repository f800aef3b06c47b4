// Package observe turns a requirement into an observer: a small machine that
// runs beside the site and reaches an error exactly when the requirement is
// broken (lang/SEMANTICS.md, section 5), so that every requirement becomes a
// question of reachability (observer automata: one clock each; the patterns are
// those of Dwyer, Avrunin and Corbett 1999, the real-time forms those of Konrad
// and Cheng 2005).
//
// An observer sees moments: truth values of its expressions at the instant of a
// reaction, after it, and at each lamp movement. Its timers are due timers like
// those of the modes: when one reaches its duration, a reaction happens.
//
// Two forms need a guess, because obligations of several rises overlap:
// "whenever ... for E" and "at most N times". There the observer branches at
// each rise between following it and waiting for a later one; some branch
// follows the rise that is broken, if there is one.
//
// Naming key: loc is the observer's location, y its first timer, z its second.
package observe

import "lampwarden/lang/site"

// Values holds the truth of an observer's expressions at one moment, bit i for
// expression i of Observer.Exprs.
type Values uint8

// Has tells the truth of expression i.
func (v Values) Has(i int) bool { return v>>i&1 == 1 }

// Timer indices; bit sets of timers use 1<<Y and 1<<Z.
const (
	Y = 0
	Z = 1
)

// Caused, beside the timers that are due, says that the reaction has one of the observer's Causes.
const Caused uint8 = 1 << 7

// State is an observer's discrete state. The zero State is the one before
// start-up.
type State struct {
	Loc   uint8
	Count uint32 // rises in the window, of "at most N times"
	Prev  bool   // the rising expression at the last moment
}

// Next is one way an observer can go on.
type Next struct {
	State State
	Fresh uint8 // timers that start from zero now
	Bad   bool  // the requirement is broken (or the goal is reached)
}

// Reads gives expressions that name what the observer reads beside Exprs: what happens by the clock of its causes.
func (o *Observer) Reads() (out []*site.Expr) {
	if o.Causes == nil {
		return nil
	}
	for _, b := range o.Causes.Bands {
		out = append(out, &site.Expr{Op: site.OpBand, Band: b})
	}
	for _, m := range o.Causes.Modes {
		out = append(out, &site.Expr{Op: site.OpMode, Mode: m})
	}
	return out
}

// Observer is a requirement's machine.
type Observer struct {
	// Name and N tell observers apart: two with equal names, N and times react alike.
	Name  string
	N     int
	Exprs []*site.Expr
	// React gives the ways to go on from s in one reaction with the given timers
	// due and the given moments (one or two), in a fixed order.
	React func(s State, due uint8, moments []Values, out []Next) []Next
	// Timers gives the bit set of timers that run in s.
	Timers func(s State) uint8
	// D is each timer's duration.
	D [2]site.Millis
	// Causes, if set, are the causes from outside of which React is told.
	Causes *site.Causes
	// Calm, if set, tells in which states the environment does nothing.
	Calm func(s State) bool
	// Quick asks for the truth with that index.
	Quick bool
	// Began, if set, is a mode; the truth with index Begins tells whether it became active.
	Began *site.ModeID
}

// noTimers is the Timers of observers without timers.
func noTimers(State) uint8 { return 0 }

// Goal reaches its goal when p is true at some moment: the observer of
// "never p" and of "p is possible".
func Goal(p *site.Expr) Observer {
	return Observer{
		Name:   "goal",
		Exprs:  []*site.Expr{p},
		Timers: noTimers,
		React: func(s State, _ uint8, moments []Values, out []Next) []Next {
			bad := false
			for _, m := range moments {
				bad = bad || m.Has(0)
			}
			return append(out, Next{State: s, Bad: bad})
		},
	}
}

// Rise reaches its goal when a comes true.
func Rise(a *site.Expr) Observer {
	return Observer{
		Name:   "rise",
		Exprs:  []*site.Expr{a},
		Timers: noTimers,
		React: func(s State, _ uint8, moments []Values, out []Next) []Next {
			bad := false
			for _, m := range moments {
				bad = bad || m.Has(0) && !s.Prev
				s.Prev = m.Has(0)
			}
			return append(out, Next{State: s, Bad: bad})
		},
	}
}

// None observes nothing; findings that the machine itself marks use it.
func None() Observer {
	return Observer{
		Name:   "none",
		Timers: noTimers,
		React: func(s State, _ uint8, _ []Values, out []Next) []Next {
			return append(out, Next{State: s})
		},
	}
}
