// The evaluator by itself: hand examples and laws of the logic.

package formula_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"lampwarden/checker/internal/formula"
)

// word makes a trace: moments "time:atoms", the last number being the end.
func word(end int64, moments ...string) formula.Trace {
	tr := formula.Trace{End: end}
	at := int64(0)
	for _, m := range moments {
		when, atoms, _ := strings.Cut(m, ":")
		at = 0
		for _, c := range when {
			at = 10*at + int64(c-'0')
		}
		x := formula.Moment{At: at, True: map[string]bool{}}
		for _, c := range atoms {
			x.True[string(c)] = true
		}
		tr.Moments = append(tr.Moments, x)
	}
	return tr
}

func TestByHand(t *testing.T) {
	for _, c := range []struct {
		text                  string
		tr                    formula.Trace
		weak, strong, neutral bool
	}{
		{"F p", word(9, "0:", "5:"), true, false, false},
		{"F p", word(9, "0:", "5:p"), true, true, true},
		{"G(p)", word(9, "0:p", "5:p"), true, false, true},
		{"G(p)", word(9, "0:p", "5:"), false, false, false},
		{"F[<=5] p", word(9, "0:", "5:p"), true, true, true},
		{"F[<5] p", word(9, "0:", "5:p"), false, false, false},
		{"F[<=5] p", word(9, "0:", "6:p"), false, false, false},
		{"F[<=5] p", word(4, "0:"), true, false, false},
		{"F[<=5] p", word(5, "0:"), false, false, false},
		{"F[=5] p", word(9, "0:p", "4:p", "5:"), false, false, false},
		{"F[>=5] p", word(9, "0:p", "5:p"), true, true, true},
		{"p U q", word(9, "0:p", "3:q"), true, true, true},
		{"p U q", word(9, "0:p", "3:", "4:q"), false, false, false},
		{"p U q", word(9, "0:p"), true, false, false},
		{"p W q", word(9, "0:p"), true, false, true},
		{"G(q -> O p)", word(9, "0:", "2:p", "4:q"), true, false, true},
		{"G(q -> O[<2] p)", word(9, "0:", "2:p", "4:q"), false, false, false},
		{"G(q -> (p S r))", word(9, "0:r", "1:p", "2:pq"), true, false, true},
		{"G(q -> Y p)", word(9, "0:q"), false, false, false},
		{"up p", word(9, "0:p"), true, true, true},
		{"F(q & C 2 [<3] up p)", word(9, "0:qp", "1:", "2:p"), true, true, true},
		{"F(q & C 2 [<2] up p)", word(9, "0:qp", "1:", "2:p"), true, false, false},
		{"q & C 2 [<2] up p", word(9, "0:qp", "1:", "2:p"), false, false, false},
		{"F(p & !last)", word(9, "0:p", "0:"), true, true, true},
		{"!F(p & last)", word(9, "0:p", "0:"), true, false, true},
	} {
		f := parse(t, c.text)
		for v, want := range map[formula.View]bool{formula.Weak: c.weak, formula.Strong: c.strong, formula.Neutral: c.neutral} {
			if got := f.Holds(c.tr, v); got != want {
				t.Errorf("%s on %+v, view %d: %v, want %v", c.text, c.tr, v, got, want)
			}
		}
	}
}

// TestLaws on random traces: duality, expansion of until, the definition of W (the catalogue's own page gives three), and
// that the views are ordered.
func TestLaws(t *testing.T) {
	s := load(t, "")
	laws := [][2]string{
		{"!F[<=d] p", "G[<=d] !p"},
		{"!O[<d] p", "H[<d] !p"},
		{"p W q", "F(!p) -> (p U q)"},
		{"p W q", "p U (q | G(p))"},
		{"G(p & q)", "G(p) & G(q)"},
		{"F[<=d] (p | q)", "F[<=d] p | F[<=d] q"},
		{"G(p -> H q)", "!(F (p & O !q))"},
		{"F p", "p | F (!p & F p)"},
	}
	for seed := range uint64(300) {
		tr := traceOf(s, randomScript(rand.New(rand.NewPCG(seed, 80)), s), nil)
		for _, l := range laws {
			a, b := parse(t, l[0]), parse(t, l[1])
			for _, v := range []formula.View{formula.Weak, formula.Strong, formula.Neutral} {
				if a.Holds(tr, v) != b.Holds(tr, v) {
					t.Fatalf("%s is not %s on %+v, view %d", l[0], l[1], tr, v)
				}
			}
			if a.Holds(tr, formula.Strong) && !a.Holds(tr, formula.Neutral) || a.Holds(tr, formula.Neutral) && !a.Holds(tr, formula.Weak) {
				t.Fatalf("%s: the views are out of order on %+v", l[0], tr)
			}
		}
	}
}

func TestParseErrors(t *testing.T) {
	for text, want := range map[string]string{
		"p &":      "column 4: \"\"",
		"(p":       "\")\" was expected",
		"F[5] p":   "one of < <= = > >=",
		"F[<x] p":  "the name of a time",
		"p q":      "an operator or the end",
		"P":        "an atom, a unary operator or a bracket",
		"p # q":    "an operator, an atom or a bracket",
		"F[<=u] p": "a whole number",
	} {
		if _, err := formula.Parse(text, times); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
}
