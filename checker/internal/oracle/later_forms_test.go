// Known verdicts of the forms Settles, CanReturn and Energy, worked out by hand from
// lang/SEMANTICS.md section 5.

package oracle_test

import (
	"testing"

	"lampwarden/checker/internal/oracle"
	"lampwarden/lang/site"
)

func TestSettles(t *testing.T) {
	pulse := func() *site.Site { return build(held(latch(tap()), 2*second)) }
	flashing := func(times int) *site.Site { return build(asks(while(input(sw)), flash(times, second, second))) }
	fading := func() *site.Site {
		return with(build(asks(while(input(sw)), level(site.Full))), func(s *site.Site) { s.Circuits[0].Fade = 2 * second })
	}
	daily := func() *site.Site { return build(at(8*hour, 4*hour)) }
	banded := func() *site.Site {
		s := build(delayed(while(&site.Expr{Op: site.OpBand}), 4*hour, 0))
		s.Bands = []site.Band{{Name: "b", From: 8 * hour, To: 16 * hour}}
		return s
	}
	jumping := banded()
	jumping.Jumps = []site.Jump{{At: 12 * hour, By: -8 * hour}}
	keyed, switched := site.Causes{Inputs: []site.InputID{key}}, site.Causes{Inputs: []site.InputID{sw}}
	decide(t, []known{
		{"2 s after the tap", pulse(), settles(mode(0), 2*second, keyed), holds},
		{"not before", pulse(), settles(mode(0), second, keyed), broken},
		{"nothing else may move it", pulse(), settles(mode(0), 2*second, switched), broken},
		{"two flashes are over after 3 s", flashing(2), settles(lit(), 3*second, switched), holds},
		{"not after 2 s", flashing(2), settles(lit(), 2*second, switched), broken},
		{"flashes without end never are", flashing(0), settles(lit(), 30*second, switched), broken},
		{"a lamp's move counts", fading(), settles(atFull(), second, switched), broken},
		{"until the fade is over", fading(), settles(atFull(), 2*second, switched), holds},
		{"a clock time is a cause", daily(), settles(mode(0), 4*hour, site.Causes{Modes: []site.ModeID{0}}), holds},
		{"of the modes that are listed", daily(), settles(mode(0), 4*hour, keyed), broken},
		{"so is the end of a band", banded(), settles(mode(0), 4*hour, site.Causes{Bands: []site.BandID{0}}), holds},
		{"of those that are listed", banded(), settles(mode(0), 4*hour, keyed), broken},
		{"and a jump", jumping, settles(mode(0), 4*hour, site.Causes{Bands: []site.BandID{0}}), holds},
	})
}

func TestCanReturn(t *testing.T) {
	off := not(mode(0))
	for_ := func(d site.Millis) *site.Site { return build(held(latch(tap()), d)) }
	spaced := assuming(build(), site.Assumption{Kind: site.Spacing, Inputs: []site.InputID{key}, D: 3 * second})
	two := build(latch(tap(), site.Trigger{On: input(sw), If: input(sw2)}))
	slow := assuming(build(latch(tap(), site.Trigger{On: input(sw), If: input(sw2)})),
		site.Assumption{Kind: site.Spacing, Inputs: []site.InputID{sw, sw2}, D: 2 * second})
	// sw stays for 1 s at least, and sw2 may not be on together with it.
	hindered := assuming(build(), site.Assumption{Kind: site.AtMost, Inputs: []site.InputID{sw, sw2}, N: 1},
		site.Assumption{Kind: site.Dwell, Inputs: []site.InputID{sw}, Value: true, D: second})
	decide(t, []known{
		{"a latch without an end stays", build(latch(tap())), canReturn(off, 9*second), broken},
		{"with one it can be ended", build(latch(tap(), site.Trigger{On: input(sw)})), canReturn(off, second), holds},
		{"by itself in 2 s", for_(2 * second), canReturn(off, 2*second), holds},
		{"not sooner", for_(2 * second), canReturn(off, second), broken},
		{"an instant counts", spaced, canReturn(tap(), 3*second), holds},
		{"and is over", spaced, canReturn(tap(), 2*second), broken},
		{"two changes have room in a second", two, canReturn(off, second), holds},
		{"unless they are spaced", slow, canReturn(off, 4*second), broken},
		{"sw off, sw2 on, sw on", slow, canReturn(off, 6*second), holds},
		{"an input of no other part may be in the way", hindered, canReturn(input(sw2), second), broken},
		{"not for ever", hindered, canReturn(input(sw2), 2*second), holds},
		{"what is impossible never comes", build(), canReturn(and(tap(), not(tap())), 9*second), broken},
		{"what always holds needs no time", build(), canReturn(not(and(tap(), not(tap()))), 0), holds},
	})
}

