// The sun's events of local dates.

package almanac

import (
	"math"
	"time"
)

// Kind is one of the sun's four events of a day.
type Kind uint8

// The events, in their order within a solar day.
const (
	Dawn    Kind = iota // civil dawn: the sun's centre rises through 6 degrees below the horizon
	Sunrise             // the upper limb appears
	Sunset              // the upper limb vanishes
	Dusk                // civil dusk
	kinds
)

func (k Kind) String() string {
	switch k {
	case Dawn:
		return "civil dawn"
	case Sunrise:
		return "sunrise"
	case Sunset:
		return "sunset"
	case Dusk:
		return "civil dusk"
	}
	return "unknown event"
}

// Outcome tells whether an event happens on a date, and if not, why.
type Outcome uint8

// The outcomes. The zero value is none of them, so that an event that nobody worked out is not taken for one.
const (
	Happens     Outcome = iota + 1 // at Event.Times
	AboveAllDay                    // the sun stays above the event's altitude: for sunrise and sunset, polar day
	BelowAllDay                    // the sun stays below it: for sunrise and sunset, polar night
	NotOnDate                      // the sun passes the altitude on this date, but only the other way
	NoSuchDate                     // the zone leaves the date out
)

func (o Outcome) String() string {
	switch o {
	case Happens:
		return "happens"
	case AboveAllDay:
		return "the sun stays above"
	case BelowAllDay:
		return "the sun stays below"
	case NotOnDate:
		return "not on this date"
	case NoSuchDate:
		return "no such date"
	}
	return "unknown"
}

// Event is one of the sun's events on a local date. Times has its times of day, whole minutes, in the order in which they come,
// and is empty unless it happens. There is nearly always one; there are two when one comes soon after midnight and the next just
// before midnight.
type Event struct {
	Outcome Outcome
	Times   []TimeOfDay
}

// Day is a local date at a place.
type Day struct {
	Date   Date
	Length time.Duration // from its start to its end: 24 h, other where clocks change, 0 for a date that is left out
	Events [kinds]Event  // by Kind
}

// On gives the sun's events on a local date. It fails if the place, the zone or the date is not valid.
func On(place Place, zone *time.Location, date Date) (Day, error) {
	if err := date.Check(); err != nil {
		return Day{}, err
	}
	all, err := dates(place, zone, date.number(), 1)
	if err != nil {
		return Day{}, err
	}
	return all[0], nil
}

// Year gives every local date of a year, 365 or 366, in order. It fails if the place, the zone or the year is not
// valid.
func Year(place Place, zone *time.Location, year int) ([]Day, error) {
	if err := checkYear(year); err != nil {
		return nil, err
	}
	first := Date{year, time.January, 1}.number()
	return dates(place, zone, first, Date{year + 1, time.January, 1}.number()-first)
}

// dates gives n dates, from the one with the number first on.
func dates(place Place, zone *time.Location, first, n int64) ([]Day, error) {
	if err := place.Check(); err != nil {
		return nil, err
	}
	if err := checkZone(zone); err != nil {
		return nil, err
	}
	from, to := first*secondsOfDay-slack, (first+n)*secondsOfDay+slack
	altitude := place.sineOfAltitude()
	out := make([]Day, n)
	for i := range out {
		out[i].Date = dateOf(first + int64(i))
	}
	middles := measure(out, stretches(zone, from, to), first)

	points := altitude.samples(hours(from, to))
	for _, limit := range []struct {
		level    float64
		up, down Kind
	}{{twilightAltitude, Dawn, Dusk}, {horizonAltitude, Sunrise, Sunset}} {
		level := math.Sin(limit.level)
		for _, p := range altitude.passages(points, level) {
			kind := limit.down
			if p.up {
				kind = limit.up
			}
			if number, t := nearestMinute(p.at, zone); number >= first && number < first+n {
				e := &out[number-first].Events[kind]
				e.Outcome = Happens
				e.Times = append(e.Times, t)
			}
		}
		for i := range out {
			explain(&out[i], limit.up, limit.down, altitude(middles[i]) >= level)
		}
	}
	return out, nil
}

// nearestMinute gives the local date and time of day of a moment, to the nearest whole minute of the local clock.
func nearestMinute(t days, zone *time.Location) (date int64, _ TimeOfDay) {
	late := t.unix() + 30
	date, clock := dateAndTime(late + offsetAt(zone, late))
	return date, clock - clock%60_000
}

// measure fills in the lengths of consecutive dates, and gives a moment in the middle of each. Where clocks are put
// back across midnight a date has two parts; the moment is in the first.
func measure(out []Day, parts []stretch, first int64) []days {
	middles := make([]days, len(out))
	for i := range out {
		for _, s := range parts {
			start := (first+int64(i))*secondsOfDay - s.offset
			from, to := max(start, s.from), min(start+secondsOfDay, s.to)
			if from >= to {
				continue
			}
			if out[i].Length == 0 {
				middles[i] = fromUnix(from + (to-from)/2)
			}
			out[i].Length += time.Duration(to-from) * time.Second
		}
	}
	return middles
}

// explain says why the events of one altitude that do not happen on a date do not.
func explain(d *Day, up, down Kind, above bool) {
	why := BelowAllDay
	switch {
	case d.Length == 0:
		why = NoSuchDate
	case d.Events[up].Outcome == Happens || d.Events[down].Outcome == Happens:
		why = NotOnDate
	case above:
		why = AboveAllDay
	}
	for _, k := range []Kind{up, down} {
		if e := &d.Events[k]; e.Outcome != Happens {
			e.Outcome = why
		}
	}
}
