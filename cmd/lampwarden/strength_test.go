// prove --strength from the command line.

package main

import (
	"encoding/json"
	"strings"
	"testing"
	"unicode/utf8"
)

const strengthSite = `site "s"
area hall : escape
circuit spots in hall { dims }
presence pir in hall
alarm fire
mode fire_alarm { while fire  spots full }
mode walk { while presence in hall, off delay 5 min  spots at 60 % }
precedence fire_alarm > walk
require "fire lights the hall in full, at once and for as long as the alarm is raised" {
    whenever fire
    then within 1 s spots at full
    until not fire
}
`

func TestProveStrength(t *testing.T) {
	path := file(t, strengthSite)
	code, out, stderr := lampwarden(t.Context(), "prove", "--strength", path)
	if code != exitProved || stderr != "" {
		t.Errorf("status %d, %s", code, stderr)
	}
	for _, want := range []string{"No requirement depends on these rules:", "line 7: walk: off delay 5 min [timer]", "unnoticed: 150 s instead of 5 min; 10 min instead of 5 min; none",
		"line 6: fire_alarm: while fire [mode]", "needed for \"fire lights the hall", "of 7 rules, requirements depend on", "Cautions:"} {
		if !strings.Contains(strings.Join(strings.Fields(out), " "), strings.Join(strings.Fields(want), " ")) {
			t.Errorf("%q is missing in\n%s", want, out)
		}
	}
	for _, l := range strings.Split(out, "\n") {
		if utf8.RuneCountInString(l) > 80 {
			t.Errorf("too wide: %s", l)
		}
	}
	_, out, _ = lampwarden(t.Context(), "prove", "--strength", "--output", "json", path)
	var d struct {
		Rules []struct {
			Text         string
			Requirements []string
			Mutants      []struct{ Change, Fate, By string }
		}
		Total struct{ Mutants, Caught, Survive int }
	}
	if err := json.Unmarshal([]byte(out), &d); err != nil || len(d.Rules) != 7 || d.Total.Caught == 0 || d.Total.Survive == 0 {
		t.Errorf("%v: %+v", err, d)
	}
}

func TestProveStrengthStatus(t *testing.T) {
	path := file(t, strengthSite)
	for flag, want := range map[string]int{"--limit-time=1ns": exitUndecided, "--stats": exitInput, "--quiet": exitProved} {
		if code, out, stderr := lampwarden(t.Context(), "prove", "--strength", flag, path); code != want {
			t.Errorf("%s: status %d, want %d\n%s%s", flag, code, want, out, stderr)
		}
	}
}
