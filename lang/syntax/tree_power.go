package syntax

// The syntax tree of generators, faults, and the requirement forms of settling, returning and energy.

// GeneratorDecl is `generator diesel { starts within 15 s  backs mains }`.
type GeneratorDecl struct {
	Node
	Name  *Ident           `parser:"'generator' @@"`
	Items []*GeneratorItem `parser:"( '{' @@* '}' )?"`
}

// GeneratorItem is one property of a generator; one field is set.
type GeneratorItem struct {
	Node
	StartsWithin *Duration `parser:"  'starts' 'within' @@"`
	Backs        *Ident    `parser:"| 'backs' @@"`
}

// FaultWord says after a name what is wrong with it: `failed`, `fails to start`, `stuck`, `stuck on`, `stuck off`.
type FaultWord struct {
	Node
	Word  string `parser:"( @'failed' | @'fails' 'to' 'start' | @'stuck'"` // "failed", "fails" or "stuck"
	Value string `parser:"( (?! 'on' Date ) @( 'on' | 'off' ) )? )"`       // with "stuck": "on", "off" or ""
}

// FaultAtom is a fault that begins with words of its own: `controller down`, `controller restart`,
// `control bus lost`, `lamp failure`.
type FaultAtom struct {
	Node
	Word string `parser:"( 'controller' @( 'down' | 'restart' ) | (?= 'control' 'bus' ) 'control' @'bus' 'lost' | (?= 'lamp' 'failure' ) 'lamp' @'failure' )"` // "down", "restart", "bus" or "failure"
}

// Even is `even with FAULT` or `even with any N of: FAULT, ...` at the end of a requirement.
type Even struct {
	Node
	N      *Int   `parser:"'even' 'with' ( 'any' (?! 'of' ) @@ 'of' ':' )?"` // nil for one fault
	Faults []Atom `parser:"@@ ( ',' @@ )*"`
}

// CanReturn is `can always return to P within D`.
type CanReturn struct {
	Node
	P *Expr     `parser:"'can' 'always' 'return' 'to' @@"`
	D *Duration `parser:"'within' @@"`
}

// BatteryLasts is `battery ups lasts at least D`.
type BatteryLasts struct {
	Node
	Battery *Ident    `parser:"'battery' @@"`
	D       *Duration `parser:"'lasts' 'at' 'least' @@"`
}

// EnergyOf is `energy of TARGETS per D at most E`. A supply is a target here: what is fed by it.
type EnergyOf struct {
	Node
	Targets *Targets  `parser:"'energy' 'of' @@"`
	D       *Duration `parser:"'per' @@"`
	Most    *Energy   `parser:"'at' 'most' @@"`
}

func (*GeneratorDecl) decl() {}
func (*FaultAtom) atom()     {}
