package lang_test

// The sun at the level of a site file.

import (
	"encoding/csv"
	"fmt"
	"os"
	"strings"
	"testing"

	"lampwarden/lang"
	"lampwarden/lang/site"
)

// TestSunOfASiteFile: US Naval Observatory, one-day service (via the test data of mourner/suncalc, commit 886bda41), by UTC
// dates, for two of its sites, one with polar day and night and one whose clocks show UTC: a site file that names the date
// has each time within a minute, in its bands and in its triggers, and a void band or trigger where the table has no event.
func TestSunOfASiteFile(t *testing.T) {
	file, err := os.Open("../testdata/usno-sun-times-2026.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	zones := map[string]string{"Tromsø": "UTC", "Reykjavík": "Atlantic/Reykjavik"}
	times, missing := 0, 0
	for _, row := range rows[1:] {
		zone := zones[row[0]]
		if zone == "" {
			continue
		}
		year, month, day := row[3][:4], row[3][5:7], row[3][8:]
		months := strings.Fields("Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec")
		date := strings.TrimPrefix(day, "0") + " " + months[(int(month[0]-'0')*10+int(month[1]-'0'))-1]
		s := sunSite(t, row[1], row[2], zone, year, date)
		for k, cell := range row[4:8] {
			name := fmt.Sprintf("%s %s, event %d", row[0], row[3], k)
			band, trigger := s.Bands[k], s.Modes[0].Starts[k]
			if cell == "" {
				missing++
				if !band.Void || !trigger.Void {
					t.Errorf("%s: from %s, at %s; no such event is expected", name, band.From.Clock(), trigger.At.Clock())
				}
				continue
			}
			times++
			var h, m site.Millis
			if _, err := fmt.Sscanf(cell, "%d:%d", &h, &m); err != nil {
				t.Fatal(err)
			}
			want := (h*60 + m) * 60_000
			if off := band.From - want; off < -60_000 || off > 60_000 || band.From != trigger.At || band.Void || trigger.Void {
				t.Errorf("%s: from %s, at %s; want %s", name, band.From.Clock(), trigger.At.Clock(), cell)
			}
			if b := s.Bands[4+k]; b.From != (trigger.At-90*60_000+site.Day)%site.Day {
				t.Errorf("%s: an hour and a half before it is %s", name, b.From.Clock())
			}
		}
	}
	if times != 66 || missing != 38 {
		t.Errorf("%d times and %d missing events, want 66 and 38", times, missing)
	}
}

// sunSite gives a site on a date, with a band and a trigger for each event in the order of a day.
func sunSite(t *testing.T, latitude, longitude, zone, year, date string) *site.Site {
	t.Helper()
	side := func(v, plus, minus string) string {
		if v[0] == '-' {
			return v[1:] + " " + minus
		}
		return v + " " + plus
	}
	text := fmt.Sprintf("site \"Hut\" { place %s, %s  time zone %q  year %s }\n", side(latitude, "N", "S"), side(longitude, "E", "W"), zone, year)
	events := []string{"dawn", "sunrise", "sunset", "dusk"}
	for _, by := range []string{"", " - 90 min"} {
		for i, e := range events {
			text += fmt.Sprintf("band b%d%d %s%s to %s + 1 min\n", len(by), i, e, by, e)
		}
	}
	text += "mode m { starts at dawn, at sunrise, at sunset, at dusk  for 1 s }\n" +
		"scenario \"a day\" { on " + date + "  start 12:00 }\n"
	p := lang.LoadText("hut.lamp", text)
	if p.Site == nil {
		t.Fatalf("refused: %v\n%s", p.Diagnostics, text)
	}
	return p.Site.OnDate(p.Site.Scenarios[0].Date)
}
