// Tables in CSV (RFC 4180): a header and rows of cells, each with its place in the text.

package resolve

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"lampwarden/lang/source"
)

// cell is the text of a cell without blanks around it, and where it stands, quotes included.
type cell struct {
	text string
	span source.Span
}

// table is a file in CSV. Rows are as long as the header; what was wrong with others has been reported.
type table struct {
	file   *source.File
	header []cell
	rows   [][]cell
	whole  bool // nothing was left out
}

// readTable reads a file. It gives nil if there is no header.
func (r *resolver) readTable(f *source.File) *table {
	if !utf8.ValidString(f.Text) || strings.ContainsRune(f.Text, 0) {
		at := max(0, strings.IndexFunc(strings.ToValidUTF8(f.Text, "\x00"), func(c rune) bool { return c == 0 }))
		d := r.errorf(source.NotText, tableSpan(f, at, at+1), "the schedule is not text in UTF-8")
		d.Suggestion = "export it as CSV in UTF-8"
		return nil
	}
	bom := len(f.Text) - len(strings.TrimPrefix(f.Text, "\ufeff"))
	in := csv.NewReader(strings.NewReader(f.Text[bom:]))
	in.FieldsPerRecord = -1
	lines := lineStarts(f.Text, bom)
	t := &table{file: f, whole: true}
	for {
		fields, err := in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			r.csvError(f, lines, err)
			t.whole = false
			break
		}
		row := make([]cell, len(fields))
		for i := range fields {
			line, col := in.FieldPos(i)
			row[i] = cellAt(f, lines[line-1]+col-1, fields[i])
		}
		r.addRow(t, row)
	}
	if t.header == nil {
		if t.whole {
			r.errorf(source.BadSchedule, tableSpan(f, 0, 0), "the schedule is empty: its first line names the columns")
		}
		return nil
	}
	return t
}

// addRow takes the header, and then rows as long as that. Rows without any text are left out.
func (r *resolver) addRow(t *table, row []cell) {
	switch {
	case !slices.ContainsFunc(row, func(c cell) bool { return c.text != "" }):
	case t.header == nil:
		t.header = row
	case len(row) != len(t.header):
		t.whole = false
		at := row[len(row)-1].span
		if len(row) > len(t.header) {
			at = row[len(t.header)].span.To(at)
		}
		d := r.errorf(source.BadSchedule, at, "this row has %s, the header has %d", cells(len(row)), len(t.header))
		relate(d, t.header[0].span.To(t.header[len(t.header)-1].span), "the header")
	default:
		t.rows = append(t.rows, row)
	}
}

func tableSpan(f *source.File, from, to int) source.Span {
	return source.Span{File: f.ID, Start: int32(from), End: int32(min(to, len(f.Text)))}
}

// lineStarts gives the offsets at which lines start, the first one behind a byte order mark.
func lineStarts(text string, bom int) []int {
	out := []int{bom}
	for i := range len(text) {
		if text[i] == '\n' {
			out = append(out, i+1)
		}
	}
	return out
}

// cellAt finds the end of a cell that starts at an offset.
func cellAt(f *source.File, from int, text string) cell {
	to := from
	if from < len(f.Text) && f.Text[from] == '"' {
		for to++; to < len(f.Text); to++ {
			if f.Text[to] == '"' {
				if to++; to >= len(f.Text) || f.Text[to] != '"' {
					break
				}
			}
		}
	} else {
		for to < len(f.Text) && f.Text[to] != ',' && f.Text[to] != '\n' {
			to++
		}
		for to > from && f.Text[to-1] == '\r' {
			to--
		}
	}
	return cell{strings.TrimSpace(text), tableSpan(f, from, to)}
}

// csvError reports text that is no CSV; what follows it is not read.
func (r *resolver) csvError(f *source.File, lines []int, err error) {
	var pe *csv.ParseError
	if !errors.As(err, &pe) {
		r.errorf(source.BadSchedule, tableSpan(f, 0, 0), "the schedule cannot be read: %v", err)
		return
	}
	at := lines[min(pe.Line, len(lines))-1] + max(pe.Column-1, 0)
	d := r.errorf(source.BadSchedule, tableSpan(f, min(at, len(f.Text)), at+1), "the quotes of this cell do not fit")
	switch {
	case errors.Is(pe.Err, csv.ErrBareQuote):
		d.Notes = append(d.Notes, "a `\"` inside a cell is written twice, in a cell that stands in quotes")
	case errors.Is(pe.Err, csv.ErrQuote):
		d.Notes = append(d.Notes, "a cell that begins with a `\"` ends with one, and then a comma or the end of the line follows")
	}
	if pe.StartLine != pe.Line {
		relate(d, tableSpan(f, lines[pe.StartLine-1], lines[pe.StartLine-1]+1), "the row begins here")
	}
}

// column finds a column by its header. It reports one that is not there, or there twice.
func (r *resolver) column(t *table, name string, at source.Span) (i int, ok bool) {
	is := func(c cell) bool { return c.text == strings.TrimSpace(name) }
	i = slices.IndexFunc(t.header, is)
	if i < 0 {
		d := r.errorf(source.UnknownColumn, at, "the schedule has no column %q", name)
		relate(d, t.header[0].span.To(t.header[len(t.header)-1].span), "its header")
		r.suggestColumn(d, at, name, t)
		return 0, false
	}
	if k := slices.IndexFunc(t.header[i+1:], is); k >= 0 {
		d := r.errorf(source.BadSchedule, t.header[i+1+k].span, "two columns are named %q", t.header[i].text)
		relate(d, t.header[i].span, "the other one")
		relate(d, at, "the column is asked for here")
		return 0, false
	}
	return i, true
}

func (r *resolver) suggestColumn(d *source.Diagnostic, at source.Span, name string, t *table) {
	var known []string
	for _, c := range t.header {
		known = append(known, c.text)
	}
	if best := source.Closest(name, known); best != "" && !strings.ContainsAny(best, "\"\\\n") {
		d.Suggestion = "did you mean `\"" + best + "\"`?"
		d.Fixes = []source.Fix{{Span: at, Text: `"` + best + `"`}}
	} else if one := len(known) == 1; one && strings.ContainsAny(known[0], ";\t") {
		d.Notes = append(d.Notes, "the header has no comma: cells are parted by commas, not by semicolons or tabs (RFC 4180)")
	}
}

func cells(n int) string {
	if n == 1 {
		return "1 cell"
	}
	return fmt.Sprintf("%d cells", n)
}
