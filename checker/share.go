// One proof on several machines.
//
// Each part goes through all questions, but answers only its own: those whose first search, by its canonical form, falls to it. So equal
// questions fall to one part, and each of n parts has about one n-th of the searches. What it finds out it keeps under the
// forms, and the merging run, for which every search is answered already, writes the report that one machine would have written.

package checker

import (
	"context"
	"errors"
	"hash/fnv"
)

// Share is part Part, from 0, of Of; the zero value is everything.
type Share struct{ Part, Of int }

// errElsewhere ends a question that another part answers.
var errElsewhere = errors.New("the question is another part's")

// claimKey is the key under which a context says whether its question has been taken.
type claimKey struct{}

// mine is the context of one question.
func (p *prover) mine(ctx context.Context) context.Context {
	if p.opt.Share.Of == 0 {
		return ctx
	}
	return context.WithValue(ctx, claimKey{}, new(bool))
}

// takes tells whether the question of the context is this part's, by the form of its first search.
func (s Share) takes(ctx context.Context, form string) bool {
	taken, ok := ctx.Value(claimKey{}).(*bool)
	if s.Of == 0 || !ok || *taken {
		return true
	}
	h := fnv.New64a()
	h.Write([]byte(form))
	*taken = int(h.Sum64()%uint64(s.Of)) == s.Part
	return *taken
}
