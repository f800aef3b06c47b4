// A zone as stretches of constant offset from UTC.

package almanac

import (
	"errors"
	"time"
)

// stretch is a time with one offset: what a local clock shows in it is UTC plus the offset. From is in it, to is not; all
// in seconds.
type stretch struct {
	from, to int64 // since 1970
	offset   int64
}

// stretches cuts the time from from to to where the zone's offset changes. A change of a zone's name alone cuts nothing.
//
// It looks at the offset once a day (since 1900 no zone has changed its offset twice in less than three) and halves the
// step in which it changed.
// Time.ZoneBounds would be quicker, but on the last day of a leap year after the database's last listed change (2037) it
// gives an end that has passed: golang/go issue 81583.
func stretches(zone *time.Location, from, to int64) []stretch {
	const step = secondsOfDay
	out := []stretch{{from, from, offsetAt(zone, from)}}
	for at := from; at < to; {
		s := &out[len(out)-1]
		next := min(at+step, to)
		if offsetAt(zone, next) == s.offset {
			at, s.to = next, next
			continue
		}
		old, changed := at, next
		for changed-old > 1 {
			if mid := old + (changed-old)/2; offsetAt(zone, mid) == s.offset {
				old = mid
			} else {
				changed = mid
			}
		}
		at, s.to = changed, changed
		out = append(out, stretch{changed, changed, offsetAt(zone, changed)})
	}
	return out
}

func offsetAt(zone *time.Location, unix int64) int64 {
	_, offset := time.Unix(unix, 0).In(zone).Zone()
	return int64(offset)
}

// slack is more than the greatest offset of any zone, in seconds.
const slack = 26 * 3600

func checkZone(zone *time.Location) error {
	if zone == nil {
		return errors.New("no time zone given")
	}
	return nil
}

// dateAndTime splits a count of seconds of local time into its date's number and the time of day.
func dateAndTime(local int64) (date int64, t TimeOfDay) {
	date = local / secondsOfDay
	if local%secondsOfDay < 0 {
		date--
	}
	return date, TimeOfDay(local-date*secondsOfDay) * 1000
}
