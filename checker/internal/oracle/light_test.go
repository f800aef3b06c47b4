// Known verdicts about lamps, requests, assumptions and clock times, worked out
// by hand from lang/SEMANTICS.md.

package oracle_test

import (
	"testing"

	"lampwarden/lang/site"
)

func lit() *site.Expr    { return light(1, site.Full) }
func atFull() *site.Expr { return light(site.Full, site.Full) }

func TestLamps(t *testing.T) {
	fading := build(asks(while(input(sw)), level(site.Full)))
	fading.Circuits[0].Fade = 2 * second
	instant := build(asks(while(input(sw)), level(site.Full)))
	slow := build(asks(while(input(sw)), level(site.Full)))
	slow.Circuits[0].Switched = true
	slow.Controller.ReactsWithin = 2 * second
	once := build(asks(latch(input(sw)), level(site.Full)))
	once.Circuits[0].Fade = 2 * second
	fed := build(asks(while(input(sw)), level(site.Full)))
	fed.Circuits[0].FedBy, fed.Circuits[0].Dead = 0, fed.FeedDead(0)
	fed.Circuits[0].Fade = 2 * second
	low := build(asks(while(input(sw)), level(500)))
	low.Circuits[0].Min, low.Circuits[0].Max = 1000, 8000
	between := light(1000, 2000)
	decide(t, []known{
		{"a fade of 2 s is over after 2 s", fading, until(whenever(input(sw), 2*second, atFull()), not(input(sw))), holds},
		{"and not after 1 s", fading, until(whenever(input(sw), second, atFull()), not(input(sw))), broken},
		{"on the way it is anywhere", fading, possible(between), witness},
		{"without a fade it is not", instant, possible(between), noWitness},
		{"a switched lamp never is", slow, possible(between), noWitness},
		{"but it may be late", slow, until(whenever(input(sw), second, lit()), not(input(sw))), broken},
		{"or early", slow, possible(and(lit(), input(sw))), witness},
		{"a lamp may still be lit after the switch is off", slow, possible(and(lit(), not(input(sw)))), witness},
		{"it does not go back on the way up", once, atLeast(lit(), 9*second), holds},
		{"no light without a feed", fed, never(and(lit(), input(mains))), holds},
		{"and a fade again when it is back", fed, never(and(not(atFull()), input(sw), not(input(mains)))), broken},
		{"a low level is raised to the lamp's least", low, possible(light(1000, 1000)), witness},
		{"and nothing lower is seen", low, possible(light(1, 999)), noWitness},
	})
}

// TestNewRequestOnTheWay: a fade starts anew, a mere reaction time does not.
func TestNewRequestOnTheWay(t *testing.T) {
	made := func() *site.Site {
		s := build(asks(latch(input(sw)), level(3000)), asks(while(input(sw2)), level(site.Full)))
		s.Precedence.Above[1][0] = true
		return s
	}
	fading, slow := made(), made()
	fading.Circuits[0].Fade = 2 * second
	slow.Controller.ReactsWithin = 2 * second
	there := &site.Expr{Op: site.OpOr, Kids: []*site.Expr{light(3000, 3000), atFull()}}
	decide(t, []known{
		{"a fade starts anew", fading, whenever(mode(0), 2*second, there), broken},
		{"without a fade the due time is kept", slow, whenever(mode(0), 2*second, there), holds},
		{"and no more", slow, whenever(mode(0), second, there), broken},
	})
}

func TestRequests(t *testing.T) {
	a, b := asks(while(input(sw)), level(3000)), asks(while(input(sw2)), level(6000))
	above := build(a, b)
	above.Precedence.Above[0][1] = true
	latest := func() *site.Site {
		return rule(build(asks(latch(input(sw)), level(3000)), asks(latch(input(sw2)), level(6000))), site.Latest)
	}
	both := and(input(sw), input(sw2))
	chosen := assuming(build(asks(while(input(sw)), level(3000)), asks(while(input(sw)), level(6000)), while(input(sw2))),
		site.Assumption{Kind: site.Dwell, Inputs: []site.InputID{sw}, Value: true, D: second},
		site.Assumption{Kind: site.Spacing, Inputs: []site.InputID{sw}, D: second})
	quick := and(light(3000, 3000), &site.Expr{Op: site.OpAtMost, N: 1, Kids: []*site.Expr{mode(2)}})
	decide(t, []known{
		{"the one above wins", above, never(and(both, not(light(3000, 3000)))), holds},
		{"the highest wins", rule(build(a, b), site.Highest), never(and(both, not(light(6000, 6000)))), holds},
		{"of two latches the later one wins: the first", latest(), possible(and(mode(0), mode(1), light(3000, 3000))), witness},
		{"or the second", latest(), possible(and(mode(0), mode(1), light(6000, 6000))), witness},
		{"without a rule either may be chosen: the one", build(a, b), possible(and(both, light(3000, 3000))), witness},
		{"or the other", build(a, b), possible(and(both, light(6000, 6000))), witness},
		{"but nothing else", build(a, b), possible(and(both, not(light(3000, 3000)), not(light(6000, 6000)))), noWitness},
		{"a choice does not change with another mode", chosen, times(1, quick, second), holds},
	})
}

