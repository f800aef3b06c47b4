// Known verdicts about batteries, faults, changes of the clock, holidays and the
// sun, worked out by hand from lang/SEMANTICS.md sections 1 and 3.

package oracle_test

import (
	"testing"

	"lampwarden/lang/site"
)

func TestCharge(t *testing.T) {
	const flat = extra
	// The battery lasts 2 s and is full after 3 s. Mode 0: the mains has been lost for 2 s, mode 1: for 3 s, mode 2:
	// since the battery was flat.
	made := func(more ...site.Assumption) *site.Site {
		s := added(build(delayed(while(input(mains)), 2*second, 0), delayed(while(input(mains)), 3*second, 0),
			latch(input(flat), site.Trigger{On: not(input(mains))})),
			site.Input{Name: "flat", Kind: site.Flatness})
		return assuming(s, append(more, site.Assumption{Kind: site.Charge, Inputs: []site.InputID{flat, mains}, D: 2 * second, Recharge: 3 * second})...)
	}
	live := func(d site.Millis) site.Assumption {
		return site.Assumption{Kind: site.Dwell, Inputs: []site.InputID{mains}, D: d}
	}
	empty := and(input(flat), input(mains))
	decide(t, []known{
		{"it runs flat", made(), possible(input(flat)), witness},
		{"only without the mains", made(), onlyAfter(input(flat), input(mains), nil), holds},
		{"and may stay so with it", made(), possible(and(input(flat), not(input(mains)))), witness},
		{"not before its time, from full", made(live(3 * second)), onlyAfter(input(flat), mode(0), nil), holds},
		{"exactly then", made(live(3 * second)), onlyAfter(input(flat), mode(1), nil), broken},
		{"it is not counted on after an outage", made(), onlyAfter(empty, mode(0), not(input(mains))), broken},
		{"charged for 2 s neither", made(live(2 * second)), onlyAfter(empty, mode(0), not(input(mains))), broken},
		{"charged for 3 s it is, and not flat any more", made(live(3 * second)), onlyAfter(empty, mode(0), not(input(mains))), holds},
		{"it is not charged while the mains is lost", made(), never(and(mode(2), not(input(flat)))), holds},
	})
}

func TestFaults(t *testing.T) {
	const f, g = extra, extra + 1
	s := func() *site.Site {
		return added(build(while(input(f))), site.Input{Name: "f", Kind: site.Failure, Fault: true},
			site.Input{Name: "g", Kind: site.Failure, Fault: true})
	}
	both := and(input(f), input(g))
	decide(t, []known{
		{"a fault does not strike", s(), possible(mode(0)), noWitness},
		{"but where it is listed", s(), faulty(possible(mode(0)), 1, f), witness},
		{"not where another is", s(), faulty(possible(mode(0)), 1, g), noWitness},
		{"one of two at a time", s(), faulty(possible(both), 1, f, g), noWitness},
		{"or two", s(), faulty(possible(both), 2, f, g), witness},
		{"an ordinary input counts, too", s(), faulty(possible(and(input(mains), input(f))), 1, f, mains), noWitness},
		{"else it is free", s(), faulty(possible(and(input(mains), input(f))), 1, f), witness},
	})
}

