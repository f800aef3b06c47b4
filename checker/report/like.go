// Instances of one requirement that fail alike: only the first is told in full.

package report

import (
	"fmt"
	"regexp"
	"strings"
)

// aName is a word that is not a number, a unit's number or a place.
var aName = regexp.MustCompile(`[\p{L}_][\p{L}\p{N}_]*`)

// shape is equal for instances of one written requirement whose stories go through the same lines of the file at the
// same times; the names in them may differ.
func (r *Requirement) shape() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s %s %t\n", r.Place, r.Verdict, r.AnyTime)
	if r.Place == "" || r.Story == nil {
		b.WriteString(r.Name)
		return b.String()
	}
	for i := range r.Story.Entries {
		e := &r.Story.Entries[i]
		fmt.Fprintf(&b, "%d %d %d %d %d %d\n", e.At, len(e.Causes), len(e.Modes), len(e.Lights), e.Others, e.Skipped)
		for _, l := range e.lines(map[string]bool{}) {
			b.WriteString(aName.ReplaceAllString(l.text, "x"))
		}
	}
	if r.Failure != nil {
		fmt.Fprintf(&b, "%s %d %d", r.Failure.Part, r.Failure.At, len(r.Failure.Lights))
	}
	return b.String()
}

// writeLike tells a requirement that fails like one told before.
func (r *Requirement) writeLike(p *page, like *Requirement) {
	p.styled(r.style(), r.Verdict, verdictColumn, r.Name)
	p.line(indent(2), fmt.Sprintf("Like \"%s\" above: the same lines of the file at the same times.", like.Name))
	p.blank()
}
