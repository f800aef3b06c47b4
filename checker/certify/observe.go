// Observers: small machines that see a part of a requirement broken (lang/SEMANTICS.md, section 5).

package certify

import "lampwarden/lang/site"

// truth holds, bit by bit, which of a part's expressions are true at a moment.
type truth uint8

func (t truth) has(i int) bool { return t>>i&1 == 1 }

// obsState is what an observer remembers; what the places mean stands in the package comment.
type obsState struct {
	place uint8
	count uint32 // of AtMostTimes: rises so far
	prev  bool   // the expression whose rises count, at the last moment
}

// obsNext is where an observer may be after a step.
type obsNext struct {
	state  obsState
	fresh  [2]bool // timers that start from zero now
	broken bool
}

// observer watches one part.
type observer struct{ part }

func newObserver(p part) observer { return observer{p} }

// timers tells which of the observer's timers run in a state. Timer 0 is due after D, timer 1 after E.
func (o observer) timers(s obsState) [2]bool {
	switch o.form {
	case site.Whenever:
		if o.lasting() {
			return [2]bool{s.place == 1 || s.place == 3, s.place >= 3}
		}
		return [2]bool{s.place == 1}
	case site.LastsAtMost, site.LastsAtLeast, site.AtMostTimes, site.Energy:
		return [2]bool{s.place == 1}
	case site.Settles:
		return [2]bool{s.place == 0}
	}
	return [2]bool{}
}

// next tells the observer of a reaction or of a lamp's move: which of its timers are due, whether there is a cause in it (start-up
// is one), and its moments in order. The state before start-up is the zero one.
//
// A timer that starts in a step and has no length has passed within it.
func (o observer) next(s obsState, due [2]bool, caused bool, moments []truth) []obsNext {
	n := obsNext{state: s}
	switch o.form {
	case site.Never, site.Always, site.Possible:
		for _, m := range moments {
			n.broken = n.broken || m.has(0)
		}
	case site.Whenever:
		switch {
		case o.lasting():
			return o.stays(n, due, moments)
		case o.until():
			return one(o.keeps(n, due, moments))
		}
		return one(o.answers(n, due, moments))
	case site.LastsAtMost:
		return one(o.lastsAtMost(n, due, moments))
	case site.LastsAtLeast:
		return one(o.lastsAtLeast(n, due, moments))
	case site.AtMostTimes:
		return o.counts(n, due, moments)
	case site.OnlyAfter:
		for _, m := range moments {
			if m.has(2) {
				n.state.place = 0
			}
			if m.has(1) {
				n.state.place = 1
			}
			n.broken = n.broken || m.has(0) && n.state.place == 0
		}
	case site.Settles:
		return one(o.settles(n, due, caused, moments))
	case site.Energy:
		return one(o.later(n, due, moments))
	}
	return one(n)
}

func one(n obsNext) []obsNext { return []obsNext{n} }

// enter goes to a place, with the timers that start there.
func (n *obsNext) enter(place uint8, fresh ...int) {
	n.state.place = place
	for _, f := range fresh {
		n.fresh[f] = true
	}
}

// rises tells whether the expression rises at the moment, and remembers its truth.
func (n *obsNext) rises(now bool) bool {
	rise := now && !n.state.prev
	n.state.prev = now
	return rise
}

// passed tells whether timer 0 has reached D by the end of the step.
func (o observer) passed(n obsNext, due [2]bool) bool {
	if n.fresh[0] {
		return o.d[0] == 0
	}
	return due[0]
}

// answers: whenever A then within D B. The oldest open rise has the earliest deadline, and B answers all of them.
func (o observer) answers(n obsNext, due [2]bool, moments []truth) obsNext {
	for _, m := range moments {
		if n.rises(m.has(0)) && n.state.place == 0 {
			n.enter(1, 0)
		}
		if m.has(1) {
			n.state.place, n.fresh[0] = 0, false
		}
	}
	n.broken = n.state.place == 1 && o.passed(n, due)
	return n
}

