// Days of the week.

package resolve

import (
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// dayNumber counts from Monday, which is 0.
func dayNumber(w *syntax.Weekday) int {
	return slices.Index([]string{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"}, w.Word)
}

// everyDay has all seven bits; as a result it is written 0.
const everyDay site.Days = 1<<7 - 1

// daysOf gives a set of days; nil means every day.
func (r *resolver) daysOf(d *syntax.Days) site.Days {
	if d == nil {
		return 0
	}
	if d.Name != nil {
		if s := r.find(d.Name, kindDays); s != nil {
			return r.daySets[s.id]
		}
		return 0
	}
	var out site.Days
	for _, x := range d.Ranges {
		from, to := dayNumber(x.From), dayNumber(x.From)
		if x.To != nil {
			if to = dayNumber(x.To); to == from {
				e := r.errorf(source.BadRange, x.Span, "the range of days runs from a day to itself")
				e.Suggestion = "write `" + x.From.Word + "`"
				continue
			}
		}
		var these site.Days
		for i := 0; i <= (to-from+7)%7; i++ {
			these |= 1 << ((from + i) % 7)
		}
		if out&these != 0 {
			r.errorf(source.ListedTwice, x.Span, "a day of `%s` is listed twice", dayText(x))
		}
		out |= these
	}
	if out == everyDay {
		return 0
	}
	return out
}

func dayText(x *syntax.DayRange) string {
	if x.To == nil {
		return x.From.Word
	}
	return x.From.Word + " to " + x.To.Word
}
