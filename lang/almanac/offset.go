// A zone as stretches of constant offset from UTC.

package almanac

import (
	"errors"
	"time"
)

// stretch is a time with one offset: what a local clock shows in it is UTC plus the offset. From is in it, to is not; all in seconds.
type stretch struct {
	from, to int64 // since 1970
	offset   int64
}

// stretches cuts the time from from to to where the zone's offset changes. A change of a zone's name alone cuts nothing.
func stretches(zone *time.Location, from, to int64) []stretch {
	var out []stretch
	for at := from; at < to; {
		here := time.Unix(at, 0).In(zone)
		_, offset := here.Zone()
		end := to
		if _, bound := here.ZoneBounds(); !bound.IsZero() && bound.Unix() < to {
			end = bound.Unix()
		}
		if n := len(out); n > 0 && out[n-1].offset == int64(offset) {
			out[n-1].to = end
		} else {
			out = append(out, stretch{at, end, int64(offset)})
		}
		at = end
	}
	return out
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
