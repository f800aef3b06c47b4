package resolve_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"lampwarden/lang/site"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// must resolves a text that has no mistakes.
func must(t *testing.T, text string) *site.Site {
	t.Helper()
	s, ds := load(text)
	if s == nil {
		t.Fatalf("refused: %v", ds)
	}
	return s
}

const house = `
area hall : escape
area stairs : escape
area room : sleeping
circuit spots in hall { dims 2 % to 80 % }
circuit leds in stairs { dims }
circuit bed, floor in room { dims }
circuit flood in room { switches }
group pair = spots, leds
group more = bed, pair
presence pir in hall
presence room_a, room_b in room
button key in room
alarm fire
supply mains
band day 07:00 to 22:00
`

// TestLightRanges: comparisons as inclusive ranges in hundredths of a per cent.
func TestLightRanges(t *testing.T) {
	for text, want := range map[string][2]site.Level{
		"spots at full":                 {8000, 8000}, // full is the top of its range
		"flood at full":                 {10000, 10000},
		"spots off":                     {0, 0},
		"spots lit":                     {1, 10000},
		"spots at 30 %":                 {3000, 3000},
		"spots at 0.05 %":               {5, 5},
		"spots above 10 %":              {1001, 10000},
		"spots below 10 %":              {0, 999},
		"spots at least 5 %":            {500, 10000},
		"spots at most 5 %":             {0, 500},
		"spots between 5 % and 20 %":    {500, 2000},
		"spots at least 0 %":            {0, 10000},
		"spots above 99.99 %":           {10000, 10000},
		"spots between 12.5 % and 13 %": {1250, 1300},
	} {
		s := must(t, house+"require \"r\" { never "+text+" }")
		p := s.Requirements[0].P
		if p.Op != site.OpLight || p.Lo != want[0] || p.Hi != want[1] {
			t.Errorf("%s: operator %d, %d..%d, want %v", text, p.Op, p.Lo, p.Hi, want)
		}
	}
}

// shape shows an expression with its operators, for comparing.
func shape(s *site.Site, e *site.Expr) string {
	kids := func() string {
		parts := make([]string, len(e.Kids))
		for i, k := range e.Kids {
			parts[i] = shape(s, k)
		}
		return "(" + strings.Join(parts, " ") + ")"
	}
	switch e.Op {
	case site.OpNot:
		return "not" + kids()
	case site.OpAnd:
		return "and" + kids()
	case site.OpOr:
		return "or" + kids()
	case site.OpAtMost:
		return fmt.Sprintf("most%d%s", e.N, kids())
	case site.OpAtLeast:
		return fmt.Sprintf("least%d%s", e.N, kids())
	case site.OpInput:
		return s.Inputs[e.Input].Name
	case site.OpSum:
		text := map[bool]string{true: "seen[", false: "light["}[e.Seen]
		for i, t := range e.Terms {
			if i > 0 {
				text += " "
			}
			text += fmt.Sprintf("%d %s", t.Weight, s.Circuits[t.Circuit].Name)
		}
		if e.Need%10000 == 0 {
			return fmt.Sprintf("%s]>=%d", text, e.Need/10000)
		}
		return fmt.Sprintf("%s]>=%d.%04d", text, e.Need/10000, e.Need%10000)
	case site.OpLight:
		return fmt.Sprintf("%s:%d-%d", s.Circuits[e.Circuit].Name, e.Lo, e.Hi)
	}
	return s.ExprText(e)
}

