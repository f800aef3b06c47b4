// What a run cost: a line for each requirement, and the sum.

package report

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"lampwarden/checker"
)

// Stats is what a proof cost.
type Stats struct {
	Slices        int   `json:"slices"` // questions explored
	Stored        int   `json:"zonesStored"`
	Visited       int   `json:"zonesVisited"`
	Transitions   int   `json:"successors"`
	Bytes         int64 `json:"bytes"`
	Microseconds  int64 `json:"microseconds"` // of a requirement: of its questions together; of a run: wall time
	ByConditional int   `json:"byConditionalSlice"`
	ByHull        int   `json:"byJoinedZones"`
	// Of a run: how many questions were equal to another but for names and not searched again; successors so spared.
	Equal  int `json:"equalQuestions,omitempty"`
	Spared int `json:"sparedSuccessors,omitempty"`
	// Recalled is how many searches were answered from an earlier run.
	Recalled int `json:"recalledSearches,omitempty"`
}

func statsOf(s checker.Stats) *Stats {
	return &Stats{
		Slices: s.Slices, Stored: s.Stored, Visited: s.Visited, Transitions: s.Transitions, Bytes: s.Bytes,
		Microseconds: s.Elapsed.Microseconds(), ByConditional: s.ByConditional, ByHull: s.ByHull,
	}
}

// costs writes the table of what each requirement cost, then the sum.
func (d *Document) costs(p *page) {
	row := func(questions, zones, successors, time, name string) {
		lead := fmt.Sprintf("%9s %7s %10s %8s  ", questions, zones, successors, time)
		p.line(lead, middleCut(name, p.width-utf8.RuneCountInString(lead)))
	}
	figures := func(s *Stats, name string) {
		row(thousands(int64(s.Slices)), thousands(int64(s.Stored)), thousands(int64(s.Transitions)),
			duration(s.Microseconds), name)
	}
	row("questions", "zones", "successors", "time", "requirement")
	for i := range d.Requirements {
		if s := d.Requirements[i].Stats; s != nil {
			figures(s, d.Requirements[i].Name)
		}
	}
	if d.Checks != nil && d.Checks.Slices > 0 {
		figures(d.Checks, "(built-in checks)")
	}
	figures(d.Stats, "(all; wall time)")
	p.blank()
	p.line("", d.Stats.text())
	p.blank()
}

// text gives what the table has no column for.
func (s *Stats) text() string {
	var out []string
	if s.Microseconds > 0 {
		perSecond := int64(float64(s.Transitions-s.Spared) / float64(s.Microseconds) * 1e6)
		out = append(out, fmt.Sprintf("Throughput: %s successors a second.", thousands(perSecond)))
	}
	if s.Bytes > 0 {
		out = append(out, fmt.Sprintf("The largest question held at most %d MB of zones.", (s.Bytes+999_999)/1_000_000))
	}
	if s.Equal > 0 {
		out = append(out, fmt.Sprintf("Equal to another question but for names, and not searched again: %d of %d.", s.Equal, s.Slices))
	}
	if s.Recalled > 0 {
		out = append(out, fmt.Sprintf("Searches answered from an earlier run: %d.", s.Recalled))
	}
	return strings.Join(append(out, fmt.Sprintf("Answered on a conditional slice: %d; with joined zones: %d.",
		s.ByConditional, s.ByHull)), " ")
}

// middleCut shortens a text to so many columns; its beginning and its end stay.
func middleCut(text string, columns int) string {
	rs := []rune(text)
	const mark = "..."
	if len(rs) <= columns || columns < 2*len(mark) {
		return text
	}
	tail := (columns - len(mark)) / 2
	return string(rs[:columns-len(mark)-tail]) + mark + string(rs[len(rs)-tail:])
}

func duration(us int64) string {
	switch {
	case us < 1000:
		return fmt.Sprintf("%d us", us)
	case us < 1_000_000:
		return fmt.Sprintf("%.1f ms", float64(us)/1e3)
	}
	return fmt.Sprintf("%.2f s", float64(us)/1e6)
}

// thousands groups the digits of a number by blanks, as ISO 80000-1 does.
func thousands(n int64) string {
	text := fmt.Sprint(n)
	for i := len(text) - 3; i > 0; i -= 3 {
		text = text[:i] + " " + text[i:]
	}
	return text
}

// count gives "1 question", "2 questions".
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
