package lexicon

// From the text of a reference to a book.

import (
	"fmt"
	"regexp"
	"strings"
)

// reader goes through the lines of a reference.
type reader struct {
	lines []string
	at    int
	book  *Book
	entry *Entry
}

// Parse reads a reference. The error names the line that is out of form.
func Parse(text string) (*Book, error) {
	r := &reader{lines: strings.Split(text, "\n"), book: &Book{}}
	for r.at < len(r.lines) {
		if err := r.step(); err != nil {
			return nil, err
		}
	}
	for _, e := range r.book.Entries() {
		if err := e.complete(); err != nil {
			return nil, err
		}
	}
	return r.book, nil
}

func (r *reader) step() error {
	line := r.lines[r.at]
	switch {
	case strings.TrimSpace(line) == "":
		r.at++
	case strings.HasPrefix(line, "# "):
		if len(r.book.Chapters) > 0 {
			return r.errorf("the title stands first")
		}
		r.chapter(strings.TrimPrefix(line, "# "))
	case strings.HasPrefix(line, "## "):
		r.chapter(strings.TrimPrefix(line, "## "))
	case strings.HasPrefix(line, "### "):
		return r.heading(strings.TrimPrefix(line, "### "))
	case strings.HasPrefix(line, "#"):
		return r.errorf("a heading has one, two or three # marks")
	case len(r.book.Chapters) == 0:
		return r.errorf("the text begins with a title")
	default:
		p, err := r.piece()
		if err != nil {
			return err
		}
		r.put(p)
	}
	return nil
}

func (r *reader) errorf(format string, args ...any) error {
	return fmt.Errorf("line %d: %s", r.at+1, fmt.Sprintf(format, args...))
}

func (r *reader) chapter(title string) {
	r.book.Chapters = append(r.book.Chapters, &Chapter{Title: strings.TrimSpace(title)})
	r.entry = nil
	r.at++
}

func (r *reader) heading(terms string) error {
	if len(r.book.Chapters) == 0 {
		return r.errorf("an entry stands in a chapter")
	}
	c := r.book.Chapters[len(r.book.Chapters)-1]
	r.entry = &Entry{Chapter: c.Title, Line: r.at + 1}
	for _, t := range strings.Split(terms, ", ") {
		if t = strings.TrimSpace(t); t == "" {
			return r.errorf("the heading has an empty word")
		}
		r.entry.Terms = append(r.entry.Terms, t)
	}
	c.Entries = append(c.Entries, r.entry)
	r.at++
	return nil
}

// quoted is a text in backquotes.
var quoted = regexp.MustCompile("`([^`]+)`")

func (r *reader) put(p Piece) {
	switch {
	case r.entry == nil:
		c := r.book.Chapters[len(r.book.Chapters)-1]
		c.Intro = append(c.Intro, p)
	case p.Kind == Paragraph && strings.HasPrefix(p.Lines[0], "**Words.**"):
		for _, m := range quoted.FindAllStringSubmatch(p.Lines[0], -1) {
			r.entry.Words = append(r.entry.Words, m[1])
		}
	default:
		r.entry.Body = append(r.entry.Body, p)
	}
}

// piece reads a paragraph, list, table or block of code.
func (r *reader) piece() (Piece, error) {
	line := r.lines[r.at]
	p := Piece{Line: r.at + 1}
	switch {
	case strings.HasPrefix(line, "```"):
		return r.code()
	case strings.HasPrefix(line, "|"):
		p.Kind = Table
		for ; r.at < len(r.lines) && strings.HasPrefix(r.lines[r.at], "|"); r.at++ {
			if row := cells(r.lines[r.at]); row != nil {
				p.Rows = append(p.Rows, row)
			}
		}
	case strings.HasPrefix(line, "- "):
		p.Kind = List
		for ; r.at < len(r.lines); r.at++ {
			l := r.lines[r.at]
			if item, ok := strings.CutPrefix(l, "- "); ok {
				p.Lines = append(p.Lines, item)
			} else if strings.HasPrefix(l, "  ") {
				p.Lines[len(p.Lines)-1] += " " + strings.TrimSpace(l)
			} else {
				break
			}
		}
	default:
		var parts []string
		for ; r.at < len(r.lines) && isProse(r.lines[r.at]); r.at++ {
			parts = append(parts, strings.TrimSpace(r.lines[r.at]))
		}
		p.Lines = []string{strings.Join(parts, " ")}
	}
	return p, nil
}

// isProse tells that a line goes on with a paragraph.
func isProse(line string) bool {
	return strings.TrimSpace(line) != "" && !strings.HasPrefix(line, "#") && !strings.HasPrefix(line, "|") &&
		!strings.HasPrefix(line, "- ") && !strings.HasPrefix(line, "```")
}

func (r *reader) code() (Piece, error) {
	open := r.at
	p := Piece{Kind: Block, Info: strings.TrimPrefix(r.lines[r.at], "```"), Line: r.at + 2}
	for r.at++; r.at < len(r.lines); r.at++ {
		if strings.HasPrefix(r.lines[r.at], "```") {
			r.at++
			return p, nil
		}
		p.Lines = append(p.Lines, r.lines[r.at])
	}
	r.at = open
	return p, r.errorf("this block of code has no end")
}

// cells takes a table's line apart; nil for the line of dashes under the head.
func cells(line string) []string {
	line = strings.Trim(strings.TrimSpace(line), "|")
	if strings.Trim(line, "-| :") == "" {
		return nil
	}
	var out []string
	for _, c := range strings.Split(line, " | ") {
		out = append(out, strings.TrimSpace(c))
	}
	return out
}

// complete finds an entry's purpose.
func (e *Entry) complete() error {
	if len(e.Body) == 0 || e.Body[0].Kind != Paragraph {
		return fmt.Errorf("line %d: the entry %q does not begin with what it is for", e.Line, strings.Join(e.Terms, ", "))
	}
	e.Purpose = firstSentence(e.Body[0].Lines[0])
	return nil
}

// firstSentence is the text up to the first full stop with a blank after it.
func firstSentence(text string) string {
	if i := strings.Index(text, ". "); i >= 0 {
		return text[:i+1]
	}
	return text
}
