// Times by the local clock, dates and the sun.

package report

import (
	"strings"
	"testing"

	"lampwarden/checker"
	"lampwarden/checker/rehearse"
	"lampwarden/checker/trace"
	"lampwarden/lang/site"
)

func TestLocalTimes(t *testing.T) {
	hour := 3600 * second
	at := func(start, jump, by, at rehearse.Nanos) *rehearse.Timeline {
		sc := rehearse.Script{Start: start}
		if by != 0 {
			sc.Jumps = []rehearse.Jump{{At: jump, By: site.Millis(by / rehearse.Milli)}}
		}
		return &rehearse.Timeline{Site: &site.Site{}, Script: sc}
	}
	for _, c := range []struct {
		name                string
		start, jump, by, at rehearse.Nanos
		want                string
		day                 int
	}{
		{"no change", clock(23, 0), 0, 0, 2 * hour, "01:00 the next day", 1},
		{"before the change", clock(1, 0), hour, hour, hour - 1, "01:59:59.999999999", 0},
		{"at the change", clock(1, 0), hour, hour, hour, "03:00", 0},
		{"forward over midnight", clock(23, 0), hour / 2, hour, hour / 2, "00:30 the next day", 1},
		{"back, the hour that comes again", clock(2, 0), hour, -hour, hour + hour/2, "02:30 by the new time", 0},
		{"back, after that hour", clock(2, 0), hour, -hour, 2 * hour, "03:00", 0},
		{"back over the midnight before start-up", clock(0, 30), hour / 2, -3 * hour, hour / 2, "22:00 by the new time the day before", -1},
		{"a day left out", 4*rehearse.Day + clock(23, 0), hour, 24 * hour, hour, "00:00 on day 3", 2},
		{"far on", clock(23, 0), 0, 0, 9*rehearse.Day + hour, "00:00 on day 11", 10},
	} {
		tl := at(c.start, c.jump, c.by, c.at)
		if got := moment(tl, c.at); got != c.want || dayOf(tl, c.at) != c.day {
			t.Errorf("%s: %s, day %d, want %s, day %d", c.name, got, dayOf(tl, c.at), c.want, c.day)
		}
	}
}

func TestClockChangeWords(t *testing.T) {
	hour := site.Millis(3600_000)
	for want, c := range map[string]rehearse.Cause{
		"the clocks change: 02:00 becomes 03:00":              {Clock: 2 * hour, By: hour},
		"the clocks change: 03:00 becomes 02:00":              {Clock: 3 * hour, By: -hour},
		"the clocks change: 02:00 becomes 02:30":              {Clock: 2 * hour, By: hour / 2},
		"the clocks change: 00:00 becomes 23:00":              {Clock: 0, By: -hour},
		"the clocks change: 00:00 becomes 00:00, 1 day later": {Clock: 0, By: 24 * hour},
	} {
		if got := clockChange(c); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// What a change of the clocks skips or brings again.
func TestDueIn(t *testing.T) {
	saturday := 5 * rehearse.Day
	for _, c := range []struct {
		name string
		at   site.Millis
		days site.Days
		from rehearse.Nanos
		want rehearse.Nanos
	}{
		{"between", 2*3600_000 + 1, 0, clock(2, 0), clock(2, 0) + rehearse.Milli},
		{"at the beginning", 2 * 3600_000, 0, clock(2, 0), clock(2, 0)},
		{"at the end", 3 * 3600_000, 0, clock(2, 0), -1},
		{"on the day", 2 * 3600_000, 1 << 5, saturday + clock(2, 0), saturday + clock(2, 0)},
		{"on another day", 2 * 3600_000, 1 << 4, saturday + clock(2, 0), -1},
		{"over midnight", 15 * 60_000, 1 << 6, saturday + clock(23, 30), saturday + rehearse.Day + clock(0, 15)},
	} {
		if got := dueIn(site.Trigger{At: c.at, Days: c.days}, c.from, c.from+clock(1, 0)); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// On a dated site a story names the date, and the sun behind its times; not where no time of day matters.
func TestDates(t *testing.T) {
	r := newRun(t, `site "Pier"
area pier
circuit lanterns in pier { switches }
band dark_hours 18:00 to 06:00
mode glow { while dark_hours  lanterns full }
mode early { starts at 05:00  for 10 min  lanterns off }
precedence early > glow
require "dark" { never lanterns lit }
`)
	s := r.s
	s.Bands[0].FromSun, s.Bands[0].ToSun, s.Bands[0].Overnight = &site.SunTime{Event: site.Sunset, Offset: 600_000}, &site.SunTime{Event: site.Sunrise}, true
	s.Modes[1].Starts[0].Sun = &site.SunTime{Event: site.Sunrise, Offset: -1800_000}
	at := func(h, m site.Millis) site.Millis { return h*3600_000 + m*60_000 }
	s.Dates = []site.SunDate{{Name: "21 June", At: [4]site.Millis{at(4, 10), at(5, 0), at(22, 0), at(22, 50)}}}
	sc := rehearse.Script{Start: clock(21, 0), End: clock(9, 0)}
	tl, err := rehearse.Run(s.OnDate(0), sc)
	if err != nil {
		t.Fatal(err)
	}
	_, req := r.requirement("dark")
	j, err := rehearse.Judge(tl.Site, tl, req)
	if err != nil || !j.Broken {
		t.Fatalf("judgement %+v, error %v", j, err)
	}
	cx := &trace.Counterexample{Script: sc, Timeline: tl, Judgement: j, Clock: true}
	r.rep.Outcomes = []checker.Outcome{{Verdict: checker.Fails, Counterexample: cx}}
	text := string(r.text(Options{Quiet: true}))
	if d := Tell(r.rep, Options{}); d.Requirements[0].Story.Date != "21 June" {
		t.Errorf("date %q", d.Requirements[0].Story.Date)
	}
	for _, want := range []string{"(on 21 June)", "22:10 dark_hours begins, sunset + 10 min (line 4)"} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
			t.Errorf("nothing says %q:\n%s", want, text)
		}
	}
	st := newTeller(s, r.rep.Sources).story(tl, focus{}, sc.End)
	var causes []string
	for _, e := range st.Entries {
		causes = append(causes, e.Causes...)
	}
	for _, want := range []string{"the clock shows 04:30 (sunrise - 30 min), a time in early (line 6)", "dark_hours ends, sunrise (line 4)"} {
		if !strings.Contains(strings.Join(causes, "\n"), want) {
			t.Errorf("nothing says %q:\n%s", want, strings.Join(causes, "\n"))
		}
	}
	cx.Clock = false
	if text := string(r.text(Options{Quiet: true})); strings.Contains(text, "21 June") {
		t.Errorf("the date stands where no time of day matters:\n%s", text)
	}
}
