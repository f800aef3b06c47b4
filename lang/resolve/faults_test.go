package resolve_test

// Faults: which a requirement bears, what they do, and how they are told.

import (
	"fmt"
	"strings"
	"testing"

	"lampwarden/lang/site"

	"github.com/google/go-cmp/cmp"
)

// faults names the faults of a requirement.
func faults(s *site.Site, q *site.Requirement) string {
	var names []string
	for _, in := range q.Faults {
		names = append(names, s.Inputs[in].Name)
	}
	return fmt.Sprintf("%d of %s", q.AtMost, strings.Join(names, ", "))
}

const manyFaults = `
require "many" {
    whenever fire then within 5 s any circuit in hall lit until not fire or spots failed and control bus lost
    even with any 2 of: mains lost, ups flat, controller restart, control bus lost, pir stuck on, pir stuck off, key stuck,
        door stuck, diesel fails to start, spots failed, siren failed
}
require "lamps" { never spots lit and wall lit  even with any 1 of: spots failed, lamp failure }
require "all lamps" { never light  even with lamp failure }
require "none" { never light }
scenario "s" { given pir stuck off  at 10:00 controller restart  at 10:00:02 flood failed  at 10:01 not pir stuck off
    expect controller down and not pir stuck on within 1 s }
`

func TestFaults(t *testing.T) {
	s := site0(t, manyFaults)
	for i, want := range []string{
		"2 of mains, ups flat, controller down, control bus lost, pir stuck on, pir stuck off, key stuck, door stuck, " +
			"diesel fails to start, spots failed, siren failed",
		"1 of spots failed, wall failed",
		"1 of spots failed, wall failed, flood failed, late failed, later failed, porch failed",
		"0 of ",
	} {
		if got := faults(s, &s.Requirements[i]); got != want {
			t.Errorf("%s bears %s, want %s", s.Requirements[i].Name, got, want)
		}
	}
	for _, in := range s.Inputs {
		if in.Fault != (in.Kind == site.Failure) || in.Fault && (in.Name == "mains" || in.Name == "ups flat") {
			t.Errorf("input %+v", in)
		}
	}
	for circuit, want := range map[string]string{
		"spots": "(ups flat and mains lost) or spots failed", "siren": "siren failed", "late": "mains return delay 5 s or late failed",
	} {
		if got := dead(t, s, circuit); got != want {
			t.Errorf("%s is dead while %s, want %s", circuit, got, want)
		}
	}
	if got := s.ExprText(s.Circuits[0].Cut); got != "control bus lost" || s.Circuits[s.CircuitNamed("siren")].Cut != nil {
		t.Errorf("lights are cut while %s", got)
	}
	cond := func(mode string) *site.Expr { return s.Modes[s.ModeNamed(mode)].Cond }
	if got := s.ExprText(cond("controller starting")); got != "(ups flat and mains lost) or controller down" {
		t.Error(got)
	}
	if got := s.ExprText(cond("diesel running")); got != "mains lost and not diesel fails to start" {
		t.Error(got)
	}
	// What the modes see, and how it is told.
	alert := &s.Modes[s.ModeNamed("alert")]
	if got := s.ExprText(cond("light")); got != "presence in hall" {
		t.Error(got)
	}
	if got := shape(s, cond("light")); got != "or(and(or(pir pir stuck on) not(pir stuck off)))" {
		t.Error(got)
	}
	if got := shape(s, alert.Ends[0].On) + " " + s.ExprText(alert.Ends[0].On) + ", " + shape(s, alert.Starts[0].On); got != "and(tap key not(key stuck)) tap key, fire" {
		t.Error(got)
	}
	checkSite(t, s)
}

// Requirements see what is really so, and say so where they speak of a fault.
func TestFaultsInRequirements(t *testing.T) {
	const text = "pir or pir stuck on"
	s := site0(t, `require "r" { never `+text+`  even with pir stuck on }`)
	if got := s.ExprText(s.Requirements[0].P); got != text {
		t.Errorf("%s is shown as %s", text, got)
	}
}

func TestRestartStep(t *testing.T) {
	s := site0(t, `scenario "s" { start 10:00  at 10:01 controller restart  expect light  at 10:01:01.001 fire }`)
	var got []string
	for _, st := range s.Scenarios[0].Steps {
		if st.Expect != nil {
			got = append(got, fmt.Sprintf("%d expect", int64(st.After)))
			continue
		}
		got = append(got, fmt.Sprintf("%d %s %v", int64(st.After), s.Inputs[st.Input].Name, st.Value))
	}
	if diff := cmp.Diff([]string{"60000 controller down true", "61000 controller down false", "61000 expect", "61001 fire true"}, got); diff != "" {
		t.Error(diff)
	}
}

const failingPack = `
parameter feed = grid
parameter alarm_input = fire
require "failing pack: lit" {
    whenever alarm_input then within 5 s any circuit in escape areas lit
    even with any 1 of: feed lost, lamp failure, alarm_input stuck off
}
`

// A pack bears faults by its parameters, and a requirement for each area those of its own lamps.
func TestFaultsElsewhere(t *testing.T) {
	s := site0(t, `
use "failing" with feed = mains
area room : escape
circuit desk, shelf in room { dims }
presence desk_pir in room
require "one lamp fails" for each area a with presence { never presence in a and area a dark  even with lamp failure }
require "few areas" { always at most 2 areas lit and at least 1 escape area dark  even with any 2 of: mains lost, spots failed }
`)
	got := map[string]string{}
	for i := range s.Requirements {
		got[s.Requirements[i].Name] = faults(s, &s.Requirements[i])
	}
	if diff := cmp.Diff(map[string]string{
		"failing pack: lit (feed = mains)": "1 of mains, fire stuck off, spots failed, wall failed, flood failed, late failed, later failed, porch failed, desk failed, shelf failed",
		"one lamp fails (hall)":            "1 of spots failed, wall failed, flood failed, late failed, later failed, porch failed",
		"one lamp fails (room)":            "1 of desk failed, shelf failed",
		"few areas":                        "2 of mains, spots failed",
	}, got); diff != "" {
		t.Error(diff)
	}
}
