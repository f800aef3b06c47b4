package syntax

// The words of the language: which are reserved, which begin a declaration, which are units.

import "strings"

// Words that no name may be. The other words of the grammar (such as `day`, `power`, `load`) are words only where
// the grammar asks for them, and names elsewhere.
const reserved = `
generator flat charged running failed fails stuck
site supply battery controller area circuit lamps group presence button contact switch alarm bell band bands mode
precedence equals assume require scenario join turn sensed release dimmer
areas circuits all in and or not with except every any no at most least was vacated tap double triple long
active rings raised clear open closed on off lost live lit dark occupied vacant full above below between stage
while starts ends for each times if states after first then flash otherwise
daylight hysteresis curve red amber yellow green cyan blue magenta white
days holidays output notice constant parameter use ramp Mon Tue Wed Thu Fri Sat Sun
taps changes never always whenever within until since lasts only expect
`

// declWords begin a declaration.
const declWords = `generator site supply battery controller area circuit circuits lamps group presence button contact switch alarm bell
band bands mode precedence equals assume require scenario join days holidays output notice constant parameter use daylight curve`

func isReserved(word string) bool { return strings.Contains(reservedList, " "+word+" ") }
func isDeclWord(word string) bool { return strings.Contains(declList, " "+word+" ") }

var (
	reservedList = " " + strings.Join(strings.Fields(reserved), " ") + " "
	declList     = " " + strings.Join(strings.Fields(declWords), " ") + " "
)

// Reserved gives the reserved words.
func Reserved() []string { return strings.Fields(reserved) }

// Units gives the units that may follow a number.
func Units() []string { return append(units(), "N", "S", "E") }

// unitKind gives the kind of token that a number with the unit makes.
func unitKind(unit string) (tokenKind, bool) {
	switch unit {
	case "ms", "s", "min", "h":
		return kindDuration, true
	case "%":
		return kindPercent, true
	case "mW", "W", "kW":
		return kindPower, true
	case "mWh", "Wh", "kWh":
		return kindEnergy, true
	case "lux":
		return kindLux, true
	case "K":
		return kindKelvin, true
	case "N", "S", "E":
		return kindDegrees, true
	}
	if monthNamed(unit) > 0 {
		return kindDate, true
	}
	return 0, false
}

// units lists the units for suggestions.
func units() []string {
	return []string{"ms", "s", "min", "h", "%", "W", "kW", "mW", "Wh", "kWh", "mWh", "lux", "K"}
}

// unitMeant gives the unit that a word after a number stands for in other notations, or "".
func unitMeant(word string) string {
	switch strings.ToLower(word) {
	case "msec", "msecs", "millis", "millisecond", "milliseconds":
		return "ms"
	case "sec", "secs", "second", "seconds":
		return "s"
	case "m", "mins", "minute", "minutes":
		return "min"
	case "hr", "hrs", "hour", "hours":
		return "h"
	case "percent", "pc", "pct":
		return "%"
	case "watt", "watts":
		return "W"
	case "lx", "luxes":
		return "lux"
	case "k", "kelvin", "kelvins":
		return "K"
	}
	return monthMeant(word)
}
