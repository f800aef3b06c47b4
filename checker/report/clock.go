// What the clock does to a story: clock times, changes between summer and winter time, the sun.

package report

import (
	"fmt"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// clockChange tells of a change of the local clock.
func clockChange(c rehearse.Cause) string {
	text := fmt.Sprintf("the clocks change: %s becomes %s", c.Clock.Clock(), (c.Clock + c.By).Clock())
	switch days := c.By / site.Day; {
	case days > 0:
		text += fmt.Sprintf(", %s later", count(int(days), "day"))
	case days < 0:
		text += fmt.Sprintf(", %s earlier", count(int(-days), "day"))
	}
	return text
}

// clockDue tells that the clock shows a time that is written in a mode.
func (t *teller) clockDue(c rehearse.Cause) string {
	when := c.Clock.Clock()
	if sun := t.sunTrigger(c); sun != nil {
		when += " (" + sunWords(sun) + ")"
	}
	text := fmt.Sprintf("the clock shows %s, a time in %s%s", when, t.mode(c.Mode), t.at(c.Span))
	if c.Lost {
		text += ", which is lost: the controller is down"
	}
	return text
}

// sunTrigger finds the time of the sun behind a clock time of a mode, nil if it is none.
func (t *teller) sunTrigger(c rehearse.Cause) *site.SunTime {
	for _, x := range clockTriggers(&t.s.Modes[c.Mode]) {
		if x.Sun != nil && x.place == c.Span {
			return x.Sun
		}
	}
	return nil
}

// clockTrigger is a clock time of a mode with the place that a story names for it.
type clockTrigger struct {
	site.Trigger
	place source.Span
}

// clockTriggers lists the clock times of a mode.
func clockTriggers(m *site.Mode) (out []clockTrigger) {
	add := func(x site.Trigger, place source.Span) {
		if x.On == nil && !x.Void {
			out = append(out, clockTrigger{x, place})
		}
	}
	for _, x := range m.Starts {
		add(x, x.Span)
	}
	for _, x := range m.Ends {
		add(x, x.Span)
	}
	for _, tr := range m.Transitions {
		if tr.After == 0 {
			add(tr.Trigger, tr.Span)
		}
	}
	return out
}

// bandChange tells that a band begins or ends, by the sun where that gives its time.
func (t *teller) bandChange(c rehearse.Cause) string {
	b := &t.s.Bands[c.Band]
	what, sun := "begins", b.FromSun
	if c.Kind == rehearse.BandEnds {
		what, sun = "ends", b.ToSun
	}
	text := source.Escape(b.Name) + " " + what
	if sun != nil {
		text += ", " + sunWords(sun)
	}
	return text + t.at(c.Span)
}

// sunWords gives a time of the sun as the language writes it: "sunset - 30 min".
func sunWords(s *site.SunTime) string {
	text := [...]string{site.Dawn: "dawn", site.Sunrise: "sunrise", site.Sunset: "sunset", site.Dusk: "dusk"}[s.Event]
	switch {
	case s.Offset > 0:
		text += " + " + s.Offset.String()
	case s.Offset < 0:
		text += " - " + (-s.Offset).String()
	}
	return text
}

// jumped tells which clock times of the modes in question a change of the clocks skips or brings again.
func (t *teller) jumped(tl *rehearse.Timeline, c rehearse.Cause, at rehearse.Nanos, f focus) (out []string) {
	// A week later, so that no time of a clock that is set back is negative.
	now, start := local(tl, at)+rehearse.Week, tl.Script.Start+rehearse.Week
	was := now - rehearse.FromMillis(c.By) // what the clock would have shown
	from, to, verb := was, now, "is skipped"
	if c.By < 0 {
		from, to, verb = now, was, "comes a second time"
	}
	for id := range tl.Site.Modes {
		if !f.mode(site.ModeID(id)) {
			continue
		}
		for _, x := range clockTriggers(&tl.Site.Modes[id]) {
			if due := dueIn(x.Trigger, from, to); due >= 0 && (c.By > 0 || due > start) {
				out = append(out, fmt.Sprintf("the %s of %s %s%s", stamp(due), t.mode(site.ModeID(id)), verb, t.at(x.place)))
			}
		}
	}
	return out
}

// dueIn finds a local time from from (inclusive) to to (exclusive) at which a clock time is due; -1 if there is none.
func dueIn(x site.Trigger, from, to rehearse.Nanos) rehearse.Nanos {
	for day := from - from%rehearse.Day; day < to; day += rehearse.Day {
		due := day + rehearse.FromMillis(x.At)
		if from <= due && due < to && x.Days.Has(int(day/rehearse.Day%7)) {
			return due
		}
	}
	return -1
}
