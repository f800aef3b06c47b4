package source

// Diagnostics as text for a terminal or a log.

import (
	"fmt"
	"io"
	"strings"
)

// Renderer writes diagnostics with their source lines. The zero value of Color means plain text.
type Renderer struct {
	Set   *Set
	Color bool
}

// The styles, as ECMA-48 "select graphic rendition" parameters.
const (
	styleError   = "1;31"
	styleWarning = "1;33"
	stylePlace   = "1"
	styleQuiet   = "2"
	styleHelp    = "32"
)

// Write writes the diagnostics in the order given, one blank line between two.
//
//	site.lamp:3:1: error[unknown-word]: `circut` begins no declaration
//	  3 | circut spots in hall { dims }
//	    | ^^^^^^
//	  note: ...
//	  try: `circuit`
func (r Renderer) Write(w io.Writer, ds Diagnostics) error {
	for i, d := range ds {
		sep := ""
		if i > 0 {
			sep = "\n"
		}
		if _, err := io.WriteString(w, sep+r.Text(d)); err != nil {
			return err
		}
	}
	return nil
}

// Text gives one diagnostic as text that ends with a line end.
func (r Renderer) Text(d Diagnostic) string {
	var b strings.Builder
	style := styleError
	if d.Severity == Warning {
		style = styleWarning
	}
	head := d.Severity.String()
	if d.Code != "" {
		head += "[" + string(d.Code) + "]"
	}
	if p, ok := r.Set.Position(d.Span); ok {
		b.WriteString(r.paint(stylePlace, Escape(p.String())+":") + " ")
	}
	fmt.Fprintf(&b, "%s %s\n", r.paint(style, head+":"), shown(d.Message))
	r.excerpt(&b, d.Span, d.Label, '^', style)
	for _, rel := range d.Related {
		if p, ok := r.Set.Position(rel.Span); ok {
			fmt.Fprintf(&b, "  %s %s\n", r.paint(stylePlace, Escape(p.String())+":"), shown(rel.Label))
			r.excerpt(&b, rel.Span, "", '-', styleQuiet)
		}
	}
	for _, n := range d.Notes {
		fmt.Fprintf(&b, "  note: %s\n", shown(n))
	}
	if d.Suggestion != "" {
		fmt.Fprintf(&b, "  %s %s\n", r.paint(styleHelp, "try:"), shown(d.Suggestion))
	}
	return b.String()
}

// messageLimit is the most of a message that is shown, in characters; only one that quotes something endless is longer.
const messageLimit = 2000

// shown is Escape, cut down where it is endless.
func shown(text string) string {
	runes := []rune(Escape(text))
	if len(runes) <= messageLimit {
		return string(runes)
	}
	return string(runes[:messageLimit-200]) + " ... " + string(runes[len(runes)-200:])
}

// String gives file:line:column.
func (p Position) String() string { return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col) }

func (r Renderer) paint(style, text string) string {
	if !r.Color {
		return text
	}
	return "\x1b[" + style + "m" + text + "\x1b[0m"
}

// excerpt writes the first line of the span, underlined.
func (r Renderer) excerpt(b *strings.Builder, sp Span, label string, mark rune, style string) {
	f := r.Set.File(sp.File)
	if f == nil {
		return
	}
	n, _ := f.LineCol(sp.Start)
	text, before, width := excerptLine(f, n, sp)
	under := strings.Repeat(" ", before) + r.paint(style, strings.Repeat(string(mark), width))
	if label != "" {
		under += " " + shown(label)
	}
	num := fmt.Sprintf("%4d", n)
	gap := strings.Repeat(" ", len(num))
	bar := r.paint(styleQuiet, "|")
	fmt.Fprintf(b, "%s %s %s\n%s %s %s\n", r.paint(styleQuiet, num), bar, strings.TrimRight(text, " "), gap, bar, under)
}

// The most of a source line that is shown, and what of it stands before the underline, in columns.
const (
	lineLimit = 120
	lineLead  = 40
)

// excerptLine gives the text of line n made safe, and the columns of the underline in it: how many stand
// before it and how wide it is. A long line is cut down to what is around the underline.
func excerptLine(f *File, n int, sp Span) (text string, before, width int) {
	line := f.Line(n)
	from := min(int(sp.Start-f.lines[n-1]), len(line))
	to := min(max(int(sp.End-f.lines[n-1]), from), len(line))
	lead := cutLead(visible(line[:from]))
	mid := cutTail(visible(line[from:min(to, from+lineLimit)]), lineLimit-len(lead))
	rest := cutTail(visible(line[to:min(len(line), to+lineLimit)]), lineLimit-len(lead)-len(mid))
	return string(lead) + string(mid) + string(rest), len(lead), max(len(mid), 1)
}

// cutLead keeps the end of what stands before an underline.
func cutLead(s []rune) []rune {
	if len(s) <= lineLimit-lineLead {
		return s
	}
	return append([]rune("..."), s[len(s)-lineLead:]...)
}

// cutTail keeps the first columns of s.
func cutTail(s []rune, room int) []rune {
	if len(s) <= room {
		return s
	}
	return append(append([]rune(nil), s[:max(room-3, 0)]...), []rune("...")...)
}
