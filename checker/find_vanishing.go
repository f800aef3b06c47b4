// Finding: a band by the sun that does not hold at all on some dates, or whose ends have swapped order there.

package checker

import (
	"context"
	"fmt"

	"lampwarden/lang/site"
)

func (p *prover) vanishing() (out []*finder) {
	for b := range p.site.Bands {
		if bd := &p.site.Bands[b]; bd.FromSun != nil || bd.ToSun != nil {
			out = append(out, &finder{
				found: vanishes(p.site, bd), // cheap enough to be done before the run
				run:   func(context.Context) (bool, error) { return false, nil },
			})
		}
	}
	return out
}

// stretch is a band on a date: from inclusive, to exclusive, as times of day; missing if an end does not happen.
type stretch struct {
	from, to site.Millis
	missing  bool
}

// vanishes looks at a band on every date.
func vanishes(s *site.Site, b *site.Band) (out []Finding) {
	found := func(format string, args ...any) {
		out = append(out, Finding{Code: CodeVanishingBand, Mode: site.None, Span: b.Span, Message: fmt.Sprintf(format, args...)})
	}
	days := make([]stretch, len(s.Dates))
	gone, some := make([]bool, len(days)), false
	for i := range s.Dates {
		days[i] = onDate(b, &s.Dates[i])
		gone[i] = days[i].missing
		some = some || gone[i]
	}
	if some {
		found("the band %s does not hold at all on %s: %s", b.Name, datesText(s.Dates, gone), missingText(s, b))
	}
	swapped, worst := swaps(s, b, days)
	if worst < 0 {
		return out
	}
	text := "so that it does not hold at all"
	if b.Overnight {
		text = "so that it holds when it should not, or the other way round"
	}
	found("the ends of the band %s have swapped order on %s, %s: on %s it would be from %s to %s", b.Name,
		datesText(s.Dates, swapped), text, s.Dates[worst].Name, days[worst].from.Clock(), days[worst].to.Clock())
	return out
}

// onDate gives the band on a date.
func onDate(b *site.Band, d *site.SunDate) stretch {
	t := stretch{from: b.From, to: b.To}
	if b.FromSun != nil {
		t.from = d.When(b.FromSun)
	}
	if b.ToSun != nil {
		t.to = d.When(b.ToSun)
	}
	t.missing = t.from == site.NoEvent || t.to == site.NoEvent
	return t
}

// missingText says which events do not happen on some date.
func missingText(s *site.Site, b *site.Band) string {
	words := []string{"dawn", "sunrise", "sunset", "dusk"}
	text := ""
	for _, t := range []*site.SunTime{b.FromSun, b.ToSun} {
		if t == nil {
			continue
		}
		for _, d := range s.Dates {
			if d.At[t.Event] == site.NoEvent {
				if text != "" && text != words[t.Event] {
					text += " or no " + words[t.Event]
				} else {
					text = words[t.Event]
				}
				break
			}
		}
	}
	return "there is no " + text + " then"
}

// swaps marks the dates on which the band's ends have swapped order, and gives the one on which they are furthest apart
// (-1: none). A band that is not meant to run past midnight has them swapped where it would. Of one that is, the times alone do
// not tell: its length, which changes little from one date to the next, is followed through the year from a date on which the
// order is as it is meant. Where it falls to nothing or reaches a whole day, the order changes.
func swaps(s *site.Site, b *site.Band, days []stretch) (swapped []bool, worst int) {
	swapped, worst = make([]bool, len(days)), -1
	length := func(t stretch) site.Millis { return ((t.to-t.from)%site.Day + site.Day) % site.Day }
	first := asMeant(s, b, days)
	if first < 0 {
		return swapped, worst
	}
	last, followed, most := length(days[first]), length(days[first]), site.Millis(-1)
	for k := range days {
		i := (first + k) % len(days)
		if days[i].missing {
			continue
		}
		step := (length(days[i])-last+site.Day+site.Day/2)%site.Day - site.Day/2
		last, followed = length(days[i]), followed+step
		over := max(-followed, followed-site.Day)
		if !b.Overnight {
			over = days[i].from - days[i].to
		}
		if swapped[i] = over >= 0; over >= 0 && over > most {
			worst, most = i, over
		}
	}
	return swapped, worst
}

// asMeant finds the date by which the resolver settled whether the band runs past midnight: the first from 20 March on with
// both ends.
func asMeant(s *site.Site, b *site.Band, days []stretch) int {
	equinox := 0
	for i, d := range s.Dates {
		if d.First.Month < 3 || d.First.Month == 3 && d.First.Day <= 20 {
			equinox = i
		}
	}
	for equinox > 0 && s.Dates[equinox-1].First == s.Dates[equinox].First {
		equinox-- // the first of several entries for one date
	}
	for k := range days {
		i := (equinox + k) % len(days)
		if t := days[i]; !t.missing && t.from != t.to && (t.from > t.to) == b.Overnight {
			return i
		}
	}
	return -1
}
