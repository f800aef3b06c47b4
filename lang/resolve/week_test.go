package resolve_test

// Days, ramps, outputs, constants and packs, as they come out in the site.

import (
	"strings"
	"testing"

	"lampwarden/lang/site"
)

func TestDays(t *testing.T) {
	for text, want := range map[string]site.Days{
		"":                   0,
		"on Mon":             1,
		"on Mon to Fri":      0b0011111,
		"on Sat, Sun":        0b1100000,
		"on Fri to Mon":      0b1110001,
		"on Mon to Wed, Sat": 0b0100111,
		"on Mon to Sun":      0,
		"on Tue to Mon":      0,
		"on workdays":        0b0011111,
	} {
		s := must(t, house+"days workdays = Mon to Fri\nband b 22:00 to 05:00 "+text+"\nmode m { starts at 06:00 "+text+
			" if fire  ends at 07:00 "+text+", tap key  spots full }\n"+
			"mode n { states a, b  at 08:00 "+text+": a -> b  in b: spots off }\nprecedence m > n")
		n := &s.Modes[1]
		for what, got := range map[string]site.Days{"band": s.Bands[1].Days, "start": s.Modes[0].Starts[0].Days,
			"end": s.Modes[0].Ends[0].Days, "transition": n.Transitions[0].Trigger.Days} {
			if got != want {
				t.Errorf("%q: %s has %07b, want %07b", text, what, got, want)
			}
		}
		if len(s.Modes[0].Ends) != 2 || s.Modes[0].Ends[1].On == nil || s.Modes[0].Starts[0].If == nil {
			t.Errorf("%q: the list of triggers is %+v", text, s.Modes[0].Ends)
		}
	}
}

func TestScenarioInTheWeek(t *testing.T) {
	const hour = 60 * 60 * 1000
	s := must(t, house+`constant late = 23:00
scenario "a" { start Fri 21:59  at 22:00 fire  at 21:00 not fire  at late tap key }
scenario "b" { at 00:00 fire }`)
	a, b := s.Scenarios[0], s.Scenarios[1]
	if a.Start != 4*site.Day+22*hour-60_000 {
		t.Errorf("the start is %s", a.Start.WeekClock())
	}
	for i, want := range []site.Millis{60_000, 60_000 + 23*hour, 60_000 + 25*hour} {
		if a.Steps[i].After != want {
			t.Errorf("step %d after %s, want %s", i, a.Steps[i].After, want)
		}
	}
	if b.Start != 24*hour-60_000 || b.Steps[0].After != 60_000 {
		t.Errorf("without a start: %s, %s", b.Start.WeekClock(), b.Steps[0].After)
	}
}

func TestRamps(t *testing.T) {
	s := must(t, house+`constant slow = 2 min
constant low = 5 %
mode m { while fire
    first for slow spots ramp to 80 % over 3 min, leds at low
    then spots: day ramp to low over slow, pir 60 %, otherwise ramp to off over 1 s
}`)
	st := s.Modes[0].States[0].Stages
	got := []site.Case{st[0].Settings[0].Cases[0], st[0].Settings[1].Cases[0]}
	got = append(got, st[1].Settings[0].Cases...)
	for i, want := range []struct {
		level site.Level
		over  site.Millis
	}{{8000, 180_000}, {500, 0}, {500, 120_000}, {6000, 0}, {0, 1000}} {
		if got[i].Level != want.level || got[i].Over != want.over {
			t.Errorf("setting %d: %s over %s, want %s over %s", i, got[i].Level, got[i].Over, want.level, want.over)
		}
	}
	if st[0].For != 120_000 {
		t.Errorf("the stage's length is %s", st[0].For)
	}
}

func TestOutputs(t *testing.T) {
	s := must(t, house+`output siren, armed
notice told "somebody is at the door"
mode m { while fire  all circuits full  siren, armed on  told: day on, otherwise off }
mode n { while pir  flash siren, 1 s on, 2 s off }
precedence m > n
require "a" { never siren on and told off }
require "b" { always any circuit lit }`)
	siren := s.CircuitNamed("siren")
	c := s.Circuits[siren]
	if !c.Output || !c.Switched || c.Area != site.None || c.FedBy != site.None || c.Fade != 0 || c.Clamp(1) != site.Full {
		t.Errorf("an output is %+v", c)
	}
	if n := s.Circuits[s.CircuitNamed("told")].Notice; n != "somebody is at the door" {
		t.Errorf("the notice says %q", n)
	}
	sets := s.Modes[0].States[0].Stages[0].Settings
	if len(sets[0].Circuits) != 5 || len(sets[1].Circuits) != 2 || sets[1].Cases[0].Level != site.Full ||
		sets[2].Cases[0].Level != site.Full || sets[2].Cases[1].Level != 0 {
		t.Errorf("the settings are %+v", sets)
	}
	if got := s.ExprText(s.Requirements[0].P); got != "siren on and told off" {
		t.Errorf("shown as %q", got)
	}
	if p := s.Requirements[0].P.Kids[0]; p.Lo != site.Full || p.Hi != site.Full || p.Circuit != siren {
		t.Errorf("`siren on` is %+v", p)
	}
	if got := s.ExprText(s.Requirements[1].P); got != "any circuit lit" || len(s.Requirements[1].P.Kids) != 5 {
		t.Errorf("all circuits: %q", got)
	}
}

