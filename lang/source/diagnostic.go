package source

// Diagnostics: what is wrong in a text, where, and what to do about it.

import (
	"cmp"
	"slices"
)

// Severity tells an error from a warning.
type Severity uint8

// The severities. An error makes the input unusable; a warning does not.
const (
	Error Severity = iota
	Warning
)

// String gives "error" or "warning".
func (s Severity) String() string {
	if s == Warning {
		return "warning"
	}
	return "error"
}

// Diagnostic is one finding about a text. Message is one sentence without a final full stop, starts with a
// small letter, and quotes source text in backquotes. The other texts say nothing that Message says already.
type Diagnostic struct {
	Code       Code
	Severity   Severity
	Span       Span
	Label      string // stands beside the underline; "" if there is nothing to add
	Message    string
	Related    []Related
	Notes      []string
	Suggestion string // what to write instead or do, "" if nothing is known
	Fixes      []Fix  // edits that carry out the suggestion, for editors
}

// Related is another place that belongs to a diagnostic, with what it has to do with it.
type Related struct {
	Span  Span
	Label string
}

// Fix replaces the text of a span.
type Fix struct {
	Span Span
	Text string
}

// Diagnostics is a list of diagnostics. The zero value is empty and ready to use.
type Diagnostics []Diagnostic

// Add appends a diagnostic.
func (ds *Diagnostics) Add(d Diagnostic) { *ds = append(*ds, d) }

// HasErrors reports whether one of them is an error.
func (ds Diagnostics) HasErrors() bool {
	return slices.ContainsFunc(ds, func(d Diagnostic) bool { return d.Severity == Error })
}

// Sorted returns the diagnostics in canonical order (file, place, severity, code, message), each once.
func (ds Diagnostics) Sorted() Diagnostics {
	out := slices.Clone(ds)
	slices.SortStableFunc(out, compare)
	return slices.CompactFunc(out, func(a, b Diagnostic) bool { return compare(a, b) == 0 })
}

func compare(a, b Diagnostic) int {
	return cmp.Or(
		cmp.Compare(a.Span.File, b.Span.File),
		cmp.Compare(a.Span.Start, b.Span.Start),
		cmp.Compare(a.Span.End, b.Span.End),
		cmp.Compare(a.Severity, b.Severity),
		cmp.Compare(a.Code, b.Code),
		cmp.Compare(a.Message, b.Message),
	)
}
