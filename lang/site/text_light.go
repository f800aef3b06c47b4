// The building's words for daylight, illuminance and colour.

package site

import "fmt"

// daylightText tells whether the daylight is up to a rung of a ladder: "daylight in hall at least 120 lux".
func (s *Site) daylightText(in *Input, value bool) string {
	return fmt.Sprintf("daylight in %s %s %d lux", s.Areas[in.Area].Name, Daylight.ValueWord(value), in.Lux)
}

// daylightChange tells that it has come to a rung, or fallen below it.
func (s *Site) daylightChange(in *Input, value bool) string {
	way := "falls below"
	if value {
		way = "rises to"
	}
	return fmt.Sprintf("daylight in %s %s %d lux", s.Areas[in.Area].Name, way, in.Lux)
}
