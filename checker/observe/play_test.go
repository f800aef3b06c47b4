// Playing an observer on a run written by hand.
//
// A run is a list of points in time, each with the truth of the observer's
// expressions at its moments. The player keeps the observer's timers itself: at
// each point a timer that reaches its duration is due, as the engine has it, and
// where nothing else happens then, a reaction with only that timer is put in.

package observe

import (
	"slices"
	"testing"

	"lampwarden/lang/site"
)

// point is one reaction. Every moment is a word of letters: those of the
// expressions that are true, "a" for the first, "b" for the second, "c" for the
// third. One moment: nothing that an event brings; two: the instant, then after.
type point struct {
	at      site.Millis
	moments []string
}

// at makes a point.
func at(t site.Millis, moments ...string) point { return point{t, moments} }

func valuesOf(word string) (v Values) {
	for _, r := range word {
		v |= 1 << (r - 'a')
	}
	return v
}

// branch is one way that the observer has gone so far.
type branch struct {
	state State
	since [2]site.Millis // when each timer started
}

// deadline is the next time at which a timer of the branch is due, -1 if none runs.
func (b branch) deadline(o *Observer) site.Millis {
	next := site.Millis(-1)
	for i := range o.D {
		if o.Timers(b.state)>>i&1 == 1 && (next < 0 || b.since[i]+o.D[i] < next) {
			next = b.since[i] + o.D[i]
		}
	}
	return next
}

// errorAt plays a run and returns the time of the first error on any branch, -1 if there is none up to the last point.
func errorAt(t *testing.T, o Observer, run []point) site.Millis {
	t.Helper()
	bad := site.Millis(-1)
	var follow func(b branch, run []point, last []Values)
	step := func(b branch, now site.Millis, moments []Values, run []point) {
		var due uint8
		for i := range o.D {
			if o.Timers(b.state)>>i&1 == 1 && b.since[i]+o.D[i] == now {
				due |= 1 << i
			}
		}
		nexts := o.React(b.state, due, moments, nil)
		if len(nexts) == 0 {
			t.Fatal("the observer is stuck")
		}
		for _, n := range nexts {
			if n.Bad {
				if bad < 0 || now < bad {
					bad = now
				}
				continue
			}
			c := branch{n.State, b.since}
			for i := range o.D {
				switch {
				case n.Fresh>>i&1 == 1:
					c.since[i] = now
				case o.Timers(n.State)>>i&1 == 1 && o.Timers(b.state)>>i&1 == 0:
					t.Fatalf("timer %d runs from nowhere: %+v after %+v", i, n, b.state)
				case o.Timers(n.State)>>i&1 == 1 && due>>i&1 == 1 && o.D[i] > 0:
					t.Fatalf("timer %d runs past its time: %+v after %+v", i, n, b.state)
				}
			}
			follow(c, run, moments[len(moments)-1:])
		}
	}
	follow = func(b branch, run []point, last []Values) {
		if len(run) == 0 {
			return
		}
		if d := b.deadline(&o); d >= 0 && d < run[0].at {
			step(b, d, last, run)
			return
		}
		var moments []Values
		for _, w := range run[0].moments {
			moments = append(moments, valuesOf(w))
		}
		step(b, run[0].at, moments, run[1:])
	}
	follow(branch{}, run, nil)
	return bad
}

// played is a run with the time of its error, -1 for none.
type played struct {
	name string
	run  []point
	bad  site.Millis
}

// none marks a run without an error.
const none = site.Millis(-1)

func playAll(t *testing.T, o Observer, runs []played) {
	t.Helper()
	for _, p := range runs {
		if !slices.IsSortedFunc(p.run, func(a, b point) int { return int(a.at - b.at) }) {
			t.Fatalf("%s: the points are not in order", p.name)
		}
		if got := errorAt(t, o, p.run); got != p.bad {
			t.Errorf("%s: error at %d, want %d", p.name, got, p.bad)
		}
	}
}

// letter gives distinct expressions for the observers' arguments; only their number matters here.
func letter(i int) *site.Expr { return &site.Expr{Op: site.OpInput, Input: site.InputID(i)} }
