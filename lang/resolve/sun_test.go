package resolve_test

// The sun, dates and the local clock, as they come out in the site.

import (
	"strings"
	"testing"

	"lampwarden/lang/site"
)

// place puts a site at a place.
func place(where, zone, rest string) string {
	return "site \"Hut\" { place " + where + "  time zone \"" + zone + "\" }\n" + rest
}

const (
	galway    = "53.27 N, 9.05 W"
	reykjavik = "64.14 N, 21.9 W"
	minute    = site.Millis(60_000)
	hour      = 60 * minute
)

// TestSunDates: every date of the year is in one run of dates, those with equal times are one, and only what the site names
// makes a difference.
func TestSunDates(t *testing.T) {
	all := must(t, place(galway, "Europe/Dublin", "band b dawn to sunset\nband c sunrise to dusk"))
	some := must(t, place(galway, "Europe/Dublin", "band b sunset - 30 min to 22:00"))
	for _, s := range []*site.Site{all, some} {
		at := site.Date{Year: 2026, Month: 1, Day: 1}
		for i, d := range s.Dates {
			if d.First != at {
				t.Fatalf("%s begins on %v, want %v", d.Name, d.First, at)
			}
			if at = d.Last.Next(); i > 0 && s.Dates[i-1].At == d.At {
				t.Errorf("%s and %s have the same times", s.Dates[i-1].Name, d.Name)
			}
			if d.Name != site.DatesText(d.First, d.Last) {
				t.Errorf("the dates from %v to %v are called %q", d.First, d.Last, d.Name)
			}
		}
		if at.Year != 2027 {
			t.Errorf("the dates end before %v", at)
		}
	}
	if a, b := len(all.Dates), len(some.Dates); a <= b || b < 180 || a > 365 {
		t.Errorf("%d dates with all events, %d with sunset alone", a, b)
	}
	for _, d := range some.Dates {
		if d.At[site.Dawn] != site.NoEvent || d.At[site.Dusk] != site.NoEvent || d.At[site.Sunset] == site.NoEvent {
			t.Errorf("%s: %v, want sunset alone", d.Name, d.At)
		}
	}
	if s := must(t, "band b 07:00 to 22:00\nmode m { at 07:00 for 1 s }"); s.Dates != nil || s.Year != 2026 {
		t.Errorf("a site without the sun has %d dates of %d", len(s.Dates), s.Year)
	}
}

// TestTwoSunsetsOnOneDate: at Reykjavik the sun sets after midnight in June and before midnight in July; on the date between, twice.
func TestTwoSunsetsOnOneDate(t *testing.T) {
	s := must(t, place(reykjavik, "Atlantic/Reykjavik", "band b sunset to 05:00"))
	var twice []site.SunDate
	for i, d := range s.Dates {
		if i > 0 && s.Dates[i-1].First == d.First {
			twice = append(twice, s.Dates[i-1], d)
		}
	}
	if len(twice) != 2 || twice[0].At[site.Sunset] > 10*minute || twice[1].At[site.Sunset] < 23*hour+50*minute ||
		!strings.HasPrefix(twice[0].Name, twice[0].First.InYear()+", sunset at 00:0") || twice[0].Name == twice[1].Name {
		t.Errorf("dates with two sunsets: %+v", twice)
	}
}

// TestOvernight: a band by the sun runs past midnight if it does at the March equinox; else it is void where its ends have
// swapped order.
func TestOvernight(t *testing.T) {
	for _, c := range []struct {
		where, band string
		overnight   bool
		void        map[string]bool // by date
	}{
		{galway, "dusk to dawn", true, map[string]bool{"21 June": false, "21 December": false}},
		{galway, "dawn to dusk", false, map[string]bool{"21 June": false}},
		{galway, "sunset - 30 min to 22:00", false, map[string]bool{"21 June": false, "1 Jan": false}},
		{galway, "sunset to 21:00", false, map[string]bool{"21 June": true, "1 Jan": false}},
		{galway, "22:00 to sunrise", true, map[string]bool{"21 June": false}},
		{reykjavik, "dusk to dawn", true, map[string]bool{"21 June": true, "1 Jan": false}},
		{reykjavik, "sunset to sunrise", true, map[string]bool{"21 June": false}},
		{"85 N, 0 E", "dusk to dawn", true, map[string]bool{"1 Jan": true, "1 March": false, "1 July": true}},
	} {
		text := place(c.where, "Atlantic/Reykjavik", "band b "+c.band+"\n")
		for date := range c.void {
			text += "scenario \"" + date + "\" { on " + date + " start 12:00 }\n"
		}
		s := must(t, text)
		if s.Bands[0].Overnight != c.overnight {
			t.Errorf("%s, %s: overnight %v", c.where, c.band, s.Bands[0].Overnight)
		}
		for _, sc := range s.Scenarios {
			if d := s.OnDate(sc.Date); d.Bands[0].Void != c.void[sc.Name] {
				t.Errorf("%s, %s on %s (%s): void %v, from %s to %s", c.where, c.band, sc.Name, d.Date, d.Bands[0].Void,
					d.Bands[0].From.Clock(), d.Bands[0].To.Clock())
			}
		}
	}
}

