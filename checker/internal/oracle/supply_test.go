// Known verdicts about feeds, failure and power on levels, and a controller that
// is down, worked out by hand from lang/SEMANTICS.md section 2.

package oracle_test

import (
	"testing"

	"lampwarden/lang/site"
)

func levelOf(l site.Level) *site.Level { return &l }

func TestFeeds(t *testing.T) {
	full := func() site.Mode { return asks(while(input(sw)), level(site.Full)) }
	// The generator runs 2 s after the mains is lost.
	generator := func() *site.Site {
		s := build(plant(delayed(while(input(mains)), 2*second, 0)), full())
		return dead(s, and(input(mains), not(mode(0))))
	}
	// The lamp comes back 2 s after the mains.
	staged := func() *site.Site {
		return dead(build(plant(delayed(while(input(mains)), 0, 2*second)), full()), mode(0))
	}
	returning := func(reacts site.Millis) *site.Site { // nothing asks for light
		s := dead(reacting(build(while(input(sw))), reacts), input(mains))
		s.Circuits[0].PowerOn = levelOf(3000)
		return s
	}
	at30 := light(3000, 3000)
	darkOn := func(d site.Millis) site.Requirement { return atMost(and(input(sw), input(mains), not(lit())), d) }
	darkBack := func(d site.Millis) site.Requirement { return atMost(and(input(sw), not(input(mains)), not(lit())), d) }
	decide(t, []known{
		{"no light until the generator runs", generator(), never(and(lit(), input(mains), not(mode(0)))), holds},
		{"then there is", generator(), darkOn(2 * second), holds},
		{"not before", generator(), darkOn(second), broken},
		{"staged return", staged(), darkBack(2 * second), holds},
		{"takes its time", staged(), darkBack(second), broken},
		{"a power on level gives way at once", returning(0), possible(at30), noWitness},
		{"or within the time to react", returning(second), possible(at30), witness},
		{"which is not long", returning(second), atMost(at30, second), holds},
		{"nothing is dead before start-up", returning(second), onlyAfter(lit(), input(mains), nil), holds},
	})
}

func TestCutOff(t *testing.T) {
	made := func(change func(*site.Circuit)) *site.Site {
		s := build(asks(while(input(sw)), level(site.Full)))
		s.Circuits[0].Cut, s.Circuits[0].Dead = input(sw2), input(mains)
		if change != nil {
			change(&s.Circuits[0])
		}
		return s
	}
	failing := func(c *site.Circuit) { c.Fail = levelOf(3000) }
	fading := func(c *site.Circuit) { c.Fade = 2 * second }
	powered := func(c *site.Circuit) { c.PowerOn = levelOf(3000) }
	both := func(c *site.Circuit) { c.PowerOn, c.Fail = levelOf(3000), levelOf(6000) }
	at30, cut := light(3000, 3000), input(sw2)
	decide(t, []known{
		{"the failure level is taken at once", made(failing), never(and(cut, not(input(mains)), not(at30))), holds},
		{"but not without a feed", made(failing), never(and(input(mains), lit())), holds},
		{"and left at once", made(failing), never(and(not(cut), at30)), holds},
		{"without one a lamp stays as it is", made(nil), possible(and(cut, lit(), not(input(sw)))), witness},
		{"nor can it be switched on", made(nil), onlyAfter(lit(), not(cut), input(mains)), holds},
		{"once the controller is back it goes off", made(nil), never(and(not(cut), lit(), not(input(sw)))), holds},
		{"a fade goes on to its aim", made(fading), atMost(and(cut, light(1, 9999)), 2*second), holds},
		{"in its time", made(fading), atMost(and(cut, light(1, 9999)), second), broken},
		{"the power on level stays while cut", made(powered), atMost(at30, 9*second), broken},
		{"and no longer", made(powered), never(and(at30, not(cut))), holds},
		{"the failure level goes before it", made(both), possible(at30), noWitness},
	})
}

