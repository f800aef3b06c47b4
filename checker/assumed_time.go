// What the verdicts rest on about the clock, the sun and the calendar.

package checker

import (
	"fmt"
	"slices"
	"strings"

	"lampwarden/lang/site"
)

// assumedTime tells what is taken of the clock, and of the sun and of holidays where the site speaks of them.
func assumedTime(s *site.Site) (out []string) {
	if len(s.Bands) > 0 || hasClockTimes(s) {
		out = append(out, "The clock is right"+clockChanges(s))
	}
	if len(s.Dates) > 0 {
		out = append(out, fmt.Sprintf("The sun is looked at on every date of %d: its times at %s, over a level horizon, whatever the weather.",
			s.Year, placeText(s)))
	}
	if slices.ContainsFunc(s.Inputs, func(in site.Input) bool { return in.Kind == site.Calendar }) {
		out = append(out, "Any day may be a holiday, not only those that the site lists.")
	}
	return out
}

// clockChanges tells whether and how the clock changes between summer and winter time.
func clockChanges(s *site.Site) string {
	switch {
	case s.SteadyClock:
		return " and is not changed between summer and winter time, as the site assumes."
	case s.TimeZone == "":
		return " and is not changed between summer and winter time, as the site names no time zone."
	case len(s.Jumps) == 0:
		return fmt.Sprintf("; from %d on none is changed in the time zone %s.", s.Year, s.TimeZone)
	}
	var ways []string
	for _, j := range s.Jumps {
		ways = append(ways, fmt.Sprintf("from %s to %s", j.At.Clock(), (j.At+j.By).Clock()))
	}
	return fmt.Sprintf(". Once in a run it may be changed as in the time zone %s from %d on, on any day: %s.",
		s.TimeZone, s.Year, strings.Join(ways, " or "))
}

// placeText gives the site's place: "53.27 N, 9.05 W".
func placeText(s *site.Site) string {
	side := func(v float64, plus, minus string) string {
		if v < 0 {
			return fmt.Sprintf("%g %s", -v, minus)
		}
		return fmt.Sprintf("%g %s", v, plus)
	}
	return side(s.Latitude, "N", "S") + ", " + side(s.Longitude, "E", "W")
}

func hasClockTimes(s *site.Site) bool {
	clock := func(t site.Trigger) bool { return t.On == nil }
	for i := range s.Modes {
		m := &s.Modes[i]
		if slices.ContainsFunc(m.Starts, clock) || slices.ContainsFunc(m.Ends, clock) ||
			slices.ContainsFunc(m.Transitions, func(t site.Transition) bool { return t.After == 0 && clock(t.Trigger) }) {
			return true
		}
	}
	return false
}
