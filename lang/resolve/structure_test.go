package resolve_test

// Rows of circuits and areas in areas, as they come out in the site.

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

const nested = `
area house, garden
area office in house : quiet
area desk, window in office : bright
area cellar, hall in house : dry
area nook in hall : dry, bright
circuit lamp in office { dims }
circuit task in desk { dims }
circuit pane in window { dims }
circuit bulb in hall { dims }
circuit path in garden { dims }
presence office_pir in office
presence desk_pir in desk
presence hall_pir in hall
presence nook_pir in nook
alarm fire
`

func TestTagsGoInwards(t *testing.T) {
	s := must(t, nested)
	for name, want := range map[string]string{"house": "", "office": "quiet", "desk": "bright quiet", "nook": "dry bright", "hall": "dry"} {
		if got := strings.Join(s.Areas[s.AreaNamed(name)].Tags, " "); got != want {
			t.Errorf("%s is tagged %q, want %q", name, got, want)
		}
	}
	if a := s.AreaNamed("desk"); s.Areas[a].Parent != s.AreaNamed("office") || !s.Within(a, s.AreaNamed("house")) || s.Within(s.AreaNamed("house"), a) ||
		s.Within(s.AreaNamed("garden"), s.AreaNamed("house")) || s.Areas[0].Parent != site.None {
		t.Error("the desk is not in the office in the house")
	}
}

// TestAreasInAreas: what is said of an area is said of those in it, but for counts.
func TestAreasInAreas(t *testing.T) {
	for text, want := range map[string]string{
		"presence in office":                   "or(office_pir desk_pir)",
		"vacated house":                        "not(or(office_pir desk_pir hall_pir nook_pir))",
		"area office lit":                      "or(lamp:1-10000 task:1-10000 pane:1-10000)",
		"every circuit in quiet areas off":     "and(lamp:0-0 task:0-0 pane:0-0)",
		"any circuit in desk or office lit":    "or(task:1-10000 lamp:1-10000 pane:1-10000)",
		"no circuit in house except desk lit":  "not(or(lamp:1-10000 pane:1-10000 bulb:1-10000))",
		"every dry area occupied":              "", // the cellar has no presence input
		"every dry area except cellar vacant":  "and(not(or(hall_pir nook_pir)) not(or(nook_pir)))",
		"every area in office or hall vacant":  "and(not(or(desk_pir)) not(or()) not(or(nook_pir)))",
		"no quiet area in house occupied":      "not(or(or(office_pir desk_pir) or(desk_pir) or()))",
		"at least 2 areas occupied":            "least2(or() or(office_pir) or(desk_pir) or() or() or(hall_pir) or(nook_pir))",
		"at most 1 area in house lit":          "most1(or(lamp:1-10000) or(task:1-10000) or(pane:1-10000) or() or(bulb:1-10000) or())",
		"at most 3 bright areas in house dark": "most3(and(task:0-0) and(pane:0-0) and())",
	} {
		s, ds := load(nested + "require \"r\" { never " + text + " }")
		switch {
		case s == nil && want != "":
			t.Errorf("%s: refused: %v", text, ds)
		case s == nil:
		case shape(s, s.Requirements[0].P) != want:
			t.Errorf("%s:\n got %s\nwant %s", text, shape(s, s.Requirements[0].P), want)
		}
	}
}

func TestTemplatesOverNestedAreas(t *testing.T) {
	for head, want := range map[string]string{
		"with presence":          "office desk hall nook",
		"with circuits":          "garden office desk window hall",
		"in house with circuits": "office desk window hall",
		"in office or hall":      "desk window nook",
		"tagged quiet":           "office desk window",
		"in house tagged bright": "desk window nook",
		"in hall tagged dry":     "nook",
	} {
		s := must(t, nested+"mode m for each area a "+head+" { while fire }")
		var got []string
		for _, m := range s.Modes {
			got = append(got, s.Areas[m.Area].Name)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: %v, want %s", head, got, want)
		}
	}
	s := must(t, nested+"mode m for each area a tagged quiet { while fire  circuits in a off }")
	if got := circuitNames(s, s.Modes[0].States[0].Stages[0].Settings[0].Circuits); got != "lamp task pane" {
		t.Errorf("the instance in the office asks for %s", got)
	}
}

// TestOccupancyInModes: modes count occupied areas, and see no light.
func TestOccupancyInModes(t *testing.T) {
	for text, want := range map[string]string{
		"every area in house except cellar vacant": "and(not(or(office_pir desk_pir)) not(or(desk_pir)) not(or()) not(or(hall_pir nook_pir)) not(or(nook_pir)))",
		"no dry area occupied":                     "not(or(or() or(hall_pir nook_pir) or(nook_pir)))",
		"at least 2 quiet areas occupied":          "least2(or(office_pir) or(desk_pir) or())",
		"at most 1 area in hall vacant":            "most1(not(or(nook_pir)))",
	} {
		s := must(t, nested+"mode m { while "+text+"  bulb off }\nmode n { starts on "+text+" if "+text+"  bulb: "+text+" 5 % }\nprecedence m > n")
		n := &s.Modes[1]
		for _, e := range []*site.Expr{s.Modes[0].Cond, n.Starts[0].On, n.Starts[0].If, n.States[0].Stages[0].Settings[0].Cases[0].When} {
			if got := shape(s, e); got != want {
				t.Errorf("%s:\n got %s\nwant %s", text, got, want)
			}
		}
		if _, ds := load(nested + "mode m { while " + strings.NewReplacer("vacant", "dark", "occupied", "lit").Replace(text) + "  bulb off }"); len(ds) != 1 ||
			ds[0].Code != "light-not-here" {
			t.Errorf("%s of light: %v", text, ds)
		}
	}
}
