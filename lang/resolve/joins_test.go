package resolve_test

// Joined areas mean the same as conditions that are written out.

import (
	"testing"

	"lampwarden/lang/site"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

const halls = `
area north, south, west, store
area podium in north
circuit lamp in north { dims }
presence north_pir in north
presence podium_pir in podium
presence south_pir in south
presence west_a, west_b in west
contact wall, door
band day 07:00 to 22:00
switch show
mode hall_open { while wall open and day }
`

// sameSite compares two sites but for where things are written.
func sameSite(a, b *site.Site) string {
	return cmp.Diff(a, b, cmpopts.IgnoreTypes(site.Expr{}.Span), cmpopts.EquateEmpty())
}

func TestJoinedAreas(t *testing.T) {
	const north, south, west = "(north_pir or podium_pir)", "south_pir", "(west_a or west_b)"
	for _, c := range []struct{ joins, text, means string }{
		{"join north, south while wall open", "presence in south", "(south_pir or (wall open and " + north + "))"},
		{"join north, south while wall open", "vacated north", "not (" + north + " or (wall open and south_pir))"},
		{"join north, south while wall open", "area south occupied", "(south_pir or (wall open and " + north + "))"},
		{"join north, south while wall open", "presence in west", west},
		{"join north, south while wall open", "presence in podium", "podium_pir"}, // a part of a joined area is not joined
		{"join podium, south while wall open", "presence in north", "(" + north + " or (wall open and south_pir))"},
		{"join podium, north while wall open", "presence in north", north},
		{"join north, south, west while hall_open", "presence in south", "(south_pir or (hall_open and (" + north + " or " + west + ")))"},
		{"join south, store while door open", "presence in store", "(door open and south_pir)"},
		{"join north, south while wall open\njoin south, west while door open and not day", "presence in west",
			"(" + west + " or (door open and not day and (south_pir or (wall open and " + north + "))))"},
		{"join north, south while wall open\njoin south, north while door open", "presence in south",
			"(south_pir or (wall open and (" + north + " or (door open and south_pir))) or (door open and (" + north + " or (wall open and south_pir))))"},
		{"join north, south while presence in west", "presence in south", "(south_pir or (" + west + " and " + north + "))"},
		{"join north, south while vacated south", "presence in south", "(south_pir or (not south_pir and " + north + "))"},
	} {
		tail := func(text string) string {
			return "\nmode m { while " + text + ", off delay 5 s  lamp: " + text + " full }\n" +
				"mode n { starts on " + text + " if " + text + "  ends on " + text + " if was (" + text + ")  lamp off }\nprecedence m > n\n" +
				"require \"r\" { never " + text + " }\nscenario \"s\" { start 09:00  expect not " + text + " }"
		}
		got, want := must(t, halls+c.joins+tail(c.text)), must(t, halls+tail(c.means))
		// `or` of one input is as good as the input.
		flatten(got)
		flatten(want)
		if d := sameSite(want, got); d != "" {
			t.Errorf("%s: %s (-want +got):\n%s", c.joins, c.text, d)
		}
	}
}

// flatten takes the operators away that join one thing only.
func flatten(s *site.Site) {
	var flat func(e *site.Expr)
	flat = func(e *site.Expr) {
		if e == nil {
			return
		}
		for (e.Op == site.OpOr || e.Op == site.OpAnd) && len(e.Kids) == 1 {
			*e = *e.Kids[0]
		}
		var kids []*site.Expr
		for _, k := range e.Kids {
			flat(k)
			if k.Op == e.Op && (e.Op == site.OpAnd || e.Op == site.OpOr) {
				kids = append(kids, k.Kids...)
			} else {
				kids = append(kids, k)
			}
		}
		e.Kids = kids
	}
	for i := range s.Modes {
		m := &s.Modes[i]
		flat(m.Cond)
		for _, t := range append(m.Starts, m.Ends...) {
			flat(t.On)
			flat(t.If)
		}
		for _, st := range m.States {
			for _, sg := range st.Stages {
				for _, set := range sg.Settings {
					for _, c := range set.Cases {
						flat(c.When)
					}
				}
			}
		}
	}
	for _, q := range s.Requirements {
		flat(q.P)
	}
	for _, sc := range s.Scenarios {
		for _, st := range sc.Steps {
			flat(st.Expect)
		}
	}
}

// TestJoinedAreasOneByOne: counts, assumptions and steps of scenarios speak of sensors, not of rooms.
func TestJoinedAreasOneByOne(t *testing.T) {
	s := must(t, halls+`join north, south while wall open
assume presence in south lasts at least 2 s
scenario "s" { given presence in south  at 09:00 not presence in south }
require "r" { never at least 2 areas occupied }`)
	south := s.InputNamed("south_pir")
	if s.Assumptions[0].Inputs[0] != south || s.Scenarios[0].Steps[0].Input != south || s.Scenarios[0].Given[0] != south {
		t.Error("an assumption or a step is not about the one sensor")
	}
	if got := shape(s, s.Requirements[0].P); got != "least2(or(north_pir) or(south_pir) or(west_a west_b) or() or(podium_pir))" {
		t.Error(got)
	}
}

// TestJoinsMakeDependencies: a mode steps after those that decide whether areas are joined.
func TestJoinsMakeDependencies(t *testing.T) {
	s := must(t, "mode early { while presence in south  lamp full }\njoin north, south while hall_open\n"+halls)
	if order := modeNames(s, s.StepOrder); order[0] != "hall_open" {
		t.Errorf("order %v", order)
	}
	if got := s.ExprText(s.Modes[0].Cond); got != "presence in south or (hall_open and presence in north)" {
		t.Errorf("shown as %q", got)
	}
}
