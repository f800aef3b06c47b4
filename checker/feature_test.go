// A feature that a requirement does not read costs it nothing.

package checker_test

import (
	"os"
	"path/filepath"
	"testing"

	"lampwarden/checker"
	"lampwarden/lang"
)

// TestAFeatureMoreCostsOthersNothing: with a shed that has daylight, colour, a key and modes of its own, every requirement
// of the guest house takes the same number of zones as without.
func TestAFeatureMoreCostsOthersNothing(t *testing.T) {
	files, err := filepath.Glob("../examples/guesthouse/*.lamp")
	if err != nil || len(files) == 0 {
		t.Fatalf("no example: %v", err)
	}
	text := ""
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		text += string(b)
	}
	const shed = `
area shed
circuit shed_lamp in shed { dims  fed by mains  adds 150 lux }
daylight shed_sky in shed
presence shed_pir in shed
button shed_key in shed
mode shed_work { while presence in shed and shed_sky below 100 lux hysteresis 200 lux, off delay 7 min  shed_lamp at 80 % }
mode shed_night { starts on long press shed_key  for 13 min  shed_lamp at 5 % }
equals shed_work, shed_night: highest
`
	zones := func(text string) map[string]int {
		p := lang.LoadText("site.lamp", text)
		if p.Site == nil {
			t.Fatal(p.Diagnostics)
		}
		out := map[string]int{}
		for _, o := range prove(t, p.Site, checker.Options{NoFindings: true}).Outcomes {
			out[p.Site.Requirements[o.Requirement].Name] = o.Stats.Stored
		}
		return out
	}
	before, after := zones(text), zones(text+shed)
	if len(before) < 40 || len(after) < len(before) { // packs ask something of the shed, too
		t.Fatalf("%d requirements, then %d", len(before), len(after))
	}
	for name, n := range before {
		if after[name] != n {
			t.Errorf("%s: %d zones, with the shed %d", name, n, after[name])
		}
	}
}
