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
	faults   []site.InputID   // that may strike, at most atMost of them at a time
	atMost   int
	back     *site.Requirement // set for "can always return"
	jumps    bool              // keep all changes of the local clock
}

// answer is what the passes found.
type answer struct {
	state  state
	site   *site.Site    // on which it was found: the site, or the site on a date
	path   *machine.Path // of reached
	labels []uint64      // and its labels
	cost   int
	focus  []site.CircuitID
	more   bool    // of undecided: a greater budget may decide it
	why    string  // of undecided: which limit
	far    string  // of undecided: how far the search got
	jumps  bool    // of undecided: it has to be asked with all changes of the local clock
	timed  bool    // of safe: it hangs on how long the stretches between the times of day are
	proofs []proof // of safe, if certificates are asked for
	stats  Stats
}

// state of an answer.
type state uint8

const (
	undecided state = iota // a limit was reached
	safe                   // not reachable
	reached                // reachable, with a path
)

// Budgets. The questions are tried in rounds, each with a greater budget of stored
// zones than the one before, so that hard questions do not keep easy ones waiting;
// the joined zones are tried when a budget runs out.
const (
	firstBudget = 20_000
	nextBudget  = 8 // times the one before
	hullBudget  = 20_000
	workPerZone = 100              // successors allowed for each zone of a budget
	relaxedWork = 15 * firstBudget // successors allowed in the first round while clocks are relaxed
)

// decide answers a question, on every date of the year if it reads the sun.
func (p *prover) decide(ctx context.Context, q question) (a answer, err error) {
	start := time.Now()
	defer func() { a.stats.Elapsed, a.stats.Slices = time.Since(start), 1 }()
	if len(p.site.Dates) > 0 {
		return p.decideYear(ctx, q)
	}
	return p.decideOn(ctx, p.site, q)
}

// decideOn answers a question on a site that is the same on all dates, or on one of its dates: first on the conditional
// slice, which can only prove, then on the structural one.
func (p *prover) decideOn(ctx context.Context, s *site.Site, q question) (a answer, err error) {
	if q.back != nil {
		return p.wayBack(ctx, s, q)
	}
	defer func() { a.site = s }()
	if safe, err := p.guided(ctx, s, q, &a); safe || err != nil {
		return a, err
	}
	if free := machine.Conditional(s, p.setters, q.piece.Given); free != nil && !p.opt.Structural {
		if sl := p.slice(s, q, free); len(sl.Free) > 0 {
			if err := p.search(ctx, s, q, free, &a); err != nil {
				return a, err
			}
			if a.state == safe {
				a.stats.ByConditional++
				return a, nil
			}
			a = answer{stats: a.stats}
		}
	}
	return a, p.search(ctx, s, q, nil, &a)
}

// search answers a question on a slice with free setters, or on the structural one. It leaves out the changes of the
// local clock that only make a stretch of the day longer or shorter, as long as no such length is read.
func (p *prover) search(ctx context.Context, s *site.Site, q question, free func(site.CircuitID, site.ModeID) bool, a *answer) error {
	for {
		sys, err := machine.New(p.slice(s, q, free), q.piece.Observer, q.goal)
		if err != nil { // a slice with free setters that is too wide is left to the structural one, which says so
			a.why = err.Error()
			return nil
		}
		a.focus = sys.Lamps()
		if err := p.once(ctx, sys, a); err != nil || !a.jumps {
			return err
		}
		q.jumps, a.jumps = true, false
	}
}

// slice builds the structural slice of a question, or with free setters the
// conditional one.
func (p *prover) slice(s *site.Site, q question, free func(site.CircuitID, site.ModeID) bool) *machine.Slice {
	return machine.NewSlice(s, p.setters, machine.Question{
		Exprs: slices.Concat(q.piece.Observer.Exprs, q.piece.Observer.Reads(), p.whole), Requests: q.requests, Faults: q.faults, AtMost: q.atMost, Free: free, Causes: q.piece.Observer.Causes,
		Together: q.back != nil, Jumps: q.jumps || q.back != nil,
	})
}

