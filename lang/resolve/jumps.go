// The changes that the local clock goes through.

package resolve

import (
	"time"

	"lampwarden/lang/almanac"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// jumps notes the changes of the zone's clocks, unless the site assumes that there is none. It comes after the assumptions.
func (r *resolver) jumps() {
	if r.site.SteadyClock || r.zone == nil {
		return
	}
	all, err := almanac.Jumps(r.zone, r.site.Year, r.site.Year+jumpYears-1)
	if err != nil { // the year and the zone have been looked at
		r.errorf(source.UnknownTimeZone, r.site.Span, "%v", err)
		return
	}
	for _, j := range all {
		out := site.Jump{At: site.Millis(j.Before), By: site.Millis(j.Shift / time.Millisecond)}
		for _, d := range j.Dates {
			out.Dates = append(out.Dates, site.Date(d))
		}
		if out.By%site.Day == 0 { // a change of the date line, after which clocks show the same time
			continue
		}
		r.site.Jumps = append(r.site.Jumps, out)
	}
}
