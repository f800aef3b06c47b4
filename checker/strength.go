// How strong the requirements are: mutants of the site, proved again (checker/strength).

package checker

import (
	"context"
	"fmt"

	"lampwarden/checker/strength"
	"lampwarden/lang/site"
)

// Strength mutates the rules of a site one at a time and proves each mutant again: it tells which rules no requirement depends on.
// Of opt it takes Limits and Workers, and Progress with mutants for questions; what tells which mutants and requirements to look
// at. A search for a mutant may take a few times what the
// same question took on the site itself. An error is an internal contradiction, as with Prove.
func Strength(ctx context.Context, s *site.Site, opt Options, what strength.Options) (*strength.Report, error) {
	if t := opt.Limits.Time; t > 0 {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, t)
		defer cancel()
	}
	p := &prover{opt: opt}
	j := &judge{memory: new(memory), limits: Limits{States: opt.Limits.States, Memory: opt.Limits.Memory / int64(p.workers())}}
	what.Workers, what.Progress = p.workers(), opt.Progress
	return strength.Run(ctx, s, j, what)
}

// judge is the prover as a survey sees it.
type judge struct {
	memory *memory
	limits Limits // of one search
}

func (j *judge) options(work int) Options {
	return Options{Workers: 1, Whole: true, Limits: j.limits, work: work, memory: j.memory}
}

// Requirement implements strength.Judge.
func (j *judge) Requirement(ctx context.Context, s *site.Site, i, work int) (strength.Answer, int, error) {
	opt := j.options(work)
	opt.Only, opt.NoFindings = []int{i}, true
	rep, err := Prove(ctx, s, opt)
	if err != nil {
		return strength.Open, 0, fmt.Errorf("requirement %q: %w", s.Requirements[i].Name, err)
	}
	out := &rep.Outcomes[0]
	answer := map[Verdict]strength.Answer{
		Undecided: strength.Open, Proved: strength.Holds, IsPossible: strength.Holds, Fails: strength.Breaks, Impossible: strength.Breaks,
		Vacuous: strength.SaysNought,
	}[out.Verdict]
	return answer, out.Stats.Transitions, nil
}

// Checks implements strength.Judge.
func (j *judge) Checks(ctx context.Context, s *site.Site, work int, wanted func(strength.Check) bool) (out []strength.Finding, err error) {
	opt := j.options(work)
	opt.Only, opt.Checks = []int{}, wanted
	rep, err := Prove(ctx, s, opt)
	if err != nil {
		return nil, fmt.Errorf("built-in checks: %w", err)
	}
	for i := range rep.Findings {
		f := &rep.Findings[i]
		out = append(out, strength.Finding{Code: f.Code, Mode: f.Mode, Span: f.Span, Open: f.Undecided})
	}
	return out, nil
}
