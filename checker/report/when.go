// Times of a run as its local clock shows them.

package report

import (
	"fmt"
	"strings"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

// local is the time that the local clock shows at a time since start-up, counted from the Monday 00:00 before start-up.
// After a change of the clocks it is ahead or behind.
func local(tl *rehearse.Timeline, at rehearse.Nanos) rehearse.Nanos {
	t := tl.Script.Start + at
	for _, j := range tl.Script.Jumps {
		if at >= j.At {
			t += rehearse.FromMillis(j.By)
		}
	}
	return t
}

// again tells whether the local clock shows at a time since start-up what it showed before, as it was set back between.
func again(tl *rehearse.Timeline, at rehearse.Nanos) bool {
	for _, j := range tl.Script.Jumps {
		if j.By < 0 && at >= j.At && at < j.At-rehearse.FromMillis(j.By) {
			return true
		}
	}
	return false
}

// stamp gives a wall-clock time: as many digits as it has, seconds only if it is not a whole minute.
func stamp(tod rehearse.Nanos) string {
	tod = (tod%rehearse.Day + rehearse.Day) % rehearse.Day
	text := site.Millis(tod / rehearse.Milli).Clock()
	if rest := tod % rehearse.Milli; rest != 0 {
		if strings.Count(text, ":") == 1 {
			text += ":00"
		}
		if !strings.Contains(text, ".") {
			text += ".000"
		}
		text += strings.TrimRight(fmt.Sprintf("%06d", rest), "0")
	}
	return text
}

// stampAt is the wall-clock stamp of a time since start-up.
func stampAt(tl *rehearse.Timeline, at rehearse.Nanos) string { return stamp(local(tl, at)) }

// moment is the wall-clock stamp of a time since start-up, with the day if it is not the first.
func moment(tl *rehearse.Timeline, at rehearse.Nanos) string {
	text := stampAt(tl, at)
	if again(tl, at) {
		text += " by the new time"
	}
	switch days := dayOf(tl, at); {
	case days < 0:
		text += " the day before"
	case days == 1:
		text += " the next day"
	case days > 1:
		text += fmt.Sprintf(" on day %d", days+1)
	}
	return text
}

// dayOf counts the midnights from start-up on, as the local clock shows them. It is negative only where the clocks are set
// back over the midnight before start-up.
func dayOf(tl *rehearse.Timeline, at rehearse.Nanos) int {
	first := tl.Script.Start - tl.Script.Start%rehearse.Day
	since := local(tl, at) - first
	if since < 0 {
		return int((since+1)/rehearse.Day) - 1
	}
	return int(since / rehearse.Day)
}

// weekday names the day of a time since start-up if days of the week play a part in the site; else it is "".
func (t *teller) weekday(tl *rehearse.Timeline, at rehearse.Nanos) string {
	if !t.s.HasDays() {
		return ""
	}
	return site.Millis(local(tl, at) / rehearse.Milli).Weekday()
}

// span gives a length of time in the largest units that show it exactly: "5 s", "1 min 30 s", "4 h 2 ms".
func span(d rehearse.Nanos) string {
	if d < 0 {
		return "-" + span(-d)
	}
	units := []struct {
		name string
		n    rehearse.Nanos
	}{{"h", 3600_000 * rehearse.Milli}, {"min", 60_000 * rehearse.Milli}, {"s", 1000 * rehearse.Milli}, {"ms", rehearse.Milli}}
	var parts []string
	for _, u := range units {
		if q := d / u.n; q > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", q, u.name))
			d -= q * u.n
		}
	}
	if d > 0 {
		parts = append(parts, fmt.Sprintf("%d ns", d))
	}
	if len(parts) == 0 {
		return "0 s"
	}
	return strings.Join(parts, " ")
}