// refine searches a system with few clocks and adds those that matter: it starts
// with most clocks relaxed; what is not reached so is not reachable. A path that is
// found is timed with the constraints of all clocks; if that works it is real, and
// of least cost, because the abstract system has every behaviour of the slice. If
// not, the clocks of the contradiction come back, long ones first as cooling ones,
// and the search starts again. So they all do when the search takes too long, since
// relaxed clocks can make it longer than it is without. With all clocks exact it is
// the exact search, so it ends with an answer or at a limit.
func (p *prover) refine(ctx context.Context, sys *machine.System, a *answer) error {
	relaxed, cooling := sys.Coarsest(), uint64(0)
	if p.opt.AllClocks {
		relaxed = 0
	}
	for {
		if sys.WantsJumps(relaxed, cooling) {
			a.jumps = true
			return nil
		}
		sys.Abstract(relaxed, cooling)
		abstract := relaxed|cooling != 0
		res, set, done := p.explore(ctx, sys, abstract, a)
		switch {
		case done || res.Status == explore.Exhausted && !res.BadSeen:
			a.state, a.timed = safe, sys.TimesOfDay(relaxed)
			if p.opt.Certify != nil {
				a.proofs = []proof{{found: sys, sys: sys, relaxed: relaxed, cooling: cooling, each: set}}
			}
			return nil
		case !res.BadSeen && abstract && tooLarge(res.Status) && !p.brief:
			relaxed, cooling = 0, 0
			continue
		case !res.BadSeen:
			a.why = res.Status.String()
			if a.far = ""; res.Stats.Stored > 0 {
				a.far = fmt.Sprintf("%d zones in %d discrete states", res.Stats.Stored, res.Stats.DiscreteStates)
			}
			a.more = p.budgeted(res.Status)
			return nil
		case !sys.Replayable():
			a.why = "a step of the search branches too widely to be replayed"
			return nil
		}
		a.labels = labels(res.Path)
		path, err := sys.Replay(a.labels)
		if err != nil {
			return err
		}
		clash := trace.Conflict(path)
		if clash == 0 {
			a.state, a.path, a.cost = reached, path, res.Path[len(res.Path)-1].Cost
			return nil
		}
		if clash&(relaxed|cooling) == 0 {
			return &trace.MismatchError{What: "a path whose own clocks contradict it"}
		}
		if back := clash & relaxed; back != 0 {
			relaxed, cooling = relaxed&^back, cooling|back&sys.Coolable()
		} else {
			cooling &^= clash
		}
	}
}

// tooLarge tells whether a search stopped because there was too much to search.
func tooLarge(st explore.Status) bool {
	return st == explore.LimitStates || st == explore.LimitWork || st == explore.LimitMemory
}

// explore looks for a bad state with the clocks as relaxed now, and when the budget
// of an exact search runs out with joined zones, which can only prove (done).
func (p *prover) explore(ctx context.Context, sys *machine.System, abstract bool, a *answer) (res explore.Result, set states, done bool) {
	opt := p.limits(p.budget)
	opt.StopAtBad, opt.KeepStates = true, p.opt.Certify != nil
	if abstract {
		opt.MaxTransitions = p.work
		if most := p.opt.work; most > 0 {
			opt.MaxTransitions = min(opt.MaxTransitions, most)
		}
	}
	res = explore.Run(ctx, sys, opt)
	a.count(res.Stats)
	if abstract || !p.budgeted(res.Status) || p.budget != firstBudget {
		return res, res.Each, false
	}
	opt = p.limits(hullBudget)
	opt.StopAtBad = true
	opt.KeepStates = p.opt.Certify != nil
	h := explore.Hull(ctx, sys, opt)
	a.count(h.Stats)
	if h.Verdict == explore.Proved {
		a.stats.ByHull++
	}
	return res, h.Each, h.Verdict == explore.Proved
}

// budgeted tells whether a search stopped at the budget of the round, and not at a
// limit of the run.
func (p *prover) budgeted(st explore.Status) bool {
	return st == explore.LimitWork || st == explore.LimitStates && p.budget > 0 && (p.opt.Limits.States == 0 || p.budget < p.opt.Limits.States)
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
		o.MaxBytes = max(1, p.opt.Limits.Memory/int64(p.share))
	}
	if budget > 0 && (o.MaxStates == 0 || budget < o.MaxStates) {
		o.MaxStates, o.MaxTransitions = budget, workPerZone*budget
	}
	if most := p.opt.work; most > 0 && (o.MaxTransitions == 0 || most < o.MaxTransitions) {
		o.MaxTransitions = most
	}
	return o
}
