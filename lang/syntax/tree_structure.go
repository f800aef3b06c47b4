package syntax

// The syntax tree of structure: rows of circuits, joined areas, lights in turn, dimmers.

// JoinDecl is `join north_hall, south_hall while wall open`.
type JoinDecl struct {
	Node
	Areas []*Ident `parser:"'join' @@ ( ',' @@ )+"` // two or more
	While *Expr    `parser:"'while' @@"`
}

func (*JoinDecl) decl() {}

// Ref names circuits, or where one may stand an area: `hall_spots`, `spot[3]`, `spot[1..6]`. In the declaration of a row
// the numbers are the first and the last.
type Ref struct {
	Node
	Name    *Ident   `parser:"@@"`
	Numbers *Numbers `parser:"@@?"` // nil: all that the name means
}

// Numbers is `[3]`, `[1..6]`, or `[6..1]` where the order counts.
type Numbers struct {
	Node
	From *Int `parser:"'[' @@"`
	To   *Int `parser:"( '..' @@ )? ']'"` // nil: one number
}

// Turn is `light TARGETS in turn, D apart[, at L]` or `turn off TARGETS in turn, D apart`: a stage for each circuit.
type Turn struct {
	Node
	Off     bool      `parser:"( @'turn' 'off' | 'light' )"`
	Targets *Targets  `parser:"@@"`
	Apart   *Duration `parser:"'in' 'turn' ',' @@ 'apart'"`
	Level   *Level    `parser:"( (?= ',' ( 'at' | 'full' ) ) ',' ( (?! 'at' ) @@ | 'at' @@ ) )?"` // nil: full
}

// DimmerClause is `dimmer on KEY from L to L in N steps every D  TARGETS`: tapped on and off, dimmed by a long press.
type DimmerClause struct {
	Node
	Button  *Ident    `parser:"'dimmer' 'on' @@"`
	From    *Percent  `parser:"'from' @@"`
	To      *Percent  `parser:"'to' @@"`
	Steps   *Int      `parser:"'in' @@ 'steps'"`
	Every   *Duration `parser:"'every' @@"`
	Targets *Targets  `parser:"@@"`
}

// StateRef is the name of a state, or `on` or `off` in a dimmer; one field is set.
type StateRef struct {
	Node
	Word string `parser:"  @( 'on' | 'off' )"` // "on", "off" or ""
	Name *Ident `parser:"| @@"`
}

// Ident gives the reference as a name.
func (n *StateRef) Ident() *Ident {
	if n.Name != nil {
		return n.Name
	}
	return &Ident{Node: n.Node, Name: n.Word}
}