func TestJumps(t *testing.T) {
	made := func(at, by site.Millis, m site.Mode) *site.Site {
		return with(build(m), func(s *site.Site) { s.Jumps = []site.Jump{{At: at, By: by}} })
	}
	start := held(at(8*hour, 0), 4*hour) // from 08:00 to 12:00
	late := &site.Expr{Op: site.OpBand}
	night := func(at, by site.Millis) *site.Site {
		return with(made(at, by, while(late)), func(s *site.Site) {
			s.Bands = []site.Band{{Name: "late", From: 20 * hour, To: 8 * hour}}
		})
	}
	workday := func(d site.Days) *site.Site {
		return made(0, -4*hour, site.Mode{Name: "m", Kind: site.Latch, For: 2 * hour, Starts: []site.Trigger{{At: 20 * hour, Days: d}}})
	}
	decide(t, []known{
		{"each day once", made(12*hour, 4*hour, start), atMost(not(mode(0)), 24*hour), holds}, // from a start-up at 08:00
		{"forward over the trigger it is lost", made(8*hour, 4*hour, start), atMost(not(mode(0)), 40*hour), broken},
		{"for a day", made(8*hour, 4*hour, start), atMost(not(mode(0)), 44*hour), holds},
		{"back over it, it comes again", made(16*hour, -8*hour, start), times(1, mode(0), 12*hour), broken},
		{"once in a run", made(16*hour, -8*hour, start), times(2, mode(0), 32*hour), holds},
		{"a trigger of the new time is due", made(4*hour, 4*hour, start), times(1, mode(0), 20*hour), holds},
		{"after 20 h", made(4*hour, 4*hour, start), times(1, mode(0), 24*hour), broken},
		{"a band ends early", night(4*hour, 4*hour), atLeast(and(mode(0), late), 12*hour), broken},
		{"but not earlier than that", night(4*hour, 4*hour), atMost(not(late), 12*hour), holds},
		{"round the day", night(0, -4*hour), atMost(late, 16*hour), holds},
		{"in which it lasts longer", night(0, -4*hour), atMost(late, 12*hour), broken},
		{"back from Monday 00:00 it is Sunday", workday(sunday), times(1, mode(0), 8*hour), broken},
		{"and then Monday again", workday(sunday | monday), times(2, mode(0), 28*hour), holds},
	})
}

func TestHolidays(t *testing.T) {
	made := func(js ...site.Jump) *site.Site {
		// A latch that is active from the first 00:00 on.
		s := added(build(site.Mode{Name: "m", Kind: site.Latch, Starts: []site.Trigger{{At: 0}}}), site.Input{Name: "holiday", Kind: site.Calendar})
		s.Jumps = js
		return s
	}
	day := and(input(extra), mode(0))
	decide(t, []known{
		{"a holiday lasts a day", made(), atLeast(day, 24*hour), holds},
		{"or more", made(), atMost(day, 48*hour), broken},
		{"or less, if the clock is put forward", made(site.Jump{At: 8 * hour, By: 8 * hour}), atLeast(day, 24*hour), broken},
		{"midnight comes twice", made(site.Jump{At: 8 * hour, By: -8 * hour}), atLeast(day, 16*hour), broken},
		{"there is always a midnight", made(), canReturn(input(extra), 24*hour), holds},
		{"not more often", made(), canReturn(input(extra), 16*hour), broken},
	})
}

func TestSun(t *testing.T) {
	band := &site.Expr{Op: site.OpBand}
	rise, set := &site.SunTime{Event: site.Sunrise}, &site.SunTime{Event: site.Sunset}
	made := func(dates ...site.SunDate) *site.Site {
		s := build(site.Mode{Name: "m", Kind: site.Latch, Starts: []site.Trigger{{Sun: set}}, For: 4 * hour}, while(band))
		s.Bands = []site.Band{{Name: "day", FromSun: rise, ToSun: set}}
		s.Dates = dates
		return s
	}
	date := func(name string, rise, set site.Millis) site.SunDate {
		return site.SunDate{Name: name, At: [4]site.Millis{site.NoEvent, rise, set, site.NoEvent}}
	}
	long, short := date("long", 4*hour, 20*hour), date("short", 8*hour, 16*hour)
	none, swapped := date("none", site.NoEvent, site.NoEvent), date("swapped", 16*hour, 8*hour)
	decide(t, []known{
		{"a day of 16 h", made(long), atMost(band, 16*hour), holds},
		{"on another date of 8 h", made(long, short), atLeast(and(band, mode(1)), 8*hour), broken}, // cut by the start-up
		{"one date is enough to break", made(short, long), atMost(band, 8*hour), broken},
		{"the same date throughout", made(short, long), never(and(mode(0), band)), holds},
		{"no sun, no day", made(none), possible(band), noWitness},
		{"ends that have swapped order make none", made(swapped), possible(band), noWitness},
		{"no sunset, no trigger", made(none), possible(mode(0)), noWitness},
		{"but on another date", made(none, short), possible(mode(0)), witness},
	})
}
