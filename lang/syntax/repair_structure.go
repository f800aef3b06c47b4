package syntax

// Repairs of what structure brings: the numbers of a row.

import "lampwarden/lang/source"

// fixRange: another word or mark where `..` belongs between two numbers.
func (p *parser) fixRange(d *source.Diagnostic, toks []token, at int, e expectation) []token {
	if at < 2 || at+1 >= len(toks) || toks[at+1].kind != kindNumber || toks[at-2].text != "[" {
		return nil
	}
	switch toks[at].text {
	case "to", ":", ",", ">", "->":
	default:
		return nil
	}
	d.Suggestion = "write `..`"
	d.Fixes = []source.Fix{{Span: p.span(toks[at]), Text: ".."}}
	return replaced(toks, at, token{kind: kindPunct, text: ".."})
}

// rangeHint tells that a run of characters without meaning stands where `..` belongs.
func (s *scanner) rangeHint() bool {
	n := len(s.toks)
	return n >= 2 && s.toks[n-2].text == "[" && s.toks[n-1].kind == kindNumber
}
