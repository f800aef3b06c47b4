// Limits that are passed by one tick only: the shortest overrun that a tick can
// show must count.

package oracle_test

import (
	"testing"

	"lampwarden/lang/site"
)

// relay has a first latch of 1 s and a second one of 1 s that starts while the
// first is active: together they last 1 s or 1.5 s (with ticks of half a
// second), and then rest for a while.
func relay() *site.Site {
	first := latch(input(sw))
	first.For = second
	next := latch(input(sw2))
	next.Starts[0].If = mode(0)
	next.For = second
	return assuming(build(first, next),
		site.Assumption{Kind: site.Spacing, Inputs: []site.InputID{sw}, D: 4 * second},
		site.Assumption{Kind: site.Spacing, Inputs: []site.InputID{sw2}, D: 4 * second})
}

func TestOverrunOfOneTick(t *testing.T) {
	either := func() *site.Expr { return &site.Expr{Op: site.OpOr, Kids: []*site.Expr{mode(0), mode(1)}} }
	rest := func() *site.Expr { return not(either()) }
	decide(t, []known{
		{"lasts at most", relay(), atMost(either(), second), broken},
		{"lasts at most, enough", relay(), atMost(either(), 2*second), holds},
		{"within", relay(), whenever(mode(0), second, rest()), broken},
		{"within, enough", relay(), whenever(mode(0), 2*second, rest()), holds},
		{"until", relay(), until(whenever(mode(0), second, rest()), rest()), broken},
		{"until, enough", relay(), until(whenever(mode(0), 2*second, rest()), rest()), holds},
		{"for", relay(), lasting(whenever(mode(0), second, rest()), second), broken},
		{"for, enough", relay(), lasting(whenever(mode(0), 2*second, rest()), second), holds},
	})
}

// TestSameTime has conditions that are false at the instant of a tap and true
// after it, at the very end of the time allowed.
func TestSameTime(t *testing.T) {
	m := latch(tap())
	m.For = 3 * second
	apart := func(d site.Millis) *site.Site {
		return assuming(build(m), site.Assumption{Kind: site.Spacing, Inputs: []site.InputID{key}, D: d})
	}
	s := func() *site.Site { return apart(3 * second) }
	after := and(mode(0), not(tap()))
	decide(t, []known{
		{"within no time, after the instant", s(), whenever(tap(), 0, after), holds},
		{"for 3 s from after the instant", s(), lasting(whenever(tap(), 0, after), 3*second), holds},
		{"only the state after the reaction counts at the deadline", apart(4 * second), until(whenever(tap(), 0, after), not(mode(0))), holds},
		{"later each instant counts", s(), until(whenever(tap(), 0, after), not(mode(0))), broken},
		{"and taps that find it active are none", s(), until(whenever(tap(), 0, mode(0)), not(mode(0))), holds},
	})
}

// TestShortByOneTick has a hold that is 1.5 s at least, where 2 s are demanded,
// and that begins only after the rise.
func TestShortByOneTick(t *testing.T) {
	tr := func(from, to int, on *site.Expr, after site.Millis) site.Transition {
		return site.Transition{From: from, To: to, After: after, Trigger: site.Trigger{On: on}}
	}
	m := site.Mode{Name: "m", Kind: site.States, States: []site.State{{Name: "a"}, {Name: "b"}, {Name: "c"}},
		Transitions: []site.Transition{tr(0, 1, input(sw), 0), tr(1, 2, nil, second), tr(2, 0, tap(), 0)}}
	// Not in the reaction in which it comes: c would not be seen.
	m.Transitions[2].Trigger.If = &site.Expr{Op: site.OpWas, Kids: []*site.Expr{state(0, 2)}}
	hold := while(state(0, 2))
	hold.OffDelay = second
	decide(t, []known{
		{"not 2 s", build(m, hold), lasting(whenever(state(0, 1), second, mode(1)), 2*second), broken},
		{"but 1 s", build(m, hold), lasting(whenever(state(0, 1), second, mode(1)), second), holds},
	})
}
