// Reporting: one diagnostic for one mistake.

package resolve

import (
	"fmt"
	"slices"
	"strings"

	"lampwarden/lang/source"
)

// errorf reports an error and returns it for labels, notes and suggestions to
// be added. A second report of the same code at the same place is dropped, and so
// are those beyond maxReports.
func (r *resolver) errorf(code source.Code, sp source.Span, format string, args ...any) *source.Diagnostic {
	d := &source.Diagnostic{Code: code, Span: sp, Message: fmt.Sprintf(format, args...)}
	if !r.inUse.IsZero() {
		relate(d, r.inUse, "the pack is used here")
	}
	key := place{code, sp}
	if r.reported[key] {
		return d
	}
	r.reported[key] = true
	switch n := len(r.found); {
	case n < maxReports:
		r.found = append(r.found, d)
	case n == maxReports:
		r.found = append(r.found, &source.Diagnostic{Code: source.TooMany, Span: sp,
			Message: fmt.Sprintf("more than %d errors; the others are not shown", maxReports)})
	}
	return d
}

// maxReports bounds the reports on one site; nobody reads more at a time.
const maxReports = 100

// diagnostics returns what was reported, in canonical order.
func (r *resolver) diagnostics() source.Diagnostics {
	var out source.Diagnostics
	for _, d := range r.found {
		out.Add(*d)
	}
	return out.Sorted()
}

// suggestName offers the closest of the names, if one is close.
func suggestName(d *source.Diagnostic, sp source.Span, name string, known []string) {
	if best := source.Closest(name, known); best != "" {
		d.Suggestion = fmt.Sprintf("did you mean `%s`?", best)
		d.Fixes = append(d.Fixes, source.Fix{Span: sp, Text: best})
		return
	}
	if len(known) > 0 && len(known) <= 8 {
		d.Notes = append(d.Notes, "known here: "+quoteList(slices.Compact(slices.Sorted(slices.Values(known)))))
	}
}

// quoteList makes "`a`, `b` and `c`".
func quoteList(names []string) string {
	quoted := make([]string, len(names))
	for i, n := range names {
		quoted[i] = "`" + n + "`"
	}
	if len(quoted) < 2 {
		return strings.Join(quoted, "")
	}
	return strings.Join(quoted[:len(quoted)-1], ", ") + " and " + quoted[len(quoted)-1]
}

func relate(d *source.Diagnostic, sp source.Span, format string, args ...any) {
	if !sp.IsZero() {
		d.Related = append(d.Related, source.Related{Span: sp, Label: fmt.Sprintf(format, args...)})
	}
}

// seen remembers where each property of a declaration was given first.
type seen map[string]source.Span

// first reports a property that is given a second time, and tells whether it
// is the first.
func (r *resolver) first(s seen, what string, sp source.Span) bool {
	if at, ok := s[what]; ok {
		d := r.errorf(source.DuplicateClause, sp, "%s is given twice", what)
		relate(d, at, "first given here")
		return false
	}
	s[what] = sp
	return true
}
