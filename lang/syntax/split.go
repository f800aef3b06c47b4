package syntax

// From a file's tokens to pieces, one for each declaration, so that a broken one does not spoil the others.

import (
	"fmt"
	"strings"

	"lampwarden/lang/source"
)

// split cuts the tokens before each word that begins a declaration. Braces that are not closed are closed where the
// next declaration begins.
func (p *parser) split(toks []token) [][]token {
	var pieces [][]token
	for i := 0; i < len(toks); {
		if toks[i].text == "}" {
			p.report(source.Diagnostic{
				Code: source.UnopenedBrace, Span: p.span(toks[i]),
				Message: "this `}` closes nothing", Suggestion: "leave it out",
			})
			i++
			continue
		}
		n, missing := pieceLen(toks, i)
		piece := toks[i : i+n : i+n]
		if missing != nil {
			p.unclosed(toks, *missing, i+n)
			end := piece[n-1].end
			piece = append(piece, token{kind: kindPunct, text: "}", start: end, end: end, bad: true})
		}
		pieces = append(pieces, piece)
		i += n
	}
	return pieces
}

func (p *parser) unclosed(toks []token, open, next int) {
	d := source.Diagnostic{
		Code: source.UnclosedBrace, Span: p.span(toks[open]),
		Message: "this `{` is not closed", Suggestion: "close it with `}`",
	}
	if next < len(toks) {
		d.Related = []source.Related{{Span: p.span(toks[next]), Label: fmt.Sprintf("`%s` begins a new declaration here", toks[next].text)}}
	}
	p.report(d)
}

// pieceLen gives the number of tokens of the declaration at i, and the brace that it leaves open.
func pieceLen(toks []token, i int) (n int, missing *int) {
	open := -1 // the brace that is open; the grammar nests no braces, so one is enough
	depth := 0
	for j := i; j < len(toks); j++ {
		switch {
		case toks[j].text == "{":
			if depth == 0 {
				open = j
			}
			depth++
		case toks[j].text == "}" && depth == 0:
			return j - i, nil
		case toks[j].text == "}":
			depth--
		case j == i || toks[j].kind != kindKeyword || !isDeclWord(toks[j].text):
		case depth == 0 && beginsOutside(toks, j):
			return j - i, nil
		case depth > 0 && beginsInside(toks, j):
			return j - i, &open
		}
	}
	if depth > 0 {
		missing = &open
	}
	return len(toks) - i, missing
}

// meansDays tells whether the word at j is the `holidays` of a set of days.
func meansDays(toks []token, j int) bool {
	if toks[j].text != "holidays" {
		return false
	}
	switch toks[j-1].text {
	case "on", "except", "=":
		return true
	}
	return false
}

// beginsOutside tells whether the declaring word at j > 0, outside braces, begins a declaration.
func beginsOutside(toks []token, j int) bool {
	if meansDays(toks, j) {
		return false
	}
	if toks[j].text == "area" && j+1 < len(toks) && strings.Contains(" occupied vacant lit dark in except ", " "+toks[j+1].text+" ") {
		return false // of a quantifier: `while no quiet area occupied`
	}
	switch prev := toks[j-1]; prev.text {
	case "each", "with", "assume", "not", "and", "or", "(", "while", "until", "every", "any", "no":
		return false
	case "}":
		return true
	default:
		return toks[j].lineStart || prev.kind != kindPunct && prev.kind != kindKeyword
	}
}

// beginsInside tells whether the declaring word at j, inside braces, can only begin a declaration, so that a closing
// brace is missing. Most such words mean nothing inside braces.
func beginsInside(toks []token, j int) bool {
	if !toks[j].lineStart || j+1 >= len(toks) || meansDays(toks, j) {
		return false
	}
	next := toks[j+1]
	switch toks[j].text {
	case "presence", "daylight":
		return next.kind == kindIdent
	case "circuits":
		return next.text == "from"
	case "battery": // a requirement on how long it lasts
		return j+2 >= len(toks) || toks[j+2].text != "lasts"
	case "controller": // a fault
		return next.text != "down" && next.text != "restart"
	case "circuit":
		prev := toks[j-1]
		return next.kind == kindIdent && prev.kind != kindNumber && prev.text != "every" && prev.text != "any" && prev.text != "no"
	case "area":
		if next.kind != kindIdent || j+2 >= len(toks) {
			return false
		}
		switch after := toks[j+2]; after.text {
		case ":", ",", "in":
			return true
		case "lit", "dark", "occupied", "vacant":
			return false
		default:
			return after.lineStart
		}
	}
	return true
}
