package syntax

// The syntax tree of light that is measured: illuminance, colour temperature, sensors of daylight.

// Lux is a number with lux, or the name of a constant.
type Lux struct {
	Node
	Raw   string `parser:"@( Lux | Ident )"`
	Name  string // of the constant, "" for a number
	Value int64  // whole lux; 0 with a name
}

// Kelvin is a number with K, or the name of a constant.
type Kelvin struct {
	Node
	Raw   string `parser:"@( Kelvin | Ident )"`
	Name  string // of the constant, "" for a number
	Value int64  // 1000..10000; 0 with a name
}

// Measure is a percentage, an illuminance, a colour temperature or a power, or the name of a constant; one field is set.
type Measure struct {
	Node
	Percent *Percent `parser:"  (?= Percent ) @@"`
	Lux     *Lux     `parser:"| (?= Lux ) @@"`
	Kelvin  *Kelvin  `parser:"| (?= Kelvin ) @@"`
	Power   *Power   `parser:"| @@"`
	Name    *Ident   `parser:"| @@"`
}

// DaylightDecl is `daylight hall_lux in hall { responds within 2 s }`.
type DaylightDecl struct {
	Node
	Name  *Ident          `parser:"'daylight' @@"`
	Area  *Ident          `parser:"'in' @@"`
	Items []*DaylightItem `parser:"( '{' @@* '}' )?"`
}

// DaylightItem is one property of a sensor of daylight.
type DaylightItem struct {
	Node
	Within *Duration `parser:"'responds' 'within' @@"`
}

// DaylightAtom is `daylight in AREA below 120 lux` and so on.
type DaylightAtom struct {
	Node
	Area *Ident      `parser:"'daylight' 'in' @@"`
	Is   *LightState `parser:"@@"`
}

// DaylightIs is `daylight in AREA 300 lux` or `hall_lux 300 lux` in a scenario: the daylight itself, without lamps.
type DaylightIs struct {
	Node
	Area   *Ident `parser:"(  'daylight' 'in' @@"` // nil with Sensor
	Sensor *Ident `parser:" | @@ )"`               // nil with Area
	Lux    *Lux   `parser:"@@"`
}

// IlluminanceAtom is `illuminance of AREA at least 300 lux` and so on.
type IlluminanceAtom struct {
	Node
	Area *Ident      `parser:"(?= 'illuminance' 'of' ) 'illuminance' 'of' @@"`
	Is   *LightState `parser:"@@"`
}

// Keep is `keep AREA at 300 lux [COLOUR] [in 5 steps]`: the lamps make up for the daylight that is missing.
type Keep struct {
	Node
	Area   *Ident  `parser:"(?= 'keep' Ident ) 'keep' @@"`
	Lux    *Lux    `parser:"'at' @@"`
	Colour *Colour `parser:"@@?"`                                                        // or nil
	Steps  *Int    `parser:"( (?= 'in' ( Number | Ident 'steps' ) ) 'in' @@ 'steps' )?"` // nil: 10
}

// Tunable is `tunable 2700 K to 6500 K`.
type Tunable struct {
	Node
	From *Kelvin `parser:"'tunable' @@"`
	To   *Kelvin `parser:"'to' @@"`
}

// Colour is a named colour, a colour temperature, or `by` the name of a curve or of a constant; one field is set.
type Colour struct {
	Node
	Word   string  `parser:"  @( 'red' | 'amber' | 'yellow' | 'green' | 'cyan' | 'blue' | 'magenta' | 'white' )"`
	Kelvin *Kelvin `parser:"| (?= Kelvin ) @@"`
	By     *Ident  `parser:"| (?= 'by' ( Ident | Follower ) ) 'by' @@"`
}

// CurveDecl is `curve NAME = 06:00 2700 K, 12:00 5000 K, 20:00 2700 K [in steps of 250 K]`.
type CurveDecl struct {
	Node
	Name   *Ident        `parser:"'curve' @@"`
	Points []*CurvePoint `parser:"'=' @@ ( ',' @@ )+"`        // two or more
	Step   *KelvinStep   `parser:"( 'in' 'steps' 'of' @@ )?"` // nil: 100 K
}

// CurvePoint is a colour temperature at a time of day.
type CurvePoint struct {
	Node
	At     *Clock  `parser:"@@"`
	Kelvin *Kelvin `parser:"@@"`
}

// KelvinStep is a difference of colour temperatures.
type KelvinStep struct {
	Node
	Raw   string `parser:"@Kelvin"`
	Value int64
}

// PowerAtom is `power of TARGETS at most 200 W` and so on. A supply is a target here: what it feeds.
type PowerAtom struct {
	Node
	Targets *Targets    `parser:"(?= 'power' 'of' ) 'power' 'of' @@"`
	Is      *LightState `parser:"@@"`
}
