package resolve_test

// Sensors of daylight, as they come out in the site.

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"lampwarden/lang/site"

	"github.com/google/go-cmp/cmp"
)

const sunny = house + `
daylight hall_lux in hall { responds within 2 s }
daylight room_lux in room
area desk in room
constant task = 300 lux
`

// lightTour has some of everything, for the fuzzer.
const lightTour = `
circuit board in stairs { switches  power 40 W  fed by mains }
require "load" { always power of mains at most 30 W or power of board between 5 W and 9 W }
circuit tint, glow in stairs { dims  colour  tunable 2700 K to 6500 K }
curve noon_white = 06:00 2700 K, 12:00 5000 K in steps of 500 K
mode hues { while fire  tint: hall_lux above task full red, day 5 % by noon_white, otherwise ramp to full 3000 K over 2 s, flash glow full blue, 1 s on, 1 s off }
require "no red" { never any circuit red with every circuit in stairs except leds at noon_white or tint above 3000 K }
circuit work in hall { dims  adds 90 lux }
mode kept { while fire  keep hall at task in 4 steps, spots off  then keep hall at 50 lux }
require "total" { always illuminance of hall at least task or illuminance of hall between 20 lux and 50 lux }
assume changes of hall_lux at least 5 s apart
mode m { while daylight in hall below 400 lux hysteresis 40 lux, on delay 5 s  spots: hall_lux above task 5 %, otherwise full }
mode n for each area a with daylight { while daylight in a below 120 lux hysteresis 40 lux }
require "r" { m only after hall_lux above 2000 lux }
scenario "s" { given hall_lux 300 lux  at 12:00 daylight in hall 50 lux  expect m within 6 s }
`

// plantText shows a mode of the plant.
func plantText(s *site.Site, m *site.Mode) string {
	if m.Kind == site.While {
		return m.Name + ": while " + shape(s, m.Cond)
	}
	var out []string
	for _, t := range m.Starts {
		out = append(out, "starts "+shape(s, t.On))
	}
	for _, t := range m.Ends {
		out = append(out, "ends "+shape(s, t.On))
	}
	return m.Name + ": " + strings.Join(out, ", ")
}

// TestDaylightAtoms: comparisons are rungs, or modes of the plant that have a hysteresis.
func TestDaylightAtoms(t *testing.T) {
	for _, c := range []struct{ text, want, plant string }{
		{"daylight in hall below 120 lux", "not(hall_lux at least 120 lux)", ""},
		{"daylight in hall above 500 lux", "hall_lux at least 500 lux", ""},
		{"hall_lux at least task and fire", "and(hall_lux at least 300 lux fire)", ""},
		{"daylight in desk below 120 lux hysteresis 0 lux", "not(room_lux at least 120 lux)", ""},
		{"hall_lux below 120 lux hysteresis 40 lux", "not(hall_lux above 160 lux hysteresis 40 lux)",
			"hall_lux above 160 lux hysteresis 40 lux: starts hall_lux at least 160 lux, ends not(hall_lux at least 120 lux)"},
		{"daylight in hall above task hysteresis 299 lux", "hall_lux above 300 lux hysteresis 299 lux",
			"hall_lux above 300 lux hysteresis 299 lux: starts hall_lux at least 300 lux, ends not(hall_lux at least 1 lux)"},
		{"hall_lux below 120 lux hysteresis 40 lux or hall_lux above 160 lux hysteresis 40 lux",
			"or(not(hall_lux above 160 lux hysteresis 40 lux) hall_lux above 160 lux hysteresis 40 lux)",
			"hall_lux above 160 lux hysteresis 40 lux: starts hall_lux at least 160 lux, ends not(hall_lux at least 120 lux)"},
	} {
		for _, in := range []string{"mode m { while %s  spots full }", "require \"r\" { never %s }", "mode m { while fire  spots: %s 50 %%, otherwise off }"} {
			s := must(t, sunny+fmt.Sprintf(in, c.text))
			var got *site.Expr
			switch {
			case len(s.Requirements) > 0:
				got = s.Requirements[0].P
			case s.Modes[0].States[0].Stages[0].Settings[0].Cases[0].When != nil:
				got = s.Modes[0].States[0].Stages[0].Settings[0].Cases[0].When
			default:
				got = s.Modes[0].Cond
			}
			if text := shape(s, got); text != c.want {
				t.Errorf("%s:\n got %s\nwant %s", c.text, text, c.want)
			}
			var plant []string
			for i := range s.Modes {
				if s.Modes[i].Plant {
					plant = append(plant, plantText(s, &s.Modes[i]))
				}
			}
			if text := strings.Join(plant, "; "); text != c.plant {
				t.Errorf("%s: the plant is\n%s\nwant\n%s", c.text, text, c.plant)
			}
			checkSite(t, s)
		}
	}
}

