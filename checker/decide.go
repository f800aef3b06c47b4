// One question of reachability, decided by passes of growing cost.

package checker

import (
	"context"
	"fmt"
	"slices"
	"time"

	"lampwarden/checker/explore"
	"lampwarden/checker/machine"
	"lampwarden/checker/observe"
	"lampwarden/lang/site"
)

// question asks whether a bad state of a piece, or a goal of the machine, can be
// reached, and which of the goal's marks can be.
type question struct {
	piece    observe.Piece
	goal     machine.Goal
	requests []site.CircuitID // circuits whose request the goal reads
	marks    uint64           // wanted marks; 0: the question is about the bad state
}

// answer is what the passes found.
type answer struct {
	state state
	marks uint64 // marks surely seen
	never uint64 // marks surely never seen
	path  *machine.Path
	cost  int
	focus []site.CircuitID
	why   string // for open: which limit, and how far
	stats Stats
}

// state of an answer.
type state uint8

const (
	undecided state = iota // a limit was reached
	safe                   // not reachable
	reached                // reachable, with a path
)

// Budgets of the passes before the full exact search, in stored zones.
const (
	conditionalBudget = 20_000
	quickBudget       = 3_000
	hullBudget        = 200_000
)

// decide answers a question. Order: the conditional slice (exact, then joined
// zones), a quick exact search of the structural slice, joined zones on it, the
// full exact search. Only exact searches of the structural slice can say reached.
func (p *prover) decide(ctx context.Context, q question) (a answer, err error) {
	start := time.Now()
	defer func() { a.stats.Elapsed, a.stats.Slices = time.Since(start), 1 }()
	if q.marks == 0 && !p.opt.Structural {
		if done, err := p.conditional(ctx, q, &a); done || err != nil {
			return a, err
		}
	}
	sys, err := machine.New(p.slice(q, nil), q.piece.Observer, q.goal)
	if err != nil {
		a.why = err.Error()
		return a, nil
	}
	a.focus = sys.Lamps()
	opt := p.limits(quickBudget)
	opt.StopAtBad, opt.StopWhenMarks = q.marks == 0, q.marks
	res := explore.Run(ctx, sys, opt)
	a.count(res.Stats)
	if !res.Status.Conclusive() && res.Status != explore.Cancelled {
		if p.hull(ctx, sys, q, &a) {
			return a, nil
		}
		opt = p.limits(0)
		opt.StopAtBad, opt.StopWhenMarks = q.marks == 0, q.marks&^a.never
		res = explore.Run(ctx, sys, opt)
		a.count(res.Stats)
	}
	return a, a.exact(sys, q, res)
}

// slice builds the structural slice of a question, or with free setters the
// conditional one.
func (p *prover) slice(q question, free func(site.CircuitID, site.ModeID) bool) *machine.Slice {
	exprs := slices.Concat(q.piece.Observer.Exprs, p.whole)
	return machine.NewSlice(p.site, p.setters, exprs, q.requests, free)
}

// conditional tries to prove the question on the conditional slice.
func (p *prover) conditional(ctx context.Context, q question, a *answer) (done bool, err error) {
	free := machine.Conditional(p.site, p.setters, q.piece.Given)
	if free == nil {
		return false, nil
	}
	sl := p.slice(q, free)
	if len(sl.Free) == 0 {
		return false, nil
	}
	sys, err := machine.New(sl, q.piece.Observer, q.goal)
	if err != nil {
		return false, nil // too wide: the structural slice is wider still, and says so
	}
	opt := p.limits(conditionalBudget)
	opt.StopAtBad = true
	res := explore.Run(ctx, sys, opt)
	a.count(res.Stats)
	switch res.Status {
	case explore.Exhausted:
		a.state = safe
	case explore.LimitStates:
		opt = p.limits(hullBudget)
		opt.StopAtBad = true
		h := explore.Hull(ctx, sys, opt)
		a.count(h.Stats)
		if h.Verdict == explore.Proved {
			a.state = safe
		}
	}
	if a.state == safe {
		a.stats.ByConditional++
	}
	return a.state == safe, nil
}

// hull tries joined zones on the structural slice.
func (p *prover) hull(ctx context.Context, sys *machine.System, q question, a *answer) (done bool) {
	opt := p.limits(hullBudget)
	opt.StopAtBad = q.marks == 0
	h := explore.Hull(ctx, sys, opt)
	a.count(h.Stats)
	if h.Status != explore.Exhausted {
		return false
	}
	a.never = q.marks &^ h.Marks
	if q.marks == 0 && h.Verdict == explore.Proved {
		a.state = safe
		a.stats.ByHull++
		return true
	}
	return false
}

// exact reads the result of an exact search of the structural slice.
func (a *answer) exact(sys *machine.System, q question, res explore.Result) error {
	a.marks = res.Marks & q.marks
	switch {
	case res.BadSeen && q.marks == 0:
		labels := make([]uint64, len(res.Path))
		for i, st := range res.Path {
			labels[i] = st.Label
			a.cost = st.Cost
		}
		path, err := sys.Replay(labels)
		if err != nil {
			return err
		}
		a.state, a.path = reached, path
	case res.Status == explore.Exhausted:
		a.state = safe
		a.never = q.marks &^ a.marks
	case res.Status == explore.AllMarks:
		a.state = safe
	default:
		a.why = fmt.Sprintf("%s after %d zones in %d discrete states", res.Status, res.Stats.Stored, res.Stats.DiscreteStates)
	}
	if a.state != undecided {
		a.stats.ByExact++
	}
	return nil
}

// count adds a search to the answer's cost.
func (a *answer) count(s explore.Stats) {
	a.stats.Stored += s.Stored
	a.stats.Visited += s.Visited
	a.stats.Transitions += s.Transitions
	a.stats.Bytes = max(a.stats.Bytes, s.Bytes)
}

// limits gives the explorer's options with the run's limits and a budget of zones
// (0: the run's own).
func (p *prover) limits(budget int) explore.Options {
	o := explore.Options{MaxStates: p.opt.Limits.States}
	if !p.deadline.IsZero() {
		o.MaxTime = max(1, time.Until(p.deadline))
	}
	if p.opt.Limits.Memory > 0 {
		o.MaxBytes = max(1, p.opt.Limits.Memory/int64(p.workers()))
	}
	if budget > 0 && (o.MaxStates == 0 || budget < o.MaxStates) {
		o.MaxStates = budget
	}
	return o
}
