// What the conditional slice must not lose of the modes that it frees.

package checker_test

import (
	"testing"

	"lampwarden/checker"
)

// TestRampOfAFreedMode: the mode below has begun a slow ramp to full light; the mode above asks for the same level, which
// starts nothing, so the lamp may still be dark for a while. The condition makes the mode above certain, so the one below
// is freed.
func TestRampOfAFreedMode(t *testing.T) {
	site := func(ramp string) string {
		return `
			area hall
			circuit lamp in hall { switches }
			switch go
			mode low { while go  lamp ` + ramp + ` }
			mode high { while go, on delay 1 s  lamp full }
			precedence high > low
			require "lit before" { high only after lamp at full }
			require "never dark" { never high and lamp off }
			require "soon" { whenever high then within 1500 ms lamp at full until not high }`
	}
	for _, c := range []struct {
		ramp string
		want [3]checker.Verdict
	}{
		{"full", [3]checker.Verdict{checker.Proved, checker.Proved, checker.Proved}},
		{"ramp to full over 900 ms", [3]checker.Verdict{checker.Proved, checker.Proved, checker.Proved}},
		{"ramp to full over 2 s", [3]checker.Verdict{checker.Fails, checker.Fails, checker.Proved}},
		{"ramp to full over 3 s", [3]checker.Verdict{checker.Fails, checker.Fails, checker.Fails}},
	} {
		for _, structural := range []bool{false, true} {
			rep := prove(t, load(t, site(c.ramp)), checker.Options{Structural: structural, NoFindings: true})
			for i, o := range rep.Outcomes {
				if o.Verdict != c.want[i] {
					t.Errorf("%s, structural %v, %s: %v, want %v", c.ramp, structural, rep.Site.Requirements[i].Name, o.Verdict, c.want[i])
				}
			}
		}
	}
}
