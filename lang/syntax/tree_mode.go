package syntax

// The syntax tree of modes: clauses, triggers, stages, settings.

// ModeDecl is `mode NAME [for each ...] { clauses }`. Clauses stand in written order.
type ModeDecl struct {
	Node
	Name    *Ident        `parser:"'mode' @@"`
	Each    *ForEach      `parser:"@@?"` // nil unless a template
	Clauses []*ModeClause `parser:"'{' @@* '}'"`
}

// ModeClause is one clause of a mode; exactly one field is set.
type ModeClause struct {
	Node
	While  *WhileClause  `parser:"  @@"`
	Dimmer *DimmerClause `parser:"| @@"`
	Starts *StartsClause `parser:"| @@"`
	Ends   *EndsClause   `parser:"| @@"`
	For    *Duration     `parser:"| 'for' @@"` // a latch's own length
	States *StatesClause `parser:"| @@"`
	Change *ChangeClause `parser:"| @@"`
	At     *AtClause     `parser:"| @@"`
	In     *InClause     `parser:"| @@"`
	Asks   *Asks         `parser:"| @@"` // what the mode asks for while active
}

// WhileClause is `while COND, on delay D, off delay D` or `while COND, pulse D`.
type WhileClause struct {
	Node
	Cond   *Expr    `parser:"'while' @@"`
	Delays []*Delay `parser:"( ',' @@ )*"`
}

// Delay is one timer of a while clause.
type Delay struct {
	Node
	Kind string    `parser:"( @( 'on' | 'off' ) 'delay' | @'pulse' )"` // "on", "off" or "pulse"
	D    *Duration `parser:"@@"`
}

// StartsClause is `starts on TRIGGER, ...` or `starts at TIME, ...`.
type StartsClause struct {
	Node
	Triggers []*Trigger `parser:"'starts' @@ ( ',' @@ )*"`
}

// EndsClause is `ends on TRIGGER, ...`.
type EndsClause struct {
	Node
	Triggers []*Trigger `parser:"'ends' @@ ( ',' @@ )*"`
}

// Trigger is `on COND [if COND]` or `at TIME [on DAYS] [if COND]`; in a list `on` may be left out after the first.
type Trigger struct {
	Node
	At   *DayTime `parser:"( (?! 'at' ( 'most' | 'least' ) ) 'at' @@"` // nil for a cause
	Days *Days    `parser:"  ( 'on' @@ )?"`                            // of a clock time; nil: every day
	On   *Expr    `parser:"| 'on'? @@ )"`                              // nil for a clock time
	If   *Expr    `parser:"( 'if' @@ )?"`                              // the guard, or nil
}

// AtClause begins with `at TIME [on DAYS] [if COND]`. Without arrows it is short for `starts at TIME ...`;
// with arrows it is a transition by the clock.
type AtClause struct {
	Node
	At     *DayTime `parser:"'at' @@"`
	Days   *Days    `parser:"( 'on' @@ )?"` // nil: every day
	If     *Expr    `parser:"( 'if' @@ )?"`
	Arrows *Arrows  `parser:"( ':' @@ )?"`
}

// StatesClause is `states a, b, c`, the first being the initial one.
type StatesClause struct {
	Node
	Names []*Ident `parser:"'states' @@ ( ',' @@ )*"`
}

// ChangeClause is `on COND [if COND]: ARROWS` or `after D [if COND]: ARROWS`. (By the clock: AtClause.)
type ChangeClause struct {
	Node
	On     *Expr     `parser:"( 'on' @@"`      // nil for after
	After  *Duration `parser:"| 'after' @@ )"` // nil for on
	If     *Expr     `parser:"( 'if' @@ )?"`
	Arrows *Arrows   `parser:"':' @@"`
}

// Arrows is `a -> b -> c` (a to b, b to c) or `-> c` (from every state).
type Arrows struct {
	Node
	From *StateRef   `parser:"@@?"` // nil: from every state
	To   []*StateRef `parser:"( '->' @@ )+"`
}

// InClause is `in STATE: ...`: what the state asks for.
type InClause struct {
	Node
	State *Ident `parser:"'in' @@ ':'"`
	Asks  *Asks  `parser:"@@"`
}

