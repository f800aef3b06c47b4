// Known defects and traps of published tables of patterns: each is shown by a run, so that nobody "corrects" the language
// after them.

package formula_test

import (
	"math/rand/v2"
	"testing"

	"lampwarden/checker/internal/formula"
)

// unbreakable checks that no run that ends is against a formula, whatever follows.
func unbreakable(t *testing.T, text string) {
	t.Helper()
	s, f := load(t, ""), parse(t, text)
	for seed := range uint64(500) {
		sc := randomScript(rand.New(rand.NewPCG(seed, 78)), s)
		if !f.Holds(traceOf(s, sc, nil).Dense(grain, times["d"]), formula.Weak) {
			t.Fatalf("%s is broken by %+v: it could be said", text, sc)
		}
	}
}

// defect is a printed formula and what it is meant to say.
type defect struct {
	what           string
	printed, meant string
	tr             formula.Trace // on which they differ
	view           formula.View  // as it stands (Neutral), or as a run that may go on (Weak)
	got            bool          // what the printed formula says; the meant one says the opposite
}

var defects = []defect{
	{"Dwyer et al., precedence after q: it is enough that p is preceded from some later q on. (Present edition of the page; " +
		"meant is the first q.)",
		"G(!q) | F(q & (!p W s))", "G(!q) | (!q U (q & (!p W s)))", word(9, "0:q", "1:p", "2:q"), formula.Neutral, true},
	{"Dwyer et al., existence between, old edition (people.cs.ksu.edu/~dwyer/SPAT): q together with r opens a scope.",
		"G((q & F r) -> (!r U p))", "G(q & !r -> (!r W (p & !r)))", word(9, "0:qr", "1:"), formula.Neutral, false},
	{"Dwyer et al., precedence, old edition: s together with p does not precede it; here and in the present edition it does.",
		"F p -> (!p U (s & !p))", "!p W s", word(9, "0:", "1:ps"), formula.Neutral, false},
	{"Dwyer et al., existence before r, old edition: p together with r counts as before it.",
		"F r -> (!r U p)", "!r W (p & !r)", word(9, "0:", "1:pr"), formula.Neutral, true},
	{"Unified catalogue, time-constrained absence before r: the bound is lost from the formula, so p late breaks it.",
		"F r -> (!p U r)", "F r -> ((!p U r) | G[<d] !p)", word(20_000_000, "0:", "9000000:p", "10000000:r"), formula.Neutral, false},
	{"Unified catalogue, response invariance between q and r: 'G (s & !r)' within a scope that r closes can never hold, so any p " +
		"in it breaks it; meant is s up to r.",
		"G((q & !r & F r) -> ((p -> G(s & !r)) U r))", "G((q & !r & F r) -> ((p -> (s W r)) U r))",
		word(9, "0:q", "1:pqs", "2:r"), formula.Neutral, false},
	{"Unified catalogue, time-constrained existence after q: a later q may always have its p in time, so no run breaks it.",
		"G(!q) | F(q & F[<d] p)", "G(!q) | (!q U (q & F[<d] p))", word(20_000_000, "0:q", "1:"), formula.Weak, true},
	{"Konrad and Cheng, minimum duration: nothing is said of a p that runs at the start. (From memory.)",
		"G(p | (!p W G[<d] p))", "G(up p -> G[<d] p)", word(9_000_000, "0:p", "1:"), formula.Weak, true},
	{"Unified catalogue, maximum duration: the same.",
		"G(p | (!p W (p & F[<=d] !p)))", "G(up p -> F[<=d] !p)", word(9_000_000, "0:p", "7000000:"), formula.Weak, true},
	{"Konrad and Cheng, minimum duration with a closed bound: a p of exactly d is too short; the language lets it end then.",
		"G(p | (!p W G[<=d] p))", "G(up p -> G[<d] p)", word(9_000_000, "0:", "1000000:p", "6000000:"), formula.Weak, false},
	{"An open mapper of the unified catalogue loses the G[c] of the minimum duration, and nothing is left of it. (Second hand.)",
		"G(p | (!p W p))", "G(up p -> G[<d] p)", word(9_000_000, "0:", "1000000:p", "2000000:"), formula.Weak, true},
}

// TestDefects: each printed formula differs on a run from what it is meant to say.
func TestDefects(t *testing.T) {
	for _, c := range defects {
		if got := parse(t, c.printed).Holds(c.tr, c.view); got != c.got {
			t.Errorf("%s\nas printed: %v, want %v", c.what, got, c.got)
		}
		if got := parse(t, c.meant).Holds(c.tr, c.view); got == c.got {
			t.Errorf("%s\nas meant: %v too", c.what, got)
		}
	}
}

// TestPrecedenceAfter says what is meant by "after q, s precedes p" (see the first defect).
func TestPrecedenceAfter(t *testing.T) {
	agree(t, 1000, from+`require "x" { from and p only after from and s }`, "G(!q) | (!q U (q & (!p W s)))")
}

// TestEdgesOrStates: "whenever p" means each rise of p, as people write it. The published response is stronger: it asks again
// as long as p lasts. Both can be said (realtime_test.go); here they differ.
func TestEdgesOrStates(t *testing.T) {
	tr := word(20_000_000, "0:ps", "1000000:p").Dense(grain, times["d"])
	if !parse(t, "G(up p -> F[<=d] s)").Holds(tr, formula.Weak) || parse(t, "G(p -> F[<=d] s)").Holds(tr, formula.Weak) {
		t.Error("they do not differ")
	}
}
