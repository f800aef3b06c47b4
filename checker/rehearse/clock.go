// The local clock of a run (lang/SEMANTICS.md section 1), which goes through the week and may be changed once.

package rehearse

import (
	"lampwarden/lang/site"
)

// clock is the local clock of a run.
type clock struct {
	start Nanos
	jump  *Jump // nil: none
}

// unjumped is what the clock would show of the week without its jump.
func (c clock) unjumped(at Nanos) Nanos { return (c.start + at) % Week }

// timeOfWeek runs through seven days from Monday 00:00, and round again. From the instant of the jump on the clock
// shows the new time.
func (c clock) timeOfWeek(at Nanos) Nanos {
	t := c.unjumped(at)
	if c.jump != nil && at >= c.jump.At {
		t = ((t+FromMillis(c.jump.By))%Week + Week) % Week
	}
	return t
}

// weekday is the day of a time of the week; 0 is Monday.
func weekday(timeOfWeek Nanos) int { return int(timeOfWeek / Day) }

// next is the first instant strictly after at when the clock shows t on one of the days. At the instant of a jump it
// shows the new time, and not the old one.
func (c clock) next(at Nanos, t site.Millis, on site.Days) Nanos {
	if c.jump == nil || at >= c.jump.At {
		return at + wait(c.timeOfWeek(at), t, on)
	}
	if found := at + wait(c.timeOfWeek(at), t, on); found < c.jump.At {
		return found
	}
	if now := c.timeOfWeek(c.jump.At); now%Day == FromMillis(t) && on.Has(weekday(now)) {
		return c.jump.At
	}
	return c.next(c.jump.At, t, on)
}

// wait is the time, more than none, from now, a time of the week, until t on one of the days.
func wait(now Nanos, t site.Millis, on site.Days) Nanos {
	today := now - now%Day
	for ahead := Nanos(0); ; ahead += Day {
		day := today + ahead // its midnight; after Sunday's comes the next Monday's
		if w := day + FromMillis(t) - now; w > 0 && on.Has(weekday(day%Week)) {
			return w
		}
	}
}