func TestDown(t *testing.T) {
	tapped := func(keeps bool) *site.Site { return down(build(latch(tap())), keeps) }
	timed := func(keeps bool) *site.Site { // a tap at the very end does not start it again
		m := held(latch(tap()), 2*second)
		m.Starts[0].If = not(&site.Expr{Op: site.OpWas, Kids: []*site.Expr{mode(0)}})
		return down(build(m), keeps)
	}
	// Mode 0 is active once the controller has been down, which it is not twice within 5 s. After that mode 1 does not start.
	before := held(latch(tap()), 2*second)
	before.Starts[0].If = not(mode(0))
	again := build(plant(latch(input(sw2))), before)
	down(assuming(again, site.Assumption{Kind: site.Spacing, Inputs: []site.InputID{sw2}, D: 5 * second}), true)
	lasting := func(keeps bool) *site.Site { return down(build(latch(input(sw))), keeps) }
	waiting := func(keeps bool) *site.Site { return down(build(delayed(while(input(sw)), 2*second, 0)), keeps) }
	booting := build(plant(delayed(while(input(sw2)), 0, 2*second)), asks(while(input(sw)), level(site.Full)))
	booting.Controller.Down = mode(0)
	awake := not(input(sw2))
	shine := down(build(asks(while(input(sw)), level(site.Full))), true)
	flashing := func(keeps bool) *site.Site {
		return down(build(asks(while(input(sw)), flash(2, second, second), level(3000))), keeps)
	}
	first, second2 := stage(0, 0), stage(0, 1)
	decide(t, []known{
		{"what is forgotten is not active", tapped(false), never(and(mode(0), input(sw2))), holds},
		{"what is kept is", tapped(true), never(and(mode(0), input(sw2))), broken},
		{"a tap then does nothing", tapped(true), never(and(tap(), input(sw2), not(mode(0)))), broken},
		{"after it a forgotten mode needs a new tap", tapped(false), onlyAfter(mode(0), and(tap(), awake), input(sw2)), holds},
		{"a kept one does not", tapped(true), onlyAfter(mode(0), and(tap(), awake), input(sw2)), broken},
		{"a kept timer does not run", timed(true), atMost(mode(0), 9*second), broken},
		{"and starts anew", timed(true), atMost(and(mode(0), awake), 2*second), holds},
		{"from nothing", timed(true), atMost(and(mode(0), awake), second), broken},
		{"for all of its time", again, atLeast(and(mode(1), awake, mode(0)), 2*second), holds},
		{"waking up forgetful is a start-up", lasting(false), whenever(and(input(sw), awake), 0, mode(0)), holds},
		{"what came while down has come for a keeping one", lasting(true), whenever(and(input(sw), awake), 0, mode(0)), broken},
		{"a forgotten delay starts anew", waiting(false), atMost(and(awake, input(sw), not(mode(0))), 2*second), holds},
		{"and takes its time", waiting(false), atMost(and(awake, input(sw), not(mode(0))), second), broken},
		{"so does a kept one", waiting(true), atMost(and(awake, input(sw), not(mode(0))), second), broken},
		{"which does not wait while down", waiting(true), atMost(and(input(sw), not(mode(0))), 9*second), broken},
		{"2 s of boot time", booting, atMost(and(input(sw), awake, not(lit())), 2*second), holds},
		{"and no less", booting, atMost(and(input(sw), awake, not(lit())), second), broken},
		{"a lamp stays lit while down", shine, possible(and(lit(), not(input(sw)))), witness},
		{"until the controller is back", shine, never(and(lit(), not(input(sw)), awake)), holds},
		{"a kept stage starts anew", flashing(true), atMost(and(first, awake), 4*second), holds},
		{"and may have been left before", flashing(true), possible(and(second2, input(sw2))), witness},
		{"a forgotten sequence starts from the first", flashing(false), onlyAfter(second2, and(first, awake), input(sw2)), holds},
	})
}

// TestClockWhileDown: what falls due by the clock while the controller is down, or
// as it wakes up, is lost.
func TestClockWhileDown(t *testing.T) {
	// Down from 00:00 to 08:00, at which time the controller wakes up.
	made := func(t site.Millis, keeps bool) *site.Site {
		s := build(at(t, 8*hour))
		s.Bands = []site.Band{{Name: "night", From: 0, To: 8 * hour}}
		s.Modes = append([]site.Mode{plant(while(&site.Expr{Op: site.OpBand}))}, s.Modes...)
		s = build(s.Modes...)
		s.Bands = []site.Band{{Name: "night", From: 0, To: 8 * hour}}
		s.Controller.Down, s.Controller.Keeps = mode(0), keeps
		return s
	}
	decide(t, []known{
		{"as it wakes, kept", made(8*hour, true), possible(mode(1)), noWitness},
		{"as it wakes, forgotten", made(8*hour, false), possible(mode(1)), noWitness},
		{"as it goes", made(0, true), possible(mode(1)), noWitness},
		{"else not", made(16*hour, true), possible(mode(1)), witness},
	})
}

// TestForgotten: what a restart does to recency and to choices.
func TestForgotten(t *testing.T) {
	machine := func(l site.Level, again *site.Expr) site.Mode { // enters its one state anew
		return site.Mode{Name: "m", Kind: site.States, States: []site.State{{Name: "a", Stages: []site.Stage{level(l)}}},
			Transitions: []site.Transition{{Trigger: site.Trigger{On: again}}}}
	}
	latest := func(keeps bool) *site.Site {
		return down(rule(build(machine(3000, tap()), machine(6000, input(sw))), site.Latest), keeps)
	}
	ambiguous := func() *site.Site {
		return build(latch(tap(), site.Trigger{On: input(sw)}), asks(while(mode(0)), level(3000)), asks(while(mode(0)), level(6000)))
	}
	at30, at60, awake := light(3000, 3000), light(6000, 6000), not(input(sw2))
	decide(t, []known{
		{"forgotten, all states are as old", latest(false), onlyAfter(and(at30, awake), and(tap(), awake), input(sw2)), holds},
		{"kept, they are not", latest(true), onlyAfter(and(at30, awake), and(tap(), awake), input(sw2)), broken},
		{"a choice is kept", ambiguous(), onlyAfter(at60, not(mode(0)), at30), holds},
		{"until the controller goes down", down(ambiguous(), true), onlyAfter(at60, not(mode(0)), at30), broken},
	})
}
