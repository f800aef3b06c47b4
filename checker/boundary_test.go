// What happens exactly when an assumption allows it again.

package checker_test

import (
	"strings"
	"testing"

	"lampwarden/checker"
)

// TestExactlyWhenAllowed: a change exactly so long after the last one is allowed (lang/SEMANTICS.md, section 3), and none sooner.
// State "met" is reached only by a change at the very instant at which "soon" ends. (What is held at start-up may end at any time, so
// the switch is let go once before.)
func TestExactlyWhenAllowed(t *testing.T) {
	const spacing, dwell = `
		button key
		assume taps on key at least 5 s apart
		mode m {
			states calm, soon, met
			on tap key if was (m in soon): calm -> met
			on tap key: calm -> soon
			after LENGTH: soon -> calm
		}
		require "met" { m in met is possible }`, `
		switch key
		assume key lasts at least 5 s
		mode m {
			states fresh, calm, soon, met
			on not key: fresh -> calm
			on key: calm -> soon
			after LENGTH: soon -> calm
			on not key if was (m in soon): calm -> met
		}
		require "met" { m in met is possible }`
	for name, text := range map[string]string{"spacing": spacing, "dwell": dwell} {
		for length, want := range map[string]checker.Verdict{"4999 ms": checker.Impossible, "5 s": checker.IsPossible, "5001 ms": checker.IsPossible} {
			s := load(t, strings.ReplaceAll(text, "LENGTH", length))
			for _, all := range []bool{false, true} { // with clocks as needed it may be timed without looking at the assumption
				if got := prove(t, s, checker.Options{NoFindings: true, AllClocks: all}).Outcomes[0].Verdict; got != want {
					t.Errorf("%s, %s, all clocks %v: %v, want %v", name, length, all, got, want)
				}
			}
		}
	}
}

// TestBandOverMidnight: a band that begins on Fridays only ends on Saturday (section 1), in a clock that goes round in a week.
func TestBandOverMidnight(t *testing.T) {
	s := load(t, `
		band late 22:00 to 02:00 on Fri
		mode m { while late }
		require "four hours" { m lasts at most 4 h }
		require "no longer" { m lasts at most 239 min }
		require "nor shorter" { m lasts at least 4 h }`)
	rep := prove(t, s, checker.Options{NoFindings: true})
	for i, want := range []checker.Verdict{checker.Proved, checker.Fails, checker.Fails} { // start-up may come in the midst of it
		if got := rep.Outcomes[i].Verdict; got != want {
			t.Errorf("%s: %v, want %v", s.Requirements[i].Name, got, want)
		}
	}
}

// TestStandingLoad: a battery feeds its standing load from the first moment of an outage on, with every light off.
func TestStandingLoad(t *testing.T) {
	s := load(t, `
		supply mains
		battery ups { capacity 10 Wh  usable 100 %  standing load 5 W  charged by mains }
		area hall
		circuit sign in hall { switches  power 1 W  fed by ups }
		require "two hours" { battery ups lasts at least 2 h }
		require "no longer" { battery ups lasts at least 121 min }`)
	rep := prove(t, s, checker.Options{NoFindings: true})
	for i, want := range []checker.Verdict{checker.Proved, checker.Fails} {
		if got := rep.Outcomes[i].Verdict; got != want {
			t.Errorf("%s: %v, want %v", s.Requirements[i].Name, got, want)
		}
	}
}

// TestLongestDay: the day at 53.27 N is about 17 hours long in June and 7 1/2 in January (lang/almanac, which is tested against published
// tables); that the same things happen in the same order on both dates does not make one an answer for the other.
func TestLongestDay(t *testing.T) {
	const text = `
		site "s" { place 53.27 N, 9.05 W  time zone "Europe/Dublin" }
		band sun sunrise to sunset
		mode day { while sun }
		require "r" { day lasts at most HOURS h }`
	for hours, want := range map[string]checker.Verdict{"16": checker.Fails, "18": checker.Proved} {
		s := load(t, strings.ReplaceAll(text, "HOURS", hours))
		if out := prove(t, s, checker.Options{NoFindings: true}).Outcomes[0]; out.Verdict != want {
			t.Errorf("%s hours: %v %s, want %v", hours, out.Verdict, out.Reason, want)
		}
	}
}
