// Changes of the local clock.

package almanac

import (
	"fmt"
	"slices"
	"time"
)

// Jump is a change of the local clock: at the moment when it would show Before it shows After instead. In spring clocks
// in Paris jump from 02:00 to 03:00, in autumn from 03:00 to 02:00. Midnight is 00:00, of the new date.
type Jump struct {
	Before, After TimeOfDay
	// Shift is how far the clock is put forward; negative: back. Before and After do not tell by themselves: in Apia in 2011
	// the clock jumped from midnight to midnight, a whole day on.
	Shift time.Duration
	// Dates are those on which it happens in the years asked for, in order: the dates to which Before belongs.
	Dates []Date
}

// Skips tells whether the jump leaves out the time of day.
func (j Jump) Skips(t TimeOfDay) bool {
	return j.Shift > 0 && within(t, j.Before, j.Shift)
}

// Repeats tells whether clocks show the time of day once more because of the jump.
func (j Jump) Repeats(t TimeOfDay) bool {
	return j.Shift < 0 && within(t, j.After, -j.Shift)
}

// within tells whether a clock that runs from start for the length shows t before the end.
func within(t, start TimeOfDay, length time.Duration) bool {
	const day = TimeOfDay(secondsOfDay * 1000)
	return ((t-start)%day+day)%day < TimeOfDay(length.Milliseconds())
}

// Jumps gives the different changes of a zone's clock in the local years from fromYear to toYear, both included, in the
// order of their first dates. Jumps with the same Before and Shift are one, with all their dates. A zone without changes
// gives none. It fails if the zone or the years are not valid.
func Jumps(zone *time.Location, fromYear, toYear int) ([]Jump, error) {
	if err := checkZone(zone); err != nil {
		return nil, err
	}
	for _, y := range []int{fromYear, toYear} {
		if err := checkYear(y); err != nil {
			return nil, err
		}
	}
	if fromYear > toYear {
		return nil, fmt.Errorf("years %d to %d: expected the earlier one first", fromYear, toYear)
	}
	first, end := Date{fromYear, time.January, 1}.number(), Date{toYear + 1, time.January, 1}.number()
	parts := stretches(zone, first*secondsOfDay-slack, end*secondsOfDay+slack)
	var out []Jump
	for i := 1; i < len(parts); i++ {
		old, now := parts[i-1], parts[i]
		date, before := dateAndTime(now.from + old.offset)
		if date < first || date >= end {
			continue
		}
		_, after := dateAndTime(now.from + now.offset)
		j := Jump{Before: before, After: after, Shift: time.Duration(now.offset-old.offset) * time.Second}
		known := slices.IndexFunc(out, func(k Jump) bool { return k.Before == j.Before && k.Shift == j.Shift })
		if known < 0 {
			known, out = len(out), append(out, j)
		}
		out[known].Dates = append(out[known].Dates, dateOf(date))
	}
	return out, nil
}
