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
