// Proofs that keep only the modes that count, found by playing what goes wrong without the others.
//
// A free mode may ask for any of its own levels at any time (machine.Slice). So if a requirement can be proved with nearly all
// modes free, it hangs on the few that are kept: that a corridor is never dark needs only the two modes that light it by day
// and by night, whatever the thirty others ask for, as long as none of them can ask for darkness. Which ones are needed
// is found step by step. The search starts with those that are certainly active under the requirement's own
// condition. Each time it finds a way to the error, the interpreter plays the events of that way on the whole site: the modes that
// really decide the light there are kept from then on. That goes on until the error can not be reached, or nothing new is
// learnt. Since freeing only adds behaviour, this can only prove.

package checker

import (
	"context"
	"slices"

	"lampwarden/checker/machine"
	"lampwarden/checker/rehearse"
	"lampwarden/checker/trace"
	"lampwarden/lang/site"
)

// Bounds of guided: its searches are short, since it is only worth while if few modes are needed.
const (
	guidedTries  = 6
	guidedBudget = 2_000
)

// guided tries to prove that a question's bad state can not be reached.
func (p *prover) guided(ctx context.Context, s *site.Site, q question, a *answer) (proved bool, err error) {
	if p.opt.Structural || !p.first || q.goal.Win != nil || q.goal.Ambiguous != site.None || q.back != nil {
		return false, nil
	}
	kept := machine.Sure(s, q.piece.Given)
	budget := p.short()
	for range guidedTries {
		sl := p.slice(s, q, func(_ site.CircuitID, m site.ModeID) bool { return !kept[m] })
		if len(sl.Free) == 0 {
			return false, nil
		}
		sys, err := machine.New(sl, q.piece.Observer, q.goal)
		if err != nil {
			return false, nil // too wide: so is what else can be tried, and it says so
		}
		var one answer
		if err := budget.once(ctx, sys, &one); err != nil {
			return false, err
		}
		a.stats.Add(one.stats)
		switch one.state {
		case safe:
			a.state, a.site, a.timed, a.proofs = safe, s, one.timed, one.proofs
			a.stats.ByConditional++
			return true, nil
		case undecided:
			return false, nil
		}
		if !learn(s, sl, one.path, kept) {
			return false, nil
		}
	}
	return false, nil
}

// short is the prover with a small budget.
func (p *prover) short() *prover {
	q := &prover{site: p.site, opt: p.opt, setters: p.setters, deadline: p.deadline, whole: p.whole, budget: guidedBudget, work: relaxedWork / firstBudget * guidedBudget}
	q.forms, q.brief, q.share = p.forms, true, p.share
	return q
}

// learn plays a path's events on the whole site and adds the modes that decide the slice's circuits to those to keep. If these
// are kept already, it adds the free ones that may ask for darkness, which is what most requirements forbid. It tells
// whether there was anything to add.
func learn(s *site.Site, sl *machine.Slice, path *machine.Path, kept []bool) (more bool) {
	keep := func(m site.ModeID) {
		more = more || !kept[m]
		kept[m] = true
	}
	if sc, err := trace.Events(path); err == nil {
		if tl, err := rehearse.Run(s, sc); err == nil {
			for i := range tl.Steps {
				for _, c := range sl.Requests {
					for _, w := range tl.Reason(i, c).Winners {
						keep(w.Mode)
					}
				}
			}
		}
	}
	if more {
		return true
	}
	for _, c := range sl.Requests {
		for _, m := range sl.Free[c] {
			if darkens(s, c, m) {
				keep(m)
			}
		}
	}
	return more
}

// darkens tells whether a mode may ask the circuit to be off.
func darkens(s *site.Site, c site.CircuitID, m site.ModeID) bool {
	for _, st := range s.Modes[m].States {
		for _, sg := range st.Stages {
			for _, set := range sg.Settings {
				if slices.Contains(set.Circuits, c) && (set.Flashing || slices.ContainsFunc(set.Cases, func(x site.Case) bool { return x.Level == 0 })) {
					return true
				}
			}
		}
	}
	return false
}
