package site_test

import (
	"testing"

	"lampwarden/lang/site"
)

// TestDates: names of dates and their days of the week (1 January 2026 is a Thursday, 29 February 2028 a Tuesday).
func TestDates(t *testing.T) {
	for _, c := range []struct {
		first, last site.Date
		text        string
		weekday     int // of the first
	}{
		{site.Date{Year: 2026, Month: 1, Day: 1}, site.Date{Year: 2026, Month: 1, Day: 1}, "1 January", 3},
		{site.Date{Year: 2026, Month: 6, Day: 19}, site.Date{Year: 2026, Month: 6, Day: 23}, "19 to 23 June", 4},
		{site.Date{Year: 2028, Month: 2, Day: 29}, site.Date{Year: 2028, Month: 3, Day: 2}, "29 February to 2 March", 1},
		{site.Date{Year: 2026, Month: 12, Day: 30}, site.Date{Year: 2027, Month: 1, Day: 2}, "30 December to 2 January", 2},
	} {
		if got := site.DatesText(c.first, c.last); got != c.text || c.first.Weekday() != c.weekday {
			t.Errorf("%v to %v: %q on day %d, want %q on day %d", c.first, c.last, got, c.first.Weekday(), c.text, c.weekday)
		}
	}
	d, n := site.Date{Year: 2028, Month: 1, Day: 1}, 0
	for ; d.Year == 2028; d = d.Next() {
		n++
	}
	if n != 366 || d != (site.Date{Year: 2029, Month: 1, Day: 1}) {
		t.Errorf("2028 has %d dates, then comes %v", n, d)
	}
}

// TestWhatAJumpTouches: from the time that is no more shown to the one that is shown instead, the first included when clocks
// go forward; the repeated hour begins with the time that they go back to.
func TestWhatAJumpTouches(t *testing.T) {
	const hour site.Millis = 3600_000
	forward, back, over := site.Jump{At: hour, By: hour}, site.Jump{At: 2 * hour, By: -hour}, site.Jump{At: 0, By: -hour}
	for _, c := range []struct {
		name  string
		does  func(site.Millis) bool
		times []site.Millis // each half hour of the day that is touched
	}{
		{"forward skips", forward.Skips, []site.Millis{hour, hour + hour/2}}, {"forward repeats", forward.Repeats, nil},
		{"back repeats", back.Repeats, []site.Millis{hour, hour + hour/2}}, {"back skips", back.Skips, nil},
		{"back over midnight repeats", over.Repeats, []site.Millis{23 * hour, 23*hour + hour/2}},
	} {
		n := 0
		for at := site.Millis(0); at < site.Day; at += hour / 2 {
			if c.does(at) {
				if n >= len(c.times) || c.times[n] != at {
					t.Errorf("%s %s", c.name, at.Clock())
				}
				n++
			}
		}
		if n != len(c.times) {
			t.Errorf("%s %d times, want %d", c.name, n, len(c.times))
		}
	}
}

// TestBandOnHolidays: a band that hangs on holidays holds only on its own kind of day.
func TestBandOnHolidays(t *testing.T) {
	for rule, want := range map[site.HolidayRule][2]bool{site.AnyDay: {true, true}, site.NotHolidays: {true, false}, site.OnHolidays: {false, true}} {
		b := site.Band{From: 0, To: 3600_000, Holidays: rule}
		if b.HoldsIf(60_000, false) != want[0] || b.HoldsIf(60_000, true) != want[1] || b.HoldsIf(3600_000, true) {
			t.Errorf("rule %d", rule)
		}
	}
}
