// Times of day by the sun: what they are, and the site's dates with their sun.

package resolve

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"lampwarden/lang/almanac"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// furthest is how far from the sun's event a time may be.
const furthest = 12 * 60 * 60 * 1000

// dayTime gives a time of day: by the clock, or else by the sun. ok is false if it was reported.
func (r *resolver) dayTime(t *syntax.DayTime) (at site.Millis, sun *site.SunTime, ok bool) {
	if t.Sun == nil {
		at, ok = r.clockOrSun(t.Clock)
		return at, nil, ok
	}
	event := slices.Index(syntax.SunWords(), t.Sun.Event)
	sun = &site.SunTime{Event: site.SunEvent(event)}
	r.sunAt = append(r.sunAt, t.Span)
	if t.Sun.Sign == "" {
		return 0, sun, true
	}
	sun.Offset = r.duration(t.Sun.Offset)
	if sun.Offset >= furthest {
		d := r.errorf(source.BadRange, t.Sun.Offset.Span, "this is too far from %s to hang on it", t.Sun.Event)
		d.Suggestion = "write a time of less than 12 h"
		return 0, sun, false
	}
	if t.Sun.Sign == "-" {
		sun.Offset = -sun.Offset
	}
	return 0, sun, true
}

// clockOrSun is a clock time where the sun's would do as well, which a misspelt word may mean.
func (r *resolver) clockOrSun(c *syntax.Clock) (site.Millis, bool) {
	if best := source.Closest(c.Name, syntax.SunWords()); best != "" && r.names[c.Name] == nil {
		d := r.errorf(source.UnknownName, c.Span, "there is no time of day named `%s`", c.Name)
		d.Suggestion = "did you mean `" + best + "`?"
		d.Fixes = append(d.Fixes, source.Fix{Span: c.Span, Text: best})
		return 0, false
	}
	return r.clock(c)
}

// sameSun tells whether two times hang on the sun in the same way, or not at all.
func sameSun(a, b *site.SunTime) bool {
	return a == nil && b == nil || a != nil && b != nil && *a == *b
}

// sun gives the site its dates if anything in it goes by the sun. It comes after the modes and before the scenarios.
func (r *resolver) sun() {
	if len(r.sunAt) == 0 || !r.sunKnown() {
		return
	}
	place := almanac.Place{Latitude: r.site.Latitude, Longitude: r.site.Longitude}
	days, err := almanac.Year(place, r.zone, r.site.Year)
	if err != nil { // place, zone and year have been looked at
		r.errorf(source.NoPlace, r.site.Span, "%v", err)
		return
	}
	r.dateOf = map[site.Date]int{}
	used := r.sunUsed()
	for i := range days {
		r.addDate(&days[i], used)
	}
	for _, d := range r.decls {
		if d, ok := d.(*syntax.BandDecl); ok && (d.From.Sun != nil || d.To.Sun != nil) {
			b := &r.site.Bands[r.at[d]]
			r.overnight(b)
			if b.Overnight {
				r.withinADay(d, b)
			}
		}
	}
}

// sunKnown reports a site that does not say where it is.
func (r *resolver) sunKnown() bool {
	s := r.site
	if s.HasPlace && r.zone != nil {
		return true
	}
	if r.zoneGiven && s.HasPlace || s.Span.IsZero() && r.siteBroken {
		return false // reported already
	}
	what, write := "the place and the time zone of the site, which it does not name", "`place 53.27 N, 9.05 W  time zone \"Europe/Dublin\"`"
	switch {
	case s.HasPlace:
		what, write = "the time zone of the site, which it does not name", "`time zone \"Europe/Dublin\"`"
	case r.zoneGiven:
		what, write = "the place of the site, which it does not name", "`place 53.27 N, 9.05 W`"
	}
	d := r.errorf(source.NoPlace, r.sunAt[0], "this hangs on %s", what)
	relate(d, s.Span, "the site is described here")
	d.Suggestion = "write it in `site`, as in " + write
	return false
}

