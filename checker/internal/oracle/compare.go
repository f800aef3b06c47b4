// Holding another checker's answer against the oracle's.

package oracle

import (
	"context"
	"errors"
	"fmt"

	"lampwarden/lang/site"
)

// ErrUnseen tells that another checker breaks a requirement (or has a witness)
// that the oracle's ticks, as fine as they could be made, do not show. That is
// no contradiction: a run may need more changes within a unit than there are
// ticks. A replay of the run decides.
var ErrUnseen = errors.New("not seen by the oracle")

// Disagreement is a contradiction: the oracle has a run for what the other
// checker excludes.
type Disagreement struct {
	Said   Verdict // by the other checker
	Result Result  // of the oracle
}

// Error says it in a sentence.
func (d *Disagreement) Error() string {
	return fmt.Sprintf("the other checker says %v, the oracle %v after %d reactions", d.Said, d.Result.Verdict, Reactions(d.Result.Run))
}

// Reactions counts the reactions of a run, start-up included.
func Reactions(run []Step) int {
	n := 0
	for _, st := range run {
		if st.Kind != Move {
			n++
		}
	}
	return n
}

// Compare decides a requirement and holds the verdict of another checker
// against it. The error is nil if the two agree or the question is too big, a
// *Disagreement if the oracle has a run that the other excludes, ErrUnseen if
// the other has one that the oracle does not find with up to 16 ticks per unit
// (tried within o.MaxStates*8 states). Of the form CanReturn the oracle has no such
// run, and what it says is held against the other only once that many ticks agree on it.
//
//	for seed := range uint64(2000) {
//		s := sitegen.Generate(seed, sitegen.Options{})
//		for i := range s.Requirements {
//			_, err := oracle.Compare(ctx, s, &s.Requirements[i], verdictOf(s, i), oracle.Options{MaxStates: 30_000})
//			...
func Compare(ctx context.Context, s *site.Site, r *site.Requirement, said Verdict, o Options) (Result, error) {
	res, err := Check(ctx, s, r, o)
	if err != nil || res.Verdict == TooBig || res.Verdict == said {
		return res, err
	}
	run := func(v Verdict) bool { return v == Broken || v == Witness }
	if r.Form != site.CanReturn && (run(res.Verdict) || !run(said)) {
		return res, &Disagreement{said, res}
	}
	if o.MaxStates <= 0 {
		o.MaxStates = defaultStates
	}
	o.MaxStates *= 8
	res, err = finest(ctx, s, r, said, o)
	switch {
	case err != nil || res.Verdict == said || res.Verdict == TooBig:
		return res, err
	case r.Form == site.CanReturn && said == Holds:
		return res, &Disagreement{said, res}
	}
	return res, ErrUnseen
}

// finest asks again with more ticks until the answer is the one that was given.
func finest(ctx context.Context, s *site.Site, r *site.Requirement, said Verdict, o Options) (Result, error) {
	if r.Form != site.CanReturn {
		return CheckFiner(ctx, s, r, o, 16)
	}
	res, err := Check(ctx, s, r, o)
	for err == nil && res.Verdict != said && res.Verdict != TooBig && res.Ticks*2 <= 16 {
		o.TicksPerUnit = res.Ticks * 2
		res, err = Check(ctx, s, r, o)
	}
	return res, err
}
