// Package syntax is the language as text: tokens, grammar, syntax tree, canonical printer.
//
// Parse goes from text to tree in four steps.
//
//  1. scan (scan.go) makes tokens; a number and its unit are one token. Comments are kept apart, by position.
//  2. split (split.go) cuts the tokens into pieces, one for each declaration, so that a broken one spoils no other.
//  3. Each piece is parsed by participle. The grammar stands in the tags of the tree's own types (tree*.go), and looks
//     one token ahead, so that an error stands at the first token that nothing can make fit (grammar.go). On an error,
//     diagnose and repair find by trial what may stand there and what was likely meant; the piece is parsed again as
//     repaired, or without the broken clause, to find its other errors too.
//  4. finish (finish.go) gives nodes their spans and literals their values.
//
// Format (format*.go) goes from tree to text. It prints from the tree alone, and puts the comments back by position.
//
// Naming key: a ...Decl is a declaration, a ...Clause a part of a mode, an ...Atom a part of a condition. A pointer
// that may be nil says so in its field's comment; all others are set in a finished tree, but where a node is a choice,
// one field is set.
package syntax

// The syntax tree: files, declarations of the site's things, names and literals.

import (
	"lampwarden/lang/source"

	"github.com/alecthomas/participle/v2/lexer"
)

// Node is embedded in every node and says where it stands.
type Node struct {
	Span source.Span
	// Pos and EndPos are the parser's own and are zero in a finished tree.
	Pos, EndPos lexer.Position
}

// Place gives the node's span.
func (n *Node) Place() source.Span { return n.Span }

// File is one parsed file.
type File struct {
	Source   *source.File
	Decls    []Decl    // in written order; broken ones are left out
	Comments []Comment // in written order
	// Broken has the names that the broken declarations would have given. Nothing more need be said of a use of them.
	Broken []*Ident
	Faulty bool // the text has errors, so the tree does not say all that it says
}

// Comment is a "#" comment, kept by position.
type Comment struct {
	Span source.Span
	Text string // from "#" on, without trailing blanks
}

// Ident is a name.
type Ident struct {
	Node
	Name string `parser:"@( Ident | Follower )"`
}

// Str is a text in quotes.
type Str struct {
	Node
	Raw   string `parser:"@String"` // as written, quotes included
	Value string
}

// Clock is a time of day, 24:00 being 00:00, or the name of a constant.
type Clock struct {
	Node
	Raw    string `parser:"@( Clock | Ident )"`
	Name   string // of the constant, "" for a time
	Millis int64  // since midnight, below 24 h; 0 with a name
}

// Duration is a number with ms, s, min or h (a whole number of milliseconds), or the name of a constant.
type Duration struct {
	Node
	Raw    string `parser:"@( Duration | Ident )"`
	Name   string // of the constant, "" for a number
	Millis int64  // 0 with a name
}

// Percent is a number with %, or the name of a constant.
type Percent struct {
	Node
	Raw        string `parser:"@( Percent | Ident )"`
	Name       string // of the constant, "" for a number
	Hundredths int32  // of a per cent, 0..10000; 0 with a name
}

// Power is a number with mW, W or kW.
type Power struct {
	Node
	Raw        string `parser:"@Power"`
	Milliwatts int64
}

// Energy is a number with mWh, Wh or kWh.
type Energy struct {
	Node
	Raw           string `parser:"@Energy"`
	MilliwattHour int64
}

// Degrees is a latitude or longitude; `W` reads as a power in the lexer and as west here.
type Degrees struct {
	Node
	Raw   string  `parser:"@(Degrees | Power)"`
	Value float64 // north and east positive
	Axis  string  // "N", "S", "E" or "W"
}

// Int is a whole number without a unit, or the name of a constant.
type Int struct {
	Node
	Raw   string `parser:"@( Number | Ident )"`
	Name  string // of the constant, "" for a number
	Value int    // 0 with a name
}

// Level is `off`, `full` or a percentage, or for an output `on` or `off`. A colour may follow.
type Level struct {
	Node
	Word    string   `parser:"( @('off' | 'full' | 'on')"` // "" if a percentage is given
	Percent *Percent `parser:"| @@ )"`
	Colour  *Colour  `parser:"@@?"` // or nil
}