// TestLadder: the values that a site compares with are the rungs of one ladder for each sensor, and assumptions on a
// sensor speak of all of them.
func TestLadder(t *testing.T) {
	s := must(t, sunny+`
assume changes of hall_lux, fire at least 5 s apart
mode m { while daylight in hall below 400 lux  spots full }
mode n for each area a with daylight { while daylight in a below 120 lux hysteresis 40 lux, on delay 30 s, off delay 2 min }
require "r" { m only after hall_lux above 2000 lux }
scenario "s" { at 12:00 fire  expect hall_lux below 30 lux }
`)
	var got []string
	for _, a := range s.Assumptions {
		text := fmt.Sprintf("%d %s:", a.Kind, a.D)
		for _, id := range a.Inputs {
			text += fmt.Sprintf(" %s,%s,%d", s.Inputs[id].Name, s.Inputs[id].Sensor, s.Inputs[id].Lux)
		}
		got = append(got, text)
	}
	rungs := ""
	for _, n := range []int{30, 120, 160, 400, 2000} {
		rungs += fmt.Sprintf(" hall_lux at least %d lux,hall_lux,%d", n, n)
	}
	want := []string{"0 5 s: fire,,0" + rungs, "3 0 s:" + rungs,
		"3 0 s: room_lux at least 120 lux,room_lux,120 room_lux at least 160 lux,room_lux,160"}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	if got := modeNames(s, s.StepOrder); !slices.Equal(got[:2], []string{"hall_lux above 160 lux hysteresis 40 lux", "room_lux above 160 lux hysteresis 40 lux"}) {
		t.Errorf("the plant does not step first: %v", got)
	}
	if n := s.Modes[s.ModeNamed("n in hall")]; n.OnDelay != 30_000 || n.OffDelay != 120_000 || s.ModeNamed("n in stairs") != site.None {
		t.Errorf("switching delays: %+v", n)
	}
}

// TestDaylightInScenarios: a step makes all the changes that it needs, the last at its own time.
func TestDaylightInScenarios(t *testing.T) {
	const modes = `
mode m { while daylight in hall below 100 lux hysteresis 50 lux or hall_lux above 900 lux  spots full }
mode n { while daylight in desk below 70 lux  bed off }
`
	for text, want := range map[string]string{
		"at 10:00 daylight in hall 300 lux": "59999 +100; 60000 +150",
		"given hall_lux 120 lux, fire  at 10:00 daylight in hall 1000 lux  at 11:00 hall_lux 149 lux  at 11:01 hall_lux 10 lux": "given fire 100; " +
			"59999 +150; 60000 +900; 3659999 -900; 3660000 -150; 3720000 -100",
		"at 10:00 room_lux 70 lux  expect fire  at 10:01 hall_lux 99 lux  at 10:02 fire": "60000 +70; expect; 180000 fire",
		"start 09:00  at 10:00 daylight in desk 100 lux":                                 "3600000 +70",
	} {
		s := must(t, sunny+modes+"scenario \"s\" { "+text+" }")
		if got := scenarioText(s); got != want {
			t.Errorf("%s:\n got %s\nwant %s", text, got, want)
		}
	}
	s := must(t, sunny+modes+`assume changes of hall_lux at least 2 s apart
scenario "s" { at 10:00 hall_lux 2000 lux }`)
	if got := scenarioText(s); got != "56000 +100; 58000 +150; 60000 +900" {
		t.Errorf("with an assumption: %s", got)
	}
}

// scenarioText shows what happens in a site's scenario.
func scenarioText(s *site.Site) string {
	sc := &s.Scenarios[0]
	var out []string
	if len(sc.Given) > 0 {
		text := "given"
		for _, id := range sc.Given {
			if in := &s.Inputs[id]; in.Kind == site.Daylight {
				text += fmt.Sprintf(" %d", in.Lux)
			} else {
				text += " " + in.Name
			}
		}
		out = append(out, text)
	}
	for _, st := range sc.Steps {
		switch {
		case st.Expect != nil:
			out = append(out, "expect")
		case s.Inputs[st.Input].Kind != site.Daylight:
			out = append(out, fmt.Sprintf("%d %s", st.After, s.Inputs[st.Input].Name))
		case st.Value:
			out = append(out, fmt.Sprintf("%d +%d", st.After, s.Inputs[st.Input].Lux))
		default:
			out = append(out, fmt.Sprintf("%d -%d", st.After, s.Inputs[st.Input].Lux))
		}
	}
	return strings.Join(out, "; ")
}
