// The dates of a site, in words.

package checker

import (
	"strings"

	"lampwarden/lang/site"
)

// datesText names the dates that are marked, those in a row together, also over the turn of the year: "20 May to 23 July",
// "3 March and 1 to 9 October"; "every date" for all of them. At least one is marked.
func datesText(dates []site.SunDate, on []bool) string {
	n := len(dates)
	start := 0 // of a row
	for start < n && (!on[start] || on[(start+n-1)%n]) {
		start++
	}
	if start == n {
		return "every date"
	}
	var parts []string
	for i := 0; i < n; i++ {
		from := (start + i) % n
		if !on[from] {
			continue
		}
		to := from
		for i+1 < n && on[(to+1)%n] {
			to, i = (to+1)%n, i+1
		}
		first, last := dates[from].First, dates[to].Last
		if first.InYear() == last.InYear() {
			parts = append(parts, first.InYear())
		} else {
			parts = append(parts, rowText(first, last))
		}
	}
	if k := len(parts) - 1; k > 0 {
		return strings.Join(parts[:k], ", ") + " and " + parts[k]
	}
	return parts[0]
}

// rowText is site.DatesText, where the last date may come before the first: then the row runs over the turn of the year.
func rowText(first, last site.Date) string {
	if first.Month == last.Month && first.Day > last.Day {
		return first.InYear() + " to " + last.InYear()
	}
	return site.DatesText(first, last)
}
