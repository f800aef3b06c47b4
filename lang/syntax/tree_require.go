package syntax

// The syntax tree of assumptions, requirements and scenarios.

// AssumeDecl is an assumption; exactly one field is set.
type AssumeDecl struct {
	Node
	Spacing *Spacing `parser:"'assume' ( @@"`
	AtMost  *AtMost  `parser:"| (?= 'at' 'most' ) @@"`
	Steady  bool     `parser:"| (?= 'no' 'change' ) @'no' 'change' 'of' 'clocks'"` // no change of clocks
	Never   *Expr    `parser:"| 'never' @@"`                                       // one level input
	Dwell   *Dwell   `parser:"| @@ )"`
}

// Spacing is `taps on a, b at least D apart` or `changes of a, b at least D apart`.
type Spacing struct {
	Node
	Word   string    `parser:"( @'taps' 'on' | @'changes' 'of' )"` // "taps" or "changes"
	Inputs []*Ident  `parser:"@@ ( ',' @@ )*"`
	D      *Duration `parser:"'at' 'least' @@ 'apart'"`
}

// AtMost is `at most N of a, b`.
type AtMost struct {
	Node
	N      *Int     `parser:"'at' 'most' @@ 'of'"`
	Inputs []*Ident `parser:"@@ ( ',' @@ )*"`
}

// Dwell is `COND lasts at least D`, where COND is one level input, or `not` one.
type Dwell struct {
	Node
	Cond *Expr     `parser:"@@"`
	D    *Duration `parser:"'lasts' 'at' 'least' @@"`
}

// RequireDecl is `require "NAME" [for each ...] { BODY }`.
type RequireDecl struct {
	Node
	Name *Str         `parser:"'require' @@"`
	Each *ForEach     `parser:"@@?"`
	Body *RequireBody `parser:"'{' @@ '}'"`
}

// RequireBody is the form of a requirement; exactly one of the fields before Even is set.
type RequireBody struct {
	Node
	Never    *Expr         `parser:"(  'never' @@"`
	Always   *Expr         `parser:"| 'always' @@"`
	Whenever *Whenever     `parser:"| @@"`
	Times    *AtMostTimes  `parser:"| (?= 'at' 'most' ( Number | Ident ) 'times' ) @@"`
	Return   *CanReturn    `parser:"| (?= 'can' 'always' ) @@"`
	Battery  *BatteryLasts `parser:"| @@"`
	Energy   *EnergyOf     `parser:"| (?= 'energy' 'of' ) @@"`
	About    *About        `parser:"| @@ )"`
	Even     *Even         `parser:"@@?"` // the faults that it bears, or nil
}

// Whenever is `whenever A then within D B [for E] [until C]`.
type Whenever struct {
	Node
	A     *Expr     `parser:"'whenever' @@"`
	D     *Duration `parser:"'then' 'within' @@"`
	B     *Expr     `parser:"@@"`
	For   *Duration `parser:"( 'for' @@ )?"`   // or nil
	Until *Expr     `parser:"( 'until' @@ )?"` // or nil
}

// AtMostTimes is `at most N times P within D`.
type AtMostTimes struct {
	Node
	N *Int      `parser:"'at' 'most' @@ 'times'"`
	P *Expr     `parser:"@@"`
	D *Duration `parser:"'within' @@"`
}

// About is a form that begins with its condition: `P lasts at most D`, `P lasts at least D`,
// `P only after Q [since R]`, `P settles within D`, `P is possible`. Either Lasts and D, or Only (and Since), or Settles, or
// Possible is set.
type About struct {
	Node
	P        *Expr     `parser:"@@"`
	Lasts    string    `parser:"( 'lasts' 'at' @( 'most' | 'least' )"` // "most", "least" or ""
	D        *Duration `parser:"  @@"`
	Only     *Expr     `parser:"| 'only' 'after' @@"`
	Since    *Expr     `parser:"  ( 'since' @@ )?"` // or nil
	Settles  *Duration `parser:"| 'settles' 'within' @@"`
	Possible bool      `parser:"| 'is' @'possible' )"`
}

// ScenarioDecl is `scenario "NAME" { on DATE  start [DAY] T  given ...  at T ...  expect ... }`.
type ScenarioDecl struct {
	Node
	Name  *Str            `parser:"'scenario' @@"`
	Items []*ScenarioItem `parser:"'{' @@* '}'"` // in written order
}

// ScenarioItem is one line of a scenario; exactly one field is set.
type ScenarioItem struct {
	Node
	Start  *Start    `parser:"  @@"`
	Date   *Date     `parser:"| 'on' @@"`                // whose sun it is
	Given  []*Change `parser:"| 'given' @@ ( ',' @@ )*"` // inputs that are away from rest at start-up
	Step   *Step     `parser:"| @@"`
	Expect *Expect   `parser:"| @@"`
}

// Step is `at TIME CHANGE`.
type Step struct {
	Node
	At     *Clock  `parser:"'at' @@"`
	Change *Change `parser:"@@"`
}

// Change is an atom (`tap k`, `presence in hall`, `mains lost`), or `not` one; or how bright the daylight is.
type Change struct {
	Node
	Daylight *DaylightIs `parser:"  (?= Ident Lux | 'daylight' 'in' Ident Lux ) @@"`
	Event    *NotExpr    `parser:"| @@"`
}

// Expect is `expect E [within D]`.
type Expect struct {
	Node
	P      *Expr     `parser:"'expect' @@"`
	Within *Duration `parser:"( 'within' @@ )?"` // or nil
}
