// Finding: a time of the week in no band of a set declared to cover the day.

package checker

import (
	"context"
	"fmt"
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

func (p *prover) uncovered() (out []*finder) {
	for i := range p.site.Covers {
		out = append(out, &finder{
			found: uncoveredIn(p.site, &p.site.Covers[i]), // cheap enough to be done before the run
			run:   func(context.Context) (bool, error) { return false, nil },
		})
	}
	return out
}

// gap is a stretch of the day without a band, on the days on which it begins.
type gap struct {
	from, length site.Millis // time of day; less than a week
	days         site.Days   // never 0; all seven bits for every day
	holiday      bool        // it is only there on holidays
}

// uncoveredIn finds the gaps of a cover over the week, on every date if one of its bands goes by the sun. Gaps that are alike
// but for their day are one finding, and so are those of several dates that lie between the same bands.
func uncoveredIn(s *site.Site, c *site.Cover) (out []Finding) {
	bySun := slices.ContainsFunc(c.Bands, func(b site.BandID) bool {
		return s.Bands[b].FromSun != nil || s.Bands[b].ToSun != nil
	})
	if !bySun {
		for _, g := range gapsOf(s, c) {
			out = append(out, g.finding(s, c, ""))
		}
		return out
	}
	var holes []hole
	for i := range s.Dates {
		on := s.OnDate(i)
		for _, g := range gapsOf(on, c) {
			k := slices.IndexFunc(holes, func(h hole) bool { return h.gap.like(g, on, c, h.on) })
			if k < 0 {
				holes = append(holes, hole{gap: g, on: on, at: i, dates: make([]bool, len(s.Dates))})
				k = len(holes) - 1
			}
			h := &holes[k]
			if h.dates[i] = true; g.length > h.gap.length {
				h.gap, h.on, h.at = g, on, i
			}
		}
	}
	for _, h := range holes {
		text := " on " + h.on.Date
		if dates := datesText(s.Dates, h.dates); dates != h.on.Date {
			text += "; there is a gap like this on " + dates
		}
		out = append(out, h.gap.finding(h.on, c, text))
	}
	return out
}

// hole is a gap that is there on several dates: the longest of them, and the site on its date.
type hole struct {
	gap   gap
	on    *site.Site
	at    int
	dates []bool
}

// gapsOf lists the gaps over the week on the site's date, those on holidays last; of these only such as there are on no other
// day.
func gapsOf(s *site.Site, c *site.Cover) (gaps []gap) {
	gaps = joined(weekGaps(s, c, false), false)
	if slices.ContainsFunc(c.Bands, func(b site.BandID) bool { return s.Bands[b].Holidays != site.AnyDay }) {
		for _, g := range joined(weekGaps(s, c, true), true) {
			g.holiday = false
			if known := slices.Contains(gaps, g); !known {
				g.holiday = true
				gaps = append(gaps, g)
			}
		}
	}
	return gaps
}

// joined makes one gap of those that are alike but for their day.
func joined(weeks [][2]site.Millis, holiday bool) (gaps []gap) {
	for _, w := range weeks {
		from, day := w[0]%site.Day, site.Days(1)<<(w[0]/site.Day)
		i := slices.IndexFunc(gaps, func(g gap) bool { return g.from == from && g.length == w[1]-w[0] })
		if i < 0 {
			gaps = append(gaps, gap{from: from, length: w[1] - w[0], holiday: holiday})
			i = len(gaps) - 1
		}
		gaps[i].days |= day
	}
	return gaps
}

// borders lists the bands of the cover that end where the gap begins or begin where it ends.
func (g gap) borders(s *site.Site, c *site.Cover) (out []site.BandID) {
	for _, b := range c.Bands {
		if bd := &s.Bands[b]; !bd.Void && (bd.To == g.from || bd.From == (g.from+g.length)%site.Day) {
			out = append(out, b)
		}
	}
	return out
}

// like tells whether a gap on one date is that of another date: between the same bands, on the same days.
func (g gap) like(h gap, hs *site.Site, c *site.Cover, gs *site.Site) bool {
	return g.days == h.days && g.holiday == h.holiday && slices.Equal(g.borders(gs, c), h.borders(hs, c))
}

// finding tells of a gap; on says on which date it is, "" if on all.
func (g gap) finding(s *site.Site, c *site.Cover, on string) Finding {
	text := "no band covers the time " + g.text()
	if g.length >= site.Week {
		text = "no band covers any time of the day"
	}
	text += on
	if g.holiday {
		text = "on a holiday " + text
	}
	f := Finding{Code: CodeUncovered, Mode: site.None, Span: c.Span, Message: text}
	for _, b := range g.borders(s, c) {
		f.Related = append(f.Related, source.Related{Span: s.Bands[b].Span, Label: bandText(s, b)})
	}
	return f
}

// weekGaps lists the gaps as times of the week, from inclusive, to exclusive (it may lie in the next week), in the
// order of their starts, if all its days are holidays or none is. Between two neighbouring ends of bands nothing changes, so
// the start of each stretch decides it.
func weekGaps(s *site.Site, c *site.Cover, holiday bool) (out [][2]site.Millis) {
	var ends []site.Millis
	for _, b := range c.Bands {
		if s.Bands[b].Void {
			continue
		}
		for day := site.Millis(0); day < site.Week; day += site.Day {
			ends = append(ends, day+s.Bands[b].From, day+s.Bands[b].To)
		}
	}
	slices.Sort(ends)
	ends = slices.Compact(ends)
	n := len(ends)
	bare := func(i int) bool {
		return !slices.ContainsFunc(c.Bands, func(b site.BandID) bool { return s.Bands[b].HoldsIf(ends[i%n], holiday) })
	}
	if !slices.ContainsFunc(c.Bands, func(b site.BandID) bool {
		return slices.ContainsFunc(ends, func(t site.Millis) bool { return s.Bands[b].HoldsIf(t, holiday) })
	}) {
		return [][2]site.Millis{{0, site.Week}}
	}
	for i, t := range ends {
		if !bare(i) || bare(i+n-1) {
			continue // not the first stretch of a gap
		}
		k := i
		for bare(k) {
			k++
		}
		out = append(out, [2]site.Millis{t, ends[k%n] + site.Week*site.Millis(k/n)})
	}
	return out
}

// text names the weekday only where days differ.
func (g gap) text() string {
	to := g.from + g.length
	if g.days == 1<<7-1 {
		return fmt.Sprintf("from %s to %s", g.from.Clock(), to.Clock())
	}
	for day := range site.Millis(7) {
		if only := site.Days(1) << day; g.days == only && (to > site.Day || g.length >= site.Day) {
			from := day*site.Day + g.from
			return fmt.Sprintf("from %s to %s", from.WeekClock(), (from + g.length).WeekClock())
		}
	}
	switch {
	case g.length > site.Day:
		return fmt.Sprintf("from %s on %s for %s", g.from.Clock(), g.days, g.length)
	case to > site.Day:
		return fmt.Sprintf("from %s on %s to %s on the next day", g.from.Clock(), g.days, to.Clock())
	}
	return fmt.Sprintf("from %s to %s on %s", g.from.Clock(), to.Clock(), g.days)
}

func bandText(s *site.Site, id site.BandID) string {
	b := &s.Bands[id]
	text := fmt.Sprintf("%s is from %s to %s", b.Name, b.From.Clock(), b.To.Clock())
	if b.Days != 0 {
		text += " on " + b.Days.String()
	}
	return text + [...]string{"", " except holidays", " on holidays"}[b.Holidays]
}
