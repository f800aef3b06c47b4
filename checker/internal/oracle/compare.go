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
// (tried within o.MaxStates*8 states).
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
	if res.Verdict == Broken || res.Verdict == Witness {
		return res, &Disagreement{said, res}
	}
	if said != Broken && said != Witness {
		return res, &Disagreement{said, res}
	}
	if o.MaxStates <= 0 {
		o.MaxStates = defaultStates
	}
	o.MaxStates *= 8
	if res, err = CheckFiner(ctx, s, r, o, 16); err == nil && res.Verdict != said {
		err = ErrUnseen
	}
	return res, err
}
