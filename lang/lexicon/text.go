package lexicon

// Plain text, 80 columns wide.

import (
	"fmt"
	"io"
	"regexp"
	"strings"
)

// link is a link; its text is what is shown.
var link = regexp.MustCompile(`\[([^\]]+)\]\([^)]+\)`)

// width is the number of columns.
const width = 80

// page collects lines.
type page struct{ b strings.Builder }

func (p *page) line(s string) { p.b.WriteString(strings.TrimRight(s, " ") + "\n") }

// gap puts an empty line between two parts.
func (p *page) gap() {
	if p.b.Len() > 0 {
		p.line("")
	}
}

// fill writes words into lines, the first with one lead and the others with another.
func (p *page) fill(first, next, text string) {
	line, some := first, false
	for _, w := range words(text) {
		if some && columns(line)+1+columns(w) > width {
			p.line(line)
			line, some = next, false
		}
		if some {
			line += " "
		}
		line += w
		some = true
	}
	p.line(line)
}

// words parts a text at blanks, but for those of a short text in backquotes and the one before a "%".
func words(text string) []string {
	var out []string
	var b strings.Builder
	inside, whole := false, false
	for i, c := range text {
		if c == '`' {
			inside = !inside
			whole = inside && shortQuote(text[i+1:])
		}
		if c == ' ' && !whole && !strings.HasPrefix(text[i:], " %") {
			if b.Len() > 0 {
				out = append(out, b.String())
				b.Reset()
			}
			continue
		}
		b.WriteRune(c)
	}
	if b.Len() > 0 {
		out = append(out, b.String())
	}
	return out
}

// shortQuote tells that the text up to the closing backquote may stand on one line.
func shortQuote(rest string) bool {
	end := strings.IndexByte(rest, '`')
	return end >= 0 && end <= 40
}

func columns(s string) int { return len([]rune(s)) }

// plain takes the marks of bold text and of links away.
func plain(text string) string {
	text = strings.ReplaceAll(text, ".**", ":**")
	text = strings.ReplaceAll(text, "**", "")
	return link.ReplaceAllString(text, "$1")
}

func (p *page) piece(x Piece) {
	switch x.Kind {
	case Paragraph:
		p.fill("", "", plain(x.Lines[0]))
	case List:
		for _, item := range x.Lines {
			p.fill("- ", "  ", plain(item))
		}
	case Table:
		for i, row := range x.Rows {
			if i > 0 {
				p.row(x.Rows[0], row)
			}
		}
	case Block:
		for _, l := range x.Lines {
			p.line("    " + l)
		}
	}
}

// row writes a row of a table: its first cell, and the others below it.
func (p *page) row(head, row []string) {
	p.fill("  ", "  ", plain(row[0]))
	for i, c := range row[1:] {
		lead := ""
		if len(row) > 2 && i+1 < len(head) && head[i+1] != "" {
			lead = head[i+1] + ": "
		}
		if c != "" {
			p.fill("      ", "      ", plain(lead+c))
		}
	}
}

func (p *page) entry(e *Entry) {
	p.gap()
	title := strings.Join(e.Terms, ", ")
	p.fill("", "", title)
	p.line(strings.Repeat("=", min(width, columns(title))))
	for _, x := range e.Body {
		p.gap()
		p.piece(x)
	}
}

// reference tells of an entry in one sentence.
func (p *page) reference(e *Entry) {
	p.fill("  ", "      ", strings.Join(e.Terms, ", ")+" - "+plain(e.Purpose))
}

func (p *page) code(c Code) {
	p.gap()
	title := fmt.Sprintf("%s (%s)", c.Code, c.Kind)
	p.line(title)
	p.line(strings.Repeat("=", columns(title)))
	p.gap()
	p.fill("", "", strings.ToUpper(c.Title[:1])+c.Title[1:]+".")
	p.gap()
	p.fill("", "", c.Explanation)
	lines, ok := shown(c.Example)
	if !ok {
		return
	}
	p.gap()
	p.line("For example:")
	p.gap()
	for _, l := range lines {
		p.line("    " + l)
	}
}

// Text writes what was found. A word that only stands inside entries gives these entries if they are few, else their
// first sentences.
func (a *Answer) Text(w io.Writer) error {
	var p page
	whole, short := a.Entries, a.Inside
	if len(whole)+len(a.Codes) == 0 && len(short) <= 2 {
		whole, short = short, nil
	}
	for _, e := range whole {
		p.entry(e)
	}
	for _, c := range a.Codes {
		p.code(c)
	}
	if len(short) > 0 {
		p.gap()
		if len(whole)+len(a.Codes) > 0 {
			p.line("See also:")
		} else {
			p.line(fmt.Sprintf("`%s` stands in:", a.Word))
		}
		for _, e := range short {
			p.reference(e)
		}
	}
	_, err := io.WriteString(w, p.b.String())
	return err
}

// Contents writes what there is to look up, in groups.
func (b *Book) Contents(w io.Writer) error {
	var p page
	for _, c := range b.Chapters {
		var terms []string
		for _, e := range c.Entries {
			terms = append(terms, e.Terms...)
		}
		p.group(c.Title, terms)
	}
	for _, g := range b.Groups {
		var codes []string
		for _, c := range g.Codes {
			codes = append(codes, string(c.Code))
		}
		p.group(g.Title, codes)
	}
	_, err := io.WriteString(w, p.b.String())
	return err
}

// group writes words in a row; those of several words are not broken.
func (p *page) group(title string, terms []string) {
	if len(terms) == 0 {
		return
	}
	p.gap()
	p.line(title)
	line := "  "
	for i, t := range terms {
		if i < len(terms)-1 {
			t += ","
		}
		if columns(line)+1+columns(t) > width && line != "  " {
			p.line(line)
			line = "  "
		}
		if line != "  " {
			line += " "
		}
		line += t
	}
	p.line(line)
}
