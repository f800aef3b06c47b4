package resolve_test

// Light that is kept, as it comes out in the site.

import (
	"fmt"
	"strings"
	"testing"

	"lampwarden/lang/site"

	"pgregory.net/rapid"
)

const workshop = `
area works
area bench in works
circuit main in works { dims  adds 200 lux }
circuit side in bench { dims 10 % to 100 %  adds 100 lux }
circuit spare in works { dims }
daylight works_lux in works
alarm fire
`

// keepText shows the cases of the first mode's only setting.
func keepText(s *site.Site) string {
	set := s.Modes[0].States[0].Stages[0].Settings[0]
	var out []string
	for _, c := range set.Cases {
		when := "otherwise"
		if c.When != nil {
			when = fmt.Sprint(s.Inputs[c.When.Input].Lux)
		}
		out = append(out, when+" "+c.Level.String())
	}
	return s.CircuitsText(set.Circuits) + ": " + strings.Join(out, ", ")
}

func TestKeep(t *testing.T) {
	for text, want := range map[string]string{
		"keep works at 300 lux in 3 steps": "main and side: 300 0 %, 200 34 %, 100 67 %, otherwise 100 %",
		"keep works at 600 lux in 4 steps": "main and side: 600 0 %, 450 50 %, otherwise 100 %", // never more than full
		"keep bench at 50 lux in 2 steps":  "side: 50 0 %, 25 25 %, otherwise 50 %",
		"keep bench at 3 lux in 5 steps":   "side: 3 0 %, 2 1 %, 1 2 %, otherwise 3 %",
		"keep works at 30 lux in 1 steps":  "main and side: 30 0 %, otherwise 10 %",
		"keep works at 1000 lux":           "main and side: 1000 0 %, 900 34 %, 800 67 %, otherwise 100 %",
	} {
		s := must(t, workshop+"mode m { while fire  "+text+" }")
		if got := keepText(s); got != want {
			t.Errorf("%s:\n got %s\nwant %s", text, got, want)
		}
		checkSite(t, s)
	}
}

// TestKeepIsEnough: at any daylight the lamps give what is missing, or are full, and never more than a step and a
// per cent of their light above.
func TestKeepIsEnough(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		lux := rapid.Int64Range(1, 2000).Draw(rt, "lux")
		steps := rapid.Int64Range(1, 50).Draw(rt, "steps")
		adds := rapid.Int64Range(1, 2000).Draw(rt, "adds")
		day := rapid.Int64Range(0, 2500).Draw(rt, "daylight")
		s, ds := load(fmt.Sprintf("area a\ncircuit c in a { dims  adds %d lux }\ndaylight d in a\nalarm fire\nmode m { while fire  keep a at %d lux in %d steps }",
			adds, lux, steps))
		if s == nil {
			rt.Fatal(ds)
		}
		m := lampLit{day: day}
		level := site.Level(0)
		for _, c := range s.Modes[0].States[0].Stages[0].Settings[0].Cases {
			if c.When == nil || m.holds(s, c.When) {
				level = c.Level
				break
			}
		}
		got := day*10000 + adds*int64(level)
		if got < lux*10000 && level != site.Full {
			rt.Fatalf("%d lux of daylight and lamps at %s are too little", day, level)
		}
		if day < lux && got > (lux+lux/steps+1)*10000+adds*100 || day >= lux && level != 0 {
			rt.Fatalf("%d lux of daylight and lamps at %s are too much", day, level)
		}
	})
}