// Decl is a top-level declaration: one of the *...Decl types.
type Decl interface {
	Place() source.Span
	decl()
}

// SiteDecl is `site "NAME" { place 53.27 N, 9.05 W  time zone "..."  year 2027 }`.
type SiteDecl struct {
	Node
	Name  *Str        `parser:"'site' @@"`
	Items []*SiteItem `parser:"( '{' @@* '}' )?"`
}

// SiteItem is one property of a site; one field group is set.
type SiteItem struct {
	Node
	Latitude  *Degrees `parser:"  'place' @@"`
	Longitude *Degrees `parser:"  ',' @@"`
	TimeZone  *Str     `parser:"| 'time' 'zone' @@"`
	Year      *Int     `parser:"| 'year' @@"`
}

// SupplyDecl is `supply mains`: mains supplies, each of them an input too.
type SupplyDecl struct {
	Node
	Names []*Ident `parser:"'supply' @@ ( ',' @@ )*"`
}

// BatteryDecl is `battery ups { ... }`.
type BatteryDecl struct {
	Node
	Name  *Ident         `parser:"'battery' @@"`
	Items []*BatteryItem `parser:"( '{' @@* '}' )?"`
}

// BatteryItem is one property of a battery; one field is set.
type BatteryItem struct {
	Node
	Capacity  *Energy   `parser:"  'capacity' @@"`
	Usable    *Percent  `parser:"| 'usable' @@"`
	Standing  *Power    `parser:"| 'standing' 'load' @@"`
	ChargedBy *Ident    `parser:"| 'charged' 'by' @@"`
	Recharge  *Duration `parser:"| 'recharge' @@"`
}

// ControllerDecl is `controller { fed by ups  reacts within 300 ms }`.
type ControllerDecl struct {
	Node
	Items []*ControllerItem `parser:"'controller' '{' @@* '}'"`
}

// ControllerItem is one property of the controller; one field is set.
type ControllerItem struct {
	Node
	FedBy        *Ident    `parser:"  'fed' 'by' @@"`
	ReactsWithin *Duration `parser:"| 'reacts' 'within' @@"`
	StartsWithin *Duration `parser:"| 'starts' 'within' @@"`
	Restart      string    `parser:"| 'restart' @( 'keeps' | 'forgets' ) 'modes'"` // "keeps", "forgets" or ""
}

// AreaDecl is `area hall, stairs : escape, quiet` or `area desk_zone in office : quiet`.
type AreaDecl struct {
	Node
	Names []*Ident `parser:"'area' @@ ( ',' @@ )*"`
	In    *Ident   `parser:"( 'in' @@ )?"` // nil if it lies in no other
	Tags  []*Ident `parser:"( ':' @@ ( ',' @@ )* )?"`
}

// CircuitDecl is `circuit a, b in AREA { ... }` or `lamps spot[1..16] in AREA { ... }`.
type CircuitDecl struct {
	Node
	Word  string         `parser:"@( 'circuit' | 'lamps' )"`
	Names []*Ref         `parser:"@@ ( ',' @@ )*"`
	Area  *Ident         `parser:"'in' @@"`
	Items []*CircuitItem `parser:"( '{' @@* '}' )?"`
}

// CircuitItem is one property of a circuit; one field is set.
type CircuitItem struct {
	Node
	Dims         *Dims     `parser:"  @@"`
	Switches     bool      `parser:"| @'switches'"`
	PowerOn      *Level    `parser:"| (?= 'power' 'on' ) 'power' 'on' 'level' (?! 'on' ) @@"`
	Power        *Power    `parser:"| 'power' @@"`
	FedBy        *Ident    `parser:"| 'fed' 'by' @@"`
	Fade         *Duration `parser:"| 'fade' @@"`
	Fail         *Level    `parser:"| 'system' 'failure' 'level' (?! 'on' ) @@"`
	ReturnsAfter *Duration `parser:"| 'returns' 'after' @@"`
	Adds         *Lux      `parser:"| 'adds' @@"`
	Tunable      *Tunable  `parser:"| @@"`
	Colour       bool      `parser:"| @'colour'"`
}