func TestExpansion(t *testing.T) {
	for text, want := range map[string]string{
		"every circuit in escape areas at full":     "and(spots:8000-8000 leds:10000-10000)",
		"any circuit in hall or stairs off":         "or(spots:0-0 leds:0-0)",
		"no circuit in pair lit":                    "not(or(spots:1-10000 leds:1-10000))",
		"at most 2 circuits in room off":            "most2(bed:0-0 floor:0-0 flood:0-0)",
		"at least 1 circuit in more at 5 %":         "least1(bed:500-500 spots:500-500 leds:500-500)",
		"every circuit in room except bed off":      "and(floor:0-0 flood:0-0)",
		"any circuit except room, hall lit or fire": "or(or(leds:1-10000) fire)",
		"pair lit":                                   "and(spots:1-10000 leds:1-10000)",
		"pair off and not fire":                      "and(and(spots:0-0 leds:0-0) not(fire))",
		"area room dark":                             "and(bed:0-0 floor:0-0 flood:0-0)",
		"every escape area lit":                      "and(or(spots:1-10000) or(leds:1-10000))",
		"any escape or sleeping area occupied":       "or(or(pir) or() or(room_a room_b))",
		"no area except hall, stairs vacant":         "not(or(not(or(room_a room_b))))",
		"presence in room":                           "or(room_a room_b)",
		"vacated hall":                               "not(or(pir))",
		"mains live or mains lost":                   "or(not(mains) mains)",
		"fire or pir and day with not (fire or pir)": "and(or(fire and(pir day)) not(or(fire pir)))",
	} {
		s := must(t, house+"require \"r\" { never "+text+" }")
		if got := shape(s, s.Requirements[0].P); got != want {
			t.Errorf("%s:\n got %s\nwant %s", text, got, want)
		}
	}
}

// modeNames maps ids to names.
func modeNames(s *site.Site, ids []site.ModeID) []string {
	out := make([]string, len(ids))
	for i, id := range ids {
		out[i] = s.Modes[id].Name
	}
	return out
}

func TestTemplatesAndOrder(t *testing.T) {
	s := must(t, house+`
mode early { while visit in hall or last }
mode visit for each area a with presence { while presence in a and last  circuits in a: day 50 %, otherwise off }
mode last { while fire  all circuits full }
mode any_visit { while visit and not early }
precedence last > visit > early
equals visit, any_visit: highest
`)
	var names []string
	for _, m := range s.Modes {
		names = append(names, m.Name+"/"+m.Template)
	}
	if want := []string{"early/", "visit in hall/visit", "visit in room/visit", "last/", "any_visit/"}; !slices.Equal(names, want) {
		t.Errorf("modes %v, want %v", names, want)
	}
	order := modeNames(s, s.StepOrder)
	if want := []string{"last", "visit in hall", "early", "visit in room", "any_visit"}; !slices.Equal(order, want) {
		t.Errorf("order %v, want %v", order, want)
	}
	last, hall, room, first := s.ModeNamed("last"), s.ModeNamed("visit in hall"), s.ModeNamed("visit in room"), s.ModeNamed("early")
	p := &s.Precedence
	if !p.Outranks(last, first) || !p.Outranks(last, room) || !p.Outranks(hall, first) || p.Outranks(first, last) || p.Outranks(hall, room) {
		t.Error("the precedence is not closed through the template's instances")
	}
	if p.RuleFor(hall, room) != site.Highest || p.RuleFor(room, s.ModeNamed("any_visit")) != site.Highest || p.RuleFor(last, hall) != site.NoRule {
		t.Error("the rule for equals does not reach the instances, or reaches too far")
	}
	if got := s.Modes[room].States[0].Stages[0].Settings[0].Circuits; !slices.Equal(got, s.CircuitsIn(s.AreaNamed("room"))) {
		t.Errorf("the instance in the room asks for %s", s.CircuitsText(got))
	}
}