func TestSequence(t *testing.T) {
	one, two := level(3000), level(6000)
	one.For = 2 * second
	two.For = second
	m := asks(while(input(sw)), one, two)
	cases := asks(while(input(sw)), site.Stage{Settings: []site.Setting{
		{Circuits: []site.CircuitID{lamp}, Cases: []site.Case{{Level: 2000}}},
		{Circuits: []site.CircuitID{lamp}, Cases: []site.Case{{When: input(sw2), Level: 4000}, {When: input(mains), Level: 5000}}},
	}})
	decide(t, []known{
		{"the first stage lasts 2 s", build(m), atMost(light(3000, 3000), 2*second), holds},
		{"the second 1 s", build(m), atMost(light(6000, 6000), second), holds},
		{"it comes after the first", build(m), onlyAfter(stage(0, 1), stage(0, 0), not(mode(0))), holds},
		{"then nothing is asked for", build(m), possible(and(mode(0), light(0, 0))), witness},
		{"a later setting counts if a case holds", build(cases), never(and(input(sw), input(sw2), not(light(4000, 4000)))), holds},
		{"its first case", build(cases), never(light(5000, 5000)), broken},
		{"else the earlier setting", build(cases), possible(light(2000, 2000)), witness},
	})
}

func TestAssumptions(t *testing.T) {
	spaced := assuming(build(), site.Assumption{Kind: site.Spacing, Inputs: []site.InputID{key}, D: 2 * second})
	dwell := assuming(build(), site.Assumption{Kind: site.Dwell, Inputs: []site.InputID{sw}, Value: true, D: 2 * second})
	one := assuming(build(), site.Assumption{Kind: site.AtMost, Inputs: []site.InputID{sw, sw2}, N: 1})
	decide(t, []known{
		{"exactly apart is allowed", spaced, times(1, tap(), 2*second), holds},
		{"and not demanded longer", spaced, times(1, tap(), 3*second), broken},
		{"a value of start-up may end at any time", dwell, atLeast(input(sw), 2*second), broken},
		{"later ones last", dwell, times(2, input(sw), 2*second), holds},
		{"and no longer", dwell, times(2, input(sw), 3*second), broken},
		{"at most one", one, never(and(input(sw), input(sw2))), holds},
		{"without it both", build(), never(and(input(sw), input(sw2))), broken},
	})
}

// TestDay has a day of four units of six hours.
func TestDay(t *testing.T) {
	late := &site.Expr{Op: site.OpBand}
	band := func(s *site.Site) *site.Site {
		s.Bands = []site.Band{{Name: "late", From: 18 * hour, To: 6 * hour}}
		return s
	}
	morning := site.Mode{Name: "m", Kind: site.Latch, Starts: []site.Trigger{{At: 6 * hour}}, For: 6 * hour}
	night := latch(tap(), site.Trigger{At: 6 * hour})
	decide(t, []known{
		{"a band past midnight is 12 h long", band(build(while(late))), atMost(mode(0), 12*hour), holds},
		{"and not 6 h", band(build(while(late))), atMost(mode(0), 6*hour), broken},
		{"the morning starts as the band ends", band(build(morning)), never(and(mode(0), late)), holds},
		{"it does start", band(build(morning)), possible(mode(0)), witness},
		{"a start-up in daylight has missed it", band(build(morning)), whenever(not(late), 0, mode(0)), broken},
		{"the end by clock, then the tap starts it again", build(night), whenever(tap(), 0, mode(0)), holds},
		{"a night has an end", build(night), atMost(mode(0), 24*hour), broken},
		{"but for a tap at that instant", assuming(build(night), site.Assumption{Kind: site.Spacing,
			Inputs: []site.InputID{key}, D: 36 * hour}), atMost(mode(0), 24*hour), holds},
	})
}
