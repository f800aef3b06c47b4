package syntax

// Repairs: the likely slips, each tried before it is proposed.

import (
	"fmt"
	"slices"
	"strings"

	"lampwarden/lang/source"
)

// repair looks for the slip behind an error at the index. It sharpens the diagnostic and returns the tokens as they
// were likely meant, or nil.
func (p *parser) repair(d *source.Diagnostic, toks []token, at int, e expectation) []token {
	for _, try := range []func(*source.Diagnostic, []token, int, expectation) []token{
		p.fixCommaBefore, p.fixRange, p.fixOffset, p.fixUnit, p.fixSpelling, p.fixSpellingBefore, p.fixQuotes, p.fixClock, p.fixReserved, p.fixComma, p.fixMissing, p.fixExtra,
	} {
		if fixed := try(d, toks, at, e); fixed != nil {
			return fixed
		}
	}
	return nil
}

// fixUnit: a number without a unit, with an unknown one, or with one of another kind.
func (p *parser) fixUnit(d *source.Diagnostic, toks []token, at int, e expectation) []token {
	if at > 0 && at < len(toks) && toks[at-1].kind == kindNumber && toks[at].kind == kindIdent && toks[at-1].end < toks[at].start {
		// The number fitted (`at most 5 minz`), so a percentage or duration may have been meant.
		if e := expected(toks[:at-1]); e.quantity() && source.Closest(toks[at].text, units())+unitMeant(toks[at].text) != "" {
			return p.unitWord(d, toks, at-1, e)
		}
	}
	if at >= len(toks) || !e.quantity() {
		return nil
	}
	t := toks[at]
	switch t.kind {
	case kindNumber:
		if at+1 < len(toks) && toks[at+1].kind == kindIdent && !toks[at+1].lineStart {
			if fixed := p.unitWord(d, toks, at, e); fixed != nil {
				return fixed
			}
		}
		d.Code = source.MissingUnit
		d.Message, d.Notes = fmt.Sprintf("`%s` has no unit", t.text), nil
		d.Suggestion = "write " + either(e.quantities())
		return replaced(toks, at, e.sample(t.text))
	case kindDuration, kindPercent, kindPower, kindEnergy, kindLux, kindKelvin, kindDegrees:
		if fixed := p.fixSpellingBefore(d, toks, at, e); fixed != nil {
			return fixed
		}
		d.Code = source.WrongUnit
		return replaced(toks, at, e.sample("1"))
	}
	return nil
}

// unitWord: the number at the index is followed by a word that is no unit.
func (p *parser) unitWord(d *source.Diagnostic, toks []token, at int, e expectation) []token {
	unit := toks[at+1]
	u := unitDiagnostic(unit.text, p.span(unit))
	fixed := without(toks, at+1)
	meant := e.sample(toks[at].text)
	if len(u.Fixes) > 0 {
		if k, ok := unitKind(u.Fixes[0].Text); ok && slices.Contains(e.kinds, k) {
			meant = token{kind: k, text: toks[at].text + " " + u.Fixes[0].Text}
		}
	}
	fixed = replaced(fixed, at, meant)
	if reach(fixed) <= at+1 && at+1 < len(fixed) {
		return nil // what follows is not the reason
	}
	*d = u
	return fixed
}

func (e expectation) quantity() bool {
	return slices.ContainsFunc(e.kinds, func(k tokenKind) bool { return k >= kindDuration && k <= kindDegrees })
}

// quantities gives the quantities that fit in words.
func (e expectation) quantities() []string {
	var out []string
	for _, k := range e.kinds {
		if k >= kindDuration && k <= kindDegrees {
			out = append(out, phrase(k))
		}
	}
	return out
}

