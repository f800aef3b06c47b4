// What the verdicts rest on, in plain words.

package checker

import (
	"fmt"
	"strings"

	"lampwarden/lang/site"
)

// assumed lists the site's assumptions and the standing simplifications that
// touch it (lang/SEMANTICS.md, end of section 2).
func assumed(s *site.Site) (out []string) {
	for i := range s.Assumptions {
		if a := &s.Assumptions[i]; a.Kind != site.Ladder { // the order of a sensor's thresholds goes without saying
			out = append(out, assumptionText(s, a))
		}
	}
	bare := 0
	for _, sp := range s.Supplies {
		switch {
		case sp.Battery && sp.Capacity == 0:
			out = append(out, fmt.Sprintf("%s has no capacity in the file and is taken never to run flat.", sp.Name))
		case sp.Battery && sp.ChargedBy == site.None:
			out = append(out, fmt.Sprintf("%s has no charger in the file and is taken never to run flat.", sp.Name))
		}
	}
	for _, c := range s.Circuits {
		if c.FedBy == site.None && !c.Output && !c.Colour {
			bare++
		}
	}
	switch {
	case bare == 1:
		out = append(out, "1 circuit names no supply and is taken to be always live.")
	case bare > 1:
		out = append(out, fmt.Sprintf("%d circuits name no supply and are taken to be always live.", bare))
	}
	if s.Controller.Down == nil {
		out = append(out, "The controller keeps running and does not restart.")
	}
	if faults := faultsOf(s); len(faults) > 0 {
		out = append(out, "Nothing else fails than what a requirement names after \"even with\": "+strings.Join(faults, ", ")+".")
	} else {
		out = append(out, "No lamp, sensor, button or control line fails.")
	}
	return append(out, assumedTime(s)...)
}

// faultsOf lists the faults that some requirement survives.
func faultsOf(s *site.Site) (out []string) {
	for _, in := range s.Inputs {
		if in.Fault {
			out = append(out, in.Name)
		}
	}
	return out
}

func assumptionText(s *site.Site, a *site.Assumption) string {
	names := make([]string, len(a.Inputs))
	for i, in := range a.Inputs {
		names[i] = s.Inputs[in].Name
	}
	list := strings.Join(names, ", ")
	switch a.Kind {
	case site.Spacing:
		return fmt.Sprintf("Changes of %s come at least %s apart.", list, a.D)
	case site.Dwell:
		state := "stays true"
		if !a.Value {
			state = "stays false"
		}
		return fmt.Sprintf("Once changed, %s %s for at least %s.", list, state, a.D)
	case site.Charge:
		return fmt.Sprintf("From full, %s lasts at least %s once its charger is lost (by its capacity and all that it can feed), and it is full again %s after that is back.",
			strings.TrimSuffix(names[0], " flat"), roughly(a.D), a.Recharge)
	}
	if a.N == 0 {
		return fmt.Sprintf("Taken never to be so: %s.", list)
	}
	return fmt.Sprintf("At most %d of %s at a time.", a.N, list)
}

// roughly gives a length of time rounded down to a part that a reader can use: "3 h 10 min", "10 min 5 s".
func roughly(d site.Millis) string {
	for _, unit := range []site.Millis{3_600_000, 60_000} {
		if part := unit / 60; d >= unit && d%unit >= part {
			return fmt.Sprintf("%s %s", d-d%unit, d%unit-d%part)
		} else if d >= unit {
			return (d - d%unit).String()
		}
	}
	return d.String()
}
