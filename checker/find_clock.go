// Finding: a clock-time trigger in hours that the change of clocks leaves out, or shows twice.

package checker

import (
	"context"
	"fmt"
	"time"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// clockChange looks at every trigger by the clock. (Times by the sun are the sun's: no change of clocks moves it.)
func (p *prover) clockChange() (out []*finder) {
	told := map[source.Span]bool{} // the instances of a template share their triggers
	look := func(m *site.Mode, word string, t site.Trigger) {
		if t.On != nil || t.Sun != nil || told[t.Span] {
			return
		}
		told[t.Span] = true
		if text := changesAt(p.site, t); text != "" {
			name := m.Template
			if name == "" {
				name = m.Name
			}
			out = append(out, &finder{
				found: []Finding{{Code: CodeClockChange, Mode: site.None, Span: t.Span,
					Message: fmt.Sprintf("%s %s at %s, a time that %s", name, word, t.At.Clock(), text)}},
				run: func(context.Context) (bool, error) { return false, nil },
			})
		}
	}
	for i := range p.site.Modes {
		m := &p.site.Modes[i]
		for _, t := range m.Starts {
			look(m, "starts", t)
		}
		for _, t := range m.Ends {
			look(m, "ends", t)
		}
		for _, t := range m.Transitions {
			if t.After == 0 {
				look(m, "changes its state", t.Trigger)
			}
		}
	}
	return out
}

// changesAt says what the changes of clocks do to a trigger, with a date for each: "" if nothing.
func changesAt(s *site.Site, t site.Trigger) string {
	text := ""
	add := func(format string, j *site.Jump) {
		day, ok := dayOf(j, t)
		if !ok {
			return
		}
		if text != "" {
			text += ", and that "
		}
		text += fmt.Sprintf(format, day, j.At.Clock(), (j.At + j.By).Clock())
	}
	for i := range s.Jumps {
		j := &s.Jumps[i]
		switch {
		case j.Skips(t.At):
			add("does not come on %s, when clocks go from %s to %s", j)
		case j.Repeats(t.At):
			add("comes twice on %s, when clocks go from %s back to %s", j)
		}
	}
	return text
}

// dayOf gives the first date on which the jump touches the trigger's time of day, if the trigger is due on that day of the
// week. Clocks that go forward over midnight leave out a time of the next date; those that go back over it repeat one of the
// date before.
func dayOf(j *site.Jump, t site.Trigger) (string, bool) {
	over := 0
	switch {
	case j.By > 0 && t.At < j.At:
		over = 1
	case j.By < 0 && t.At >= j.At:
		over = -1
	}
	for _, d := range j.Dates {
		y, m, day := time.Date(d.Year, d.Month, d.Day+over, 0, 0, 0, 0, time.UTC).Date()
		if d := (site.Date{Year: y, Month: m, Day: day}); t.Days.Has(d.Weekday()) {
			return d.String(), true
		}
	}
	return "", false
}