// sample is a quantity that fits, with the given number.
func (e expectation) sample(number string) token {
	for _, t := range samples() {
		if t.kind == kindPercent && len(number) > 2 && slices.Contains(e.kinds, kindLux) {
			continue // more than can be a percentage
		}
		if t.kind >= kindDuration && t.kind <= kindDegrees && slices.Contains(e.kinds, t.kind) {
			t.text = number + t.text[1:]
			t.bad = true
			return t
		}
	}
	return token{}
}

// fixSpelling: a word that is nearly one that fits.
func (p *parser) fixSpelling(d *source.Diagnostic, toks []token, at int, e expectation) []token {
	if at >= len(toks) || !isLetter(toks[at].text[0]) {
		return nil
	}
	meant := source.Closest(toks[at].text, lettersOnly(e.words))
	if meant == "" || toks[at].kind == kindKeyword && slices.Contains(e.kinds, kindIdent) {
		return nil
	}
	fixed := replaced(toks, at, word(meant))
	if reach(fixed) <= at+1 && at+1 < len(toks) {
		return nil
	}
	d.Suggestion = fmt.Sprintf("did you mean `%s`?", meant)
	d.Notes = nil
	d.Fixes = []source.Fix{{Span: p.span(toks[at]), Text: meant}}
	return fixed
}

// fixSpellingBefore: a word shortly before was taken for a name, but is nearly a word that fits better.
func (p *parser) fixSpellingBefore(d *source.Diagnostic, toks []token, at int, _ expectation) []token {
	if at >= len(toks) {
		return nil
	}
	for i := at - 1; i >= max(at-2, 1); i-- {
		if toks[i].kind != kindIdent {
			continue
		}
		meant := source.Closest(toks[i].text, lettersOnly(expected(toks[:i]).words))
		if meant == "" {
			continue
		}
		fixed := replaced(toks, i, word(meant))
		if reach(fixed) <= at {
			continue
		}
		d.Code, d.Span = source.UnknownWord, p.span(toks[i])
		d.Message, d.Notes = fmt.Sprintf("`%s` is no word that fits here", clip(toks[i].text)), nil
		d.Suggestion = fmt.Sprintf("did you mean `%s`?", meant)
		d.Fixes = []source.Fix{{Span: d.Span, Text: meant}}
		return fixed
	}
	return nil
}

func lettersOnly(words []string) []string {
	return slices.DeleteFunc(slices.Clone(words), func(w string) bool { return !isLetter(w[0]) })
}

// fixQuotes: a name where a text in quotes belongs.
func (p *parser) fixQuotes(d *source.Diagnostic, toks []token, at int, e expectation) []token {
	if at >= len(toks) || toks[at].kind != kindIdent || !slices.Equal(e.kinds, []tokenKind{kindString}) {
		return nil
	}
	text := `"` + toks[at].text + `"`
	d.Suggestion = "write `" + text + "`"
	d.Fixes = []source.Fix{{Span: p.span(toks[at]), Text: text}}
	return replaced(toks, at, token{kind: kindString, text: text})
}

// fixClock: an hour without its minutes.
func (p *parser) fixClock(d *source.Diagnostic, toks []token, at int, e expectation) []token {
	if at >= len(toks) || toks[at].kind != kindNumber || len(toks[at].text) > 2 || !slices.Contains(e.kinds, kindClock) {
		return nil
	}
	text := strings.Repeat("0", 2-len(toks[at].text)) + toks[at].text + ":00"
	d.Suggestion = "write `" + text + "`"
	d.Fixes = []source.Fix{{Span: p.span(toks[at]), Text: text}}
	return replaced(toks, at, token{kind: kindClock, text: text})
}

// fixReserved: a word of the language as a name.
func (p *parser) fixReserved(d *source.Diagnostic, toks []token, at int, e expectation) []token {
	if at >= len(toks) || toks[at].kind != kindKeyword || !slices.Contains(e.kinds, kindIdent) {
		return nil
	}
	if toks[at].lineStart && !complete(toks[:at]) {
		return nil // rather the clause before has no end
	}
	name := token{kind: kindIdent, text: toks[at].text + "_1"}
	fixed := replaced(toks, at, name)
	if r := reach(fixed); r <= at+1 && at+1 < len(toks) {
		return nil
	}
	d.Code = source.ReservedWord
	d.Message, d.Notes = fmt.Sprintf("`%s` is a word of the language and cannot be a name", toks[at].text), nil
	d.Suggestion = fmt.Sprintf("another name, such as `%s`", name.text)
	return fixed
}

