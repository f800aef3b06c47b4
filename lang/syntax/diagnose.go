package syntax

// What to say of a token that does not fit, and how to go on.
//
// The grammar is asked by trial: what may stand at the place is what the parser accepts when it is put there, and a
// repair is proposed only if the parser gets further with it.

import (
	"slices"
	"strings"

	"lampwarden/lang/source"
)

// expectation is what may stand at a place.
type expectation struct {
	words []string // words and marks
	kinds []tokenKind
}

// samples has a token of each kind to try.
func samples() []token {
	return []token{
		{kind: kindIdent, text: "x"}, {kind: kindString, text: `"x"`}, {kind: kindClock, text: "07:00"},
		{kind: kindDuration, text: "5 s"}, {kind: kindPercent, text: "5 %"}, {kind: kindPower, text: "5 W"},
		{kind: kindEnergy, text: "5 Wh"}, {kind: kindLux, text: "5 lux"}, {kind: kindKelvin, text: "5 K"},
		{kind: kindDate, text: "5 June"}, {kind: kindDegrees, text: "5 N"}, {kind: kindNumber, text: "5"},
	}
}

func word(text string) token {
	switch {
	case isReserved(text):
		return token{kind: kindKeyword, text: text}
	case isLetter(text[0]):
		return token{kind: kindIdent, text: text}
	}
	return token{kind: kindPunct, text: text}
}

// reach tells how far the parser gets in the tokens.
func reach(toks ...[]token) int {
	all := slices.Concat(toks...)
	_, at, ok := parseTokens(all)
	if ok {
		return len(all) + 1
	}
	return at
}

// expected finds what may stand after the tokens.
func expected(before []token) expectation {
	var e expectation
	for _, t := range samples() {
		if reach(before, []token{t}) > len(before) {
			e.kinds = append(e.kinds, t.kind)
		}
	}
	// Where a literal fits, a name fits as the name of a constant: nothing need be said of it.
	constant := e.literal()
	if constant {
		e.kinds = slices.DeleteFunc(e.kinds, func(k tokenKind) bool { return k == kindIdent })
	}
	for _, text := range literals() {
		// A word that is no reserved one is accepted as a name wherever a name is; that says nothing of the word.
		t := word(text)
		if t.kind == kindIdent && slices.Contains(e.kinds, kindIdent) {
			continue
		}
		if t.kind == kindIdent && constant {
			t.kind = kindKeyword // so that it fits as a word only
		}
		if reach(before, []token{t}) > len(before) {
			e.words = append(e.words, text)
		}
	}
	slices.Sort(e.words)
	return e
}

// literal tells whether a literal that a constant may stand for is among what fits.
func (e expectation) literal() bool {
	return slices.ContainsFunc(e.kinds, func(k tokenKind) bool {
		return k == kindClock || k == kindDuration || k == kindPercent || k == kindNumber ||
			k == kindLux || k == kindKelvin
	})
}

// phrase gives a kind of token in words.
func phrase(k tokenKind) string {
	switch k {
	case kindIdent:
		return "a name"
	case kindString:
		return "a text in `\"` marks"
	case kindClock:
		return "a time of day such as `07:00`"
	case kindDuration:
		return "a duration such as `5 s`"
	case kindPercent:
		return "a percentage such as `5 %`"
	case kindPower:
		return "a power such as `40 W`"
	case kindEnergy:
		return "an energy such as `600 Wh`"
	case kindLux:
		return "an illuminance such as `300 lux`"
	case kindKelvin:
		return "a colour temperature such as `2700 K`"
	case kindDate:
		return "a date such as `21 June`"
	case kindDegrees:
		return "a place such as `53.27 N`"
	case kindNumber:
		return "a whole number"
	}
	return "something else"
}

// list gives what may stand at the place in words.
func (e expectation) list() []string {
	var out []string
	for _, k := range e.kinds {
		if k == kindPower && slices.Contains(e.kinds, kindDegrees) {
			continue // west
		}
		out = append(out, phrase(k))
	}
	sun := 0 // the sun's events are told as one
	for _, w := range e.words {
		if IsSunWord(w) {
			if sun++; sun == 1 {
				out = append(out, "a time by the sun such as `sunset`")
			}
			continue
		}
		out = append(out, "`"+w+"`")
	}
	return out
}

func either(items []string) string {
	if len(items) < 2 {
		return strings.Join(items, "")
	}
	return strings.Join(items[:len(items)-1], ", ") + " or " + items[len(items)-1]
}

func quote(t token) string {
	if t.kind == kindString {
		return "the text " + clip(t.text)
	}
	return "`" + clip(t.text) + "`"
}

// diagnose reports the token at the index, unless silent, and returns the tokens with a repair, or nil.
func (p *parser) diagnose(toks []token, at int, silent bool) []token {
	if silent {
		return nil
	}
	cost := (len(samples()) + len(literals())) * (at + 1)
	if p.spent += cost; p.spent > maxTrial {
		p.report(source.Diagnostic{
			Code: source.UnexpectedText, Span: p.place(toks, at), Message: found(toks, at) + " cannot stand here",
		})
		return nil
	}
	e := expected(toks[:at])
	d := source.Diagnostic{Code: source.UnexpectedText, Span: p.place(toks, at)}
	d.Message, d.Notes = message(toks, at, e)
	fixed := p.repair(&d, toks, at, e)
	p.report(d)
	return fixed
}

// place is the span of the token, or the end of the declaration.
func (p *parser) place(toks []token, at int) source.Span {
	if at < len(toks) {
		return p.span(toks[at])
	}
	end := int(toks[len(toks)-1].end)
	return p.at(end, end)
}

// message says what was found and what may stand there.
func message(toks []token, at int, e expectation) (string, []string) {
	const few = 4
	list := e.list()
	found := "found " + found(toks, at)
	switch {
	case len(list) == 0:
		return "nothing more can stand here, " + found, nil
	case len(list) <= few:
		return "expected " + either(list) + ", " + found, nil
	case at == len(toks):
		return "the declaration ends too soon", []string{"here can stand " + either(list)}
	}
	return quote(toks[at]) + " cannot stand here", []string{"here can stand " + either(list)}
}

// found names the token at the index, or the end of the declaration.
func found(toks []token, at int) string {
	if at < len(toks) {
		return quote(toks[at])
	}
	return "the end of the declaration"
}

func without(toks []token, at int) []token {
	return append(append([]token(nil), toks[:at]...), toks[at+1:]...)
}

func with(toks []token, at int, t token) []token {
	out := append(append([]token(nil), toks[:at]...), t)
	return append(out, toks[at:]...)
}

func replaced(toks []token, at int, t token) []token {
	out := append([]token(nil), toks...)
	t.start, t.end, t.lineStart = out[at].start, out[at].end, out[at].lineStart
	out[at] = t
	return out
}
