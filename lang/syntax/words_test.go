package syntax_test

// The lists of words agree with the grammar.

import (
	"regexp"
	"strings"
	"testing"

	"lampwarden/lang/syntax"
)

func TestReservedWordsAreInTheGrammar(t *testing.T) {
	grammar := syntax.Grammar()
	for _, w := range syntax.Reserved() {
		if !strings.Contains(grammar, `"`+w+`"`) {
			t.Errorf("`%s` is reserved, but the grammar has no use for it", w)
		}
	}
}

// TestWordsThatAreNames holds that a word of the grammar that is not reserved can be a name, wherever names stand.
func TestWordsThatAreNames(t *testing.T) {
	reserved := " " + strings.Join(syntax.Reserved(), " ") + " "
	n := 0
	for _, m := range regexp.MustCompile(`"([a-z]+)"`).FindAllStringSubmatch(syntax.Grammar(), -1) {
		w := m[1]
		if strings.Contains(reserved, " "+w+" ") {
			continue
		}
		n++
		text := strings.ReplaceAll(`area N, b : N, c
circuit N, b in N { dims fed by N fade 1 s }
group N = N, b
button N, b in N
band N 1:00 to 2:00
bands N, b cover the day
mode N for each area N tagged N or N { while N, off delay 1 s  N, b full, N off  N: N 5 %, N and N full }
mode b { states N, b  on tap N if N: N -> N  after 1 s: -> N  in N: N off  in b: flash N, N, 1 s on, 1 s off }
mode c { starts on N if N  ends on N, N  first N off then N except N at 5 % }
precedence N > N in N
equals N, b: latest
assume changes of N, N at least 1 s apart
assume at most 1 of N, N
assume N lasts at least 1 s
require "r" { whenever N then within 1 s N in N in stage 1 for 1 s until N }
require "r" { at most 1 N area except N lit only after any circuit in N or N lit since N with N or N }
require "r" { N is possible }
scenario "s" { given N, N  at 1:00 N  at 1:00 not N  expect N within 1 s }
`, "N", w)
		if set, _, ds := parse("names.lamp", text); len(ds) > 0 {
			t.Errorf("`%s` is not reserved, but cannot be a name:\n%s", w, show(set, ds))
		}
	}
	if n < 20 {
		t.Errorf("only %d words tried", n)
	}
}
