// Dates of the year and their sun.

package site

import "slices"

// SunEvent is something that the sun does at most once a day.
type SunEvent uint8

// The events, in the order of a day.
const (
	Dawn SunEvent = iota // civil dawn: the sun passes 6 degrees below the horizon
	Sunrise
	Sunset
	Dusk // civil dusk
)

// SunTime is a time of day given by the sun.
type SunTime struct {
	Event  SunEvent
	Offset Millis // added; may be negative
}

// NoEvent stands for a time of day of an event that does not happen on a date.
const NoEvent Millis = -1

// SunDate is a date of the year, or several in a row, with the times of day of its events. Of an event that happens twice on
// a date it has one time; the other one is a SunDate of its own.
type SunDate struct {
	Name        string // "21 June", "19 to 23 June"
	First, Last Date
	At          [4]Millis // NoEvent also for an event that the site does not name
}

// When gives the time of day of t on the date, or NoEvent.
func (d *SunDate) When(t *SunTime) Millis {
	at := d.At[t.Event]
	if at == NoEvent {
		return NoEvent
	}
	return ((at+t.Offset)%Day + Day) % Day
}

// OnDate gives the site as it is on one date of Dates: every band and trigger that names the sun has its times.
// A band of which an end does not happen is void, and so is one with Overnight unset whose ends have
// swapped order or fallen together. The copy shares all that does not change.
func (s *Site) OnDate(i int) *Site {
	out, d := *s, &s.Dates[i]
	out.Date, out.Dates = d.Name, nil
	out.Bands = slices.Clone(s.Bands)
	for k := range out.Bands {
		out.Bands[k].onDate(d)
	}
	out.Modes = slices.Clone(s.Modes)
	for k := range out.Modes {
		m := &out.Modes[k]
		m.Starts, m.Ends = onDate(m.Starts, d), onDate(m.Ends, d)
		m.Transitions = slices.Clone(m.Transitions)
		for j := range m.Transitions {
			m.Transitions[j].Trigger.onDate(d)
		}
	}
	return &out
}

func (b *Band) onDate(d *SunDate) {
	if b.FromSun != nil {
		b.From = d.When(b.FromSun)
	}
	if b.ToSun != nil {
		b.To = d.When(b.ToSun)
	}
	if b.FromSun != nil || b.ToSun != nil {
		b.Void = b.From == NoEvent || b.To == NoEvent || b.From == b.To || !b.Overnight && b.From > b.To
	}
}

func onDate(ts []Trigger, d *SunDate) []Trigger {
	ts = slices.Clone(ts)
	for i := range ts {
		ts[i].onDate(d)
	}
	return ts
}

func (t *Trigger) onDate(d *SunDate) {
	if t.Sun != nil {
		t.At = d.When(t.Sun)
		t.Void = t.At == NoEvent
	}
}
