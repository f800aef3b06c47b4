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

// shown tells which light an expression is about and what it says of it: "at full", "above 10 %", "red". The text is "" if it is about
// something else.
func (s *Site) shown(e *Expr) (CircuitID, string) {
	switch {
	case e.Op == OpLight && !s.Circuits[e.Circuit].Colour:
		return e.Circuit, s.rangeText(e)
	case e.Op == OpAnd && e.Label != "" && len(e.Kids) == 2 && e.Kids[0].Op == OpLight: // lit, and its colour
		id := e.Kids[0].Circuit
		if text, ok := strings.CutPrefix(e.Label, s.Circuits[id].Name+" "); ok {
			return id, text
		}
	}
	return None, ""
}

// colourText gives a comparison of the codes of a colour: "red", "at 2700 K", "above 3000 K".
func colourText(e *Expr) string {
	switch lo, hi := e.Lo, e.Hi; {
	case lo == hi && lo < LeastKelvin:
		return Colours[lo]
	case lo == hi:
		return fmt.Sprintf("at %d K", lo)
	case hi == Full && lo%100 == 1:
		return fmt.Sprintf("above %d K", lo-1)
	case hi == Full:
		return fmt.Sprintf("at least %d K", lo)
	case lo == LeastKelvin && hi%100 == 99:
		return fmt.Sprintf("below %d K", hi+1)
	case lo == LeastKelvin:
		return fmt.Sprintf("at most %d K", hi)
	default:
		return fmt.Sprintf("between %d K and %d K", lo, hi)
	}
}