func TestConstants(t *testing.T) {
	s := must(t, house+`constant wait = 90 s
constant dim = 30 %
constant seven = 07:00
constant twice = 2
band b seven to 08:00
circuit extra in hall { dims dim to 100 %  fade wait }
mode m { starts on fire  ends at seven  for wait  spots at dim  flash leds at dim twice times, wait on, wait off }
mode n { while pir, off delay wait  bed: day dim, otherwise off }
mode o { while fire  floor: key_is off bed, leds full }
switch key_is
precedence m > n > o
assume fire lasts at least wait
assume at most twice of fire, pir
require "r" { whenever fire then within wait at least twice circuits in room above dim for wait until at most twice circuits lit }
require "s" { at most twice times spots between dim and 90 % within wait }
scenario "t" { start seven  at 08:00 fire  expect spots at dim within wait }`)
	m := &s.Modes[0]
	if m.For != 90_000 || m.Ends[0].At != 7*3_600_000 || m.States[0].Stages[0].Flash.Times != 2 || m.States[0].Stages[0].For != 360_000 {
		t.Errorf("mode %+v", m)
	}
	if n := &s.Modes[1]; n.OffDelay != 90_000 || n.States[0].Stages[0].Settings[0].Cases[0].Level != 3000 {
		t.Errorf("mode %+v", n)
	}
	// After `off` a name begins the next setting, as it did before there were constants.
	if o := s.Modes[2].States[0].Stages[0].Settings; len(o) != 2 || o[0].Cases[0].Level != 0 {
		t.Errorf("settings %+v", o)
	}
	if s.Bands[1].From != 7*3_600_000 || s.Circuits[5].Min != 3000 || s.Circuits[5].Fade != 90_000 {
		t.Errorf("band %+v, circuit %+v", s.Bands[1], s.Circuits[5])
	}
	if a := s.Assumptions; a[0].D != 90_000 || a[1].N != 2 {
		t.Errorf("assumptions %+v", a)
	}
	r := &s.Requirements[0]
	if r.D != 90_000 || r.E != 90_000 || r.B.N != 2 || r.B.Kids[0].Lo != 3001 || r.Until.N != 2 || s.Requirements[1].N != 2 {
		t.Errorf("requirement %+v", r)
	}
	if x := s.Scenarios[0]; x.Start != 7*3_600_000 || x.Steps[1].Within != 90_000 {
		t.Errorf("scenario %+v", x)
	}
}

func TestPacks(t *testing.T) {
	s := must(t, house+`alarm smoke
constant fast = 2 s
use "escape"
use "escape" with response = fast, fire_input = smoke, share = 50 %`)
	r := s.Requirements
	if len(r) != 2 || r[0].D != 5000 || r[1].D != 2000 || r[0].B.Kids[0].Lo != 10_000 || r[1].B.Kids[0].Lo != 5000 {
		t.Fatalf("requirements %+v", r)
	}
	if r[1].Name != "escape pack: light on fire (response = fast, share = 50 %, fire_input = smoke)" {
		t.Errorf("named %q", r[1].Name)
	}
	if s.ExprText(r[0].A) != "fire" || s.ExprText(r[1].A) != "smoke" {
		t.Errorf("on %s, %s", s.ExprText(r[0].A), s.ExprText(r[1].A))
	}
	if a := s.Assumptions; len(a) != 2 || a[1].D != 120_000 || a[1].Inputs[0] != s.InputNamed("smoke") {
		t.Errorf("assumptions %+v", a)
	}
}

// TestPackMistakes: code, and a part of message and suggestion.
func TestPackMistakes(t *testing.T) {
	for text, want := range map[string]string{
		`use "escpe"`:                                            `unknown-pack did you mean "escape"?`,
		`use "escape" with respond = 5 s`:                        "unknown-parameter did you mean `response`?",
		`use "escape" with response = 5 %`:                       "wrong-unit the parameter `response` is a duration; this is a percentage",
		`use "escape" with response = pir`:                       "wrong-kind `pir` is a presence input; a constant is wanted here",
		`use "escape" with fire_input = 5 s`:                     "wrong-kind the parameter `fire_input` is an input",
		`use "escape" with fire_input = spots`:                   "wrong-kind `spots` is a circuit",
		`use "escape" with response = 4 s, response = 4 s`:       "listed-twice `response` is listed twice",
		"use \"escape\"\nuse \"escape\" with response = 5000 ms": "pack-twice used twice with the same parameters",
		"parameter wait = 5 s":                                   "wrong-file only a requirement pack has parameters",
	} {
		_, ds := load(house + text)
		if len(ds) != 1 {
			t.Errorf("%s: %v", text, ds)
			continue
		}
		if got := string(ds[0].Code) + " " + ds[0].Message + " " + ds[0].Suggestion; !matches(got, want) {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
	_, ds := load(strings.Replace(house, "alarm fire", "alarm smoke", 1) + `use "escape"`)
	if len(ds) != 1 || !strings.Contains(ds[0].Suggestion, "with fire_input = ...") {
		t.Errorf("a missing input gives %v", ds)
	}
	_, ds = load(house + `use "strange"`)
	if len(ds) == 0 {
		t.Error("a strange pack is taken")
	}
	var got []string
	for _, d := range ds {
		got = append(got, string(d.Code))
		if len(d.Related) == 0 || d.Related[len(d.Related)-1].Label != "the pack is used here" && d.Related[0].Label != "the pack is used here" {
			t.Errorf("%s does not say where the pack is used", d.Message)
		}
	}
	if strings.Join(got, " ") != "wrong-file wrong-file unknown-name" {
		t.Errorf("a strange pack gives %v", got)
	}
}

// matches tells whether the code and the rest of want are in the text.
func matches(got, want string) bool {
	code, rest, _ := strings.Cut(want, " ")
	return strings.HasPrefix(got, code+" ") && strings.Contains(got, rest)
}
