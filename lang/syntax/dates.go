package syntax

// Dates and the words of the sun: `21 June`, `sunset`.

import (
	"slices"
	"strconv"
	"strings"

	"lampwarden/lang/source"
)

// SunWords gives the sun's events, in the order of a day. They are times of day wherever one may stand, and names elsewhere.
func SunWords() []string { return []string{"dawn", "sunrise", "sunset", "dusk"} }

// IsSunWord tells whether a word is an event of the sun.
func IsSunWord(word string) bool { return slices.Contains(SunWords(), word) }

// months are the names of the months; the first three letters do as well.
func months() []string {
	return []string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
		"November", "December"}
}

// monthNamed gives the number of a month, 1 to 12, or 0.
func monthNamed(word string) int {
	return 1 + slices.IndexFunc(months(), func(m string) bool { return word == m || word == m[:3] })
}

// monthMeant gives the month that a word after a number stands for in other spellings, or "".
func monthMeant(word string) string {
	word = strings.TrimSuffix(strings.ToLower(word), ".")
	if word == "sept" {
		return "September"
	}
	for _, m := range months() {
		if full := strings.ToLower(m); word == full {
			return m
		} else if word == full[:3] {
			return m[:3]
		}
	}
	return ""
}

// daysIn is the greatest number of days that a month can have.
func daysIn(month int) int {
	switch month {
	case 2:
		return 29
	case 4, 6, 9, 11:
		return 30
	}
	return 31
}

// date reads a date.
func (f *finisher) date(n *Date) {
	n.Raw = spaced(n.Raw)
	number, word, _ := strings.Cut(n.Raw, " ")
	n.Month = monthNamed(word)
	day, err := strconv.Atoi(number)
	if last := daysIn(n.Month); err != nil || day < 1 || day > last {
		f.wrong(source.BadDate, n.Span, "1 to "+strconv.Itoa(last)+" "+word, "`%s` is not a date", clip(n.Raw))
		day = 1
	}
	n.Day, n.Raw = day, strconv.Itoa(day)+" "+word
}

// notSun reports a constant or parameter with the name of an event of the sun that could not be told from that after `at`.
func (f *finisher) notSun(id *Ident, value *Literal) {
	if IsSunWord(id.Name) && value != nil && (value.Clock != nil || value.Percent != nil) {
		f.wrong(source.ReservedWord, id.Span, "another name, such as `"+id.Name+"_time`",
			"`%s` is a time of day by the sun and cannot be the name of a clock time or a level", id.Name)
	}
}

// afterSun tells whether the token before is an event of the sun, so that a sign belongs to it.
func (s *scanner) afterSun() bool {
	n := len(s.toks)
	return n > 0 && s.toks[n-1].kind == kindIdent && IsSunWord(s.toks[n-1].text)
}

// fixOffset: an event of the sun is followed by a duration without a sign.
func (p *parser) fixOffset(d *source.Diagnostic, toks []token, at int, e expectation) []token {
	if at < 1 || at >= len(toks) || toks[at].kind != kindDuration || !IsSunWord(toks[at-1].text) || !slices.Contains(e.words, "+") {
		return nil
	}
	event, offset := toks[at-1].text, toks[at].text
	d.Message, d.Notes = "nothing says whether this is before or after "+event, nil
	d.Suggestion = "write `" + event + " - " + offset + "` or `" + event + " + " + offset + "`"
	return with(toks, at, token{kind: kindPunct, text: "+", start: toks[at].start, end: toks[at].start})
}
