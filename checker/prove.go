// Package checker proves a site's requirements over every order and timing of
// events, or finds the shortest counterexample.
//
// Data flows one way: a requirement is split into pieces (checker/observe), each
// piece gets the slice of the site that can influence it, compiled to timed
// machines (checker/machine), which are explored over zones (checker/explore). A
// path to an error is timed, replayed on the whole site by the interpreter and
// shortened (checker/trace, checker/rehearse). Nothing that the interpreter does
// not confirm is ever reported as a failure.
package checker

import (
	"context"
	"errors"
	"runtime"
	"sync"
	"sync/atomic"
	"time"

	"lampwarden/checker/machine"
	"lampwarden/checker/observe"
	"lampwarden/checker/strength"
	"lampwarden/checker/trace"
	"lampwarden/lang/site"
)

// Limits bound a proof run; a zero field is no limit. A question that meets one
// is undecided.
type Limits struct {
	States int           // zones stored in one search
	Memory int64         // bytes of all searches at work together
	Time   time.Duration // for the whole run
}

// Options of a proof run. The zero value proves everything with as many workers
// as there are processors and no limits.
type Options struct {
	Only       []int // indices of the requirements to prove; nil: all
	NoFindings bool  // leave the built-in findings out
	Limits     Limits
	Workers    int // 0: one for each processor
	// Structural turns conditional slices off, Unsliced all slicing, and AllClocks
	// starts with every clock instead of adding those that matter. They cost time and
	// are for tests that compare verdicts.
	// Apart searches equal slices each by itself.
	Structural, Unsliced, AllClocks, Apart bool
	// Checks, if not nil, tells which of the built-in checks to do.
	Checks func(strength.Check) bool
	// Whole leaves nothing out of counterexamples: they are confirmed, but not shortened.
	Whole bool
	// Progress, if not nil, is called after each question with the number done and
	// the number known so far; from several goroutines, one at a time.
	Progress func(done, total int)
	// Share, if set, does only a part of the work and keeps its answers in the Cache, also those that stay open, so that a run with
	// Merge and the caches of all parts gives the report.
	Share Share
	Merge bool
	// Cache, if not nil, keeps answers between runs; with Certify it is only written.
	Cache Cache
	// Certify, if not nil, is given the certificate of each part of each requirement that is decided by a proof; from
	// several goroutines, one at a time. It must write it at once. An error ends the run.
	Certify func(c *Certificate) error

	memory *memory // answers of other runs, or nil
	work   int     // successors for one search; 0: no limit
}

// prover is one run.
type prover struct {
	site     *site.Site
	opt      Options
	setters  [][]site.ModeID
	deadline time.Time
	enough   func() bool  // a counterexample that has been found is no longer made shorter
	whole    []*site.Expr // for Unsliced: expressions that name every mode and input

	budget int // zones for one search in this round; 0: only the limits of the run count
	work   int // successors for one search in this round while clocks are relaxed
	share  int // tasks at work together in this round: each has this part of the memory

	cancelled bool // the run was stopped from outside; known at its end

	mu          sync.Mutex
	first       bool // it is the first round
	brief       bool // this is a short try: nothing is tried when it is not enough
	forms       *forms
	dates       []*site.Site // the site on its dates, as they are needed
	done, total int
	failed      atomic.Pointer[error]
}

