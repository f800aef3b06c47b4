// Slices that are equal up to names are searched once.

package checker

import (
	"context"
	"slices"
	"sync"

	"lampwarden/checker/machine"
)

// forms remembers the answers by the canonical form of the system (machine.System.Form), compared as a whole.
type forms struct {
	mu   sync.Mutex
	seen map[string]*known
}

// known is the answer on one form. Whoever holds its lock is working on it.
type known struct {
	mu     sync.Mutex
	done   bool
	budget int // with which it was found; an undecided answer is taken up again with a greater one
	answer answer
}

// of gives the entry of a form.
func (f *forms) of(form string) *known {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.seen == nil {
		f.seen = map[string]*known{}
	}
	if f.seen[form] == nil {
		f.seen[form] = new(known)
	}
	return f.seen[form]
}

// once does refine, or takes the answer from an equal system: its labels then name the same steps here. What the search has cost
// is counted for each as if it were alone; Stats.Equal tells how many were not.
func (p *prover) once(ctx context.Context, sys *machine.System, a *answer) error {
	if p.opt.Apart {
		return p.refine(ctx, sys, a)
	}
	form := sys.Form()
	if !p.opt.Share.takes(ctx, form) {
		return errElsewhere
	}
	k := p.forms.of(p.formKey(form))
	k.mu.Lock()
	defer k.mu.Unlock()
	if !k.done || k.answer.state == undecided && !k.answer.jumps && k.budget != p.budget {
		k.answer = answer{}
		if !p.recall(form, sys, &k.answer) {
			k.answer = answer{}
			if err := p.refine(ctx, sys, &k.answer); err != nil {
				return err
			}
			p.keep(form, &k.answer)
		}
		k.done, k.budget = true, p.budget
		// An answer that was cut short by the end of the run says nothing of the form.
		k.done = k.answer.state != undecided || k.answer.jumps || !p.stopped(ctx)
		a.take(&k.answer)
		k.answer.stats.Recalled, k.answer.stats.Spared = 0, 0
		p.forget(&k.answer)
		return nil
	}
	a.take(&k.answer)
	for i := range a.proofs {
		a.proofs[i].sys = sys
	}
	a.stats.Equal, a.stats.Spared = a.stats.Equal+1, a.stats.Spared+k.answer.stats.Transitions
	if a.state != reached {
		return nil
	}
	var err error
	a.path, err = sys.Replay(a.labels)
	return err
}

// take takes over what a search has found, and adds its cost.
func (a *answer) take(b *answer) {
	spent := a.stats
	site, focus := a.site, a.focus
	*a = *b
	a.proofs = slices.Clone(b.proofs)
	a.site, a.focus = site, focus
	a.stats.Add(spent)
	a.stats.Slices, a.stats.Elapsed = spent.Slices, spent.Elapsed
}