// keeps: whenever A then within D B until C. The oldest open rise asks for all that later ones ask for, and C ends all. At the
// very time at which D has passed only what is after the reaction counts: its last moment.
func (o observer) keeps(n obsNext, due [2]bool, moments []truth) obsNext {
	for i, m := range moments {
		if n.rises(m.has(0)) && n.state.place == 0 {
			n.enter(1, 0)
		}
		if m.has(2) {
			n.state.place, n.fresh[0] = 0, false
		}
		if last := i == len(moments)-1; last && n.state.place == 1 && o.passed(n, due) {
			n.state.place, n.fresh[0] = 2, false
		}
		n.broken = n.broken || n.state.place == 2 && m.has(1)
	}
	return n
}

// stays: whenever A then within D B for E, perhaps until C, for one rise that is chosen by guess. A stretch of B has until D to
// begin, and then E to last.
func (o observer) stays(n obsNext, due [2]bool, moments []truth) []obsNext {
	if n.state.place >= 3 && due[1] {
		n.state.place = 0 // it has lasted
	}
	all := []obsNext{n}
	for _, m := range moments {
		var next []obsNext
		for _, n := range all {
			if n.rises(m.has(0)) && n.state.place == 0 {
				next = append(next, n) // another rise is the one
				n.enter(1, 0)
			}
			next = append(next, stay(n, m))
		}
		all = next
	}
	for i, n := range all {
		switch {
		case n.state.place == 1 && o.passed(n, due):
			n.broken = true
		case n.state.place == 3 && o.passed(n, due):
			n.state.place, n.fresh[0] = 4, false
		}
		all[i] = n
	}
	return all
}

// stay is one moment of the rise that is followed, if any.
func stay(n obsNext, m truth) obsNext {
	b := m.has(1)
	switch {
	case n.state.place == 0:
	case m.has(2):
		n.state.place, n.fresh = 0, [2]bool{}
	case n.state.place == 1 && b:
		n.enter(3, 1)
	case n.state.place == 3 && !b:
		n.state.place, n.fresh[1] = 1, false
	case n.state.place == 4 && !b:
		n.broken = true
	}
	return n
}

// lastsAtMost: a stretch that is still there after the reaction goes on for some time.
func (o observer) lastsAtMost(n obsNext, due [2]bool, moments []truth) obsNext {
	for _, m := range moments {
		switch {
		case !m.has(0):
			n.state.place, n.fresh[0] = 0, false
		case n.state.place == 0:
			n.enter(1, 0)
		}
	}
	n.broken = n.state.place == 1 && o.passed(n, due)
	return n
}

// lastsAtLeast: a P that has risen stays for D.
func (o observer) lastsAtLeast(n obsNext, due [2]bool, moments []truth) obsNext {
	if n.state.place == 1 && due[0] {
		n.state.place = 2
	}
	for _, m := range moments {
		switch {
		case m.has(0) && n.state.place == 0:
			n.enter(1, 0)
			if o.d[0] == 0 {
				n.state.place, n.fresh[0] = 2, false
			}
		case !m.has(0):
			n.broken = n.broken || n.state.place == 1
			n.state.place, n.fresh[0] = 0, false
		}
	}
	return n
}

// counts: N+1 rises within less than D, the first of them chosen by guess.
func (o observer) counts(n obsNext, due [2]bool, moments []truth) []obsNext {
	if n.state.place == 1 && due[0] {
		n.state.place, n.state.count = 0, 0
	}
	all := []obsNext{n}
	for _, m := range moments {
		var next []obsNext
		for _, n := range all {
			rise := n.rises(m.has(0))
			if rise && n.state.place == 0 && o.d[0] > 0 {
				next = append(next, n) // another rise is the first
				n.enter(1, 0)
			}
			if rise && n.state.place == 1 {
				n.state.count++
				n.broken = n.broken || int64(n.state.count) > int64(o.n)
			}
			next = append(next, n)
		}
		all = next
	}
	return all
}

// settles: later than D after the last cause P does not change. At start-up there is no moment before the first.
func (o observer) settles(n obsNext, due [2]bool, caused bool, moments []truth) obsNext {
	if caused {
		n.enter(0, 0)
	}
	late := n.state.place == 1 // D ago exactly is not later than D
	for _, m := range moments {
		n.broken = n.broken || late && m.has(0) != n.state.prev
		n.state.prev = m.has(0)
	}
	if n.state.place == 0 && o.passed(n, due) {
		n.state.place, n.fresh[0] = 1, false
	}
	return n
}
