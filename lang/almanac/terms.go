// Places, dates and times of day.

package almanac

import (
	"fmt"
	"time"
)

// Years for which the package has answers. Before 1900 many clocks showed their own town's solar time, and after 2199 the
// difference between clock time and the sun's is not known well enough.
const (
	FirstYear = 1900
	LastYear  = 2199
)

// Place is a point on the earth, in degrees, north and east positive.
type Place struct {
	Latitude, Longitude float64
}

// Check tells what is wrong with a place, if anything.
func (p Place) Check() error {
	if !(p.Latitude >= -90 && p.Latitude <= 90) {
		return fmt.Errorf("latitude %g: expected -90 to 90 degrees, north positive", p.Latitude)
	}
	if !(p.Longitude >= -180 && p.Longitude <= 180) {
		return fmt.Errorf("longitude %g: expected -180 to 180 degrees, east positive", p.Longitude)
	}
	return nil
}

// Date is a date of the Gregorian calendar.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// String gives the date as in ISO 8601: "2026-03-29".
func (d Date) String() string { return fmt.Sprintf("%04d-%02d-%02d", d.Year, int(d.Month), d.Day) }

// Check tells what is wrong with a date, if anything: a year without answers, or no such day in the calendar.
func (d Date) Check() error {
	if err := checkYear(d.Year); err != nil {
		return err
	}
	if dateOf(d.number()) != d {
		return fmt.Errorf("%v is not in the calendar", d)
	}
	return nil
}

func checkYear(year int) error {
	if year < FirstYear || year > LastYear {
		return fmt.Errorf("year %d: expected %d to %d", year, FirstYear, LastYear)
	}
	return nil
}

// number counts dates from 1970-01-01.
func (d Date) number() int64 {
	return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC).Unix() / secondsOfDay
}

func dateOf(number int64) Date {
	y, m, d := time.Unix(number*secondsOfDay, 0).UTC().Date()
	return Date{y, m, d}
}

const secondsOfDay = 86400

// TimeOfDay is what a local clock shows, in milliseconds since its 00:00, from 0 to less than 24 hours.
type TimeOfDay int64

// String gives the time as "07:00" or "07:00:15".
func (t TimeOfDay) String() string {
	s := t / 1000
	if s%60 != 0 {
		return fmt.Sprintf("%02d:%02d:%02d", s/3600, s/60%60, s%60)
	}
	return fmt.Sprintf("%02d:%02d", s/3600, s/60%60)
}
