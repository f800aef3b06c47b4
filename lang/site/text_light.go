// The building's words for daylight, illuminance and colour.

package site

import (
	"fmt"
	"strconv"
	"strings"
)

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

// sumText tells a part of a comparison of light that was written out: "light of spots and leds above 90 lux".
func (s *Site) sumText(e *Expr) string {
	ids := make([]CircuitID, len(e.Terms))
	for i, t := range e.Terms {
		ids[i] = t.Circuit
	}
	what := "light of "
	if e.Seen {
		what = "seen light of "
	}
	return what + s.CircuitsText(ids) + " at least " + inLux(e.Need) + " lux"
}

// inLux tells a sum of lux times hundredths of a per cent.
func inLux(n int64) string {
	whole, part := n/int64(Full), n%int64(Full)
	if part == 0 {
		return strconv.FormatInt(whole, 10)
	}
	return strings.TrimRight(fmt.Sprintf("%d.%04d", whole, part), "0")
}
