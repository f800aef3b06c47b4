package syntax

// The canonical layout: from a tree back to text.
//
// Printing goes in three steps. Each declaration becomes lines that know which part of the source they stand for;
// comments are put between and behind the lines by position; lines of one kind that follow each other are aligned.
// Of the source's own layout two things are kept: single blank lines, and whether a body in braces, the settings of a
// stage or the cases of a setting stand on one line or on several.

import (
	"errors"
	"strings"
	"unicode/utf8"
)

const (
	width  = 110 // a longer line is divided
	indent = 4
)

// glue stands for a space at which no line is divided. No source has this character.
const glue = "\x00"

// ErrFaulty is what Format gives for a file with errors.
var ErrFaulty = errors.New("a file with errors cannot be formatted")

// Format prints a file in the canonical layout, with all its comments. Formatting the result again changes nothing,
// and it has the same meaning.
func Format(f *File) (string, error) {
	if f.Faulty {
		return "", ErrFaulty
	}
	p := &printer{text: f.Source.Text, comments: f.Comments}
	for _, d := range f.Decls {
		p.decl(d)
	}
	return p.merge(), nil
}

// line is one line of the result. Lines of one class that follow each other have their tails aligned.
type line struct {
	indent     int
	head, tail string
	class      string
	start, end int32 // what it stands for in the source
	opens      bool  // ends with an opening brace
	closes     bool  // a closing brace
}

func (l line) text() string {
	if l.tail == "" {
		return l.head
	}
	if l.head == "" {
		return l.tail
	}
	return l.head + " " + l.tail
}

type printer struct {
	text     string
	comments []Comment
	lines    []line
}

func (p *printer) add(l line) { p.lines = append(p.lines, l) }

// newlineIn tells whether the source has a line end between two places.
func (p *printer) newlineIn(from, to int32) bool {
	return from < to && strings.Contains(p.text[from:to], "\n")
}

// commentIn tells whether a comment stands between two places.
func (p *printer) commentIn(from, to int32) bool {
	for _, c := range p.comments {
		if c.Span.Start >= from && c.Span.Start < to {
			return true
		}
	}
	return false
}

func columns(s string) int { return utf8.RuneCountInString(s) }

// brace finds the opening brace at or after a place, comments left aside.
func (p *printer) brace(from int32) int32 {
	for i := int(from); i < len(p.text); i++ {
		switch p.text[i] {
		case '{':
			return int32(i)
		case '#':
			for i < len(p.text) && p.text[i] != '\n' {
				i++
			}
		}
	}
	return from
}

// item is one entry of a body in braces: its text on one line, and its lines when the body has several.
type item struct {
	text       string // "" if it cannot stand on one line
	lines      []line
	start, end int32
	tight      bool // on one line, a single space stands before it, not two
}

// block prints `head { items }`.
func (p *printer) block(head string, start, headEnd, end int32, items []item) {
	open := p.brace(headEnd)
	if text, ok := p.oneLine(head, open, end, items); ok {
		p.add(line{head: text, start: start, end: end})
		return
	}
	p.add(line{head: head + " {", start: start, end: open + 1, opens: true})
	for _, it := range items {
		for _, l := range it.lines {
			l.indent += indent
			p.add(l)
		}
	}
	p.add(line{head: "}", start: end - 1, end: end, closes: true})
}

func (p *printer) oneLine(head string, open, end int32, items []item) (string, bool) {
	if p.commentIn(open, end) {
		return "", false
	}
	if len(items) == 0 {
		return head + " {}", true
	}
	if p.newlineIn(open, items[0].start) {
		return "", false
	}
	text := head + " {"
	for i, it := range items {
		if it.text == "" {
			return "", false
		}
		if i > 0 && !it.tight {
			text += " "
		}
		text += " " + it.text
	}
	text += " }"
	return text, columns(text) <= width
}

// single is an item of one line.
func single(text string, n *Node) item {
	l := line{head: text, start: n.Span.Start, end: n.Span.End}
	return item{text: text, lines: []line{l}, start: l.start, end: l.end}
}
