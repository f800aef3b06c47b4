// The local clock: the site's year and time zone, and the changes that its clocks go through.

package resolve

import (
	"errors"

	"lampwarden/lang/almanac"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

const (
	// plainYear is the year of a site that names none: an ordinary one, with 365 dates. It is fixed, so that a
	// site means the same whenever it is read.
	plainYear = 2026
	// jumpYears are the years, from the site's on, whose changes of clocks are looked at.
	jumpYears = 10
	// The years that a site may be of: those of the almanac.
	firstYear = almanac.FirstYear
	lastYear  = almanac.LastYear - jumpYears + 1
)

// year takes the year that a site is looked at in.
func (r *resolver) year(n *syntax.Int) {
	y, ok := r.count(n)
	if !ok {
		return
	}
	if y < firstYear || y > lastYear {
		e := r.errorf(source.BadYear, n.Span, "there are no times of the sun and the clocks for the year %d", y)
		e.Suggestion = "write a year from 1900 to 2190, such as `year 2027`"
		return
	}
	r.site.Year = y
}

// timeZone takes names of the IANA time zone database.
func (r *resolver) timeZone(name *syntax.Str) {
	r.zoneGiven = true
	zone, err := almanac.Load(name.Value)
	if err == nil {
		r.site.TimeZone, r.zone = name.Value, zone
		return
	}
	d := r.errorf(source.UnknownTimeZone, name.Span, "there is no time zone %q", name.Value)
	var unknown *almanac.UnknownZone
	if errors.As(err, &unknown) && len(unknown.Near) > 0 {
		for i, near := range unknown.Near {
			if d.Suggestion += " or "; i == 0 {
				d.Suggestion = "did you mean "
			}
			d.Suggestion += `"` + near + `"`
		}
		d.Suggestion += "?"
		d.Fixes = append(d.Fixes, source.Fix{Span: name.Span, Text: `"` + unknown.Near[0] + `"`})
		return
	}
	d.Notes = append(d.Notes, "time zones have the names of the IANA database: \"Europe/Dublin\", \"America/New_York\", \"UTC\"")
}
