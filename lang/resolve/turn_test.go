package resolve_test

// Lights in turn mean the same as stages that are written out.

import (
	"strings"
	"testing"
)

const flight = house + `
constant pause = 400 ms
constant low = 20 %
lamps step[1..3] in stairs { dims }
lamps extra[1..2] in hall { dims }
output gong, siren
`

func TestInTurn(t *testing.T) {
	for name, c := range map[string]struct{ turn, means string }{
		"alone": {"light step[1..3] in turn, 400 ms apart",
			"first for 400 ms step[1] full then for 400 ms step[1..2] full then step full"},
		"downwards": {"light step[3..1] in turn, pause apart, at low",
			"first for 400 ms step[3] at 20 % then for 400 ms step[3], step[2] at 20 % then step[3..1] at 20 %"},
		"and then": {"first light step in turn, 1 s apart, at 60 % then for 5 s all circuits off",
			"first for 1 s step[1] at 60 % then for 1 s step[1..2] at 60 % then for 1 s step at 60 % then for 5 s all circuits off"},
		"with a length": {"first for 5 s light step except step[2] in turn, 1 s apart, full then leds off",
			"first for 1 s step[1] full then for 4 s step[1], step[3] full then leds off"},
		"with a length at the end": {"light bed, floor in turn, 1 s apart then for 3 s turn off floor, bed in turn, 2 s apart",
			"first for 1 s bed full then for 1 s bed, floor full then for 2 s bed full floor off then for 1 s floor, bed off"},
		"going on": {"first for 2 s leds: day 50 %, otherwise 5 % spots, step at 30 % then turn off step, spots in turn, 1 s apart",
			`first for 2 s leds: day 50 %, otherwise 5 % spots, step at 30 %
			 then for 1 s leds: day 50 %, otherwise 5 % spots, step[2..3] at 30 % step[1] off
			 then for 1 s leds: day 50 %, otherwise 5 % spots, step[3] at 30 % step[1..2] off
			 then for 1 s leds: day 50 %, otherwise 5 % spots at 30 % step off
			 then leds: day 50 %, otherwise 5 % step, spots off`},
		"turn after turn": {"light step[1..2] in turn, 1 s apart, at 60 % then light leds, step[2] in turn, 2 s apart then turn off step[1] in turn, 1 s apart",
			`first for 1 s step[1] at 60 % then for 1 s step[1..2] at 60 %
			 then for 2 s step[1..2] at 60 % leds full
			 then for 2 s step[1] at 60 % leds, step[2] full
			 then leds, step[2] full step[1] off`},
		"flashes end": {"first flash step 2 times, 1 s on, 1 s off, leds full then light spots in turn, 1 s apart",
			"first flash step 2 times, 1 s on, 1 s off, leds full then leds full spots full"},
		"by area": {"light circuits in stairs in turn, 1 s apart",
			"first for 1 s leds full then for 1 s leds, step[1] full then for 1 s leds, step[1..2] full then leds, step full"},
		"outputs off": {"first for 2 s siren, gong on then turn off siren, gong in turn, 1 s apart",
			"first for 2 s siren, gong on then for 1 s gong on siren off then siren, gong off"},
	} {
		for _, frame := range []string{
			"mode m { while fire  ASKS }", "mode m { starts on tap key  for 20 s  ASKS }",
			"mode m { states a, b  on tap key: a -> b  in b: ASKS }",
		} {
			put := func(asks string) string { return flight + strings.ReplaceAll(frame, "ASKS", asks) }
			if d := sameSite(must(t, put(c.means)), must(t, put(c.turn))); d != "" {
				t.Errorf("%s, %s (-want +got):\n%s", name, frame, d)
			}
		}
	}
}

// TestInTurnForEachArea: instances have as many stages as their areas have circuits, and each counts.
func TestInTurnForEachArea(t *testing.T) {
	s := must(t, flight+`
mode m for each area a tagged escape { while fire  light circuits in a in turn, 1 s apart }
require "r" { never m in stage 4 }
require "q" { never m in stage 3 and m in hall in stage 2 }
`)
	if a, b := len(s.Modes[0].States[0].Stages), len(s.Modes[1].States[0].Stages); a != 3 || b != 4 {
		t.Errorf("%d stages in the hall and %d on the stairs", a, b)
	}
	if got := s.ExprText(s.Requirements[0].P); got != "m in stairs in stage 4" {
		t.Error(got)
	}
	if got := s.ExprText(s.Requirements[1].P); got != "(m in hall in stage 3 or m in stairs in stage 3) and m in hall in stage 2" {
		t.Error(got)
	}
	if _, ds := load(flight + "mode m { while fire  light step in turn, 1 s apart }\nrequire \"r\" { never m in stage 4 }"); len(ds) != 1 ||
		ds[0].Code != "unknown-stage" || ds[0].Notes[0] != "its stages are 1 to 3" {
		t.Errorf("%v", ds)
	}
}
