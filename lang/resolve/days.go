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

// daySet is a set of days of the week, and how it hangs on holidays.
type daySet struct {
	days site.Days
	rule site.HolidayRule
}

// daysOf gives the days on which something is, and how it hangs on holidays; nil means every day.
func (r *resolver) daysOf(d *syntax.Days) (site.Days, site.HolidayRule) {
	if d == nil {
		return 0, site.AnyDay
	}
	set := r.daySetOf(d)
	return set.days, r.holidayRule(d, set.rule)
}

// daySetOf gives a set of days as it is written.
func (r *resolver) daySetOf(d *syntax.Days) daySet {
	var out daySet
	switch {
	case d.Holidays:
		out.rule = site.OnHolidays
	case d.Name == nil:
		out.days = r.weekdays(d)
	default:
		if s := r.find(d.Name, kindDays); s != nil {
			out = r.daySets[s.id]
		}
	}
	if d.Except {
		if out.rule == site.OnHolidays {
			e := r.errorf(source.EmptySelection, d.Span, "`%s` are holidays, so that none is left", d.Name.Name)
			relate(e, r.names[d.Name.Name].span, "declared here")
		} else if out.rule == site.NotHolidays {
			e := r.errorf(source.ListedTwice, d.Span, "`%s` have no holidays among them anyway", d.Name.Name)
			relate(e, r.names[d.Name.Name].span, "declared here")
		}
		out.rule = site.NotHolidays
	}
	return out
}

// weekdays gives a set of written days.
func (r *resolver) weekdays(d *syntax.Days) site.Days {
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