// Dims is `dims`, or `dims 1 % to 100 %`.
type Dims struct {
	Node
	Min *Percent `parser:"'dims' ( (?! 'dims' | 'switches' | 'power' | 'fed' | 'fade' | 'adds' | 'system' | 'returns' | 'tunable' | 'colour' | 'name' String ) @@"` // nil if no range is given
	Max *Percent `parser:"'to' @@ )?"`
}

// GroupDecl is `group NAME = a, b[1..6]`.
type GroupDecl struct {
	Node
	Name    *Ident `parser:"'group' @@"`
	Members []*Ref `parser:"'=' @@ ( ',' @@ )*"` // circuits and groups
}

// InputDecl is `presence a, b in AREA`, `alarm fire latched until RESET` and so on.
type InputDecl struct {
	Node
	Kind    string   `parser:"@( 'presence' | 'button' | 'contact' | 'switch' | 'alarm' | 'bell' )"`
	Names   []*Ident `parser:"@@ ( ',' @@ )*"`
	Area    *Ident   `parser:"( 'in' @@ )?"`              // nil if not in an area
	Latched *Expr    `parser:"( 'latched' 'until' @@ )?"` // nil if not latched
}

// BandDecl is `band late 22:00 to 05:30 [on DAYS]` or `band evening sunset - 30 min to 22:00`.
type BandDecl struct {
	Node
	Name *Ident   `parser:"'band' @@"`
	From *DayTime `parser:"@@"`
	To   *DayTime `parser:"'to' @@"`
	Days *Days    `parser:"( 'on' @@ )?"` // nil: every day
}

// CoverDecl is `bands morning, day, late cover the day`.
type CoverDecl struct {
	Node
	Bands []*Ident `parser:"'bands' @@ ( ',' @@ )* 'cover' 'the' 'day'"`
}

// ModeRef names a mode, a template (any instance), or one instance of it.
type ModeRef struct {
	Node
	Name *Ident `parser:"@@"`
	Area *Ident `parser:"( 'in' @@ )?"` // nil unless `welcome in hall`
}

// PrecedenceDecl is `precedence a > b > c`.
type PrecedenceDecl struct {
	Node
	Modes []*ModeRef `parser:"'precedence' @@ ( '>' @@ )+"` // two or more
}

// EqualsDecl is `equals a, b: latest`.
type EqualsDecl struct {
	Node
	Modes []*ModeRef `parser:"'equals' @@ ( ',' @@ )+ ':'"` // two or more
	Rule  string     `parser:"@( 'highest' | 'latest' )"`
}

// ForEach makes a template: `for each area a in HOUSE tagged T or T with presence`, `with circuits` or `with daylight`.
type ForEach struct {
	Node
	Var      *Ident   `parser:"'for' 'each' 'area' @@"`
	In       []*Ident `parser:"( 'in' @@ ( 'or' @@ )* )?"` // none: anywhere
	Tags     []*Ident `parser:"( 'tagged' @@ ( 'or' @@ )* )?"`
	Presence bool     `parser:"( 'with' ( @'presence'"`
	Circuits bool     `parser:"| @'circuits'"`
	Daylight bool     `parser:"| @'daylight' ) )?"`
}

func (*DaysDecl) decl()       {}
func (*OutputDecl) decl()     {}
func (*NoticeDecl) decl()     {}
func (*ConstantDecl) decl()   {}
func (*ParameterDecl) decl()  {}
func (*UseDecl) decl()        {}
func (*DaylightDecl) decl()   {}
func (*CurveDecl) decl()      {}
func (*SiteDecl) decl()       {}
func (*SupplyDecl) decl()     {}
func (*BatteryDecl) decl()    {}
func (*ControllerDecl) decl() {}
func (*AreaDecl) decl()       {}
func (*CircuitDecl) decl()    {}
func (*GroupDecl) decl()      {}
func (*InputDecl) decl()      {}
func (*BandDecl) decl()       {}
func (*CoverDecl) decl()      {}
func (*ModeDecl) decl()       {}
func (*PrecedenceDecl) decl() {}
func (*EqualsDecl) decl()     {}
func (*AssumeDecl) decl()     {}
func (*RequireDecl) decl()    {}
func (*ScenarioDecl) decl()   {}
