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

// Measure is a percentage, an illuminance or a colour temperature, or the name of a constant; one field is set.
type Measure struct {
	Node
	Percent *Percent `parser:"  (?= Percent ) @@"`
	Lux     *Lux     `parser:"| (?= Lux ) @@"`
	Kelvin  *Kelvin  `parser:"| (?= Kelvin ) @@"`
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

// Keep is `keep AREA at 300 lux` or `keep AREA at 300 lux in 5 steps`: the lamps make up for the daylight that is missing.
type Keep struct {
	Node
	Area  *Ident `parser:"(?= 'keep' Ident ) 'keep' @@"`
	Lux   *Lux   `parser:"'at' @@"`
	Steps *Int   `parser:"( (?= 'in' ( Number | Ident 'steps' ) ) 'in' @@ 'steps' )?"` // nil: 10
}
