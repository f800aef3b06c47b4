package syntax

// From text to tokens and comments.

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"lampwarden/lang/source"
)

type scanner struct {
	file     *source.File
	text     string
	pos      int
	newLine  bool // no token yet on this line
	toks     []token
	comments []Comment
	report   func(source.Diagnostic)
}

// scan splits a file's text. Wrong characters are reported and skipped; a text that is not closed is closed at the
// end of its line.
func scan(f *source.File, report func(source.Diagnostic)) *scanner {
	s := &scanner{file: f, text: f.Text, newLine: true, report: report}
	s.pos = len(f.Text) - len(strings.TrimPrefix(f.Text, "\ufeff"))
	for s.pos < len(s.text) {
		s.step()
	}
	return s
}

func (s *scanner) step() {
	c := s.text[s.pos]
	switch {
	case c == '\n':
		s.newLine = true
		s.pos++
	case c == ' ' || c == '\t' || c == '\r':
		s.pos++
	case c == '#':
		s.comment()
	case c == '"':
		s.str()
	case isLetter(c):
		s.word()
	case isDigit(c):
		s.number()
	case (c == '+' || c == '-') && !s.doubleMark() && s.afterSun():
		s.emit(kindPunct, s.pos+1)
	case s.doubleMark():
		s.emit(kindPunct, s.pos+2)
	case strings.IndexByte(marks, c) >= 0:
		s.emit(kindPunct, s.pos+1)
	default:
		s.stray()
	}
}

// marks are the marks of one character; `->` and `..` have two.
const marks = "{}()[]:,>="

func (s *scanner) doubleMark() bool {
	return strings.HasPrefix(s.text[s.pos:], "->") || strings.HasPrefix(s.text[s.pos:], "..")
}