// Prove decides the requirements and findings of a site. The error is not nil
// only for an internal contradiction (a *trace.MismatchError, say); limits and
// cancellation give undecided verdicts in the report.
func Prove(ctx context.Context, s *site.Site, opt Options) (*Report, error) {
	start := time.Now()
	p := &prover{site: s, opt: opt, setters: machine.Setters(s), forms: new(forms)}
	if opt.Limits.Time > 0 {
		p.deadline = start.Add(opt.Limits.Time)
	}
	p.enough = func() bool {
		return opt.Whole || ctx.Err() != nil || !p.deadline.IsZero() && time.Now().After(p.deadline.Add(opt.Limits.Time/20))
	}
	if opt.memory != nil {
		p.forms = &opt.memory.forms
	}
	if opt.Unsliced {
		p.whole = everything(s)
	}
	outcomes := p.outcomes(ctx)
	findings := p.findings()
	var tasks []task
	for _, o := range outcomes {
		tasks = append(tasks, o.tasks(p)...)
	}
	for _, f := range findings {
		tasks = append(tasks, f.run)
	}
	p.rounds(ctx, tasks)
	p.cancelled = ctx.Err() != nil
	rep := &Report{Site: s, Assumed: assumed(s), Cancelled: p.cancelled}
	for _, o := range outcomes {
		out, err := o.outcome(p)
		if err != nil {
			return nil, err
		}
		rep.Outcomes = append(rep.Outcomes, out)
		rep.Stats.Add(out.Stats)
		if v := o.vacuity(p); v != nil {
			rep.Findings = append(rep.Findings, *v)
		}
	}
	for _, f := range findings {
		rep.Findings = append(rep.Findings, f.found...)
		rep.Checks.Add(f.stats)
	}
	rep.Stats.Add(rep.Checks)
	rep.Stats.Elapsed = time.Since(start)
	if e := p.failed.Load(); e != nil {
		return nil, *e
	}
	return rep, nil
}

func (p *prover) workers() int {
	if p.opt.Workers > 0 {
		return p.opt.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// task decides one question, or says that it may with a greater budget.
type task func(context.Context) (again bool, err error)

// rounds does the tasks with growing budgets until all are decided or a limit of
// the run is reached.
func (p *prover) rounds(ctx context.Context, tasks []task) {
	p.total = len(tasks)
	p.budget, p.work, p.first = firstBudget, relaxedWork, true
	for ; ; p.budget, p.work = p.budget*nextBudget, p.work*nextBudget {
		if most := p.opt.Limits.States; most > 0 && p.budget >= most || p.budget > 1<<30 || p.opt.work > 0 && !p.first && workPerZone*p.budget >= p.opt.work {
			p.budget = 0 // from here on only the limits of the run count
		}
		tasks = p.run(ctx, tasks)
		p.first = false
		if len(tasks) == 0 || p.budget == 0 || p.stopped(ctx) {
			return
		}
	}
}

// stopped tells whether the run is over before its time.
func (p *prover) stopped(ctx context.Context) bool {
	return ctx.Err() != nil || p.failed.Load() != nil || !p.deadline.IsZero() && time.Now().After(p.deadline)
}

// run does the tasks, several at a time, and returns those to do again, in order.
// Each task writes its own result, so that the report is the same for any number of
// workers.
func (p *prover) run(ctx context.Context, tasks []task) (again []task) {
	var next atomic.Int64
	var wg sync.WaitGroup
	repeat := make([]bool, len(tasks))
	p.share = min(p.workers(), len(tasks))
	for range p.share {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= len(tasks) || p.stopped(ctx) {
					return
				}
				more, err := tasks[i](p.mine(ctx))
				if errors.Is(err, errElsewhere) {
					more, err = false, nil
				}
				if err != nil {
					p.failed.CompareAndSwap(nil, &err)
					return
				}
				if repeat[i] = more; !more {
					p.progress()
				}
			}
		})
	}
	wg.Wait()
	for i, t := range tasks {
		if repeat[i] {
			again = append(again, t)
		}
	}
	return again
}

func (p *prover) progress() {
	if p.opt.Progress == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.done++
	p.opt.Progress(p.done, p.total)
}

// outcome collects the answers on one requirement.
type outcome struct {
	index   int
	req     *site.Requirement
	pieces  []observe.Piece
	answers []answer
	rise    *answer  // whether a "whenever" can happen; nil for other forms
	energy  *Outcome // of an energy requirement, which has no pieces
}

// maxSplit is how many pieces the requirements of a run are split into; those that come after are left whole.
const maxSplit = 50_000

