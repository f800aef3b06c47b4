// Dates of the calendar, for words and for the choice of a date.

package site

import (
	"fmt"
	"time"
)

// Date is a date of the Gregorian calendar.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// String gives the date with its year: "29 March 2026".
func (d Date) String() string { return fmt.Sprintf("%s %d", d.InYear(), d.Year) }

// InYear gives the date without its year: "29 March".
func (d Date) InYear() string { return fmt.Sprintf("%d %s", d.Day, d.Month) }

// Weekday counts from Monday, which is 0.
func (d Date) Weekday() int {
	return int(time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC).Weekday()+6) % 7
}

// Next is the date after this one.
func (d Date) Next() Date {
	y, m, day := time.Date(d.Year, d.Month, d.Day+1, 0, 0, 0, 0, time.UTC).Date()
	return Date{y, m, day}
}

// DatesText names the dates from the first to the last: "21 June", "19 to 23 June", "30 June to 2 July".
func DatesText(first, last Date) string {
	switch {
	case first == last:
		return first.InYear()
	case first.Month == last.Month && first.Year == last.Year:
		return fmt.Sprintf("%d to %s", first.Day, last.InYear())
	}
	return first.InYear() + " to " + last.InYear()
}

// HolidayRule tells how a band, or days, hang on holidays.
type HolidayRule uint8

// The rules.
const (
	AnyDay      HolidayRule = iota // holiday or not
	NotHolidays                    // `except holidays`
	OnHolidays                     // `on holidays`
)

// HoldsIf reports whether the band holds at the time t of the week, on a holiday or not.
func (b *Band) HoldsIf(t Millis, holiday bool) bool {
	if b.Holidays == NotHolidays && holiday || b.Holidays == OnHolidays && !holiday {
		return false
	}
	return b.Holds(t)
}
