package checker

// Findings about the sun, holidays and the change of clocks.

import (
	"regexp"
	"strings"
	"testing"

	"lampwarden/lang"
	"lampwarden/lang/site"
)

// sited loads a site at a place. The places are chosen for their summers: at Galway it gets dark, at Reykjavik the sun
// sets but civil twilight does not end, at Tromsø it does not set.
func sited(t *testing.T, where, rest string) *site.Site {
	t.Helper()
	head := map[string]string{
		"galway":    `place 53.27 N, 9.05 W  time zone "Europe/Dublin"`,
		"reykjavik": `place 64.15 N, 21.94 W  time zone "Atlantic/Reykjavik"`,
		"tromso":    `place 69.65 N, 18.96 E  time zone "Europe/Oslo"`,
		"ushuaia":   `place 54.81 S, 68.31 W  time zone "America/Argentina/Ushuaia"`,
		"havana":    `place 23.11 N, 82.37 W  time zone "America/Havana"`,
		"lordhowe":  `place 31.56 S, 159.08 E  time zone "Australia/Lord_Howe"`,
		"nowhere":   ``,
	}[where]
	p := lang.LoadText("site.lamp", `site "House" { `+head+" }\narea hall\ncircuit spots in hall { dims }\nalarm fire\n"+rest)
	if p.Site == nil {
		t.Fatalf("refused: %v", p.Diagnostics)
	}
	return p.Site
}

// found gives the messages of the findings with a code that need no search.
func found(s *site.Site, code string) (out []string) {
	p := &prover{site: s}
	for _, list := range [][]*finder{p.uncovered(), p.vanishing(), p.clockChange()} {
		for _, f := range list {
			for _, x := range f.found {
				if x.Code == code {
					out = append(out, x.Message)
				}
			}
		}
	}
	return out
}

// expect compares messages with regular expressions, one for each.
func expect(t *testing.T, what string, got []string, want ...string) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s: %q, want %q", what, got, want)
		return
	}
	for i := range want {
		if !regexp.MustCompile(want[i]).MatchString(got[i]) {
			t.Errorf("%s: %q, want %q", what, got[i], want[i])
		}
	}
}

// TestVanishingBand: the seasons are from memory, to within some days: at Reykjavik civil twilight lasts all night from the last
// third of May to the last third of July, at Tromsø the sun is up all day from about 20 May and down all day from about 27 November.
func TestVanishingBand(t *testing.T) {
	for _, c := range []struct {
		where, band string
		want        []string
	}{
		{"galway", "dusk to dawn", nil},
		{"galway", "sunset - 30 min to 22:00", nil},
		{"galway", "sunset to 21:00", []string{`^the ends of the band b have swapped order on 2\d April to 1\d August, so that it does not hold at all: on (\d+ to )?2\d June it would be from 22:0\d to 21:00$`}},
		{"galway", "06:30 to sunrise", []string{`on 24 to 28 March and 1\d April to 2\d August, .*would be from 06:30 to 05:0\d`}},
		{"reykjavik", "dusk to dawn", []string{`^the band b does not hold at all on .*(19|2\d) May to 2\d July: there is no dusk or no dawn then$`}},
		{"reykjavik", "22:00 to dawn", []string{`to 2\d July: there is no dawn then$`}},
		{"reykjavik", "sunrise to sunset + 1 min", []string{`: there is no sunset then$`, `swapped order .*does not hold at all`}},
		{"tromso", "sunrise to sunset", []string{`on (1\d May, |)(1\d|20) May to 2[5-8] July and 2[5-9] November to 1[4-7] January: there is no sunrise or no sunset then$`, "swapped"}},
		// In the small hours at the equinox; in June it would end before it begins, in winter it would begin before midnight.
		{"galway", "sunset + 7 h to sunrise - 2 h", []string{`swapped order on \d+ April to \d+ August and \d November to 2\d January, so that it does not hold at all: on 4 November it would be from 23:59 to 05:40$`}},
		// From 18:10 to 17:00 of the next day at the equinox, but from 15:50 to 17:00 in December.
		{"galway", "sunset - 30 min to 17:00", []string{`swapped order on \d+ October to \d+ February, so that it holds when it should not.*from 15:4\d to 17:00$`}},
	} {
		s := sited(t, c.where, "band b "+c.band)
		expect(t, c.where+", "+c.band, found(s, CodeVanishingBand), c.want...)
		if len(c.want) > 0 && !strings.HasPrefix(c.want[0], "swapped order on") {
			continue
		}
		for i := range s.Dates { // what is not reported holds on every date
			if len(c.want) == 0 && s.OnDate(i).Bands[0].Void {
				t.Errorf("%s, %s: void on %s", c.where, c.band, s.Dates[i].Name)
			}
		}
	}
	if got := found(sited(t, "nowhere", "band b 22:00 to 05:00"), CodeVanishingBand); got != nil {
		t.Errorf("a band by the clock: %q", got)
	}
}