// outcomes prepares the requirements that are asked for. One that it does not come to before the run is stopped has an answer
// that stays open.
func (p *prover) outcomes(ctx context.Context) (out []*outcome) {
	only := p.opt.Only
	if only == nil {
		for i := range p.site.Requirements {
			only = append(only, i)
		}
	}
	split := 0
	for _, i := range only {
		o := &outcome{index: i, req: &p.site.Requirements[i]}
		out = append(out, o)
		switch {
		case o.req.Form == site.Energy:
			o.energy = &Outcome{Reason: notStarted}
			continue
		case p.stopped(ctx):
			o.answers = make([]answer, 1)
			continue
		case split < maxSplit:
			o.pieces = observe.Pieces(p.simpler(o.req))
		default:
			o.pieces = []observe.Piece{observe.Whole(p.simpler(o.req))}
		}
		split += len(o.pieces)
		o.answers = make([]answer, len(o.pieces))
		if o.req.Form == site.Whenever {
			o.rise = new(answer)
		}
	}
	return out
}

// tasks gives one task for each piece, and one for vacuity.
func (o *outcome) tasks(p *prover) (out []task) {
	add := func(part int, piece observe.Piece, a *answer) {
		out = append(out, func(ctx context.Context) (again bool, err error) {
			spent := a.stats
			q := question{piece: piece, goal: machine.NoGoal(), faults: o.req.Faults, atMost: o.req.AtMost}
			if o.req.Form == site.CanReturn {
				q.back = p.simpler(o.req)
			}
			*a, err = p.decide(ctx, q)
			a.stats.Add(spent)
			a.stats.Slices = 1
			if part >= 0 && err == nil {
				err = p.certify(o.index, part, len(o.pieces), nil, a)
			}
			a.proofs = nil
			return a.more, err
		})
	}
	for i := range o.pieces {
		add(i, o.pieces[i], &o.answers[i])
	}
	if o.rise != nil {
		add(-1, observe.Piece{Observer: observe.Rise(o.req.A)}, o.rise)
	}
	if o.energy != nil {
		out = append(out, func(ctx context.Context) (again bool, err error) {
			*o.energy, again, err = p.decideEnergy(ctx, o.index)
			return again, err
		})
	}
	return out
}

// outcome puts the answers together. Of several counterexamples the one with the
// fewest events counts, then the one with the fewest steps, then the first.
func (o *outcome) outcome(p *prover) (Outcome, error) {
	if o.energy != nil {
		o.energy.Requirement = o.index
		return *o.energy, nil
	}
	out := Outcome{Requirement: o.index}
	var best *answer
	open := ""
	for i := range o.answers {
		a := &o.answers[i]
		out.Stats.Add(a.stats)
		if a.state == reached && (best == nil || shorter(a, best)) {
			best = a
		}
		if a.state == undecided && open == "" {
			open = p.reason(a)
		}
	}
	if o.rise != nil {
		out.Stats.Add(o.rise.stats)
	}
	possible := o.req.Form == site.Possible
	switch {
	case best != nil:
		ce, err := p.counterexample(o.req, best)
		if err != nil {
			return out, err
		}
		out.Verdict, out.Counterexample = Fails, ce
		if possible {
			out.Verdict = IsPossible
		}
	case open != "":
		out.Verdict, out.Reason = Undecided, open
	case possible:
		out.Verdict = Impossible
	case o.rise != nil && o.rise.state == safe:
		out.Verdict = Vacuous
	default:
		out.Verdict = Proved
	}
	return out, nil
}

// counterexample builds the one of an answer.
func (p *prover) counterexample(r *site.Requirement, a *answer) (*trace.Counterexample, error) {
	if r.Form == site.CanReturn {
		return trace.BuildWhole(a.site, a.path, a.focus, 0, trace.NoWayBack(r))
	}
	return trace.Build(a.site, a.path, a.focus, trace.Requirement(a.site, r), p.enough)
}

// reason says why an answer is undecided.
func (p *prover) reason(a *answer) string {
	why := a.why
	if a.more { // a greater budget was not tried
		why = "limit of time reached"
		if p.cancelled || p.deadline.IsZero() {
			why = "cancelled"
		}
	}
	switch {
	case why == "":
		return "not started before the run was stopped"
	case a.far != "":
		return why + " after " + a.far
	}
	return why
}

func shorter(a, b *answer) bool {
	if a.cost != b.cost {
		return a.cost < b.cost
	}
	return len(a.path.Steps) < len(b.path.Steps)
}
