package checker

import (
	"slices"
	"testing"

	"lampwarden/lang/site"
)

// bandsOf makes a site of bands that are to cover the day.
func bandsOf(bands ...site.Band) (*site.Site, *site.Cover) {
	c := &site.Cover{}
	for i := range bands {
		c.Bands = append(c.Bands, site.BandID(i))
	}
	return &site.Site{Bands: bands}, c
}

// TestUncovered: gaps over the week, the weekday named only where days differ.
func TestUncovered(t *testing.T) {
	const hour site.Millis = 60 * 60 * 1000
	const workdays, weekend site.Days = 0b0011111, 0b1100000
	band := func(from, to site.Millis, days site.Days) site.Band {
		return site.Band{Name: "b", From: from * hour, To: to * hour, Days: days}
	}
	for _, c := range []struct {
		name  string
		bands []site.Band
		want  []string
	}{
		{"whole", []site.Band{band(7, 22, 0), band(22, 7, 0)}, nil},
		{"every day", []site.Band{band(7, 12, 0), band(13, 22, 0), band(22, 6, 0)}, []string{"from 06:00 to 07:00", "from 12:00 to 13:00"}},
		{"past midnight", []site.Band{band(7, 22, 0)}, []string{"from 22:00 to 07:00"}},
		{"workdays and weekend", []site.Band{band(7, 22, workdays), band(22, 7, 0), band(9, 22, weekend)}, []string{"from 07:00 to 09:00 on Sat, Sun"}},
		{"no weekend", []site.Band{band(7, 22, workdays), band(22, 7, workdays)}, []string{"from Sat 07:00 to Mon 07:00"}},
		{"one whole day", []site.Band{band(0, 12, 0b0111111), band(12, 0, 0b0111111)}, []string{"from Sun 00:00 to Mon 00:00"}},
		{"some nights", []site.Band{band(6, 22, 0), band(22, 6, workdays)}, []string{"from 22:00 on Sat, Sun to 06:00 on the next day"}},
		{"the night of Sunday", []site.Band{band(6, 22, 0), band(22, 6, 0b0111111)}, []string{"from Sun 22:00 to Mon 06:00"}},
		{"band begins on Saturday", []site.Band{band(6, 22, 0), band(22, 6, 0b0111111), band(21, 1, 0b1000000)}, []string{"from 01:00 to 06:00 on Mon"}},
	} {
		s, cover := bandsOf(c.bands...)
		var got []string
		for _, f := range uncoveredIn(s, cover) {
			got = append(got, f.Message[len("no band covers the time "):])
		}
		slices.Sort(got)
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		gaps := weekGaps(s, cover, false)
		for at := site.Millis(0); at < site.Week; at += hour / 2 {
			held := slices.ContainsFunc(c.bands, func(b site.Band) bool { return b.Holds(at) })
			in := slices.ContainsFunc(gaps, func(g [2]site.Millis) bool {
				return g[0] <= at && at < g[1] || g[0] <= at+site.Week && at+site.Week < g[1]
			})
			if held == in {
				t.Fatalf("%s: at %s a band holds: %v, in a gap: %v", c.name, at.WeekClock(), held, in)
			}
		}
	}
}
