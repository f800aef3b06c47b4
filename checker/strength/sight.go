// What can influence the answer to a question: only questions that can see a change are asked again.

package strength

import (
	"slices"

	"lampwarden/checker/machine"
	"lampwarden/lang/site"
)

// sight is all of a site that can influence one question.
type sight struct {
	modes, bands []bool
	requests     []site.CircuitID
}

// sees tells whether a change touches something of it. setters are those of the circuits.
func (v *sight) sees(t *touch, setters [][]site.ModeID) bool {
	for i := 0; i+1 < len(t.together); i += 2 {
		m, n := t.together[i], t.together[i+1]
		if v.modes[m] && v.modes[n] && slices.ContainsFunc(v.requests, func(c site.CircuitID) bool {
			return slices.Contains(setters[c], m) && slices.Contains(setters[c], n)
		}) {
			return true
		}
	}
	return t.all ||
		slices.ContainsFunc(t.modes, func(m site.ModeID) bool { return v.modes[m] }) ||
		slices.ContainsFunc(t.bands, func(b site.BandID) bool { return v.bands[b] }) ||
		slices.ContainsFunc(t.circuits, func(c site.CircuitID) bool { return slices.Contains(v.requests, c) })
}

// sightOf gives what can influence conditions and the requests of circuits. That of a site serves for its mutants too: a mutant
// reads something else only where it was changed, and who sees none of that sees the same as before.
func sightOf(s *site.Site, setters [][]site.ModeID, exprs []*site.Expr, requests []site.CircuitID, faults []site.InputID) sight {
	sl := machine.NewSlice(s, setters, machine.Question{Exprs: exprs, Requests: requests, Faults: faults, AtMost: len(faults)})
	return sight{sl.Modes, sl.Bands, sl.Requests}
}

// conditions lists all that a requirement reads.
func conditions(r *site.Requirement) []*site.Expr {
	out := []*site.Expr{r.P, r.A, r.B, r.Until, r.Q, r.Since, r.During}
	if len(r.Draws) > 0 {
		out = append(out, &site.Expr{Op: site.OpSum, Terms: r.Draws})
	}
	for _, m := range r.Causes.Modes {
		out = append(out, &site.Expr{Op: site.OpMode, Mode: m})
	}
	for _, b := range r.Causes.Bands {
		out = append(out, &site.Expr{Op: site.OpBand, Band: b})
	}
	return slices.DeleteFunc(out, func(e *site.Expr) bool { return e == nil })
}

// unseen tells which modes nobody reads: no circuit's light, no requirement hangs on them.
func unseen(s *site.Site) []bool {
	var exprs []*site.Expr
	var faults []site.InputID
	for i := range s.Requirements {
		exprs = append(exprs, conditions(&s.Requirements[i])...)
		faults = append(faults, s.Requirements[i].Faults...)
	}
	for i := range s.Circuits {
		exprs = append(exprs, &site.Expr{Op: site.OpLight, Circuit: site.CircuitID(i), Lo: 1, Hi: site.Full})
	}
	seen := sightOf(s, settersOf(s), exprs, nil, faults).modes
	out := make([]bool, len(seen))
	for i := range seen {
		out[i] = !seen[i]
	}
	return out
}
