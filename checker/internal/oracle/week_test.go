// Known verdicts about days of the week, ramps and outputs, worked out by hand
// from lang/SEMANTICS.md.

package oracle_test

import (
	"testing"

	"lampwarden/lang/site"
)

const (
	saturday site.Days = 1 << 5
	sunday   site.Days = 1 << 6
	monday   site.Days = 1
	friday   site.Days = 1 << 4
	workdays site.Days = 0x1f
)

// TestWeek has a day of three units of eight hours.
func TestWeek(t *testing.T) {
	late := &site.Expr{Op: site.OpBand}
	band := func(days site.Days, from, to site.Millis, m site.Mode) *site.Site {
		s := build(m)
		s.Bands = []site.Band{{Name: "late", From: from, To: to, Days: days}}
		return s
	}
	at := func(t site.Millis, days site.Days) site.Mode {
		return site.Mode{Name: "m", Kind: site.Latch, Starts: []site.Trigger{{At: t, Days: days}}, For: 8 * hour}
	}
	nightly := func(days site.Days) *site.Site { return band(days, 16*hour, 8*hour, while(late)) }
	day := 24 * hour
	decide(t, []known{
		{"a Friday's band past midnight ends on Saturday", nightly(friday), atMost(mode(0), 16*hour), holds},
		{"not on Friday", nightly(friday), atMost(mode(0), 8*hour), broken},
		// A start-up just before Saturday 08:00 sees the band; the next one is on Friday 16:00.
		{"it comes again after a week", nightly(friday), times(1, mode(0), 6*day+8*hour), holds},
		{"not later", nightly(friday), times(1, mode(0), 6*day+16*hour), broken},
		{"between two of them is a week", nightly(friday), atMost(not(late), 6*day+8*hour), holds},
		{"and not less", nightly(friday), atMost(not(late), 6*day), broken},
		{"on all seven days it is nightly", nightly(0x7f), atMost(not(late), 8*hour), holds},
		{"workdays: the longest gap is from Saturday 08:00 to Monday 16:00", nightly(workdays), atMost(not(late), 56*hour), holds},
		{"and not shorter", nightly(workdays), atMost(not(late), 48*hour), broken},
		{"a trigger on Mon to Fri is not due on Saturday", band(saturday, 8*hour, 16*hour, at(8*hour, workdays)), possible(and(mode(0), late)), noWitness},
		{"it is on Friday", band(friday, 8*hour, 16*hour, at(8*hour, workdays)), possible(and(mode(0), late)), witness},
		{"a Sunday's band holds on Monday 00:00", band(sunday, 16*hour, 8*hour, at(0, monday)), never(and(mode(0), not(late))), holds},
		{"the trigger comes", band(sunday, 16*hour, 8*hour, at(0, monday)), possible(mode(0)), witness},
		{"Sunday 00:00 is before it", band(sunday, 16*hour, 8*hour, at(0, sunday)), possible(and(mode(0), late)), noWitness},
		{"a start-up on Monday 00:00 has missed it", band(monday, 0, 8*hour, at(0, monday)), whenever(late, 0, mode(0)), broken},
	})
}

func ramp(l site.Level, over site.Millis) site.Stage {
	st := level(l)
	st.Settings[0].Cases[0].Over = over
	return st
}

func TestRamps(t *testing.T) {
	// Mode 0, a latch, asks for 30 %; mode 1, above, for full by a ramp of 3 s.
	made := func(reacts, fade site.Millis) *site.Site {
		s := build(asks(latch(input(sw)), level(3000)), asks(while(input(sw2)), ramp(site.Full, 3*second)))
		s.Precedence.Above[1][0] = true
		s.Controller.ReactsWithin, s.Circuits[0].Fade = reacts, fade
		return s
	}
	back := and(mode(0), not(mode(1)))
	low := light(3000, 3000)
	up := func(d site.Millis) site.Requirement { return until(whenever(mode(1), d, atFull()), not(mode(1))) }
	down := func(d site.Millis) site.Requirement { return until(whenever(back, d, low), mode(1)) }
	// Both ask for full, mode 1 without a ramp.
	same := build(asks(latch(input(sw)), ramp(site.Full, 3*second)), asks(latch(input(sw2)), level(site.Full)))
	same.Controller.ReactsWithin = second
	last := build(asks(while(input(sw)), level(site.Full)), asks(while(input(sw)), ramp(site.Full, 3*second)))
	first := build(asks(while(input(sw)), ramp(site.Full, 3*second)), asks(while(input(sw)), level(site.Full)))
	on := until(whenever(input(sw), 0, atFull()), not(input(sw)))
	switched := build(asks(while(input(sw)), ramp(site.Full, 3*second)))
	switched.Circuits[0].Switched = true
	decide(t, []known{
		{"a ramp takes its time and the time to react", made(second, 0), up(4 * second), holds},
		{"and not less, also after a quick movement", made(second, 0), up(3 * second), broken},
		{"instead of the fade", made(second, 9*second), up(4 * second), holds},
		{"on the way it is anywhere", made(0, 0), possible(and(mode(1), light(5000, 6000))), witness},
		{"a ramp that is left is not waited for", made(second, 0), down(second), holds},
		{"the time to react is", made(second, 0), down(0), broken},
		{"without one the light is there at once", made(0, 0), down(0), holds},
		{"a fade after a ramp takes the fade's time", made(0, 2*second), down(2 * second), holds},
		{"and not less", made(0, 2*second), down(second), broken},
		{"the same level by another setting starts nothing", same, whenever(mode(1), 2*second, atFull()), broken},
		{"the ramp goes on", same, whenever(mode(1), 4*second, atFull()), holds},
		{"of two that decide the one written last has a ramp", last, on, broken},
		{"or none", first, on, holds},
		{"a switched lamp is off or full", switched, possible(light(1, 9999)), noWitness},
		{"and may be late", switched, until(whenever(input(sw), 2*second, atFull()), not(input(sw))), broken},
	})
}

func TestOutputs(t *testing.T) {
	siren := func(reacts site.Millis) *site.Site {
		s := build(asks(while(input(sw)), level(site.Full)))
		s.Circuits[0] = site.Circuit{Name: "siren", Area: site.None, FedBy: site.None, Output: true, Switched: true}
		s.Controller.ReactsWithin = reacts
		return s
	}
	prompt := func(d site.Millis) site.Requirement { return until(whenever(input(sw), d, atFull()), not(input(sw))) }
	decide(t, []known{
		{"an output is on at once", siren(0), prompt(0), holds},
		{"or within the time to react", siren(second), prompt(second), holds},
		{"and not before", siren(second), prompt(0), broken},
		{"whatever is lost", siren(0), never(and(input(sw), input(mains), not(atFull()))), holds},
		{"it is on or off", siren(second), possible(light(1, 9999)), noWitness},
	})
}
