// Each requirement form of lang/SEMANTICS.md section 5, with any conditions in it, against a formula written from the words
// of that section.
//
// Not here: "can always return to" speaks of what could happen, which no formula over one run says; "energy" and "battery"
// are sums, not formulas. Both have the oracle and the interpreter.

package formula_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"lampwarden/checker/internal/formula"
	"lampwarden/checker/observe"
	"lampwarden/checker/rehearse"
)

var forms = []struct {
	name, text, formula string
}{
	{"never", "never A", "G(!(A))"},
	{"always", "always A", "G(A)"},
	{"whenever", "whenever A then within 5 ms B", "G(up (A) -> F[<=d] (B))"},
	{"whenever until", "whenever A then within 5 ms B until C",
		"G(up (A) -> !(!(C) U[>d] (!(B) & !(C))) & !(!(C) U[=d] (last & !(B) & !(C))))"},
	{"whenever for", "whenever A then within 5 ms B for 4 ms", "G(up (A) -> F[<=d] G[<e] (B))"},
	{"whenever for until", "whenever A then within 5 ms B for 4 ms until C",
		"G(up (A) -> (!(C) U[<=d] ((C) | !(!(C) U[<e] (!(B) & !(C))))))"},
	{"lasts at most", "(A) lasts at most 5 ms", "G(up (A) -> F[<=d] !(A))"},
	{"lasts at least", "(A) lasts at least 5 ms", "G(up (A) -> G[<d] (A))"},
	{"at most once", "at most 1 times (A) within 5 ms", "G(up (A) -> !C 2 [<d] up (A))"},
	{"at most twice", "at most 2 times (A) within 5 ms", "G(up (A) -> !C 3 [<d] up (A))"},
	{"only after", "(A) only after B", "!(A) W (B)"},
	{"only after since", "(A) only after (B) since C", "(!(A) W (B)) & G((C) -> (!(A) W (B)))"},
}

// TestForms: with random conditions for A, B and C.
func TestForms(t *testing.T) {
	for _, form := range forms {
		t.Run(form.name, func(t *testing.T) {
			seen := tally{}
			for seed := range uint64(80) {
				rng := rand.New(rand.NewPCG(seed, 79))
				said, meant := fill(rng, form.text, form.formula)
				s, f := load(t, `require "x" { `+said+" }"), parse(t, meant)
				for range 12 {
					if err := compare(s, f, randomScript(rng, s), []int64{times["d"], times["e"]}, &seen); err != nil {
						t.Fatalf("%s\n%s\n%v", said, meant, err)
					}
				}
			}
			if seen.kept < 10 || seen.broken < 10 {
				t.Errorf("%+v: too one-sided", seen)
			}
		})
	}
}

// fill puts the same random conditions into a form and its formula.
func fill(rng *rand.Rand, text, meaning string) (string, string) {
	for _, letter := range []string{"A", "B", "C"} {
		said, meant := condition(rng, rng.IntN(3))
		text = replaceLetter(text, letter, said)
		meaning = strings.ReplaceAll(meaning, "("+letter+")", "("+meant+")")
	}
	return text, meaning
}

// replaceLetter replaces a letter that stands alone.
func replaceLetter(text, letter, by string) string {
	words := strings.Split(text, " ")
	for i, w := range words {
		switch w {
		case letter:
			words[i] = by
		case "(" + letter + ")":
			words[i] = "(" + by + ")"
		}
	}
	return strings.Join(words, " ")
}

// condition draws one as the language says it and as a formula does. An event is no lasting state, so it is never negated
// alone in the language's sense: "not tap k" is true at every moment but that one, in both.
func condition(rng *rand.Rand, depth int) (said, meant string) {
	switch kind := rng.IntN(6); {
	case depth > 0 && kind < 2:
		a, x := condition(rng, depth-1)
		b, y := condition(rng, depth-1)
		if kind == 0 {
			return fmt.Sprintf("(%s and %s)", a, b), fmt.Sprintf("(%s & %s)", x, y)
		}
		return fmt.Sprintf("(%s or %s)", a, b), fmt.Sprintf("(%s | %s)", x, y)
	case depth > 0 && kind == 2:
		a, x := condition(rng, depth-1)
		return "not (" + a + ")", "!(" + x + ")"
	}
	name := inputs[rng.IntN(len(inputs))]
	if name == "k" {
		return "tap k", "k"
	}
	return name, name
}

// The timers of modes as formulas: an off delay holds for 3 ms, an on delay waits for 2 ms (IEC 61131-3 TOF and TON; wins
// and ties as in section 2).
const (
	timers = `
		mode held { while p, off delay 3 ms }
		mode slow { while q, on delay 2 ms }
		`
	held = "(p | O[<hold] (!p & Y p))"
	slow = "(q & (q S[>=wait] up q))"
)

// TestTimers: the conditions of modes with delays, and of what settles, which changes only with them.
func TestTimers(t *testing.T) {
	for _, c := range []struct{ text, formula string }{
		{`require "x" { never held and r }`, "G(!(" + held + " & r))"},
		{`require "x" { never slow and r }`, "G(!(" + slow + " & r))"},
		{`require "x" { never held and slow }`, "G(!(" + held + " & " + slow + "))"},
		{`require "x" { whenever slow then within 5 ms held until r }`,
			"G(up S -> !(!r U[>d] (!H & !r)) & !(!r U[=d] (last & !H & !r)))"},
		{`require "x" { held settles within 2 ms }`, "G(((H & Y !H) | (!H & Y H)) -> O[<=wait] cause)"},
		{`require "x" { held or slow settles within 1 ms }`, "G((((H | S) & Y !(H | S)) | (!(H | S) & Y (H | S))) -> O[<=1000000] cause)"},
	} {
		f := strings.NewReplacer("up S", "up "+slow, "| S", "| "+slow, "H", held).Replace(c.formula)
		agree(t, 400, timers+c.text, f, times["d"], times["hold"], times["wait"], milli, times["d"]+times["wait"])
	}
}

// TestPossible: "is possible" has a witness in a run exactly if "F p" is true of it whatever follows.
func TestPossible(t *testing.T) {
	seen := 0
	for seed := range uint64(60) {
		rng := rand.New(rand.NewPCG(seed, 81))
		said, meant := condition(rng, 2)
		s, f := load(t, `require "x" { `+said+" is possible }"), parse(t, "F ("+meant+")")
		for range 5 {
			sc := randomScript(rng, s)
			tl, err := rehearse.Run(s, sc)
			if err != nil {
				t.Fatal(err)
			}
			j, err := rehearse.Judge(s, tl, &s.Requirements[0])
			if err != nil {
				t.Fatal(err)
			}
			want := f.Holds(traceOf(s, sc, nil), formula.Strong)
			if goal := watch(&observe.Pieces(&s.Requirements[0])[0].Observer, tl); j.Witness != want || goal != want || j.Broken {
				t.Fatalf("%s: by the formula %v, by the judge %v, by the observer %v\n%+v", said, want, j.Witness, goal, sc)
			}
			if want {
				seen++
			}
		}
	}
	if seen < 50 || seen > 290 {
		t.Errorf("%d of 300 runs have it: too one-sided", seen)
	}
}
