// Time zones by their names in the IANA database.

package almanac

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"time"
	_ "time/tzdata" // for machines without a database of their own
)

// zoneNames has the names of the zones of the built-in database, one a line, sorted. A test compares it with the database, and
// writes it anew with -update.
//
//go:embed zones.txt
var zoneNames string

// Zones gives the names of all zones, sorted.
func Zones() []string { return strings.Fields(zoneNames) }

// UnknownZone is the error for a name that no zone has.
type UnknownZone struct {
	Name string
	Near []string // up to three names that may be meant, the likeliest first
}

func (e *UnknownZone) Error() string {
	if len(e.Near) == 0 {
		return fmt.Sprintf("there is no time zone %q; expected a name of the IANA database, such as \"Europe/Dublin\"", e.Name)
	}
	quoted := make([]string, len(e.Near))
	for i, n := range e.Near {
		quoted[i] = fmt.Sprintf("%q", n)
	}
	return fmt.Sprintf("there is no time zone %q; did you mean %s?", e.Name, strings.Join(quoted, " or "))
}

// Load finds a zone by its exact name in the IANA database, such as "Europe/Dublin". For any other name, also "" and
// "Local", the error is an *UnknownZone.
func Load(name string) (*time.Location, error) {
	all := Zones()
	if !slices.Contains(all, name) {
		return nil, &UnknownZone{name, nearZones(name, all)}
	}
	return time.LoadLocation(name)
}

// nearZones gives up to three zones whose name, or its last part (the city), is nearest to the name; none if more than a
// third of the letters differ. Case does not count, and a blank is as good as an underscore.
func nearZones(name string, all []string) []string {
	const longest = 64 // no zone is half as long
	if name == "" || len(name) > longest {
		return nil
	}
	plain := func(s string) string { return strings.ReplaceAll(strings.ToLower(s), " ", "_") }
	want := plain(name)
	best := len(want) / 3
	var near []string
	for _, zone := range all {
		full := plain(zone)
		city := full[strings.LastIndexByte(full, '/')+1:]
		d := min(edits(want, full), edits(want, city))
		if d < best {
			best, near = d, nil
		}
		if d == best && len(near) < 3 {
			near = append(near, zone)
		}
	}
	return near
}

// edits is the Levenshtein distance of two texts: how many bytes to put in, leave out or change.
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
