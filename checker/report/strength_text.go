// A survey of mutants as text: first the rules that no requirement depends on.

package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"lampwarden/checker/strength"
)

// JSON writes the survey for programs.
func (d *Strength) JSON(w io.Writer) error { return writeJSON(w, d) }

// Text writes the survey for people.
func (d *Strength) Text(w io.Writer, o Options) error {
	p := newPage(o)
	d.section(p, independent, "No requirement depends on these rules:")
	if !o.Quiet {
		d.section(p, inPart, "Some requirement depends on these rules, but changes of them go unnoticed:")
		d.section(p, wholly, "Every change that was tried of these rules is noticed:")
		d.section(p, invisible, "Nobody can see the changes that were tried of these rules; each is proved to make no difference:")
	}
	d.section(p, unreached, "Not reached before the run was stopped:")
	d.unfit(p)
	d.totals(p)
	if o.Quiet {
		p.line("", shortCaution)
	} else {
		p.line("", "Cautions:")
		for _, c := range d.Cautions {
			p.line("  - ", c)
		}
		p.blank()
	}
	d.closing(p)
	_, err := io.WriteString(w, p.b.String())
	return err
}

// section lists the rules of one standing.
func (d *Strength) section(p *page, want ruleStanding, title string) {
	some := false
	for i := range d.Rules {
		r := &d.Rules[i]
		if r.standing() != want {
			continue
		}
		if !some {
			p.line("", title)
			p.blank()
		}
		some = true
		r.write(p, want != unreached)
	}
	if some {
		p.blank()
	}
}

// write tells one rule, who depends on it, and what goes unnoticed.
func (r *StrengthRule) write(p *page, mutants bool) {
	text := r.Text + " [" + r.Kind + "]"
	if r.place != "" {
		text = r.place + ": " + text
	}
	p.block(indent(2), indent(4), text)
	if !mutants {
		return
	}
	if n := len(r.Requirements); n > 0 {
		const most = 2
		var names []string
		for _, name := range r.Requirements[:min(n, most)] {
			names = append(names, "\""+name+"\"")
		}
		if n > most {
			names = append(names, fmt.Sprintf("%d more", n-most))
		}
		p.block(indent(6), indent(8), "needed for "+joined(names))
	}
	r.fate(p, "unnoticed: ", strength.Survives, func(*StrengthMutant) string { return "" })
	r.fate(p, "only a built-in check notices: ", strength.CaughtByCheck, func(m *StrengthMutant) string { return " [" + m.By + "]" })
	r.fate(p, "undecided: ", strength.Undecided, func(*StrengthMutant) string { return "" })
	r.fate(p, "makes no difference: ", strength.Same, func(m *StrengthMutant) string { return ", as " + m.Why })
}

// fate lists the mutants of one fate. Equal changes of several instances are one, with the instances.
func (r *StrengthRule) fate(p *page, lead string, want strength.Fate, more func(*StrengthMutant) string) {
	var changes []string
	where := map[string][]string{}
	for i := range r.Mutants {
		m := &r.Mutants[i]
		if m.fate != want {
			continue
		}
		text := m.Change + more(m)
		if !slices.Contains(changes, text) {
			changes = append(changes, text)
		}
		if m.Where != "" {
			where[text] = append(where[text], m.Where)
		}
	}
	for i, text := range changes {
		if in := where[text]; len(in) > 0 && len(in) < r.instances() {
			changes[i] += " (" + few(in) + ")"
		} else if len(in) > 1 {
			changes[i] += fmt.Sprintf(" (all %d alike)", len(in))
		}
	}
	if len(changes) > 0 {
		p.block(indent(6), indent(8), lead+strings.Join(changes, "; "))
	}
}

// instances is the number of instances of the rule.
func (r *StrengthRule) instances() int {
	seen := map[string]bool{}
	for i := range r.Mutants {
		seen[r.Mutants[i].Where] = true
	}
	return len(seen)
}

// few names the first of a list.
func few(names []string) string {
	const most = 3
	if len(names) <= most {
		return joined(names)
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
}

// unfit lists the requirements that could not notice anything.
func (d *Strength) unfit(p *page) {
	if len(d.Unfit) == 0 {
		return
	}
	p.line("", "These requirements notice nothing here, because the site itself does not hold to them, or that is not decided:")
	for _, name := range d.Unfit {
		p.line("  - ", name)
	}
	p.blank()
}

// totals tells the figures.
func (d *Strength) totals(p *page) {
	p.line("", "Mutants: sites with one small change of a rule each.")
	p.line(indent(2), d.Total.text())
	if len(d.Safety) > 0 {
		p.line("", "Of these, what lights do under an alarm, a lost supply or a fault, and flashing:")
	}
	for i := range d.Safety {
		c := &d.Safety[i]
		p.block(indent(2), indent(4), c.Of+": "+c.text())
	}
	p.blank()
}

// text tells a count.
func (c *StrengthCount) text() string {
	text := fmt.Sprintf("%s, of which %d can make no difference; of the other %d a requirement catches %d", count(c.Mutants, "mutant"), c.Equivalent, c.Seen(), c.Caught)
	if c.Seen() > 0 {
		text += fmt.Sprintf(" (%d %%)", 100*c.Caught/c.Seen())
	}
	if c.ByPacks > 0 {
		text += fmt.Sprintf(", %d of them one of a pack", c.ByPacks)
	}
	text += fmt.Sprintf("; only a built-in check catches %d", c.ByChecks)
	text += fmt.Sprintf("; %d unnoticed", c.Survive)
	if c.Undecided > 0 {
		text += fmt.Sprintf("; %d undecided", c.Undecided)
	}
	if c.NotReached > 0 {
		text += fmt.Sprintf("; %d not reached", c.NotReached)
	}
	return text + "."
}

// closing is the last line.
func (d *Strength) closing(p *page) {
	n := map[ruleStanding]int{}
	for i := range d.Rules {
		n[d.Rules[i].standing()]++
	}
	text := fmt.Sprintf("%s: of %s, requirements depend on %d, on %d of them in every respect tried; on %d none depends", d.Site,
		count(len(d.Rules), "rule"), n[inPart]+n[wholly], n[wholly], n[independent])
	if n[invisible] > 0 {
		text += fmt.Sprintf("; on %d nothing can", n[invisible])
	}
	if d.Stopped {
		text += "; stopped early"
	}
	p.line("", text+".")
}
