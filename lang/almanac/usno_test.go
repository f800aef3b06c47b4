package almanac

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"
)

// US Naval Observatory, one-day service (via the test data of mourner/suncalc, commit 886bda41): every time within one minute,
// every missing event missing for the reason that the table gives. The table is by UTC dates, so
// the zone is UTC.
func TestNavalObservatory(t *testing.T) {
	file, err := os.Open("../../testdata/usno-sun-times-2026.csv")
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
	times, missing, differ := 0, 0, 0
	for _, row := range rows[1:] {
		lat, _ := strconv.ParseFloat(row[1], 64)
		lon, _ := strconv.ParseFloat(row[2], 64)
		at, err := time.Parse(time.DateOnly, row[3])
		if err != nil {
			t.Fatal(err)
		}
		name := row[0] + " " + row[3]
		got, err := On(Place{lat, lon}, time.UTC, Date{at.Year(), at.Month(), at.Day()})
		if err != nil {
			t.Fatal(name, err)
		}
		for k := range kinds {
			e, cell := got.Events[k], row[4+k]
			if cell == "" {
				missing++
				if want := reason(row[8], k); e.Outcome != want && !atMidnight(e, want) {
					t.Errorf("%s: %v: %v %v, want %v", name, k, e.Outcome, e.Times, want)
				}
				continue
			}
			times++
			want, err := time.Parse("15:04", cell)
			if err != nil {
				t.Fatal(name, err)
			}
			off, ok := nearest(e, TimeOfDay(want.Hour()*60+want.Minute())*60_000)
			if !ok || off > 1 {
				t.Errorf("%s: %v: %v %v, want %s", name, k, e.Outcome, e.Times, cell)
			}
			exactly(t, name, Place{lat, lon}, k, at.Add(time.Duration(want.Hour()*60+want.Minute())*time.Minute))
			local(t, row[0], Place{lat, lon}, k, at.Add(time.Duration(want.Hour()*60+want.Minute())*time.Minute))
			if off > 0 {
				differ++
			}
		}
	}
	if times != 601 || missing != 127 {
		t.Errorf("compared %d times and %d missing events, want 601 and 127: 14 sites, 13 dates, 4 events", times, missing)
	}
	t.Logf("%d of %d times are the next minute, by rounding", differ, times)
}

// exactly fails unless the sun passes the event's altitude within 0.6 min of a published time, 0.5 of which is the rounding.
func exactly(t *testing.T, name string, place Place, k Kind, published time.Time) {
	t.Helper()
	altitude, level := place.sineOfAltitude(), math.Sin(horizonAltitude)
	if k == Dawn || k == Dusk {
		level = math.Sin(twilightAltitude)
	}
	const tolerance = 36
	before := altitude(fromUnix(published.Unix()-tolerance)) >= level
	after := altitude(fromUnix(published.Unix()+tolerance)) >= level
	if rises := k == Dawn || k == Sunrise; before == rises || after != rises {
		t.Errorf("%s: %v not within %d s of %v", name, k, tolerance, published)
	}
}

// local fails unless the event at a published moment is on the site's own local date, at the local time.
func local(t *testing.T, site string, place Place, k Kind, published time.Time) {
	t.Helper()
	zone, err := Load(siteZones()[site])
	if err != nil {
		t.Fatal(site, err)
	}
	there := published.In(zone)
	y, m, d := there.Date()
	got, err := On(place, zone, Date{y, m, d})
	if err != nil {
		t.Fatal(site, err)
	}
	want := TimeOfDay(there.Hour()*60+there.Minute()) * 60_000
	if off, ok := nearest(got.Events[k], want); !ok || off > 1 {
		t.Errorf("%s: %v on %v: %v, want %v", site, k, got.Date, got.Events[k], want)
	}
}

// siteZones are the zones of the table's sites.
func siteZones() map[string]string {
	return map[string]string{
		"Longyearbyen": "Arctic/Longyearbyen", "Tromsø": "Europe/Oslo", "Reykjavík": "Atlantic/Reykjavik",
		"Stockholm": "Europe/Stockholm", "Kyiv": "Europe/Kyiv", "Istanbul": "Europe/Istanbul", "Shanghai": "Asia/Shanghai",
		"Bogotá": "America/Bogota", "Kinshasa": "Africa/Kinshasa", "Lima": "America/Lima",
		"Buenos Aires": "America/Argentina/Buenos_Aires", "Melbourne": "Australia/Melbourne",
		"Ushuaia": "America/Argentina/Ushuaia", "McMurdo Station": "Antarctica/McMurdo",
	}
}

// reason is what the note of a row says of an event with no time. Without a note the event is on the other side of midnight.
func reason(note string, k Kind) Outcome {
	line := "horizon"
	if k == Dawn || k == Dusk {
		line = "twilight limit"
	}
	switch {
	case strings.Contains(note, "object continuously above the "+line):
		return AboveAllDay
	case strings.Contains(note, "object continuously below the "+line):
		return BelowAllDay
	}
	return NotOnDate
}

// atMidnight tells whether an event that should be on the other side of midnight is within a minute of it.
func atMidnight(e Event, want Outcome) bool {
	if want != NotOnDate || len(e.Times) != 1 {
		return false
	}
	return e.Times[0] == 0 || e.Times[0] == (24*60-1)*60_000
}

// nearest is how far the nearest of an event's times is from a time of day, in minutes.
func nearest(e Event, want TimeOfDay) (minutes float64, ok bool) {
	for _, at := range e.Times {
		if off := max(at-want, want-at); !ok || float64(off)/60_000 < minutes {
			minutes, ok = float64(off)/60_000, true
		}
	}
	return minutes, ok
}
