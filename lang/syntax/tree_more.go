package syntax

// The syntax tree of days of the week, outputs, constants and packs.

// DaysDecl is `days workdays = Mon to Fri`, `days workdays = Mon to Fri except holidays` or `days closed_days = holidays`.
type DaysDecl struct {
	Node
	Name *Ident `parser:"'days' @@"`
	Days *Days  `parser:"'=' (?! Ident ) @@"` // no name
}

// Days is `Mon`, `Mon to Fri`, `Sat, Sun`, or a name from a `days` declaration, each with `except holidays` or without, or
// `holidays`; one of Holidays, Name and Ranges is set.
type Days struct {
	Node
	Holidays bool        `parser:"  @'holidays'"`
	Name     *Ident      `parser:"| ( @@"`
	Ranges   []*DayRange `parser:"  | @@ ( (?= ',' ( 'Mon' | 'Tue' | 'Wed' | 'Thu' | 'Fri' | 'Sat' | 'Sun' ) ) ',' @@ )* )"`
	Except   bool        `parser:"  ( @'except' 'holidays' )?"`
}

// DayRange is `Mon`, or `Mon to Fri`.
type DayRange struct {
	Node
	From *Weekday `parser:"@@"`
	To   *Weekday `parser:"( 'to' @@ )?"` // nil: one day
}

// Weekday is one of Mon, Tue, Wed, Thu, Fri, Sat, Sun.
type Weekday struct {
	Node
	Word string `parser:"@( 'Mon' | 'Tue' | 'Wed' | 'Thu' | 'Fri' | 'Sat' | 'Sun' )"`
}

// OutputDecl is `output siren, security_armed`.
type OutputDecl struct {
	Node
	Names []*Ident `parser:"'output' @@ ( ',' @@ )*"`
}

// NoticeDecl is `notice window_warning "a kitchen window is open"`.
type NoticeDecl struct {
	Node
	Name *Ident `parser:"'notice' @@"`
	Text *Str   `parser:"@@"`
}

// ConstantDecl is `constant visit_level = 5 %`.
type ConstantDecl struct {
	Node
	Name  *Ident   `parser:"'constant' @@"`
	Value *Literal `parser:"'=' @@"`
}

// Literal is what a constant stands for, and no name; one field is set.
type Literal struct {
	Node
	Duration *Duration `parser:"  (?= Duration ) @@"`
	Percent  *Percent  `parser:"| (?= Percent ) @@"`
	Clock    *Clock    `parser:"| (?= Clock ) @@"`
	Lux      *Lux      `parser:"| (?= Lux ) @@"`
	Kelvin   *Kelvin   `parser:"| (?= Kelvin ) @@"`
	Int      *Int      `parser:"| (?= Number ) @@"`
}

// Value is a literal or a name; one field is set.
type Value struct {
	Node
	Literal *Literal `parser:"  @@"`
	Name    *Ident   `parser:"| @@"`
}

// ParameterDecl is `parameter response = 5 s` or `parameter fire_input = fire`, in a pack.
type ParameterDecl struct {
	Node
	Name    *Ident `parser:"'parameter' @@"`
	Default *Value `parser:"'=' @@"`
}

// UseDecl is `use "escape"` or `use "escape" with response = 5 s, fire_input = fire_panel`.
type UseDecl struct {
	Node
	Pack *Str        `parser:"'use' @@"`
	Args []*Argument `parser:"( 'with' @@ ( ',' @@ )* )?"`
}

// Argument gives a parameter of a pack its value.
type Argument struct {
	Node
	Name  *Ident `parser:"@@"`
	Value *Value `parser:"'=' @@"`
}

// Ramp is `ramp to L over D`.
type Ramp struct {
	Node
	Level *Level    `parser:"'ramp' 'to' @@"`
	Over  *Duration `parser:"'over' @@"`
}

// Start is `start 21:59` or `start Fri 21:59` in a scenario.
type Start struct {
	Node
	Day *Weekday `parser:"'start' @@?"` // nil: Monday
	At  *Clock   `parser:"@@"`
}
