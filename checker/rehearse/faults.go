// Which runs count for a requirement (lang/SEMANTICS.md section 3, Faults).

package rehearse

import (
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// FaultError tells that a run does not count for a requirement: something fails in it that the requirement does not speak
// of, or too much at once.
type FaultError struct {
	At    Nanos        // since start-up
	Input site.InputID // the one that is true too much
	text  string
}

// Error says it in a sentence.
func (e *FaultError) Error() string { return e.text }

// CheckFaults tells whether a run of the script counts for the requirement: "an input marked Fault stays at rest in every
// run, but for the inputs that a requirement lists: at most AtMost of its Faults are true at start-up and after every
// change". r is nil for a finding: those are about runs without faults. The error is a *FaultError.
func (sc Script) CheckFaults(s *site.Site, r *site.Requirement) error {
	f := faults{s: s, r: r, values: make([]bool, len(s.Inputs))}
	for _, in := range sc.Initial {
		if why := f.strikes(in, true); why != "" {
			return &FaultError{0, in, fmt.Sprintf("at start-up input %q is true: %s", s.Inputs[in].Name, why)}
		}
	}
	for _, ev := range sc.Events {
		if s.Inputs[ev.Input].Kind.IsEvent() {
			continue
		}
		if why := f.strikes(ev.Input, ev.Value); why != "" {
			return &FaultError{ev.At, ev.Input, fmt.Sprintf("%s: input %q becomes true: %s", ev.At, s.Inputs[ev.Input].Name, why)}
		}
	}
	return nil
}

// faults is the rule of a requirement with the inputs as they are.
type faults struct {
	s      *site.Site
	r      *site.Requirement // nil: no faults
	values []bool
}

// listed is what the requirement lists.
func (f *faults) listed() []site.InputID {
	if f.r == nil {
		return nil
	}
	return f.r.Faults
}

// refuses tells why the input must not become true now, "" if it may.
func (f *faults) refuses(in site.InputID) string {
	switch {
	case slices.Contains(f.listed(), in):
		n := 1
		for _, k := range f.listed() {
			if k != in && f.values[k] {
				n++
			}
		}
		if n > f.r.AtMost {
			return fmt.Sprintf("the requirement stands %d of its faults at a time, not %d", f.r.AtMost, n)
		}
	case f.s.Inputs[in].Fault:
		return "it is a fault that the requirement does not list"
	}
	return ""
}

// strikes takes the input's new value, unless it is refused.
func (f *faults) strikes(in site.InputID, value bool) string {
	if value {
		if why := f.refuses(in); why != "" {
			return why
		}
	}
	f.values[in] = value
	return ""
}
