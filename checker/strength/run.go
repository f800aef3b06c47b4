// The survey: every mutant is proved again, as far as a requirement can see its change.

package strength

import (
	"cmp"
	"context"
	"strings"
	"sync"
	"sync/atomic"

	"lampwarden/lang/site"
)

// Options of a survey.
type Options struct {
	Workers int // at least 1
	Work    int // most successors of one search; 0: a few times what the site itself took
	// Only, if not nil, tells which mutants to look at, by their index; the others stay NotReached.
	Only func(i int, m *Mutant) bool
	// Requirements, if not nil, tells which requirements may catch something.
	Requirements func(*site.Requirement) bool
	// NoChecks leaves out the built-in checks.
	NoChecks bool
	// Progress, if not nil, is called after each mutant; from several goroutines, one at a time.
	Progress func(done, total int)
}

// OfPack tells whether a requirement comes from a pack, which its name says.
func OfPack(r *site.Requirement) bool {
	before, _, ok := strings.Cut(r.Name, ": ")
	return ok && strings.HasSuffix(before, " pack")
}

// survey is one run.
type survey struct {
	*Report
	judge   Judge
	opt     Options
	setters [][]site.ModeID
	base    []standing // of the requirements
	checks  map[findingKey]bool
	looks   looks

	mu          sync.Mutex
	done, total int
	failed      error
}

// standing is how a requirement stands on the site itself.
type standing struct {
	holds bool
	work  int
	sight sight
}

// Run proves the site, then every mutant of its rules. A stopped run gives what is known so far. The error is the judge's, an
// internal contradiction.
func Run(ctx context.Context, s *site.Site, judge Judge, opt Options) (*Report, error) {
	v := &survey{Report: &Report{Site: s}, judge: judge, opt: opt, setters: settersOf(s)}
	v.Rules, v.Mutants = Seeded(s)
	v.Outcomes = make([]Outcome, len(v.Mutants))
	for i := range v.Outcomes {
		v.Outcomes[i].Requirement = site.None
	}
	v.looks = looks{s: s, setters: v.setters, known: map[string]*sight{}}
	v.original(ctx)
	v.total = len(v.Mutants)
	v.parallel(ctx, len(v.Rules), func(rule int) { v.rule(ctx, rule) })
	v.Stopped = ctx.Err() != nil
	return v.Report, v.failed
}

// parallel does n things, several at a time, until the run is over before its time. Each writes its own results only.
func (v *survey) parallel(ctx context.Context, n int, do func(int)) {
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(max(v.opt.Workers, 1), n) {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= n || v.over(ctx) {
					return
				}
				do(i)
			}
		})
	}
	wg.Wait()
}

func (v *survey) over(ctx context.Context) bool {
	v.mu.Lock()
	defer v.mu.Unlock()
	return v.failed != nil || ctx.Err() != nil
}

func (v *survey) fail(err error) {
	v.mu.Lock()
	defer v.mu.Unlock()
	if v.failed == nil {
		v.failed = err
	}
}

func (v *survey) progress() {
	v.mu.Lock()
	defer v.mu.Unlock()
	v.done++
	if v.opt.Progress != nil {
		v.opt.Progress(v.done, v.total)
	}
}

// original proves the site itself.
func (v *survey) original(ctx context.Context) {
	v.base = make([]standing, len(v.Site.Requirements))
	v.parallel(ctx, len(v.base)+1, func(i int) {
		if i == len(v.base) {
			v.originalChecks(ctx)
			return
		}
		r := &v.Site.Requirements[i]
		b := &v.base[i]
		if v.opt.Requirements != nil && !v.opt.Requirements(r) {
			return
		}
		a, work, err := v.judge.Requirement(ctx, v.Site, i, cmp.Or(v.opt.Work, most))
		if err != nil {
			v.fail(err)
			return
		}
		*b = standing{a == Holds, work, sightOf(v.Site, v.setters, conditions(r), nil, r.Faults)}
	})
	for i := range v.base {
		r := &v.Site.Requirements[i]
		if !v.base[i].holds && (v.opt.Requirements == nil || v.opt.Requirements(r)) {
			v.Unfit = append(v.Unfit, i)
		}
		if OfPack(r) {
			v.Packs++
		}
	}
}

// rule decides the mutants of one rule, one after another: who caught one is asked first about the next.
func (v *survey) rule(ctx context.Context, rule int) {
	var hints []int
	for _, i := range v.Rules[rule].Mutants {
		if v.over(ctx) {
			return
		}
		if v.opt.Only != nil && !v.opt.Only(i, &v.Mutants[i]) {
			continue
		}
		out, err := v.mutant(ctx, &v.Mutants[i], hints)
		if err != nil {
			v.fail(err)
			return
		}
		v.Outcomes[i] = out
		if out.Fate == Caught {
			hints = append(hints, out.Requirement)
		}
		v.progress()
	}
}

// mutant decides one mutant.
func (v *survey) mutant(ctx context.Context, m *Mutant, hints []int) (Outcome, error) {
	out := Outcome{Requirement: site.None}
	if m.Same != "" {
		out.Fate = Same
		return out, nil
	}
	s := m.Site(v.Site)
	nought := ""
	for _, i := range v.ask(m, hints) {
		a, _, err := v.judge.Requirement(ctx, s, i, v.work(i))
		if err != nil {
			return out, &mutantError{v.Rules[m.Rule].Text, m.What, err}
		}
		switch {
		case a == Breaks:
			out.Fate, out.Requirement, out.Pack, out.Open = Caught, i, OfPack(&v.Site.Requirements[i]), nil
			return out, nil
		case ctx.Err() != nil:
			return out, nil
		case a == SaysNought:
			nought = Vacuous
		case a == Open:
			out.Open = append(out.Open, i)
		}
	}
	code, open := nought, false
	if code == "" && !v.opt.NoChecks {
		var err error
		if code, open, err = v.check(ctx, m, s); err != nil {
			return out, &mutantError{v.Rules[m.Rule].Text, m.What, err}
		}
	}
	switch {
	case code != "":
		out.Fate, out.Check = CaughtByCheck, code
	case ctx.Err() != nil:
	case open || len(out.Open) > 0:
		out.Fate = Undecided
	default:
		out.Fate = Survives
	}
	return out, nil
}

// mutantError says on which mutant the engine contradicted itself.
type mutantError struct {
	rule, what string
	err        error
}

func (e *mutantError) Error() string {
	return "mutant \"" + e.rule + "\", " + e.what + ": " + e.err.Error()
}

func (e *mutantError) Unwrap() error { return e.err }
