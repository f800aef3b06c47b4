package source

// The codes of daylight and colour. They are reported by lang/resolve and stand in alphabetical order.

// Codes of daylight and colour; lightCodes explains each.
const (
	NoColour    Code = "no-colour"
	NoPower     Code = "no-power"
	NoSensor    Code = "no-sensor"
	SensorTwice Code = "sensor-twice"
)

func lightCodes() []CodeInfo {
	return []CodeInfo{
		{NoColour, "a circuit without such a colour",
			"A circuit that says `colour` knows the named colours, one that says `tunable 2700 K to 6500 K` knows colour temperatures. Settings for " +
				"groups and areas pass over the circuits that do not know a colour, but one that is named itself has to.",
			`area hall
circuit spots in hall { dims }
alarm fire
mode alert { while fire  spots full red }
`},
		{NoPower, "a circuit whose power is not told",
			"The power of a supply or of circuits is the sum of what each of them takes. A circuit that does not say what it takes would count as nothing, " +
				"and the limit would seem to be kept, or a battery to last longer than it does.",
			`supply mains
area hall
circuit spots in hall { dims  fed by mains }
require "board" { always power of mains at most 200 W }
`},
		{NoSensor, "an area without a daylight sensor",
			"`daylight in hall` is what the daylight sensor of the hall tells, or that of the area around it. A template takes only areas with " +
				"a sensor of their own if it says `with daylight`. The illuminance of an area is daylight and the light of circuits that say what they add: " +
				"it cannot be told if the area has neither.",
			`area hall
circuit spots in hall { dims }
mode dusk { while daylight in hall below 100 lux  spots full }
`},
		{SensorTwice, "two daylight sensors in one area",
			"`daylight in hall` is what one sensor tells, so an area has one. Divide it into areas in which the sensors stand.",
			`area hall
daylight front_lux in hall
daylight back_lux in hall
`},
	}
}