func TestEnergy(t *testing.T) {
	pulse := func(spacing, fade site.Millis, l site.Level) *site.Site {
		s := assuming(build(asks(held(latch(tap()), 2*second), level(l))),
			site.Assumption{Kind: site.Spacing, Inputs: []site.InputID{key}, D: spacing})
		s.Circuits[0].Fade = fade
		return s
	}
	quick := func() *site.Site { return pulse(4*second, 0, site.Full) }
	standing := energy(2002, 2*second, mode(0))
	standing.Standing = 3600 // 1 mWh a second
	over := standing
	over.Limit = 2001
	none := energy(0, 9*second, nil)
	late := build(asks(delayed(while(input(sw)), 2*second, 0), level(site.Full)))
	decide(t, []known{
		{"2 s at full use 2 Wh", quick(), energy(2000, 3*second, nil), holds},
		{"and not less", quick(), energy(1999, 3*second, nil), broken},
		{"two pulses in 6 s", quick(), energy(4000, 6*second, nil), holds},
		{"", quick(), energy(3900, 6*second, nil), broken},
		{"or one and a half", quick(), energy(2900, 5*second, nil), broken},
		{"while the mode is active", quick(), energy(2000, 9*second, mode(0)), holds},
		{"no longer than D", quick(), energy(1000, second, mode(0)), holds},
		{"from its start", quick(), energy(1500, 9*second, mode(0)), broken},
		{"nothing before it starts", quick(), energy(0, 9*second, not(mode(0))), holds},
		{"with a standing load", quick(), standing, holds},
		{"that counts", quick(), over, broken},
		{"a fade counts as its next rest: 2 s up and 2 s down", pulse(9*second, 2*second, 3000), energy(1200, 6*second, nil), holds},
		{"the way down, too", pulse(9*second, 2*second, 3000), energy(950, 6*second, nil), broken},
		{"only once for a rise", late, energy(0, 2*second, input(sw)), holds},
		{"however long it lasts", late, energy(900, 4*second, input(sw)), broken},
		{"no light, no energy", build(), none, holds},
	})
}

// TestReturnsAgainstTicks: what no run returns from with few ticks may have one with more.
func TestReturnsAgainstTicks(t *testing.T) {
	// Three changes of sw2 are needed in a second.
	m := site.Mode{Name: "m", Kind: site.States, States: []site.State{{Name: "a"}, {Name: "b"}, {Name: "c"}, {Name: "d"}},
		Transitions: []site.Transition{{From: 0, To: 1, Trigger: site.Trigger{On: tap()}}, {From: 1, To: 2, Trigger: site.Trigger{On: tap()}},
			{From: 2, To: 3, Trigger: site.Trigger{On: tap()}}, {From: 3, To: 0, Trigger: site.Trigger{On: tap()}}}}
	s, r := build(m), canReturn(state(0, 0), second)
	for ticks, want := range map[int]oracle.Verdict{2: broken, 4: holds} {
		res, err := oracle.Check(t.Context(), s, &r, oracle.Options{TicksPerUnit: ticks})
		answer(t, want)(res, err)
	}
	if res, err := oracle.Compare(t.Context(), s, &r, holds, oracle.Options{TicksPerUnit: 2}); err != nil || res.Ticks != 4 {
		t.Errorf("compared: %v with %d ticks, %v", res.Verdict, res.Ticks, err)
	}
}
