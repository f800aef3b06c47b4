package resolve_test

// Rows of circuits, as they come out in the site.

import (
	"strings"
	"testing"

	"lampwarden/lang/site"

	"github.com/google/go-cmp/cmp"
)

const rowHouse = house + `
constant last = 8
lamps spot[1..4], lone in room { dims 5 % to 90 %  power 6 W }
circuit step[0..last] in stairs { switches }
group table = spot[2..1], bed
group some = step[7..last], table, spot[2]
`

// circuitNames maps ids to names.
func circuitNames(s *site.Site, ids []site.CircuitID) string {
	var out []string
	for _, id := range ids {
		out = append(out, s.Circuits[id].Name)
	}
	return strings.Join(out, " ")
}

func TestRowsAreCircuits(t *testing.T) {
	s := must(t, rowHouse)
	three := s.Circuits[s.CircuitNamed("spot[3]")]
	want := site.Circuit{Name: "spot[3]", Area: s.AreaNamed("room"), Min: 500, Max: 9000, Power: 6000, FedBy: site.None, Span: three.Span}
	if d := cmp.Diff(want, three); d != "" {
		t.Error(d)
	}
	if n := len(s.Circuits); n != 5+5+9 || !s.Circuits[s.CircuitNamed("step[8]")].Switched || s.CircuitNamed("spot") != site.None {
		t.Errorf("%d circuits", n)
	}
	groups := map[string]string{}
	for _, g := range s.Groups {
		groups[g.Name] = circuitNames(s, g.Circuits)
	}
	for name, want := range map[string]string{
		"spot": "spot[1] spot[2] spot[3] spot[4]", "table": "spot[2] spot[1] bed", "some": "step[7] step[8] spot[2] spot[1] bed",
	} {
		if groups[name] != want {
			t.Errorf("%s has %s, want %s", name, groups[name], want)
		}
	}
}

// TestRowsAsTargets: numbers choose, and their order is kept.
func TestRowsAsTargets(t *testing.T) {
	for text, want := range map[string]string{
		"spot":                        "spot[1] spot[2] spot[3] spot[4]",
		"spot[3]":                     "spot[3]",
		"spot[2..4]":                  "spot[2] spot[3] spot[4]",
		"spot[4..3], spot[1..4], bed": "spot[4] spot[3] spot[1] spot[2] bed",
		"step[2..0] and lone":         "step[2] step[1] step[0] lone",
		"step[last]":                  "step[8]",
		"spot except spot[2..3]":      "spot[1] spot[4]",
		"table except spot[1], bed":   "spot[2]",
		"circuits in room except spot[1..3], bed, floor, flood": "spot[4] lone",
	} {
		s := must(t, rowHouse+"mode m { while fire  "+text+" off }")
		if got := circuitNames(s, s.Modes[0].States[0].Stages[0].Settings[0].Circuits); got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}

func TestRowsAsConditions(t *testing.T) {
	for text, want := range map[string]string{
		"spot[3] at full":               "spot[3]:9000-9000",
		"spot[1..2] lit":                "and(spot[1]:1-10000 spot[2]:1-10000)",
		"spot[2..2] off":                "spot[2]:0-0",
		"spot off":                      "and(spot[1]:0-0 spot[2]:0-0 spot[3]:0-0 spot[4]:0-0)",
		"any circuit in step[0..1] lit": "or(step[0]:1-10000 step[1]:1-10000)",
		"at most 1 circuit in spot except spot[2..4] lit": "most1(spot[1]:1-10000)",
		"no circuit in table or step[3] at 5 %":           "not(or(spot[2]:500-500 spot[1]:500-500 bed:500-500 step[3]:500-500))",
	} {
		s := must(t, rowHouse+"require \"r\" { never "+text+" }")
		if got := shape(s, s.Requirements[0].P); got != want {
			t.Errorf("%s:\n got %s\nwant %s", text, got, want)
		}
	}
}