func TestModeParts(t *testing.T) {
	s := must(t, house+`
mode latch {
    starts on tap key if not fire, fire
    ends on triple tap key, at 07:00 if day
    for 5 min
    first flash pair at 50 % 3 times, 500 ms on, 250 ms off, bed off
    then for 10 s floor at 0.5 %
    then all circuits except room_c full
}
mode wake { at 05:57 for 3 min  bed at 30 % }
mode pad {
    states auto, bright, film
    on tap key: auto -> bright -> film
    on vacated room: -> auto
    after 2 h if day: bright -> film
    at 03:00: film -> auto
    in film: bed off
}
group room_c = floor
`)
	ignore := []cmp.Option{cmpopts.IgnoreTypes(site.Expr{}.Span), cmpopts.IgnoreFields(site.Expr{}, "Kids", "Input")}
	latch := s.Modes[0]
	on := func(g site.Gesture) *site.Expr { return &site.Expr{Op: site.OpEvent, Gesture: g} }
	wantStarts := []site.Trigger{{On: on(site.Tap), If: &site.Expr{Op: site.OpNot}}, {On: &site.Expr{Op: site.OpInput}}}
	wantEnds := []site.Trigger{{On: on(site.TripleTap)}, {At: 7 * 3_600_000, If: &site.Expr{Op: site.OpBand}}}
	if d := cmp.Diff(wantStarts, latch.Starts, ignore...) + cmp.Diff(wantEnds, latch.Ends, ignore...); d != "" || latch.For != 300_000 {
		t.Errorf("latch: %s for %s", d, latch.For)
	}
	wantStages := []site.Stage{
		{For: 2250, Flash: &site.Flash{Times: 3, On: 500, Off: 250}, Settings: []site.Setting{
			{Circuits: []site.CircuitID{0, 1}, Flashing: true, Cases: []site.Case{{Level: 5000}}},
			{Circuits: []site.CircuitID{2}, Cases: []site.Case{{Level: 0}}}}},
		{For: 10_000, Settings: []site.Setting{{Circuits: []site.CircuitID{3}, Cases: []site.Case{{Level: 50}}}}},
		{Settings: []site.Setting{{Circuits: []site.CircuitID{0, 1, 2, 4}, Cases: []site.Case{{Level: site.Full}}}}},
	}
	if d := cmp.Diff(wantStages, latch.States[0].Stages, ignore...); d != "" {
		t.Errorf("stages: %s", d)
	}
	wake := s.Modes[1]
	if len(wake.Starts) != 1 || wake.Starts[0].On != nil || wake.Starts[0].At.Clock() != "05:57" || wake.For != 180_000 {
		t.Errorf("wake: %+v", wake)
	}
	var arrows []string
	for _, tr := range s.Modes[2].Transitions {
		arrows = append(arrows, fmt.Sprintf("%d>%d after %d at %d cause %t guard %t", tr.From, tr.To, tr.After, tr.Trigger.At,
			tr.Trigger.On != nil, tr.Trigger.If != nil))
	}
	want := []string{"0>1 after 0 at 0 cause true guard false", "1>2 after 0 at 0 cause true guard false",
		"-1>0 after 0 at 0 cause true guard false", "1>2 after 7200000 at 0 cause false guard true",
		"2>0 after 0 at 10800000 cause false guard false"}
	if d := cmp.Diff(want, arrows); d != "" {
		t.Errorf("transitions: %s", d)
	}
	if tr := s.Modes[2].Transitions; tr[0].Trigger.On == tr[1].Trigger.On {
		t.Error("two transitions share a node")
	}
}