// TestClockChange: the changes of EU directive 2000/84/EC in Ireland, those of Cuba over midnight, and the half hour of Lord
// Howe Island, as the IANA database has them.
func TestClockChange(t *testing.T) {
	for _, c := range []struct {
		where, modes string
		want         []string
	}{
		{"galway", "mode m { starts at 01:30  ends at 02:00  spots full }", []string{
			`^m starts at 01:30, a time that does not come on 29 March 2026, when clocks go from 01:00 to 02:00, and that comes twice on 25 October 2026, when clocks go from 02:00 back to 01:00$`}},
		{"galway", "mode m { starts at 01:00, at 00:59  ends at 01:59:59.999, at 02:00  spots full }", []string{`^m starts at 01:00`, `^m ends at 01:59:59.999`}},
		{"galway", "mode m { states a, b  at 01:10: a -> b  after 2 h: b -> a  in b: spots full }", []string{`^m changes its state at 01:10`}},
		{"galway", "mode m { at 01:30 on Mon to Sat for 5 min  spots full }", nil}, // clocks change on Sundays
		{"galway", "mode m { at 01:30 for 5 min  spots full }\nassume no change of clocks", nil},
		{"nowhere", "mode m { at 01:30 for 5 min  spots full }", nil},
		{"reykjavik", "mode m { at 01:30 for 5 min  spots full }", nil},
		{"reykjavik", "mode m { at sunset for 5 min  spots full }", nil},
		{"havana", "mode m { at 00:30 for 5 min  spots full }", []string{`does not come on 8 March 2026, when clocks go from 00:00 to 01:00, and that comes twice on 1 November 2026`}},
		{"havana", "mode m { at 00:30 on Sat for 5 min  spots full }", nil},
		{"lordhowe", "mode m { at 02:15 for 5 min  spots full }", []string{`does not come on 4 October 2026, when clocks go from 02:00 to 02:30`}},
		{"lordhowe", "mode m { at 01:45 for 5 min  spots full }", []string{`comes twice on 5 April 2026, when clocks go from 02:00 back to 01:30`}},
		{"lordhowe", "mode m { at 01:15 for 5 min  spots full }", nil},
	} {
		expect(t, c.where+": "+c.modes, found(sited(t, c.where, c.modes), CodeClockChange), c.want...)
	}
}

// TestUncoveredBySunAndHolidays: on every date, on holidays and on other days.
func TestUncoveredBySunAndHolidays(t *testing.T) {
	for _, c := range []struct {
		where, bands string
		want         []string
	}{
		{"galway", "band a dawn to dusk\nband b dusk to dawn", nil},
		{"galway", "band a 06:00 to dusk\nband b dusk to dawn", []string{`^no band covers the time from 04:1\d to 06:00 on (\d+ to )?\d+ June; there is a gap like this on 2\d to 28 March and 1\d April to 2\d August$`}},
		{"reykjavik", "band a dawn to dusk\nband b dusk to dawn", []string{`^no band covers any time of the day on 12 May; there is a gap like this on 12 May and 20 May to 24 July$`,
			`^no band covers the time from 01:46 to 01:02 on 19 May`}}, // dusk is after midnight, so that a does not hold
		{"galway", "holidays\nband a 08:00 to 18:00 on Mon to Fri except holidays\nband b 18:00 to 08:00\nband c 08:00 to 18:00 on Sat, Sun", []string{
			`^on a holiday no band covers the time from 08:00 to 18:00 on Mon to Fri$`}},
		{"galway", "holidays\nband a 08:00 to 18:00 on Mon to Sun except holidays\nband b 18:00 to 08:00\nband c 09:00 to 18:00 on holidays", []string{
			`^on a holiday no band covers the time from 08:00 to 09:00$`}},
		{"galway", "holidays\nband a 08:00 to 18:00 on Mon to Fri except holidays\nband b 18:00 to 08:00\nband c 08:00 to 18:00 on holidays", []string{
			`^no band covers the time from 08:00 to 18:00 on Sat, Sun$`}},
		{"galway", "holidays\nband a 00:00 to 12:00 on Mon to Sun except holidays\nband b 12:00 to 24:00 on Mon to Sun except holidays", []string{
			`^on a holiday no band covers any time of the day$`}},
	} {
		names := "a, b"
		if strings.Contains(c.bands, "band c") {
			names += ", c"
		}
		s := sited(t, c.where, c.bands+"\nbands "+names+" cover the day")
		expect(t, c.bands, found(s, CodeUncovered), c.want...)
	}
}

// TestDatesText: dates in a row together, also over the turn of the year.
func TestDatesText(t *testing.T) {
	date := func(month, day int) site.SunDate {
		d := site.Date{Year: 2026, Month: 1, Day: 1}
		for ; int(d.Month) != month || d.Day != day; d = d.Next() {
		}
		return site.SunDate{First: d, Last: d}
	}
	two := date(7, 1)
	two.Last = two.First.Next()
	dates := []site.SunDate{date(1, 1), date(1, 2), date(5, 20), date(5, 21), two, date(12, 30), date(12, 31)}
	for marks, want := range map[string]string{
		"x......": "1 January", ".x.....": "2 January", "xx.....": "1 to 2 January", "..xx...": "20 to 21 May",
		"..xxx..": "20 May to 2 July", "....x..": "1 to 2 July", "xx...xx": "30 December to 2 January", "x.x.x..": "1 January, 20 May and 1 to 2 July",
		"xxxxxxx": "every date", "x.....x": "31 December to 1 January", "xxxx.xx": "30 December to 21 May",
	} {
		on := make([]bool, len(dates))
		for i := range on {
			on[i] = marks[i] == 'x'
		}
		if got := datesText(dates, on); got != want {
			t.Errorf("%s: %q, want %q", marks, got, want)
		}
	}
}