func isLetter(c byte) bool { return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' }
func isDigit(c byte) bool  { return '0' <= c && c <= '9' }
func isName(c byte) bool   { return isLetter(c) || isDigit(c) || c == '_' }

// while returns the first place from i on whose byte does not satisfy ok.
func (s *scanner) while(i int, ok func(byte) bool) int {
	for i < len(s.text) && ok(s.text[i]) {
		i++
	}
	return i
}

// emit makes the text up to end a token and moves on.
func (s *scanner) emit(k tokenKind, end int) *token {
	s.toks = append(s.toks, token{kind: k, text: s.text[s.pos:end], start: int32(s.pos), end: int32(end), lineStart: s.newLine})
	s.newLine = false
	s.pos = end
	return &s.toks[len(s.toks)-1]
}

func (s *scanner) span(from, to int) source.Span {
	return source.Span{File: s.file.ID, Start: int32(from), End: int32(to)}
}

func (s *scanner) lineEnd() int {
	if n := strings.IndexByte(s.text[s.pos:], '\n'); n >= 0 {
		return s.pos + n
	}
	return len(s.text)
}

func (s *scanner) comment() {
	end := s.lineEnd()
	text := strings.TrimRight(s.text[s.pos:end], " \t\r")
	s.comments = append(s.comments, Comment{Span: s.span(s.pos, s.pos+len(text)), Text: text})
	s.pos = end
}

// str reads a text in quotes: on one line, with \" and \\ for the two marks themselves.
func (s *scanner) str() {
	end := s.lineEnd()
	for i := s.pos + 1; i < end; i++ {
		switch s.text[i] {
		case '"':
			s.emit(kindString, i+1)
			return
		case '\\':
			i++
		}
	}
	end = s.pos + len(strings.TrimRight(s.text[s.pos:end], " \t\r"))
	s.report(source.Diagnostic{
		Code: source.UnclosedText, Span: s.span(s.pos, end),
		Message:    "this text has no closing `\"` on its line",
		Suggestion: "close it with `\"`",
	})
	t := s.emit(kindString, end)
	t.text, t.bad = strings.TrimRight(t.text, `\`)+`"`, true
}

func (s *scanner) word() {
	end := s.while(s.pos, isName)
	kind := kindIdent
	if isReserved(s.text[s.pos:end]) {
		kind = kindKeyword
	}
	s.emit(kind, end)
}

// number reads a number with its unit, or a clock time. A unit may stand after blanks on the same line.
func (s *scanner) number() {
	end := s.while(s.pos, isDigit)
	if end+1 < len(s.text) && s.text[end] == ':' && isDigit(s.text[end+1]) {
		end = s.while(end, func(c byte) bool { return isDigit(c) || c == ':' || c == '.' })
		for s.text[end-1] == ':' || s.text[end-1] == '.' {
			end--
		}
		s.emit(kindClock, end)
		return
	}
	if end+1 < len(s.text) && s.text[end] == '.' && isDigit(s.text[end+1]) {
		end = s.while(end+1, isDigit)
	}
	unitAt := s.while(end, func(c byte) bool { return c == ' ' || c == '\t' })
	if unitAt < len(s.text) && s.text[unitAt] == '%' {
		s.emit(kindPercent, unitAt+1)
		return
	}
	unitEnd := s.while(unitAt, isName)
	unit := s.text[unitAt:unitEnd]
	if k, ok := unitKind(unit); ok {
		s.emit(k, unitEnd)
		return
	}
	if unit != "" && unitAt == end {
		s.glued(end, unitEnd)
		return
	}
	s.emit(kindNumber, end)
}

// glued reports letters right behind a number that are no unit, and goes on with the unit that was meant, if any.
func (s *scanner) glued(numEnd, end int) {
	d := unitDiagnostic(s.text[numEnd:end], s.span(numEnd, end))
	if len(d.Fixes) == 0 {
		s.report(source.Diagnostic{
			Code: source.BadNumber, Span: s.span(s.pos, end),
			Message:    fmt.Sprintf("`%s` is neither a number with its unit nor a name", clip(s.text[s.pos:end])),
			Suggestion: "a name starts with a letter",
		})
		s.emit(kindNumber, end).bad = true
		return
	}
	s.report(d)
	kind, _ := unitKind(d.Fixes[0].Text)
	t := s.emit(kind, end)
	t.text, t.bad = s.text[t.start:numEnd]+" "+d.Fixes[0].Text, true
}

// unitDiagnostic says that a word after a number is no unit.
func unitDiagnostic(unit string, sp source.Span) source.Diagnostic {
	d := source.Diagnostic{
		Code: source.UnknownUnit, Span: sp, Message: fmt.Sprintf("`%s` is not a unit", clip(unit)),
		Notes: []string{"units: ms, s, min, h; %; mW, W, kW; mWh, Wh, kWh; lux; K"},
	}
	meant := unitMeant(unit)
	if meant == "" {
		meant = source.Closest(unit, units())
	}
	if meant != "" {
		d.Notes = nil
		d.Suggestion = fmt.Sprintf("did you mean `%s`?", meant)
		d.Fixes = []source.Fix{{Span: sp, Text: meant}}
	}
	return d
}

// stray reports a run of characters that have no meaning here and leaves it out.
func (s *scanner) stray() {
	start := s.pos
	for s.pos < len(s.text) && s.isStray() {
		_, n := utf8.DecodeRuneInString(s.text[s.pos:])
		s.pos += n
	}
	run := s.text[start:s.pos]
	hint := strayHint(run, s.pos < len(s.text) && isDigit(s.text[s.pos]))
	if s.rangeHint() {
		hint = "the numbers of a row are written `[1..6]`"
	}
	s.report(source.Diagnostic{
		Code: source.BadCharacter, Span: s.span(start, s.pos),
		Message:    fmt.Sprintf("`%s` has no meaning in the language", clip(run)),
		Suggestion: hint,
	})
	// An empty token that no grammar takes marks the place, so that nothing is said of what follows from it.
	s.toks = append(s.toks, token{kind: kindPunct, start: int32(start), end: int32(s.pos), lineStart: s.newLine, bad: true})
	s.newLine = false
}

// isStray reports whether the character at the present place begins nothing.
func (s *scanner) isStray() bool {
	c := s.text[s.pos]
	return !isLetter(c) && !isDigit(c) && strings.IndexByte(" \t\r\n#\""+marks, c) < 0 && !s.doubleMark()
}

// strayHint tells what was likely meant by characters that mean nothing.
func strayHint(run string, beforeDigit bool) string {
	if beforeDigit && (run == "-" || run == "+") {
		return "numbers have no sign"
	}
	switch run {
	case ";":
		return "nothing is needed between two clauses; in a list, write `,`"
	case "'", "“", "”", "‘", "’", "`":
		return "a text stands in `\"` marks"
	case "//", "--", "/*":
		return "a comment starts with `#`"
	case "–", "—", "−":
		return "write `-`"
	case "&", "&&":
		return "write `and`"
	case "|", "||":
		return "write `or`"
	case "!":
		return "write `not`"
	case "→":
		return "write `->`"
	case "-", "_", ".":
		return "a name has letters, digits and `_`, and starts with a letter"
	}
	if r, _ := utf8.DecodeRuneInString(run); r >= utf8.RuneSelf {
		return "a name has the letters a to z and A to Z, digits and `_`"
	}
	return ""
}

// clip shortens a quotation from the source.
func clip(s string) string {
	const most = 40
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "..."
}
