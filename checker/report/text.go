// A report as text: what fails first, with its story; then a line for each requirement; then what it rests on.

package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"lampwarden/checker"
	"lampwarden/checker/rehearse"
)

// verdictColumn is as wide as the longest verdict and two blanks.
const verdictColumn = 12

// Text writes a report for people.
func (d *Document) Text(w io.Writer, o Options) error {
	p := newPage(o)
	d.failures(p)
	if o.Quiet {
		p.line("", shortCaution)
	} else {
		d.lines(p)
		d.rests(p)
	}
	if d.Stats != nil {
		d.costs(p)
	}
	d.closing(p)
	_, err := io.WriteString(w, p.b.String())
	return err
}

// failures tells everything that fails or is open, with a blank line after each.
func (d *Document) failures(p *page) {
	first := map[string]*Requirement{}
	for i := range d.Requirements {
		r := &d.Requirements[i]
		if !isBad(r.verdict) {
			continue
		}
		if like := first[r.shape()]; like != nil {
			r.writeLike(p, like)
			continue
		}
		first[r.shape()] = r
		r.write(p)
	}
	explained := map[string]bool{}
	for i := range d.Findings {
		if f := &d.Findings[i]; !f.Undecided {
			f.write(p, !explained[f.Code])
			explained[f.Code] = true
		}
	}
	d.undecided(p)
	d.open(p)
}

// undecided lists the requirements that are open; those with one reason in a row share its line.
func (d *Document) undecided(p *page) {
	reason := ""
	for i := range d.Requirements {
		r := &d.Requirements[i]
		if r.verdict != checker.Undecided {
			continue
		}
		if reason != "" && reason != r.Reason {
			p.line(indent(2), "Not decided: "+reason)
		}
		reason = r.Reason
		p.styled(styleOpen, r.Verdict, verdictColumn, r.Name)
	}
	if reason != "" {
		p.line(indent(2), "Not decided: "+reason)
		p.blank()
	}
}

// open tells of the built-in checks that could not be finished, of each kind the first ones only.
func (d *Document) open(p *page) {
	const most = 3
	seen := map[string]int{}
	var codes []string
	for i := range d.Findings {
		f := &d.Findings[i]
		if !f.Undecided {
			continue
		}
		if seen[f.Code] == 0 {
			codes = append(codes, f.Code)
		}
		if seen[f.Code]++; seen[f.Code] <= most {
			f.write(p, false)
		}
	}
	for _, c := range codes {
		if n := seen[c] - most; n > 0 {
			p.styled(styleOpen, "undecided", verdictColumn, fmt.Sprintf("%d more built-in checks of this kind [%s]", n, c))
			p.blank()
		}
	}
}

func isBad(v checker.Verdict) bool {
	return v == checker.Fails || v == checker.Impossible || v == checker.Vacuous
}

func (r *Requirement) style() string {
	switch {
	case isBad(r.verdict):
		return styleBad
	case r.verdict == checker.Undecided:
		return styleOpen
	}
	return styleGood
}

// write tells a requirement in full.
func (r *Requirement) write(p *page) {
	p.styled(r.style(), r.Verdict, verdictColumn, r.Name)
	if r.Place != "" {
		p.line(indent(2), r.Place)
	}
	for _, l := range r.Text {
		p.block(indent(2), indent(4), l)
	}
	switch r.verdict {
	case checker.Vacuous:
		p.line(indent(2), "What comes after \"whenever\" never happens, so this requirement says nothing.")
	case checker.Impossible:
		p.line(indent(2), "No order and timing of events leads there.")
	}
	if r.Story != nil {
		p.blank()
		r.Story.write(p, r.AnyTime, r.marks)
	}
	if r.Failure != nil {
		p.blank()
		r.Failure.write(p)
	}
	p.blank()
}

// write says what was broken, with the figures, the faults and the lights.
func (f *Failure) write(p *page) {
	p.line(indent(2), f.Text)
	for i := range f.Sums {
		p.block(indent(4), indent(6), f.Sums[i].text())
	}
	if f.Energy != nil {
		p.line(indent(2), f.Energy.line())
	}
	if text := f.faultLine(); text != "" {
		p.line(indent(2), text)
	}
	writeStandings(p, f.Lights)
}

// write tells a finding; explain adds what its code means.
func (f *Finding) write(p *page, explain bool) {
	word, style := "found", styleBad
	if f.Undecided {
		word, style = "undecided", styleOpen
	}
	p.styled(style, word, verdictColumn, f.Message+" ["+f.Code+"]")
	if f.Place != "" {
		p.line(indent(2), f.Place)
	}
	for _, rel := range f.Related {
		p.block(indent(2), indent(4), strings.TrimPrefix(rel.Place+": "+rel.Label, ": "))
	}
	if info, ok := checker.Explain(f.Code); ok && explain {
		p.line(indent(2), info.Explanation)
	}
	if f.Story != nil {
		p.blank()
		f.Story.write(p, f.AnyTime, f.marks)
	}
	if len(f.Reason) > 0 {
		p.blank()
	}
	for _, l := range f.Reason {
		p.line(indent(2), l)
	}
	if len(f.Lights) > 0 {
		p.blank()
		p.line(indent(2), "At "+f.clock+" this is so:")
		writeStandings(p, f.Lights)
	}
	p.blank()
}

// lines gives each requirement that holds one line.
func (d *Document) lines(p *page) {
	some := false
	for i := range d.Requirements {
		r := &d.Requirements[i]
		if isBad(r.verdict) || r.verdict == checker.Undecided {
			continue
		}
		some = true
		name := r.Name
		if r.Even != "" {
			name += ", " + r.Even
		}
		p.styled(r.style(), r.Verdict, verdictColumn, name)
	}
	if some {
		p.blank()
	}
}