// sunUsed tells which events the site names.
func (r *resolver) sunUsed() (used [4]bool) {
	note := func(ts ...*site.SunTime) {
		for _, t := range ts {
			if t != nil {
				used[t.Event] = true
			}
		}
	}
	for i := range r.site.Bands {
		note(r.site.Bands[i].FromSun, r.site.Bands[i].ToSun)
	}
	for i := range r.site.Modes {
		m := &r.site.Modes[i]
		for _, t := range slices.Concat(m.Starts, m.Ends) {
			note(t.Sun)
		}
		for _, t := range m.Transitions {
			note(t.Trigger.Sun)
		}
	}
	return used
}

// addDate adds one date. One with the same times as the one before joins it; one on which an event happens twice (soon
// after midnight and just before the next) becomes several, so that each has one time for each event. Events that the
// site does not name are left out.
func (r *resolver) addDate(d *almanac.Day, used [4]bool) {
	if d.Length == 0 {
		return // the zone leaves it out
	}
	date := site.Date(d.Date)
	r.dateOf[date] = len(r.site.Dates)
	tables := [][4]site.Millis{{site.NoEvent, site.NoEvent, site.NoEvent, site.NoEvent}}
	var twice []int
	for e := range 4 {
		times := d.Events[e].Times
		if !used[e] || len(times) == 0 {
			continue
		}
		if len(times) > 1 {
			twice = append(twice, e)
		}
		var more [][4]site.Millis
		for _, t := range times {
			for _, table := range tables {
				table[e] = site.Millis(t)
				more = append(more, table)
			}
		}
		tables = more
	}
	if n := len(r.site.Dates); len(tables) == 1 && n > 0 && r.site.Dates[n-1].At == tables[0] && !r.split {
		last := &r.site.Dates[n-1]
		last.Last, last.Name = date, site.DatesText(last.First, date)
		r.dateOf[date] = n - 1
		return
	}
	for _, table := range tables {
		name := date.InYear()
		for _, e := range twice {
			name += fmt.Sprintf(", %s at %s", strings.TrimPrefix(almanac.Kind(e).String(), "civil "), table[e].Clock())
		}
		r.site.Dates = append(r.site.Dates, site.SunDate{Name: name, First: date, Last: date, At: table})
	}
	r.split = len(tables) > 1
}

// overnight settles whether a band by the sun is meant to run past midnight: whether it does at the March equinox, when
// day and night are alike all over the world, or else on the next date on which both its ends happen. Until the site is
// looked at on a date, the band has its times of that date.
func (r *resolver) overnight(b *site.Band) {
	first := r.dateOf[site.Date{Year: r.site.Year, Month: time.March, Day: 20}]
	for i := range r.site.Dates {
		d := &r.site.Dates[(first+i)%len(r.site.Dates)]
		from, to := b.From, b.To
		if b.FromSun != nil {
			from = d.When(b.FromSun)
		}
		if b.ToSun != nil {
			to = d.When(b.ToSun)
		}
		if from != site.NoEvent && to != site.NoEvent && from != to {
			b.From, b.To, b.Overnight = from, to, from > to
			return
		}
	}
	b.Void = true
}

// date gives the index of a scenario's date among those of the site.
func (r *resolver) date(d *syntax.Date) int {
	date := site.Date{Year: r.site.Year, Month: time.Month(d.Month), Day: d.Day}
	if len(r.site.Dates) == 0 {
		if len(r.sunAt) == 0 && !r.unsure[kindBand] && !r.unsure[kindMode] {
			e := r.errorf(source.NoChange, d.Span, "the site names no time by the sun, so that its dates are all alike")
			e.Suggestion = "leave this out"
		}
		return 0
	}
	i, ok := r.dateOf[date]
	if !ok {
		e := r.errorf(source.BadDate, d.Span, "there is no `%s` in %d", d.Text(), r.site.Year)
		if d.Month == 2 && d.Day == 29 {
			e.Suggestion = fmt.Sprintf("name another date, or look at another year: `year %d` in `site`", (r.site.Year/4+1)*4)
		}
	}
	return i
}
