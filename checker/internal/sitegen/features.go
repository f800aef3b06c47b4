// What came to the language later, switched on by the options.

package sitegen

import "lampwarden/lang/site"

// Features are parts of the language that are made only if they are asked for. Each
// number is how many in a hundred have the feature; 0: none, and then no choice is made.
type Features struct {
	// DaylightPercent is of sites: a daylight sensor of one to three rungs, with plant modes that read it.
	DaylightPercent int
	// SightPercent is of lights in a site with a daylight sensor: the sensor sees them.
	SightPercent int
	// ColourPercent is of dimmed lights: they have a colour.
	ColourPercent int
	// GeneratorPercent is of sites: a generator stands in for the mains supply after a while.
	GeneratorPercent int
	// ReturnPercent is of lights with a feed that can be lost: they come back some time after it.
	ReturnPercent int
	// BatteryPercent is of sites: a battery that can run flat.
	BatteryPercent int
	// DownPercent is of sites: the controller does not always run.
	DownPercent int
	// CutPercent is of circuits: the controller may lose them.
	CutPercent int
	// LevelsPercent is of lights: they have a failure level or a power on level.
	LevelsPercent int
	// PlantPercent is of sites: a plant mode of any kind.
	PlantPercent int
	// FailurePercent is of sites: one or two inputs that tell of failures, mostly faults.
	FailurePercent int
	// FaultPercent is of requirements in a site with something to fail: faults that they are to survive.
	FaultPercent int
	// SumPercent is of the atoms of requirements: a sum of present levels.
	SumPercent int
	// JumpPercent, CalendarPercent and SunPercent are of sites with clock times: changes of the clock,
	// an input for holidays, bands and triggers by the sun (the site then has Dates).
	JumpPercent, CalendarPercent, SunPercent int
}

// Everything gives options with all features and forms on. Sites are kept a little smaller than by default in
// other ways.
func Everything() Options {
	return Options{
		MaxInputs: 2, MaxUnits: 2, ClockPercent: 40, Forms: forms(site.Energy),
		Features: Features{DaylightPercent: 30, SightPercent: 70, ColourPercent: 25, GeneratorPercent: 12, ReturnPercent: 20,
			BatteryPercent: 15, DownPercent: 25, CutPercent: 15, LevelsPercent: 20, PlantPercent: 15, FailurePercent: 30,
			FaultPercent: 50, SumPercent: 15, JumpPercent: 40, CalendarPercent: 25, SunPercent: 25},
	}
}

// forms lists the forms up to one.
func forms(last site.Form) []site.Form {
	var out []site.Form
	for f := site.Never; f <= last; f++ {
		out = append(out, f)
	}
	return out
}
