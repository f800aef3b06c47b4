package syntax

// The syntax tree of circuit schedules: circuits that stand in a table.

// ScheduleDecl is `circuits from "schedule.csv" [in AREA] { ... }`.
type ScheduleDecl struct {
	Node
	Path  *Str            `parser:"'circuits' 'from' @@"`
	Area  *Ident          `parser:"( 'in' @@ )?"` // nil if a column tells
	Items []*ScheduleItem `parser:"'{' @@* '}'"`
}

func (*ScheduleDecl) decl() {}

// ScheduleItem is a property that a column gives, or one that all circuits of the schedule have; one field is set.
type ScheduleItem struct {
	Node
	Name     *NameColumn     `parser:"  'name' @@"`
	Area     *NameColumn     `parser:"| 'area' @@"`
	FedBy    *NameColumn     `parser:"| (?= 'fed' 'by' String ) 'fed' 'by' @@"`
	Dims     *ChoiceColumn   `parser:"| (?= 'dims' String ) 'dims' @@"`
	Switches *ChoiceColumn   `parser:"| (?= 'switches' String ) 'switches' @@"`
	Power    *QuantityColumn `parser:"| (?= 'power' String ) 'power' @@"`
	Fade     *QuantityColumn `parser:"| (?= 'fade' String ) 'fade' @@"`
	All      *CircuitItem    `parser:"| @@"`
}

// NameColumn is `"Room", prefix "r_", other characters "_": "Lift lobby" = lobby`.
type NameColumn struct {
	Node
	Header *Str       `parser:"@@"`
	Prefix *Str       `parser:"( (?= ',' 'prefix' ) ',' 'prefix' @@ )?"`            // or nil
	Other  *Str       `parser:"( (?= ',' 'other' ) ',' 'other' 'characters' @@ )?"` // or nil
	Means  []*Meaning `parser:"( ':' @@ ( ',' @@ )* )?"`
}

// Meaning is `"DB-A" = mains`: what a text of a cell stands for.
type Meaning struct {
	Node
	Text *Str   `parser:"@@"`
	Name *Ident `parser:"'=' @@"`
}

// ChoiceColumn is `"Dimmable" = "yes", "y"`; without texts it is a yes or no.
type ChoiceColumn struct {
	Node
	Header *Str   `parser:"@@"`
	Texts  []*Str `parser:"( '=' @@ ( ',' @@ )* )?"`
}

// QuantityColumn is `"Load" in W`.
type QuantityColumn struct {
	Node
	Header *Str   `parser:"@@"`
	Unit   *Ident `parser:"( 'in' @@ )?"` // nil if the cells or the header tell
}