func TestRequirementsAndAssumptions(t *testing.T) {
	s := must(t, house+`
mode m { while fire }
assume taps on key at least 500 ms apart
assume changes of mains, fire at least 2 s apart
assume presence in hall lasts at least 2 s
assume mains live lasts at least 10 s
assume at most 1 of fire, mains
require "lit" for each area a tagged escape { whenever fire then within 3 s area a lit for 10 s until not fire }
require "r1" { m lasts at most 2 h }
require "r2" { m lasts at least 300 ms }
require "r3" { at most 3 times bed lit within 1 s }
require "r4" { m only after fire since day }
require "r5" { m is possible }
require "r6" { always not m }
`)
	var got []string
	for _, q := range s.Requirements {
		got = append(got, fmt.Sprintf("%s form %d D %d E %d N %d %t%t%t%t%t%t", q.Name, q.Form, q.D, q.E, q.N,
			q.P != nil, q.A != nil, q.B != nil, q.Until != nil, q.Q != nil, q.Since != nil))
	}
	want := []string{
		"lit (hall) form 2 D 3000 E 10000 N 0 falsetruetruetruefalsefalse",
		"lit (stairs) form 2 D 3000 E 10000 N 0 falsetruetruetruefalsefalse",
		"r1 form 3 D 7200000 E 0 N 0 truefalsefalsefalsefalsefalse",
		"r2 form 4 D 300 E 0 N 0 truefalsefalsefalsefalsefalse",
		"r3 form 5 D 1000 E 0 N 3 truefalsefalsefalsefalsefalse",
		"r4 form 6 D 0 E 0 N 0 truefalsefalsefalsetruetrue",
		"r5 form 7 D 0 E 0 N 0 truefalsefalsefalsefalsefalse",
		"r6 form 1 D 0 E 0 N 0 truefalsefalsefalsefalsefalse",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	key, mains, fire, pir := s.InputNamed("key"), s.InputNamed("mains"), s.InputNamed("fire"), s.InputNamed("pir")
	wantAssume := []site.Assumption{
		{Kind: site.Spacing, Inputs: []site.InputID{key}, D: 500},
		{Kind: site.Spacing, Inputs: []site.InputID{mains, fire}, D: 2000},
		{Kind: site.Dwell, Inputs: []site.InputID{pir}, Value: true, D: 2000},
		{Kind: site.Dwell, Inputs: []site.InputID{mains}, Value: false, D: 10_000},
		{Kind: site.AtMost, Inputs: []site.InputID{fire, mains}, N: 1},
	}
	if d := cmp.Diff(wantAssume, s.Assumptions, cmpopts.IgnoreFields(site.Assumption{}, "Span")); d != "" {
		t.Error(d)
	}
}

// TestScenarioTimes: the default start, midnight, and expectations at the step
// before.
func TestScenarioTimes(t *testing.T) {
	s := must(t, house+`
scenario "midnight" {
    given fire, mains lost
    at 00:00:30 tap key
    expect fire within 2 s
    at 00:00:30.500 not fire
    at 00:00:30 presence in hall
    expect not fire
}
scenario "early" { start 22:00  expect not fire  at 07:00 long press key }
`)
	sc := s.Scenarios[0]
	if sc.Start.Clock() != "23:59:30" || len(sc.Given) != 2 {
		t.Errorf("starts at %s with %v", sc.Start.Clock(), sc.Given)
	}
	var got []string
	for _, st := range sc.Steps {
		got = append(got, fmt.Sprintf("%d %t %d %d %t", st.After, st.Expect != nil, st.Within, st.Input, st.Value))
	}
	key, fire, pir := s.InputNamed("key"), s.InputNamed("fire"), s.InputNamed("pir")
	want := []string{
		fmt.Sprintf("60000 false 0 %d false", key), "60000 true 2000 -1 false",
		fmt.Sprintf("60500 false 0 %d false", fire),
		fmt.Sprintf("86460000 false 0 %d true", pir), "86460000 true 0 -1 false",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	early := s.Scenarios[1]
	if early.Steps[0].After != 0 || early.Steps[1].After != 9*3_600_000 || early.Steps[1].Gesture != site.LongPress {
		t.Errorf("early: %+v", early.Steps)
	}
}

// TestTooLarge: a site whose templates expand beyond all bounds is refused in
// short time.
func TestTooLarge(t *testing.T) {
	var names []string
	for i := range maxNames {
		names = append(names, fmt.Sprintf("a%d", i))
	}
	list := strings.Join(names, ", ")
	for name, text := range map[string]string{
		"modes":   "area " + list + "\nalarm fire\nmode m for each area x { while fire }",
		"targets": "area " + list + "\narea hall\ncircuit c" + strings.Join(names, ", c") + " in hall { dims }\nalarm fire\nrequire \"r\" for each area x { never all_of lit }\ngroup all_of = c" + strings.Join(names, ", c"),
	} {
		s, ds := load(text)
		if s != nil || len(ds) != 1 || ds[0].Code != "site-too-large" {
			t.Errorf("%s: got %d reports, first %v", name, len(ds), ds[:min(1, len(ds))])
		}
	}
}

const maxNames = 7000
