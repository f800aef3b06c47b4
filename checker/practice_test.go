// What every such site should be checked for. The scenes here are common practice, no source.

package checker_test

import (
	"strings"
	"testing"

	"lampwarden/checker"
)

// TestMiddleOfTheDayIsUncovered: morning, evening and late bands that are said to cover the day leave its middle out
// (common practice, no source).
func TestMiddleOfTheDayIsUncovered(t *testing.T) {
	site := func(evening string) string {
		return `
			area hall
			circuit lamp in hall { dims }
			presence pir in hall
			band morning 05:30 to 09:00
			band evening ` + evening + ` to 22:00
			band late 22:00 to 05:30
			bands morning, evening, late cover the day
			mode welcome { while presence in hall, off delay 5 min  lamp: morning 60 %, evening 80 %, late 20 % }
			require "lit" { welcome lasts at least 5 min }`
	}
	rep := prove(t, load(t, site("17:00")), checker.Options{})
	if len(rep.Findings) != 1 || rep.Findings[0].Code != checker.CodeUncovered {
		t.Fatalf("findings %+v", rep.Findings)
	}
	f := rep.Findings[0]
	if !strings.Contains(f.Message, "from 09:00 to 17:00") {
		t.Errorf("the message does not name the gap: %s", f.Message)
	}
	if len(f.Related) != 2 {
		t.Errorf("the bands on both sides are not named: %+v", f.Related)
	}
	if rep := prove(t, load(t, site("09:00")), checker.Options{}); len(rep.Findings) != 0 {
		t.Errorf("a covered day: %+v", rep.Findings)
	}
}

// TestFlashesThenFullLight: two or three flashes and then full light until the alarm clears is full within five seconds;
// a sequence of flashes that lasts longer is not (common practice, no source).
func TestFlashesThenFullLight(t *testing.T) {
	site := func(flash string) string {
		return `
			controller { reacts within 300 ms }
			area hall, stairs : escape
			circuit spots in hall { dims }
			circuit leds in stairs { dims  fade 700 ms }
			alarm fire
			presence pir in hall
			mode alarm_light { while fire  first flash all circuits ` + flash + `  then all circuits full }
			mode welcome { while presence in hall, off delay 5 min  all circuits at 40 % }
			precedence alarm_light > welcome
			require "full within 5 s" {
				whenever fire
				then within 5 s every circuit in escape areas at full
				until not fire
			}
			require "only while the alarm is raised" { never alarm_light and not fire }`
	}
	for _, c := range []struct {
		flash string
		want  checker.Verdict
	}{
		{"2 times, 500 ms on, 500 ms off", checker.Proved},
		{"3 times, 500 ms on, 500 ms off", checker.Proved},
		{"2 times, 1 s on, 1 s off", checker.Proved}, // 4 s, and 1 s to react and fade: just in time
		{"2 times, 1 s on, 1001 ms off", checker.Fails},
		{"3 times, 1 s on, 1 s off", checker.Fails},
		{"6 times, 500 ms on, 500 ms off", checker.Fails},
	} {
		s := load(t, site(c.flash))
		rep := prove(t, s, checker.Options{})
		if got := rep.Outcomes[0].Verdict; got != c.want {
			t.Errorf("flash %s: %v, want %v", c.flash, got, c.want)
		}
		if got := rep.Outcomes[1].Verdict; got != checker.Proved {
			t.Errorf("flash %s: the alarm light outlasts the alarm: %v", c.flash, got)
		}
		for _, f := range rep.Findings {
			t.Errorf("flash %s: %s", c.flash, f.Message)
		}
		if c.want != checker.Fails {
			continue
		}
		ce := rep.Outcomes[0].Counterexample
		if len(ce.Script.Events) != 1 || ce.Script.Events[0].Input != s.InputNamed("fire") || !ce.Judgement.Broken {
			t.Errorf("flash %s: the story is not just the fire alarm: %+v", c.flash, ce.Script)
		}
		if d := ce.Judgement.At - ce.Script.Events[0].At; d < 5_000_000_000 || d > 6_100_000_000 {
			t.Errorf("flash %s: broken %d ns after the alarm", c.flash, d)
		}
	}
}
