package syntax

// Lines, comments and blank lines put together.

import (
	"regexp"
	"slices"
	"strings"
)

var blankLine = regexp.MustCompile(`\n[ \t\r]*\n`)

// row is a line of the result with what stands behind it, or a comment alone, or nothing.
type row struct {
	line
	comment string
}

// merge puts the comments between and behind the lines and gives the text.
func (p *printer) merge() string {
	var rows []row
	last := int32(0) // how far the source is used up
	space := func(at int32, closes bool) {
		if len(rows) == 0 || closes || rows[len(rows)-1].opens || at <= last {
			return
		}
		if blankLine.MatchString(p.text[last:at]) {
			rows = append(rows, row{})
		}
	}
	rest := p.comments
	own := func(indent int, closes bool) {
		c := rest[0]
		rest = rest[1:]
		space(c.Span.Start, closes)
		rows = append(rows, row{line: line{indent: indent, start: c.Span.Start}, comment: c.Text})
		last = max(last, c.Span.End)
	}
	for i, l := range p.lines {
		in := l.indent
		if l.closes {
			in += indent
		}
		for len(rest) > 0 && rest[0].Span.Start < l.end {
			own(in, false)
		}
		space(l.start, l.closes)
		r := row{line: l}
		last = max(last, l.end)
		next := int32(len(p.text))
		if i+1 < len(p.lines) {
			next = p.lines[i+1].start
		}
		if len(rest) > 0 && rest[0].Span.Start < next && !p.newlineIn(l.end, rest[0].Span.Start) {
			r.comment = rest[0].Text
			last = rest[0].Span.End
			rest = rest[1:]
		}
		rows = append(rows, r)
	}
	for len(rest) > 0 {
		own(0, false)
	}
	align(rows)
	return render(rows)
}

// align pads the heads of lines of one class that follow each other.
func align(rows []row) {
	for i := 0; i < len(rows); {
		j, most := i, 0
		for j < len(rows) && rows[j].class != "" && rows[j].class == rows[i].class && rows[j].indent == rows[i].indent {
			most = max(most, columns(rows[j].head))
			j++
		}
		for k := i; k < j; k++ {
			rows[k].head += strings.Repeat(glue, most-columns(rows[k].head))
		}
		i = max(j, i+1)
	}
}

func render(rows []row) string {
	var b strings.Builder
	for _, r := range rows {
		text := r.line.text()
		out := ""
		if text != "" {
			out = strings.Join(wrap(text, r.indent), "\n")
		}
		switch {
		case r.comment != "" && out != "":
			out += "  " + r.comment
		case r.comment != "":
			out = strings.Repeat(" ", r.indent) + r.comment
		}
		b.WriteString(out)
		b.WriteByte('\n')
	}
	return b.String()
}

// wrap divides a long line at spaces.
func wrap(text string, in int) []string {
	var out []string
	lead := strings.Repeat(" ", in)
	cur := ""
	for _, w := range slices.Collect(strings.SplitSeq(text, " ")) {
		switch {
		case cur == "":
			cur = lead + w
		case columns(cur)+1+columns(w) > width && w != "" && !isDeclWord(w):
			out = append(out, strings.TrimRight(cur, " "))
			cur = strings.Repeat(" ", in+2*indent) + w
		default:
			cur += " " + w
		}
	}
	out = append(out, cur)
	for i := range out {
		out[i] = strings.TrimRight(strings.ReplaceAll(out[i], glue, " "), " ")
	}
	return out
}
