package ebnf

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var names = Names{
	Tokens: map[string]string{"ident": "name", "follower": "name", "number": "number"},
	Leaves: map[string]string{"Ident": "name"},
	Words:  map[string]string{"Decl": "declaration"},
	Skip:   []string{"Root"},
}

func TestWrite(t *testing.T) {
	for _, c := range []struct{ name, grammar, want string }{
		{"skipped and leaf", "Root = A .\nIdent = (<ident> | <number>) .\nA = Ident .", "a = name ;"},
		{"repetitions", `A = "a"? B* ("," B)+ .`, `a = [ "a" ] { b } "," b { "," b } ;`},
		{"names", `JoinDecl = "x" .`, `join-declaration = "x" ;`},
		{"groups", `A = ("a" | ("b" "c")) ("d") (("e" | "f")) .`, `a = ( "a" | "b" "c" ) "d" ( "e" | "f" ) ;`},
		{"choice in a choice", `A = ("a" | "b") | ("c" ("d" | "e")) .`, `a = "a" | "b" | "c" ( "d" | "e" ) ;`},
		{"alike but for the kind of token", `A = <ident> | <follower> | "a" .`, `a = name | "a" ;`},
		{"optional choice", `A = ("a" | "b")? .`, `a = [ "a" | "b" ] ;`},
		{"ahead that is repeated", `A = (?= "at" ("least" | "most")) "at" ("least" | "most") <number> .`, `a = "at" ( "least" | "most" ) number ;`},
		{"ahead repeated by a production", "A = (?= \"at\" <ident> \"times\") B .\nB = \"at\" C \"times\" A? .\nC = <ident> .",
			"a = b ;\nb = \"at\" c \"times\" [ a ] ;\nc = name ;"},
		{"ahead that is repeated but for the kind of token", `A = (?= "keep" <ident>) "keep" (<ident> | <follower>) .`, `a = "keep" name ;`},
		{"ahead that narrows", "A = (?= <number>) B .\nB = <number> | <ident> .", "a = ? next: number ? b ;\nb = number | name ;"},
		{"ahead of what comes after a repetition", `A = (?= "a") "b"* "a" .`, `a = ? next: "a" ? { "b" } "a" ;`},
		{"not ahead", `A = ((?! "x" | "y") Ident)* .`, `a = { ? not next: "x" | "y" ? name } ;`},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Write(c.grammar, names, 80)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(c.want+"\n", got); d != "" {
				t.Errorf("-want +got:\n%s", d)
			}
		})
	}
}

func TestWriteLongLines(t *testing.T) {
	got, err := Write(`A = ("one" "two" "three" "four") | ("five" "six" "seven" "eight" "nine") .`, names, 30)
	if err != nil {
		t.Fatal(err)
	}
	want := `a =
    "one" "two" "three" "four"
  | "five" "six" "seven"
        "eight" "nine" ;
`
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
}

// A bracket does not stand apart from what it holds.
func TestGlued(t *testing.T) {
	got := glued(strings.Fields(`"a" [ { "b" } ] ;`))
	if d := cmp.Diff([]string{`"a"`, `[ { "b" } ] ;`}, got); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
}

func TestWriteRefuses(t *testing.T) {
	for _, c := range []struct{ grammar, want string }{
		{"A = <clock> .", "<clock>"},
		{"A = ( .", "cannot be read"},
	} {
		if _, err := Write(c.grammar, names, 80); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: the error is %v", c.grammar, err)
		}
	}
}
