// Lamps that switch themselves, against the condition of the handbook.

package checker_test

import (
	"fmt"
	"testing"

	"lampwarden/checker"
)

// TestHuntingByTheCondition: with lamps on below one level of daylight and off from another on, the loop is stable exactly if
// E_off >= E_on + E_lamps (control reasoning, no source; with > at the limit for a sensor that is not exact). 300 lux on, 300 lux
// off and lamps of 200 lux is the usual example of a limit cycle.
func TestHuntingByTheCondition(t *testing.T) {
	for _, on := range []int{100, 300} {
		for _, wider := range []int{0, 50, 150, 199, 200, 201, 400} {
			for _, lamps := range []int{50, 200, 350} {
				s := load(t, fmt.Sprintf(`
					area hall
					circuit spots in hall { dims  adds %d lux }
					daylight sky in hall { responds within 2 s }
					mode work { while sky below %d lux hysteresis %d lux, off delay 30 s  spots full }`, lamps, on, wider))
				found := ""
				for _, f := range prove(t, s, checker.Options{}).Findings {
					if f.Undecided {
						t.Errorf("%d lux on, %d lux wider, lamps %d lux: %s", on, wider, lamps, f.Message)
					}
					found += f.Code
				}
				want := ""
				if on+wider < on+lamps {
					want = checker.CodeHunting
				}
				if found != want {
					t.Errorf("on below %d lux, off from %d lux, lamps %d lux: found %q, want %q", on, on+wider, lamps, found, want)
				}
			}
		}
	}
}
