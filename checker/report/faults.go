// The faults that a requirement has to stand.

package report

import (
	"fmt"
	"slices"
	"strings"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// Fault is a fault of a requirement that struck in its story.
type Fault struct {
	Name  string         `json:"name"`
	Clock string         `json:"clock"` // since when
	Since rehearse.Nanos `json:"sinceNs"`
	Until string         `json:"until,omitempty"` // wall-clock stamp; "" if it is still there where the story ends
}

// fault names a fault: "hall_pir stuck on", "mains lost".
func (t *teller) fault(id site.InputID) string {
	in := &t.s.Inputs[id]
	switch in.Kind {
	case site.Failure:
		return source.Escape(in.Name)
	case site.Flatness:
		return t.supplyOf(id) + " flat"
	}
	return t.expr(&site.Expr{Op: site.OpInput, Input: id})
}

// faults names all faults of a requirement.
func (t *teller) faults(r *site.Requirement) []string {
	var out []string
	for _, id := range r.Faults {
		out = append(out, t.fault(id))
	}
	return out
}

// even says which faults a requirement has to stand: "even with any 1 of: mains lost, lamp failure (any of 12 circuits)". At most
// so many are named; "" if there are none.
func (t *teller) even(r *site.Requirement, most int) string {
	if len(r.Faults) == 0 {
		return ""
	}
	var words []string
	circuits := t.failures(r)
	if len(circuits) < 3 {
		circuits = nil
	}
	for _, id := range r.Faults {
		if !slices.Contains(circuits, id) {
			words = append(words, t.fault(id))
		}
	}
	if n := len(circuits); n > 0 {
		words = append(words, fmt.Sprintf("lamp failure (any of %d circuits)", n))
	}
	if n := len(words); n > most+1 {
		words = append(words[:most:most], fmt.Sprintf("%d more", n-most))
	}
	switch list := strings.Join(words, ", "); {
	case len(r.Faults) == 1:
		return "even with " + list
	case r.AtMost >= len(r.Faults):
		return "even with all of: " + list
	default:
		return fmt.Sprintf("even with any %d of: %s", r.AtMost, list)
	}
}

// failures lists those faults of a requirement that are failures of one circuit.
func (t *teller) failures(r *site.Requirement) (out []site.InputID) {
	for _, id := range r.Faults {
		own := func(c site.Circuit) bool {
			return t.s.Inputs[id].Kind == site.Failure && t.s.Inputs[id].Name == c.Name+" failed"
		}
		if slices.ContainsFunc(t.s.Circuits, own) {
			out = append(out, id)
		}
	}
	return out
}

// struck lists the faults that a requirement speaks of and that struck in a run up to a time.
func (t *teller) struck(tl *rehearse.Timeline, r *site.Requirement, until rehearse.Nanos) []Fault {
	var out []Fault
	since := func(id site.InputID, at rehearse.Nanos) {
		if slices.Contains(r.Faults, id) {
			out = append(out, Fault{Name: t.fault(id), Clock: moment(tl, at), Since: at})
		}
	}
	for _, id := range tl.Script.Initial {
		since(id, 0)
	}
	for _, ev := range tl.Script.Events {
		switch {
		case ev.At > until || t.s.Inputs[ev.Input].Kind.IsEvent():
		case ev.Value:
			since(ev.Input, ev.At)
		default:
			name := t.fault(ev.Input)
			for i := range out {
				if out[i].Name == name && out[i].Until == "" {
					out[i].Until = moment(tl, ev.At)
				}
			}
		}
	}
	return out
}

// faultLine says in a sentence which faults struck; "" for a requirement without.
func (f *Failure) faultLine() string {
	if !f.mayFault {
		return ""
	}
	if len(f.Faults) == 0 {
		return "No fault is needed for this: in this story none of them strikes."
	}
	var words []string
	for _, x := range f.Faults {
		text := x.Name + " from " + x.Clock + " on"
		if x.Until != "" {
			text = x.Name + " from " + x.Clock + " to " + x.Until
		}
		words = append(words, text)
	}
	return "What failed here: " + joined(words) + "."
}