// Asks is a sequence of stages. Settings alone make one stage without `first` or `then`.
type Asks struct {
	Node
	Stages []*Stage `parser:"@@+"`
}

// Stage is `first|then [for D] settings`, or settings alone.
type Stage struct {
	Node
	Word     string     `parser:"(  @( 'first' | 'then' )"` // "first", "then" or ""
	For      *Duration  `parser:"   ( 'for' @@ )?"`
	Settings []*Setting `parser:"   ( @@ ( ','? @@ )* )? | @@ ( ','? @@ )* )"`
}

// Setting asks for light: `light TARGETS in turn ...`, `keep AREA at LUX`, `flash TARGETS ...`, `TARGETS LEVEL`, `TARGETS ramp to LEVEL over D`
// or `TARGETS: CASES`. Exactly one of Turn, Keep, Flash, Ramp, Level, Cases is set. A constant as a level stands after `at`, so that a misspelt word is
// not taken for one.
type Setting struct {
	Node
	Turn    *Turn         `parser:"(  (?= 'turn' | 'light' ( Ident | 'all' | 'circuits' ) ) @@"` // a stage of its own
	Keep    *Keep         `parser:" | @@"`
	Flash   *FlashSetting `parser:" | @@"`
	Targets *Targets      `parser:" | @@"` // nil for a turn and a flash, which have their own, and for what is kept
	Ramp    *Ramp         `parser:"   ( @@"`
	Level   *Level        `parser:"   | ( (?! Ident ) @@ | 'at' @@ )"`
	Cases   []*Case       `parser:"   | ':' ( (?! 'otherwise' ) @@ ( (?! ',' ( 'otherwise' | 'all' | 'circuits' | 'flash' | 'keep' Ident 'at' ( Lux | Ident ) ) ) ',' @@ )* ( (?= ',' 'otherwise' ) ',' @@ )? | @@ ) ) )"`
}

// FlashSetting is `flash TARGETS [at L] [N times], D on, D off`.
type FlashSetting struct {
	Node
	Targets *Targets  // made of the next two, which are the parser's own and nil in a finished tree
	Terms   []*Target `parser:"'flash' @@ ( (?! ',' ( Duration | Ident 'on' ) ) ( ',' | 'and' ) @@ )*"`
	Except  []*Target `parser:"( 'except' @@ ( (?! ',' ( Duration | Ident 'on' ) ) ( ',' | 'and' ) @@ )* )?"`
	Level   *Level    `parser:"( (?! Ident ) @@ | 'at' @@ )?"` // nil: full
	Times   *Int      `parser:"( @@ 'times' )?"`               // nil: without end
	On      *Duration `parser:"',' @@ 'on'"`
	Off     *Duration `parser:"',' @@ 'off'"`
}

// Case is `COND LEVEL` or `otherwise LEVEL`, where the level may be a ramp. Right after `on` or `off` no constant can
// stand: there a name begins the next setting. Exactly one of Ramp, Level is set in a finished tree.
type Case struct {
	Node
	Otherwise bool   `parser:"( @'otherwise'"`
	When      *Expr  `parser:"| @@ )"` // nil for otherwise
	Ramp      *Ramp  `parser:"( @@"`
	Level     *Level `parser:"| @@ )?"`
}

// Targets names circuits: terms, less what `except` takes out.
type Targets struct {
	Node
	Terms  []*Target `parser:"@@ ( ( ',' | 'and' ) @@ )*"`
	Except []*Target `parser:"( 'except' @@ ( ( ',' | 'and' ) @@ )* )?"`
}

// Target is `all circuits`, `circuits in PLACES`, or a circuit, circuits of a row or a group; one field is set.
type Target struct {
	Node
	All    bool    `parser:"  @'all' 'circuits'"`
	Places *Places `parser:"| 'circuits' 'in' @@"`
	Ref    *Ref    `parser:"| @@"`
}

// Places is `hall`, `hall or stairs`, `escape areas`, `escape or quiet areas`. With Tagged the names
// are tags; else they are areas (or, after a quantifier, groups and rows), or the variable of a template.
type Places struct {
	Node
	Names  []*Ref `parser:"@@ ( 'or' @@ )*"`
	Tagged bool   `parser:"@( 'areas' | 'area' )?"`
}
