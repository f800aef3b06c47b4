// Finding: a time of day in no band of a set declared to cover the day.

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

// uncoveredIn finds the gaps of a cover: between two neighbouring ends of its
// bands nothing changes, so the start of each stretch decides it.
func uncoveredIn(s *site.Site, c *site.Cover) (out []Finding) {
	var ends []site.Millis
	for _, b := range c.Bands {
		ends = append(ends, s.Bands[b].From, s.Bands[b].To)
	}
	slices.Sort(ends)
	ends = slices.Compact(ends)
	bare := func(t site.Millis) bool {
		return !slices.ContainsFunc(c.Bands, func(b site.BandID) bool { return s.Bands[b].Holds(t) })
	}
	for i, t := range ends {
		prev := ends[(i+len(ends)-1)%len(ends)]
		if !bare(t) || bare(prev) && prev != t {
			continue // not the first stretch of a gap
		}
		k := i
		for bare(ends[k%len(ends)]) {
			k++
		}
		f := Finding{Code: CodeUncovered, Mode: site.None, Span: c.Span,
			Message: fmt.Sprintf("no band covers the time from %s to %s", t.Clock(), ends[k%len(ends)].Clock())}
		for _, b := range c.Bands {
			if bd := &s.Bands[b]; bd.To == t || bd.From == ends[k%len(ends)] {
				f.Related = append(f.Related, source.Related{Span: bd.Span,
					Label: fmt.Sprintf("%s is from %s to %s", bd.Name, bd.From.Clock(), bd.To.Clock())})
			}
		}
		out = append(out, f)
	}
	return out
}
