// Laying text out: indents, hanging indents, wrapping at the page's width.

package report

import (
	"strings"
	"unicode/utf8"
)

// page collects lines of at most width columns. A rune counts as one column; marks without a column of their own do
// not reach a page, since names are escaped first.
type page struct {
	width int
	color bool
	b     strings.Builder
}

func newPage(o Options) *page { return &page{width: o.width(), color: o.Color} }

// blank writes an empty line.
func (p *page) blank() { p.b.WriteByte('\n') }

// line writes text after lead; further lines are indented as wide as lead is.
func (p *page) line(lead, text string) {
	p.block(lead, strings.Repeat(" ", utf8.RuneCountInString(lead)), text)
}

// block writes text after lead; further lines begin with rest.
func (p *page) block(lead, rest, text string) {
	room := max(p.width-max(utf8.RuneCountInString(lead), utf8.RuneCountInString(rest)), 16)
	for i, l := range wrap(text, room) {
		if i > 0 {
			lead = rest
		}
		p.b.WriteString(strings.TrimRight(lead+l, " "))
		p.b.WriteByte('\n')
	}
}

// The styles of verdicts, as ECMA-48 "select graphic rendition" parameters.
const (
	styleBad  = "1;31"
	styleOpen = "1;33"
	styleGood = "32"
)

// styled writes a line whose lead is a word in a style, padded to the width of a column.
func (p *page) styled(style, word string, column int, text string) {
	pad := strings.Repeat(" ", max(column-utf8.RuneCountInString(word), 1))
	before := p.b.Len()
	p.line(word+pad, text)
	if p.color && style != "" {
		all := p.b.String()
		p.b.Reset()
		p.b.WriteString(all[:before] + "\x1b[" + style + "m" + word + "\x1b[0m" + all[before+len(word):])
	}
}

// wrap breaks text at blanks into lines of at most room columns, but not between a number and its unit or after
// "line". A word that is wider is cut where a name has a natural joint, or hard.
func wrap(text string, room int) []string {
	var lines []string
	line, used := "", 0
	for _, w := range words(text) {
		for _, part := range cut(w, room) {
			n := utf8.RuneCountInString(part)
			if used > 0 && used+1+n > room {
				lines, line, used = append(lines, line), "", 0
			}
			if used > 0 {
				line, used = line+" ", used+1
			}
			line, used = line+part, used+n
		}
	}
	if used > 0 || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// words splits text at blanks; what has to stay on one line stays one word.
func words(text string) []string {
	var out []string
	for _, w := range strings.Fields(text) {
		if n := len(out); n > 0 && glued(out[n-1], w) {
			out[n-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// glued tells whether a word belongs to the one before it: "70 %", "5 min.", "(line 12)".
func glued(before, w string) bool {
	digit := func(b byte) bool { return b >= '0' && b <= '9' }
	if b := strings.TrimLeft(before, "("); b == "line" || b == "lines" {
		return digit(w[0])
	}
	switch strings.TrimRight(w, ".,:;)") {
	case "%", "ms", "s", "min", "h", "W", "Wh":
		return digit(before[len(before)-1]) && !strings.Contains(before, " ")
	}
	return false
}

// cut splits a word that is wider than room; a part of at least half the room may end after a joint of the word.
func cut(word string, room int) []string {
	var parts []string
	rs := []rune(word)
	for len(rs) > room {
		n := room
		for i := room; i > room/2; i-- {
			if strings.ContainsRune("_-/.,:", rs[i-1]) {
				n = i
				break
			}
		}
		parts = append(parts, string(rs[:n]))
		rs = rs[n:]
	}
	return append(parts, string(rs))
}
