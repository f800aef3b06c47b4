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
	"lampwarden/checker/trace"
	"lampwarden/lang/site"
)

// question asks whether a bad state of a piece, or a goal of the machine, can be
// reached.
type question struct {
	piece    observe.Piece
	goal     machine.Goal
	requests []site.CircuitID // circuits whose request the goal reads
}

// answer is what the passes found.
type answer struct {
	state state
	path  *machine.Path // of reached
	cost  int
	focus []site.CircuitID
	why   string // of undecided: which limit, and how far
	stats Stats
}

// state of an answer.
type state uint8

const (
	undecided state = iota // a limit was reached
	safe                   // not reachable
	reached                // reachable, with a path
)

// Budgets in stored zones: of the first try with a set of clocks, of the joined
// zones tried when it runs out, and of everything on a conditional slice.
const (
	quickBudget       = 20_000
	hullBudget        = 100_000
	conditionalBudget = 20_000
)

// decide answers a question: first on the conditional slice, which can only prove,
// then on the structural one.
func (p *prover) decide(ctx context.Context, q question) (a answer, err error) {
	start := time.Now()
	defer func() { a.stats.Elapsed, a.stats.Slices = time.Since(start), 1 }()
	if free := machine.Conditional(p.site, p.setters, q.piece.Given); free != nil && !p.opt.Structural {
		if sl := p.slice(q, free); len(sl.Free) > 0 {
			// A slice that is too wide is left to the structural one, which is wider and says so.
			if sys, err := machine.New(sl, q.piece.Observer, q.goal); err == nil {
				if err := p.refine(ctx, sys, &a, conditionalBudget); err != nil {
					return a, err
				}
			}
			if a.state == safe {
				a.stats.ByConditional++
				return a, nil
			}
			a.state, a.path, a.why = undecided, nil, ""
		}
	}
	sys, err := machine.New(p.slice(q, nil), q.piece.Observer, q.goal)
	if err != nil {
		a.why = err.Error()
		return a, nil
	}
	a.focus = sys.Lamps()
	return a, p.refine(ctx, sys, &a, 0)
}

// slice builds the structural slice of a question, or with free setters the
// conditional one.
func (p *prover) slice(q question, free func(site.CircuitID, site.ModeID) bool) *machine.Slice {
	return machine.NewSlice(p.site, p.setters, slices.Concat(q.piece.Observer.Exprs, p.whole), q.requests, free)
}

// refine searches a system with few clocks and adds those that matter: it starts
// with most clocks relaxed; what is not reached so is not reachable. A path that is
// found is timed with the constraints of all clocks; if that works it is real, and
// of least cost, because the relaxed system has every behaviour of the slice. If
// not, the clocks of the contradiction come back and the search starts again. With
// all clocks back it is the exact search, so it ends with an answer or at a limit.
// (Counterexample-guided refinement, Clarke, Grumberg, Jha, Lu, Veith 2000, with
// clocks for predicates.) A budget of 0 means the limits of the run.
func (p *prover) refine(ctx context.Context, sys *machine.System, a *answer, budget int) error {
	relaxed := sys.Relaxable()
	if p.opt.AllClocks {
		relaxed = 0
	}
	for {
		sys.Relax(relaxed)
		res, done := p.search(ctx, sys, a, budget)
		switch {
		case done || res.Status == explore.Exhausted && !res.BadSeen:
			a.state = safe
			return nil
		case !res.BadSeen:
			a.why = fmt.Sprintf("%s after %d zones in %d discrete states", res.Status, res.Stats.Stored, res.Stats.DiscreteStates)
			return nil
		case !sys.Replayable():
			a.why = "a step of the search branches too widely to be replayed"
			return nil
		}
		path, err := sys.Replay(labels(res.Path))
		if err != nil {
			return err
		}
		clash := trace.Conflict(path)
		if clash == 0 {
			a.state, a.path, a.cost = reached, path, res.Path[len(res.Path)-1].Cost
			return nil
		}
		if clash&relaxed == 0 {
			return &trace.MismatchError{What: "a path whose own clocks contradict it"}
		}
		relaxed &^= clash
	}
}

// search looks for a bad state with the clocks as relaxed now: with a small budget
// first, then with joined zones, which can only prove (done), then with the whole
// budget.
func (p *prover) search(ctx context.Context, sys *machine.System, a *answer, budget int) (res explore.Result, done bool) {
	run := func(limit int) {
		opt := p.limits(limit)
		opt.StopAtBad = true
		res = explore.Run(ctx, sys, opt)
		a.count(res.Stats)
	}
	run(quickBudget)
	if res.Status != explore.LimitStates {
		return res, false
	}
	opt := p.limits(hullBudget)
	opt.StopAtBad = true
	h := explore.Hull(ctx, sys, opt)
	a.count(h.Stats)
	if h.Verdict == explore.Proved {
		a.stats.ByHull++
		return res, true
	}
	if budget == 0 || budget > quickBudget {
		run(budget)
	}
	return res, false
}

func labels(path []explore.Step) (out []uint64) {
	for _, st := range path {
		out = append(out, st.Label)
	}
	return out
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
