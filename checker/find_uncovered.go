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
}

// uncoveredIn finds the gaps of a cover over the week. Gaps that are alike but for their day are one finding.
func uncoveredIn(s *site.Site, c *site.Cover) (out []Finding) {
	var gaps []gap
	for _, w := range weekGaps(s, c) {
		from, day := w[0]%site.Day, site.Days(1)<<(w[0]/site.Day)
		i := slices.IndexFunc(gaps, func(g gap) bool { return g.from == from && g.length == w[1]-w[0] })
		if i < 0 {
			gaps = append(gaps, gap{from: from, length: w[1] - w[0]})
			i = len(gaps) - 1
		}
		gaps[i].days |= day
	}
	for _, g := range gaps {
		f := Finding{Code: CodeUncovered, Mode: site.None, Span: c.Span, Message: "no band covers the time " + g.text()}
		for _, b := range c.Bands {
			if bd := &s.Bands[b]; bd.To == g.from || bd.From == (g.from+g.length)%site.Day {
				f.Related = append(f.Related, source.Related{Span: bd.Span, Label: bandText(bd)})
			}
		}
		out = append(out, f)
	}
	return out
}

// weekGaps lists the gaps as times of the week, from inclusive, to exclusive (it may lie in the next week), in the
// order of their starts. Between two neighbouring ends of bands nothing changes, so the start of each stretch decides it.
func weekGaps(s *site.Site, c *site.Cover) (out [][2]site.Millis) {
	var ends []site.Millis
	for _, b := range c.Bands {
		for day := site.Millis(0); day < site.Week; day += site.Day {
			ends = append(ends, day+s.Bands[b].From, day+s.Bands[b].To)
		}
	}
	slices.Sort(ends)
	ends = slices.Compact(ends)
	n := len(ends)
	bare := func(i int) bool {
		return !slices.ContainsFunc(c.Bands, func(b site.BandID) bool { return s.Bands[b].Holds(ends[i%n]) })
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

func bandText(b *site.Band) string {
	text := fmt.Sprintf("%s is from %s to %s", b.Name, b.From.Clock(), b.To.Clock())
	if b.Days != 0 {
		text += " on " + b.Days.String()
	}
	return text
}
