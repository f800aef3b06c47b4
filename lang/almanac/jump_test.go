package almanac

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// The rules of the IANA database (read in eggert/tz at b9bc7a87, files europe and northamerica; dates of 2025 and 2026 worked out with another
// implementation of it).
func TestJumps(t *testing.T) {
	clock := func(s string) TimeOfDay { return clocks(s)[0] }
	jump := func(before, after string, shift time.Duration, dates ...Date) Jump {
		return Jump{clock(before), clock(after), shift, dates}
	}
	const h = time.Hour
	for _, c := range []struct {
		zone     string
		from, to int
		want     []Jump
	}{
		{"Europe/London", 2025, 2026, []Jump{
			jump("01:00", "02:00", h, Date{2025, 3, 30}, Date{2026, 3, 29}), jump("02:00", "01:00", -h, Date{2025, 10, 26}, Date{2026, 10, 25})}},
		{"Europe/Paris", 2026, 2026, []Jump{jump("02:00", "03:00", h, Date{2026, 3, 29}), jump("03:00", "02:00", -h, Date{2026, 10, 25})}},
		{"Europe/Berlin", 2026, 2026, []Jump{jump("02:00", "03:00", h, Date{2026, 3, 29}), jump("03:00", "02:00", -h, Date{2026, 10, 25})}},
		{"America/New_York", 2025, 2026, []Jump{
			jump("02:00", "03:00", h, Date{2025, 3, 9}, Date{2026, 3, 8}), jump("02:00", "01:00", -h, Date{2025, 11, 2}, Date{2026, 11, 1})}},
		{"Australia/Lord_Howe", 2026, 2026, []Jump{
			jump("02:00", "01:30", -h/2, Date{2026, 4, 5}), jump("02:00", "02:30", h/2, Date{2026, 10, 4})}},
		{"Asia/Kolkata", 2026, 2035, nil},
		{"America/Phoenix", 2026, 2035, nil},
		{"Asia/Tokyo", 2026, 2035, nil},
		{"Pacific/Apia", 2011, 2011, []Jump{
			jump("04:00", "03:00", -h, Date{2011, 4, 2}), jump("03:00", "04:00", h, Date{2011, 9, 24}), jump("00:00", "00:00", 24*h, Date{2011, 12, 30})}},
		// A jump at the very start of a year is none of the year before (IANA database, Morocco's return to UTC).
		{"Africa/Casablanca", 1986, 1986, []Jump{jump("00:00", "23:00", -h, Date{1986, 1, 1})}},
		{"Africa/Casablanca", 1985, 1985, nil},
		// golang/go issue 50223: at midnight of 2021-09-05 the clock jumps to 01:00, where time.Date goes back a day.
		{"America/Santiago", 2021, 2021, []Jump{jump("00:00", "23:00", -h, Date{2021, 4, 4}), jump("00:00", "01:00", h, Date{2021, 9, 5})}},
		// Standard time in winter only by name: Ireland's law has it the other way round, the clock does as London's.
		{"Europe/Dublin", 2026, 2026, []Jump{jump("01:00", "02:00", h, Date{2026, 3, 29}), jump("02:00", "01:00", -h, Date{2026, 10, 25})}},
	} {
		got, err := Jumps(load(t, c.zone), c.from, c.to)
		if diff := cmp.Diff(c.want, got); diff != "" || err != nil {
			t.Errorf("%s %d to %d: %v (-want +got)\n%s", c.zone, c.from, c.to, err, diff)
		}
	}
}

// The rules by themselves: Europe, the last Sundays of March and October since 1996; the United States, the second Sunday of March and
// the first of November since 2007.
func TestJumpsFollowTheRules(t *testing.T) {
	sunday := func(year int, month time.Month, notBefore int) Date {
		d := time.Date(year, month, notBefore, 12, 0, 0, 0, time.UTC)
		return Date{year, month, notBefore + (7-int(d.Weekday()))%7}
	}
	for _, c := range []struct {
		zone           string
		since          int
		spring, autumn func(year int) Date
	}{
		{"Europe/Paris", 1996, func(y int) Date { return sunday(y, time.March, 25) }, func(y int) Date { return sunday(y, time.October, 25) }},
		{"America/New_York", 2007, func(y int) Date { return sunday(y, time.March, 8) }, func(y int) Date { return sunday(y, time.November, 1) }},
	} {
		got, err := Jumps(load(t, c.zone), c.since, 2100)
		if err != nil || len(got) != 2 {
			t.Fatalf("%s: %v, %v", c.zone, got, err)
		}
		var spring, autumn []Date
		for y := c.since; y <= 2100; y++ {
			spring, autumn = append(spring, c.spring(y)), append(autumn, c.autumn(y))
		}
		if diff := cmp.Diff([][]Date{spring, autumn}, [][]Date{got[0].Dates, got[1].Dates}); diff != "" {
			t.Errorf("%s (-rule +got)\n%s", c.zone, diff)
		}
	}
}

