// Changes of the local clock in proofs.

package checker_test

import (
	"testing"

	"lampwarden/checker"
	"lampwarden/lang/site"
)

// irish are the changes of the clock in Ireland (IANA tz, Europe/Dublin): on at 01:00, back at 02:00.
func irish(s *site.Site) *site.Site {
	const h = site.Day / 24
	s.Jumps = []site.Jump{{At: h, By: h}, {At: 2 * h, By: -h}}
	return s
}

// TestClockChanges: a trigger in the hour that is skipped is lost, one in the hour that is repeated comes twice, and a
// night is an hour shorter or longer, which counts only where its length does.
func TestClockChanges(t *testing.T) {
	s := irish(load(t, `
		area hall
		circuit spots in hall { dims }
		switch  go in hall
		band gloom 22:00 to 05:00
		band early 00:30 to 01:30
		mode sweep { starts at 01:30  for 10 min  spots full }
		mode long_night { while gloom  }
		require "twice in a night" { at most 1 times sweep within 20 h }
		mode gong { starts at 22:00  for 1 min }
		require "a night is at least 6 h 30" { whenever gong then within 1 min gloom for 390 min }
		require "a night is at least 6 h" { whenever gong then within 1 min gloom for 6 h }
		require "a night is at most 8 h" { gloom lasts at most 8 h }
		require "a night is at most 7 h 59" { gloom lasts at most 479 min }
		require "by day or by night" { always gloom or not gloom }
		require "the sweep is by night" { never sweep and not gloom }
		require "early is at most 1 h" { early lasts at most 1 h }
		require "early is at most 59 min" { early lasts at most 59 min }`))
	want := []checker.Verdict{checker.Fails, checker.Fails, checker.Proved, checker.Proved, checker.Fails, checker.Proved, checker.Proved,
		checker.Proved, checker.Fails}
	for i, o := range prove(t, s, checker.Options{}).Outcomes {
		if o.Verdict != want[i] {
			t.Errorf("%s: %v, want %v (%s)", s.Requirements[i].Name, o.Verdict, want[i], o.Reason)
		}
	}
}
