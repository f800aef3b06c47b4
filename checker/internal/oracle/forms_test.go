// Known verdicts of every form, with the exact boundaries. All are worked out
// by hand from lang/SEMANTICS.md.

package oracle_test

import (
	"testing"

	"lampwarden/checker/internal/oracle"
	"lampwarden/lang/site"
)

const (
	holds     = oracle.Holds
	broken    = oracle.Broken
	witness   = oracle.Witness
	noWitness = oracle.NoWitness
)

func TestDurations(t *testing.T) {
	hold := while(input(sw))
	hold.OffDelay = 2 * second
	pulse := while(input(sw))
	pulse.Pulse = 2 * second
	decide(t, []known{
		{"a hold of 2 s lasts 2 s at least", build(hold), atLeast(mode(0), 2*second), holds},
		{"but not 2.5 s", build(hold), atLeast(mode(0), 2500), broken},
		{"a hold has no end while the switch stays on", build(hold), atMost(mode(0), 9*second), broken},
		{"a pulse of 2 s lasts 2 s at most", build(pulse), atMost(mode(0), 2*second), holds},
		{"and not 1 s at most", build(pulse), atMost(mode(0), second), broken},
		{"and 2 s at least", build(pulse), atLeast(mode(0), 2*second), holds},
		{"and not 3 s at least", build(pulse), atLeast(mode(0), 3*second), broken},
	})
}

func TestWhenever(t *testing.T) {
	delay := while(input(sw))
	delay.OnDelay = 2 * second
	hold := while(input(sw))
	hold.OffDelay = 3 * second
	decide(t, []known{
		{"an on delay of 2 s is over after 2 s", build(delay), until(whenever(input(sw), 2*second, mode(0)), not(input(sw))), holds},
		{"and not after 1 s", build(delay), until(whenever(input(sw), second, mode(0)), not(input(sw))), broken},
		{"without until the switch may go off first", build(delay), whenever(input(sw), 2*second, mode(0)), broken},
		{"a hold is there at once", build(hold), whenever(input(sw), 0, mode(0)), holds},
		{"until demands it for good", build(hold), until(whenever(input(sw), 0, mode(0)), tap()), broken},
		{"and until it ends by itself it is kept", build(hold), until(whenever(input(sw), 0, mode(0)), not(mode(0))), holds},
		{"a hold of 3 s lasts 3 s", build(hold), lasting(whenever(input(sw), 0, mode(0)), 3*second), holds},
		{"and not 4 s", build(hold), lasting(whenever(input(sw), 0, mode(0)), 4*second), broken},
		{"nor 4 s later", build(hold), lasting(whenever(input(sw), second, mode(0)), 4*second), broken},
		{"unless the switch going off ends the duty", build(hold),
			until(lasting(whenever(input(sw), 0, mode(0)), 4*second), not(input(sw))), holds},
	})
}

// TestWheneverFor has a latch of 3 s that ignores taps while it is active.
func TestWheneverFor(t *testing.T) {
	m := latch(tap())
	m.For = 3 * second
	apart := func(d site.Millis) *site.Site {
		return assuming(build(m), site.Assumption{Kind: site.Spacing, Inputs: []site.InputID{key}, D: d})
	}
	r := lasting(whenever(tap(), 0, mode(0)), 3*second)
	decide(t, []known{
		{"a second tap is not answered for 3 s", build(m), r, broken},
		{"nor one after 2 s", apart(2 * second), r, broken},
		{"one after 3 s ends and starts the latch in one reaction", apart(3 * second), r, holds},
		{"which makes no gap", apart(3 * second), atMost(mode(0), 3*second), broken},
		{"one after 4 s makes one", apart(4 * second), atMost(mode(0), 3*second), holds},
		{"a tap in the first second waits for the next start", apart(2 * second),
			lasting(whenever(tap(), second, mode(0)), second), broken},
		{"a tap between 2 s and 3 s after the start has less than 1 s left", apart(2 * second),
			lasting(whenever(tap(), 0, mode(0)), second), broken},
	})
}