// Times of day that a jump leaves out, or that come twice.
func TestSkippedAndRepeatedTimes(t *testing.T) {
	for _, c := range []struct {
		zone             string
		year             int
		skipped, kept    string
		repeated, single string
	}{
		{"Europe/London", 2026, "01:00 01:59", "00:59 02:00", "01:00 01:59", "00:59 02:00"},
		{"Europe/Paris", 2026, "02:00 02:59", "01:59 03:00", "02:00 02:59", "01:59 03:00"},
		{"America/New_York", 2026, "02:00 02:59", "01:59 03:00", "01:00 01:59", "00:59 02:00"},
		{"Australia/Lord_Howe", 2026, "02:00 02:29", "01:59 02:30", "01:30 01:59", "01:29 02:00"},
		{"America/Santiago", 2026, "00:00 00:59", "23:59 01:00", "23:00 23:59", "22:59 00:00"},
		{"Pacific/Apia", 2011, "00:00 12:00 23:59", "", "03:00 03:59", "02:59 04:00"},
		{"Asia/Tokyo", 2026, "", "00:00 02:30", "", "00:00 02:30"},
	} {
		jumps, err := Jumps(load(t, c.zone), c.year, c.year)
		if err != nil {
			t.Fatal(err)
		}
		check := func(times string, want bool, what string, has func(Jump, TimeOfDay) bool) {
			for _, at := range clocks(times) {
				got := false
				for _, j := range jumps {
					got = got || has(j, at)
				}
				if got != want {
					t.Errorf("%s %d: %v %s: %v, want %v", c.zone, c.year, at, what, got, want)
				}
			}
		}
		check(c.skipped, true, "skipped", Jump.Skips)
		check(c.kept, false, "skipped", Jump.Skips)
		check(c.repeated, true, "repeated", Jump.Repeats)
		check(c.single, false, "repeated", Jump.Repeats)
	}
}

// Every change of offset that a look at each quarter of an hour sees, and no other.
func TestJumpsAgainstEveryQuarterHour(t *testing.T) {
	const from, to = 1994, 2042
	for _, name := range []string{"Africa/Casablanca", "Asia/Pyongyang", "Pacific/Apia", "America/Caracas", "Antarctica/Troll"} {
		zone := load(t, name)
		type change struct {
			date   string
			before string
			shift  time.Duration
		}
		want := map[change]bool{}
		old := 0
		for s := fromDate(from-1, 12, 1); s < fromDate(to+1, 2, 1); s += 900 {
			here := time.Unix(s, 0).In(zone)
			_, now := here.Zone()
			// What the clock would have shown with the offset of a quarter of an hour ago.
			if read := time.Unix(s+int64(old), 0).UTC(); s > fromDate(from-1, 12, 1) && now != old && read.Year() >= from && read.Year() <= to {
				want[change{read.Format(time.DateOnly), read.Format("15:04"), time.Duration(now-old) * time.Second}] = true
			}
			old = now
		}
		got := map[change]bool{}
		jumps, err := Jumps(zone, from, to)
		if err != nil {
			t.Fatal(err)
		}
		for _, j := range jumps {
			for _, d := range j.Dates {
				got[change{d.String(), j.Before.String(), j.Shift}] = true
			}
		}
		if diff := cmp.Diff(want, got); diff != "" || len(want) == 0 {
			t.Errorf("%s: %d changes (-seen +jumps)\n%s", name, len(want), diff)
		}
	}
}

func fromDate(year int, month time.Month, day int) int64 {
	return time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix()
}

func TestJumpsRefuseBadInput(t *testing.T) {
	if _, err := Jumps(nil, 2026, 2026); err == nil {
		t.Error("no zone is taken")
	}
	for _, years := range [][2]int{{1899, 2000}, {2000, 2200}, {2027, 2026}} {
		if _, err := Jumps(time.UTC, years[0], years[1]); err == nil {
			t.Errorf("years %v are taken", years)
		}
	}
}