// rests tells what the verdicts rest on, and the cautions.
func (d *Document) rests(p *page) {
	if len(d.Assumed) > 0 {
		p.line("", "This rests on:")
		for _, a := range d.Assumed {
			p.line("  - ", a)
		}
		p.blank()
	}
	p.line("", "Cautions:")
	for _, c := range d.Cautions {
		p.line("  - ", c)
	}
	p.blank()
}

// closing is the last line: how it stands.
func (d *Document) closing(p *page) {
	c := d.Counts
	text := fmt.Sprintf("%s: of %s ", d.Site, count(c.Requirements, "requirement"))
	var parts []string
	add := func(n int, one, many string) {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, map[bool]string{true: one, false: many}[n == 1]))
		}
	}
	add(c.Hold, "holds", "hold")
	add(c.Fail, "fails", "fail")
	add(c.Undecided, "is undecided", "are undecided")
	if c.Requirements == 0 {
		text = d.Site + ": no requirements"
	}
	text += joined(parts)
	if c.Hold > 0 && c.Hold == c.Requirements {
		text += ", over every order and timing of events"
	}
	if n := c.Findings; n > 0 {
		text += "; " + count(n, "finding")
	}
	if n := c.OpenFindings; n > 0 {
		text += fmt.Sprintf("; %s could not be finished", count(n, "built-in check"))
	}
	if d.Cancelled {
		text += "; stopped early"
	}
	p.line("", text+".")
}

// write lays a story out in two columns: when, and what. Marks say what the story comes to; each stands behind all that
// happened up to its time.
func (s *Story) write(p *page, anyTime bool, marks []Entry) {
	if anyTime {
		p.line(indent(2), "(This can happen at any time of day; the times below are one example.)")
	}
	if s.Date != "" && !anyTime {
		p.line(indent(2), "(on "+s.Date+")")
	}
	entries := marked(s.Entries, marks)
	column := 5
	for i := range entries {
		column = max(column, utf8.RuneCountInString(entries[i].Clock))
	}
	when, what := indent(2), indent(column+4)
	last := Entry{}
	told := map[string]bool{}
	for i := range entries {
		e := &entries[i]
		switch {
		case e.Day < 0 && e.Day != last.Day:
			p.line(when, "(the day before)")
		case e.Day != last.Day && e.Weekday != "":
			p.line(when, fmt.Sprintf("(day %d, %s)", e.Day+1, e.Weekday))
		case e.Day != last.Day:
			p.line(when, fmt.Sprintf("(day %d)", e.Day+1))
		case i == 0 && e.Weekday != "" && !anyTime:
			p.line(when, "("+e.Weekday+")")
		}
		lead := when + e.Clock + indent(column+2-utf8.RuneCountInString(e.Clock))
		if i > 0 && e.At == last.At {
			lead = what
		}
		for _, l := range e.lines(told) {
			p.block(lead, what+indent(l.hang), l.text)
			lead = what
		}
		last = *e
	}
}

// marked puts the marks, which are in the order of time, among the entries.
func marked(entries, marks []Entry) []Entry {
	out := slices.Clone(entries)
	for _, m := range marks {
		i := len(out)
		for i > 0 && out[i-1].At > m.At {
			i--
		}
		out = slices.Insert(out, i, m)
	}
	return out
}

// mark is an entry that says what a story comes to at a time.
func (t *teller) mark(tl *rehearse.Timeline, at rehearse.Nanos, text string) Entry {
	return Entry{At: at, Clock: stampAt(tl, at), Day: dayOf(tl, at), Weekday: t.weekday(tl, at), Causes: []string{text}}
}

// entryLine is a line of an entry with the extra indent of its continuation.
type entryLine struct {
	text string
	hang int
}

// lines gives the lines of an entry. Reasons that were told before in the same words are only referred to.
func (e *Entry) lines(told map[string]bool) []entryLine {
	if e.Skipped > 0 {
		return []entryLine{{fmt.Sprintf("... and so on: %d more steps like these", e.Skipped), 0}}
	}
	var out []entryLine
	if len(e.Causes) > 0 && !(e.selfTold && len(e.Causes) == 1) {
		out = append(out, entryLine{strings.Join(e.Causes, "; "), 0})
	}
	if e.Controller != nil {
		out = append(out, entryLine{e.Controller.Text, 2})
	}
	for _, m := range append(slices.Clone(e.Plant), e.Modes...) {
		out = append(out, entryLine{m, 2})
	}
	for i := range e.Lights {
		l := &e.Lights[i]
		key := l.who + "\x00" + strings.Join(l.Why, "\x00")
		if len(l.By) > 0 && told[key] {
			out = append(out, entryLine{fmt.Sprintf("%s: %s (%s, as before)", l.who, l.What, joined(l.By)), 2})
			continue
		}
		told[key] = true
		out = append(out, entryLine{l.who + ": " + l.What, 2})
		for _, w := range l.Why {
			out = append(out, entryLine{"- " + w, 2})
		}
	}
	switch e.Others {
	case 0:
	case 1:
		out = append(out, entryLine{"(1 other circuit changes too)", 0})
	default:
		out = append(out, entryLine{fmt.Sprintf("(%d other circuits change too)", e.Others), 0})
	}
	return out
}

// writeStandings tells what lights were doing and why.
func writeStandings(p *page, lights []Standing) {
	for _, l := range lights {
		p.block(indent(4), indent(6), l.who+": "+l.What)
		for _, w := range l.Why {
			p.block(indent(4)+"- ", indent(6), w)
		}
	}
}

func indent(n int) string { return strings.Repeat(" ", max(n, 0)) }