func TestAtMostTimes(t *testing.T) {
	pulse := while(input(sw))
	pulse.Pulse = second
	signal := latch(tap())
	signal.For = 6 * second
	signal = asks(signal, flash(3, second, second))
	decide(t, []known{
		{"a pulse of 1 s comes once a second", build(pulse), times(1, mode(0), second), holds},
		{"twice in 2 s", build(pulse), times(1, mode(0), 2*second), broken},
		{"not thrice in 2 s", build(pulse), times(2, mode(0), 2*second), holds},
		{"thrice in 3 s", build(pulse), times(2, mode(0), 3*second), broken},
		{"flashes at 0, 2, 4 s: the third is 4 s after the first", build(signal), times(2, light(1, site.Full), 4*second), holds},
		{"which is within 5 s", build(signal), times(2, light(1, site.Full), 5*second), broken},
		{"events count, too", build(), times(2, tap(), second), broken},
	})
}

func TestOnlyAfter(t *testing.T) {
	a := latch(input(sw))
	guarded := latch(tap())
	guarded.Starts[0].If = mode(0)
	free := latch(tap())
	decide(t, []known{
		{"B starts only if A is active", build(a, guarded), onlyAfter(mode(1), mode(0), nil), holds},
		{"B starts by itself", build(a, free), onlyAfter(mode(1), mode(0), nil), broken},
		{"at one moment since counts before Q", build(a, guarded), onlyAfter(mode(1), mode(0), tap()), holds},
		{"Q before R does not count", build(a, guarded), onlyAfter(mode(1), input(sw), tap()), broken},
	})
}

func TestStatesOfAMode(t *testing.T) {
	machine := func(trs ...site.Transition) site.Mode {
		short, rest := level(3000), level(6000)
		short.For = second
		return site.Mode{Name: "m", Kind: site.States, Transitions: trs,
			States: []site.State{{Name: "a"}, {Name: "b", Stages: []site.Stage{short, rest}}}}
	}
	toB := site.Transition{Trigger: site.Trigger{On: tap()}, From: site.None, To: 1}
	slow := site.Transition{After: second, From: 0, To: 1}
	back := site.Transition{After: 2 * second, From: 1, To: 0}
	anew := site.Transition{Trigger: site.Trigger{On: tap()}, From: 1, To: 1}
	lost := site.Transition{After: 2 * second, From: 1, To: 0, Trigger: site.Trigger{If: input(sw)}}
	first := site.Transition{After: 2 * second, From: 0, To: 1}
	decide(t, []known{
		{"from every state is not from its target", build(machine(toB, back)), atMost(stage(0, 0), second), holds},
		{"a written self-transition starts its timers again", build(machine(toB, back, anew)), atMost(stage(0, 0), second), broken},
		{"its timer ends it", build(machine(slow, back)), atMost(state(0, 1), 2*second), holds},
		{"a tap as it leaves enters it again in one reaction", build(machine(toB, back)), atMost(state(0, 1), 2*second), broken},
		{"and anew", build(machine(toB, back)), until(whenever(stage(0, 1), second, stage(0, 0)), not(mode(0))), broken},
		{"a timer whose guard fails is lost", build(machine(toB, lost)), atMost(state(0, 1), 9*second), broken},
		{"the first state's timer runs from start-up", build(machine(first)), atMost(state(0, 0), 2*second), holds},
		{"and is not over before", build(machine(first)), atLeast(state(0, 0), 2*second), holds},
		{"nor later", build(machine(first)), atMost(state(0, 0), second), broken},
	})
}

func TestWas(t *testing.T) {
	a := latch(tap())
	b := latch(and(tap(), &site.Expr{Op: site.OpWas, Kids: []*site.Expr{mode(0)}}))
	s := build(a, b)
	decide(t, []known{
		{"the first tap finds A inactive before", s, never(and(mode(0), mode(1))), broken},
		{"a tap starts A without B", s, possible(and(mode(0), not(mode(1)))), witness},
		{"B never without A", s, possible(and(mode(1), not(mode(0)))), noWitness},
	})
	r := never(mode(1))
	res, err := oracle.Check(t.Context(), s, &r, oracle.Options{})
	if err != nil || len(res.Run) != 3 {
		t.Errorf("the shortest run to B is %+v (%v), want start-up and two taps", res.Run, err)
	}
}
