package syntax

// Tokens: the kinds, and the definition that the grammar is built with.

import (
	"errors"
	"io"

	"github.com/alecthomas/participle/v2/lexer"
)

type tokenKind = lexer.TokenType

const (
	kindIdent tokenKind = iota + 1
	kindKeyword
	kindString
	kindClock
	kindDuration
	kindPercent
	kindPower
	kindEnergy
	kindLux
	kindKelvin
	kindDate
	kindDegrees
	kindNumber
	kindPunct
	// kindFollower is a name right after `on` or `off`, for the grammar only. There it is never the name of a constant,
	// as after a case `cleaning off` it begins the next setting.
	kindFollower
)

// token is one token of a file. Blanks and comments are no tokens.
type token struct {
	kind       tokenKind
	text       string
	start, end int32
	lineStart  bool // the first token of its line
	bad        bool // already reported; what follows from it is not
}

// definition gives participle the names of the token kinds. Its grammar never reads text: scan does.
type definition struct{}

// Symbols implements lexer.Definition.
func (definition) Symbols() map[string]lexer.TokenType {
	return map[string]lexer.TokenType{
		"EOF": lexer.EOF, "Ident": kindIdent, "Keyword": kindKeyword, "String": kindString, "Clock": kindClock,
		"Duration": kindDuration, "Percent": kindPercent, "Power": kindPower, "Energy": kindEnergy, "Lux": kindLux, "Kelvin": kindKelvin,
		"Degrees": kindDegrees, "Date": kindDate, "Number": kindNumber, "Punct": kindPunct,
		"Follower": kindFollower,
	}
}

// Lex implements lexer.Definition; it is never called.
func (definition) Lex(string, io.Reader) (lexer.Lexer, error) {
	return nil, errors.New("the grammar reads tokens, not text")
}

// feed hands a list of tokens to participle. A position's Line is the token's index in the list.
type feed struct {
	toks []token
	next int
}

// Next implements lexer.Lexer.
func (f *feed) Next() (lexer.Token, error) {
	pos := lexer.Position{Line: f.next}
	if f.next >= len(f.toks) {
		return lexer.EOFToken(pos), nil
	}
	t := f.toks[f.next]
	f.next++
	kind := t.kind
	if i := f.next - 2; kind == kindIdent && i >= 0 && (f.toks[i].text == "on" || f.toks[i].text == "off") {
		kind = kindFollower
	}
	return lexer.Token{Type: kind, Value: t.text, Pos: pos}, nil
}