// fixComma: a comma too much before the token.
func (p *parser) fixComma(d *source.Diagnostic, toks []token, at int, _ expectation) []token {
	if at < 2 || toks[at-1].text != "," {
		return nil
	}
	fixed := without(toks, at-1)
	if reach(fixed) < at+1 && at < len(toks) {
		return nil
	}
	sp := p.span(toks[at-1])
	d.Suggestion = "leave out the `,` before it"
	d.Fixes = []source.Fix{{Span: sp, Text: ""}}
	return fixed
}

// fixMissing: one word or mark is missing before the token.
func (p *parser) fixMissing(d *source.Diagnostic, toks []token, at int, e expectation) []token {
	var best []token
	var text string
	far, rivals := at+1, 0
	for _, w := range e.words {
		if isLetter(w[0]) && !joins(w) || w == "[" || w == "on" && slices.Contains(e.words, "off") { // on as a state joins nothing
			continue
		}
		fixed := with(toks, at, word(w))
		switch r := reach(fixed); {
		case r > far:
			best, text, far, rivals = fixed, w, r, 0
		case r == far:
			rivals++
		}
	}
	if best == nil || far <= at+2 && rivals > 0 && at+2 < len(best) {
		return nil // nothing helps, or several words help a little
	}
	here := p.place(toks, at).Start
	best[at].start, best[at].end = here, here
	d.Suggestion = fmt.Sprintf("put `%s` before it", text)
	if at == len(toks) {
		d.Suggestion = fmt.Sprintf("end it with `%s`", text)
	}
	d.Fixes = []source.Fix{{Span: p.at(int(here), int(here)), Text: text + " "}}
	if text == "{" { // its partner is missing too
		best = append(best, token{kind: kindPunct, text: "}", start: best[len(best)-1].end, end: best[len(best)-1].end})
	}
	return best
}

// joins tells whether a word only joins others, so that it may be what was forgotten.
func joins(w string) bool {
	return strings.Contains(" in on of to by at then within delay standing charged load time zone each the day apart times most least level until turn ", " "+w+" ")
}

// fixCommaBefore: the comma before `on delay`, `off delay` and `pulse` is missing, so that `off` was taken for a state.
func (p *parser) fixCommaBefore(d *source.Diagnostic, toks []token, at int, _ expectation) []token {
	for i := at - 1; i >= max(at-2, 1); i-- {
		if t := toks[i].text; t != "on" && t != "off" && t != "pulse" {
			continue
		}
		fixed := with(toks, i, word(","))
		if reach(fixed) <= at+1 {
			continue
		}
		here := p.span(toks[i-1]).End
		d.Code, d.Span, d.Notes = source.UnexpectedText, p.span(toks[i]), nil
		d.Message = fmt.Sprintf("a `,` is missing before `%s`", toks[i].text)
		d.Fixes = []source.Fix{{Span: p.at(int(here), int(here)), Text: ","}}
		return fixed
	}
	return nil
}

// fixExtra: a mark too much.
func (p *parser) fixExtra(d *source.Diagnostic, toks []token, at int, _ expectation) []token {
	if at >= len(toks) || toks[at].kind != kindPunct {
		return nil
	}
	fixed := without(toks, at)
	if reach(fixed) <= at && at < len(fixed) {
		return nil
	}
	if toks[at].text == "{" || toks[at].text == "}" {
		return nil
	}
	d.Suggestion = "leave it out"
	d.Fixes = []source.Fix{{Span: p.span(toks[at]), Text: ""}}
	return fixed
}
