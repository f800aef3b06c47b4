package checker_test

// Proofs of site files over the year, holidays and the change of clocks.

import (
	"fmt"
	"testing"

	"lampwarden/checker"
	"lampwarden/lang/site"
)

// TestProofsOverTime: what holds on every date, on holidays or not, whatever the clocks do, is proved; what does not is shown on
// its date, with its holiday or its jump.
func TestProofsOverTime(t *testing.T) {
	const head = `site "Weir Cottage" { place 53.27 N, 9.05 W  time zone "Europe/Dublin" }
area hall
circuit spots in hall { dims }
presence pir in hall
band dusk_on dusk to dawn
band evening sunset to 23:00
band late 21:50 to 05:00
mode backup { starts at 01:30  ends at 01:35  spots at 10 % }
`
	for _, c := range []struct {
		text, require string
		want          checker.Verdict
		date          string // "" for any
		jump          site.Millis
	}{
		// The first date on which the sun sets after 21:50 there is 30 May (lang/almanac, which is tested against published tables).
		{"", "never evening and late and pir", checker.Fails, "", 0},
		{"band sunny 07:00 to sunset", "never sunny and late and pir", checker.Fails, "30 May", 0},
		{"band sunny 07:00 to sunset", "never sunny and late and pir and dusk_on", checker.Proved, "", 0},
		{"", "always not dusk_on or not pir or not evening or late or not late", checker.Proved, "", 0},
		// The clock goes from 01:00 to 02:00, so that 01:35 does not come, and back from 02:00 to 01:00, so that 01:30 comes twice.
		{"", "backup lasts at most 5 min", checker.Proved, "", 0},
		{"", "at most 1 times backup within 90 min", checker.Fails, "", -3600_000},
		{"assume no change of clocks", "at most 1 times backup within 90 min", checker.Proved, "", 0},
		{"mode owl { starts at 23:00  ends at 01:10  spots at 5 % }\nprecedence owl > backup", "owl lasts at most 3 h", checker.Fails, "", 3600_000},
		{"mode owl { starts at 23:00  ends at 01:10  spots at 5 % }\nprecedence owl > backup\nassume no change of clocks", "owl lasts at most 3 h", checker.Proved, "", 0},
		// Any day may be a holiday, and stays one until midnight.
		{"holidays 25 Dec\nband work 08:00 to 18:00 on Mon to Fri except holidays\nband feast 08:00 to 18:00 on holidays", "never work and feast", checker.Proved, "", 0},
		{"holidays 25 Dec\nband work 08:00 to 18:00 on Mon to Fri except holidays", "never work and holiday", checker.Proved, "", 0},
		{"holidays\nband feast 08:00 to 18:00 on holidays", "feast is possible", checker.IsPossible, "", 0},
		{"holidays\nmode wake { starts at 07:00 on Mon to Fri except holidays  for 1 h  spots full }\nprecedence wake > backup", "never wake and holiday", checker.Proved, "", 0},
	} {
		name := fmt.Sprintf("%s { %s }", c.text, c.require)
		s := load(t, head+c.text+"\nrequire \"r\" { "+c.require+" }")
		out := prove(t, s, checker.Options{NoFindings: true}).Outcomes[0]
		if out.Verdict != c.want {
			t.Errorf("%s: %s %s, want %s", name, out.Verdict, out.Reason, c.want)
			continue
		}
		cx := out.Counterexample
		if cx == nil {
			continue
		}
		on := cx.Timeline.Site
		if on.Date == "" || c.date != "" && on.Date[len(on.Date)-len(c.date):] != c.date {
			t.Errorf("%s: on %q, want %q", name, on.Date, c.date)
		}
		by := site.Millis(0)
		for _, j := range cx.Script.Jumps {
			by = j.By
		}
		if by != c.jump {
			t.Errorf("%s: the clock jumps by %s, want %s", name, by, c.jump)
		}
	}
}
