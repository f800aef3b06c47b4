package syntax

// The syntax tree of conditions. Binding from loose to tight: with, or, and, not.

import "lampwarden/lang/source"

// Expr is `A with B with ...`; `with` is `and` and binds loosest.
type Expr struct {
	Node
	Terms []*OrExpr `parser:"@@ ( 'with' @@ )*"` // one or more
}

// OrExpr is `A or B or ...`.
type OrExpr struct {
	Node
	Terms []*AndExpr `parser:"@@ ( 'or' @@ )*"` // one or more
}

// AndExpr is `A and B and ...`.
type AndExpr struct {
	Node
	Terms []*NotExpr `parser:"@@ ( 'and' @@ )*"` // one or more
}

// NotExpr is `not X`, `( EXPR )` or an atom; exactly one field is set.
type NotExpr struct {
	Node
	Not   *NotExpr `parser:"  'not' @@"`
	Paren *Expr    `parser:"| '(' @@ ')'"`
	Atom  Atom     `parser:"| @@"`
}

// Atom is one of *PresenceAtom, *VacatedAtom, *DaylightAtom, *GestureAtom, *WasAtom, *QuantAtom, *AreaAtom,
// *IlluminanceAtom, *PowerAtom, *FaultAtom, *NameAtom.
type Atom interface {
	Place() source.Span
	atom()
	print() string
}

// PresenceAtom is `presence in AREA`.
type PresenceAtom struct {
	Node
	Area *Ident `parser:"'presence' 'in' @@"`
}

// VacatedAtom is `vacated AREA`.
type VacatedAtom struct {
	Node
	Area *Ident `parser:"'vacated' @@"`
}

// GestureAtom is `tap K`, `double tap K`, `triple tap K`, `long press K` or `release K`.
type GestureAtom struct {
	Node
	Gesture string `parser:"( @'tap' | @( 'double' | 'triple' ) 'tap' | @'long' 'press' | @'release' )"` // "tap", "double", "triple", "long", "release"
	Button  *Ident `parser:"@@"`
}

// WasAtom is `was ( COND )`.
type WasAtom struct {
	Node
	Cond *Expr `parser:"'was' '(' @@ ')'"`
}

// QuantAtom ranges over circuits or areas: `every circuit in escape areas at full`,
// `at least 1 sleeping area occupied`. Either Circuits or Areas is set.
type QuantAtom struct {
	Node
	Quant    *Quant        `parser:"@@"`
	Circuits *CircuitRange `parser:"( @@"`
	Areas    *AreaRange    `parser:"| @@ )"`
}

// CircuitRange is `circuit [in PLACES] [except NAMES] LIGHT`.
type CircuitRange struct {
	Node
	Places *Places     `parser:"( 'circuit' | 'circuits' ) ( 'in' @@ )?"`         // nil: all circuits
	Except []*Ref      `parser:"( 'except' @@ ( ( ',' | 'or' | 'and' ) @@ )* )?"` // areas, circuits, groups
	Light  *LightState `parser:"@@"`
}

// AreaRange is `[TAG or TAG] area [in AREA or AREA] [except NAMES] STATE`.
type AreaRange struct {
	Node
	Tags   []*Ident `parser:"( @@ ( 'or' @@ )* )? ( 'area' | 'areas' )"` // none: all areas
	In     []*Ident `parser:"( 'in' @@ ( 'or' @@ )* )?"`                 // none: anywhere
	Except []*Ident `parser:"( 'except' @@ ( ( ',' | 'or' | 'and' ) @@ )* )?"`
	State  string   `parser:"@( 'lit' | 'dark' | 'occupied' | 'vacant' )"`
}

// Quant is `every`, `any`, `no`, `at most N` or `at least N`.
type Quant struct {
	Node
	Word string `parser:"(  @( 'every' | 'any' | 'no' ) | 'at' @( 'most' | 'least' )"` // "every", "any", "no", "most", "least"
	N    *Int   `parser:"   @@ )"`                                                     // with "most" and "least"
}

// AreaAtom is `area hall lit`.
type AreaAtom struct {
	Node
	Area  *Ident `parser:"'area' @@"`
	State string `parser:"@( 'lit' | 'dark' | 'occupied' | 'vacant' )"`
}

// NameAtom begins with a name: an input, band, mode, circuit, group or supply, as its name tells.
//
//	fire   fire raised   fire sensed   mains lost   front_door rings   night active
//	keypad in film   welcome in hall   fire_alarm in stage 2   welcome in hall in stage 2
//	hall_spots at full   hall_spots off   spot[3] lit   spot[1..6] at 30 %
//	ups flat   diesel running   hall_pir stuck on
//
// At most one of Stage, State, Fault, Light is set. `off` is always a State, for a circuit too.
type NameAtom struct {
	Node
	Name    *Ident      `parser:"@@"`
	Numbers *Numbers    `parser:"@@?"`                             // of a row of circuits, or nil
	In      []*Ident    `parser:"( (?! 'in' 'stage' ) 'in' @@ )*"` // state of a mode, area of an instance, or area then state
	Stage   *Int        `parser:"( 'in' 'stage' @@"`
	State   string      `parser:"| (?! 'on' Date ) @( 'active' | 'rings' | 'raised' | 'clear' | 'open' | 'closed' | 'on' | 'off' | 'lost' | 'live' | 'sensed' | 'flat' | 'charged' | 'running' )"`
	Fault   *FaultWord  `parser:"| @@"`
	Light   *LightState `parser:"| (?! 'at' ( Clock | 'dawn' | 'sunrise' | 'sunset' | 'dusk' | Ident ( 'if' | ':' | 'on' | 'not' | 'tap' | 'double' | 'triple' | 'long' | 'release' | 'presence' | 'vacated' | Ident ) ) ) @@ )?"`
}

// LightState says how bright: Word is "lit", "off" (after a quantifier only), "full" (`at full`), "above",
// "below", "least", "most", "at" with the value in Level, or "" with Between. Or it names a colour, "red" and so on, or has a
// colour temperature as value. Of a sensor of daylight it says what
// that reads, in lux, with Hysteresis or without.
type LightState struct {
	Node
	Word       string   `parser:"  @( 'lit' | 'off' | 'red' | 'amber' | 'yellow' | 'green' | 'cyan' | 'blue' | 'magenta' | 'white' ) | (?= 'at' 'full' ) 'at' @'full' | ( @( 'above' | 'below' ) | (?= 'at' ( 'least' | 'most' ) ) 'at' @( 'least' | 'most' ) | @'at' )"`
	Level      *Measure `parser:"  @@"`
	Hysteresis *Measure `parser:"  ( 'hysteresis' @@ )?"` // or nil
	Between    *Range   `parser:"| @@"`
}

// Range is `between 5 % and 20 %`.
type Range struct {
	Node
	Lo *Measure `parser:"'between' @@"`
	Hi *Measure `parser:"'and' @@"`
}

func (*DaylightAtom) atom()    {}
func (*IlluminanceAtom) atom() {}
func (*PowerAtom) atom()       {}
func (*PresenceAtom) atom()    {}
func (*VacatedAtom) atom()     {}
func (*GestureAtom) atom()     {}
func (*WasAtom) atom()         {}
func (*QuantAtom) atom()       {}
func (*AreaAtom) atom()        {}
func (*NameAtom) atom()        {}