// TestSunTriggers: `at sunset` wherever a clock time stands in a mode.
func TestSunTriggers(t *testing.T) {
	s := must(t, place(galway, "Europe/Dublin", house[1:]+`constant early = 30 min
mode porch { starts at sunset + 10 min on Mon to Fri if pir, at 18:00  ends on tap key, at dawn  spots full }
mode path { at dusk - early for 2 h  leds full }
mode keypad { states a, b  at sunrise if pir: a -> b  on fire: b -> a  at sunset: b -> a  in b: bed full }
`))
	porch, path, keypad := &s.Modes[0], &s.Modes[1], &s.Modes[2]
	for i, c := range []struct {
		got    site.Trigger
		event  site.SunEvent
		offset site.Millis
	}{
		{porch.Starts[0], site.Sunset, 10 * minute}, {porch.Ends[1], site.Dawn, 0}, {path.Starts[0], site.Dusk, -30 * minute},
		{keypad.Transitions[0].Trigger, site.Sunrise, 0}, {keypad.Transitions[2].Trigger, site.Sunset, 0},
	} {
		if c.got.Sun == nil || *c.got.Sun != (site.SunTime{Event: c.event, Offset: c.offset}) {
			t.Errorf("trigger %d: %+v", i, c.got)
		}
	}
	if porch.Starts[0].Days != 0b0011111 || porch.Starts[0].If == nil || porch.Starts[1].Sun != nil || path.For != 2*hour {
		t.Errorf("modes %+v, %+v", porch, path)
	}
}

// TestYearOfTheSite: `year` is that of the dates.
func TestYearOfTheSite(t *testing.T) {
	s := must(t, `site "Hut" { year 2028  place 53.27 N, 9.05 W  time zone "Europe/Dublin" }
band b dusk to dawn
scenario "leap day" { start 12:00  on 29 Feb }`)
	if s.Year != 2028 || s.Dates[0].First != (site.Date{Year: 2028, Month: 1, Day: 1}) {
		t.Errorf("the year is %d, the dates begin on %v", s.Year, s.Dates[0].First)
	}
	if d := s.Dates[s.Scenarios[0].Date]; d.First.InYear() != "29 February" && d.Last.InYear() != "29 February" {
		t.Errorf("the scenario is on %s", d.Name)
	}
}

// TestJumps: the changes of the clock of the site's time zone, with the dates on which they happen in ten years (by the
// rules in force: EU directive 2000/84/EC, last Sundays of March and October at 01:00 UTC).
func TestJumps(t *testing.T) {
	dublin := must(t, place(galway, "Europe/Dublin", ""))
	if len(dublin.Jumps) != 2 {
		t.Fatalf("jumps %+v", dublin.Jumps)
	}
	for i, want := range []struct {
		at, by      site.Millis
		first, last string
	}{{hour, hour, "29 March 2026", "25 March 2035"}, {2 * hour, -hour, "25 October 2026", "28 October 2035"}} {
		j := dublin.Jumps[i]
		if n := len(j.Dates); j.At != want.at || j.By != want.by || n != 10 || j.Dates[0].String() != want.first ||
			j.Dates[n-1].String() != want.last || j.Dates[0].Weekday() != 6 {
			t.Errorf("jump %+v, want %+v", j, want)
		}
	}
	for _, c := range []struct {
		text string
		n    int
	}{
		{place(galway, "Europe/Dublin", "assume no change of clocks"), 0},
		{place(reykjavik, "Atlantic/Reykjavik", ""), 0},
		{`site "Hut" { place 53.27 N, 9.05 W }`, 0},
		{`site "Hut" { time zone "Australia/Lord_Howe"  year 2027 }`, 2},
		{`site "Hut" { time zone "Pacific/Apia"  year 2011 }`, 2}, // the day that was left out in 2011 changes no clock
	} {
		if s := must(t, c.text); len(s.Jumps) != c.n || s.SteadyClock != strings.Contains(c.text, "assume") {
			t.Errorf("%s: jumps %+v", c.text, s.Jumps)
		}
	}
}
