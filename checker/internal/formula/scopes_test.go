// The catalogue of specification patterns: five patterns in five scopes, as published and as this language says them.
//
// Source of the formulas: M. B. Dwyer, G. S. Avrunin, J. C. Corbett, Patterns in property specifications for finite-state
// verification, 1999, in the present edition of their mappings to linear temporal logic (matthewbdwyer.github.io/psp),
// with p the pattern's P, s its S, q that opens the scope, r that closes it. A scope is closed to the left and open to the
// right: what happens together with r is outside.
//
// The language has no scopes. A mode that asks for no light is one: it opens on "q and not r" and ends on r. Where a
// breach counts only if r comes, a mode with states remembers it till then; that reads p and s in triggers, so they cannot
// be conditions of light there. What demands something at no given time ("p at last comes") cannot be said, as no run
// that ends can break it; it is said with a bound (realtime_test.go), and of the published formula only the part that a
// run can break is compared.

package formula_test

import "testing"

const (
	scope = "mode scope { starts on q and not r  ends on r }\n" // after q until r
	from  = "mode from { starts on q }\n"                       // after q
)

// cell is one pattern in one scope.
type cell struct {
	pattern, scope string
	published      string
	text           string // empty: cannot be said
	why            string // why not, or what to know
}

var catalogue = []cell{
	{"absence", "globally", "G(!p)", `require "x" { never p }`, ""},
	{"absence", "before r", "F r -> (!p U r)", `
		mode m { states fresh, struck, passed, bad
			on r: fresh -> passed
			on p: fresh -> struck
			on r: struck -> bad }
		require "x" { never m in bad }`, "`p only after r` says it without the condition that r comes"},
	{"absence", "after q", "G(q -> G(!p))", from + `require "x" { never from and p }`, ""},
	{"absence", "between q and r", "G((q & !r & F r) -> (!p U r))", scope + `
		mode m { states calm, struck, bad
			on scope and p: calm -> struck
			on r: struck -> bad }
		require "x" { never m in bad }`, ""},
	{"absence", "after q until r", "G(q & !r -> (!p W r))", scope + `require "x" { never scope and p }`, ""},

	{"universality", "globally", "G(p)", `require "x" { always p }`, ""},
	{"universality", "before r", "F r -> (p U r)", `
		mode without { while not p }
		mode m { states fresh, struck, passed, bad
			on r: fresh -> passed
			on without: fresh -> struck
			on r: struck -> bad }
		require "x" { never m in bad }`, "`on not p` would not do: before start-up p is off, so that does not come true then; a mode does"},
	{"universality", "after q", "G(q -> G(p))", from + `require "x" { never from and not p }`, ""},
	{"universality", "between q and r", "G((q & !r & F r) -> (p U r))", scope + `
		mode m { states calm, struck, bad
			on scope and not p: calm -> struck
			on r: struck -> bad }
		require "x" { never m in bad }`, ""},
	{"universality", "after q until r", "G(q & !r -> (p W r))", scope + `require "x" { never scope and not p }`, ""},

	{"existence", "globally", "F p", "", "no run that ends breaks it; `is possible` asks for one run with p; with a bound, see realtime_test.go"},
	{"existence", "before r", "!r W (p & !r)", `require "x" { r only after p and not r }`, ""},
	{"existence", "after q", "G(!q) | F(q & F p)", "", "as globally"},
	{"existence", "between q and r", "G(q & !r -> (!r W (p & !r)))", owed + `require "x" { never m in bad }`, ""},
	{"existence", "after q until r", "G(q & !r -> (!r U (p & !r)))", owed + `require "x" { never m in bad }`,
		"but that p must come even if r does not: as globally"},

	{"precedence", "globally", "!p W s", `require "x" { p only after s }`, ""},
	{"precedence", "before r", "F r -> (!p U (s | r))", `
		mode m { states fresh, struck, passed, bad
			on r: fresh -> passed
			on s: fresh -> passed
			on p: fresh -> struck
			on r: struck -> bad }
		require "x" { never m in bad }`, ""},
	{"precedence", "after q", "G(!q) | F(q & (!p W s))", "", "a later q can always make it true: see defects_test.go, with what is meant"},
	{"precedence", "between q and r", "G((q & !r & F r) -> (!p U (s | r)))", `
		mode m { states calm, need, struck, bad
			on r: struck -> bad
			on r: need -> calm
			on s: need -> calm
			on q and not r and not s and p: calm -> struck
			on q and not r and not s: calm -> need
			on p: need -> struck }
		require "x" { never m in bad }`, ""},
	{"precedence", "after q until r", "G(q & !r -> (!p W (s | r)))", scope +
		`require "x" { scope and p only after s since q and not r }`, ""},

	{"response", "globally", "G(p -> F s)", "", "no run that ends breaks it; with a bound, see realtime_test.go"},
	{"response", "before r", "F r -> ((p -> (!r U (s & !r))) U r)", `
		mode m { states fresh, owed, passed, bad
			on r: fresh -> passed
			on r: owed -> bad
			on p and not s: fresh -> owed
			on s: owed -> fresh }
		require "x" { never m in bad }`, ""},
	{"response", "after q", "G(q -> G(p -> F s))", "", "as globally"},
	{"response", "between q and r", "G((q & !r & F r) -> ((p -> (!r U (s & !r))) U r))", debt + `require "x" { never m in bad }`, ""},
	{"response", "after q until r", "G(q & !r -> ((p -> (!r U (s & !r))) W r))", debt + `require "x" { never m in bad }`,
		"but that s must come even if r does not: as globally"},
}

// owed: p is still to come since the last moment with q.
const owed = `
	mode m { states calm, owed, bad
		on r: owed -> bad
		on q and not r and not p: calm -> owed
		on p: owed -> calm }
	`

// debt: s is still to come since a p in the scope.
const debt = scope + `
	mode m { states calm, owed, bad
		on r: owed -> bad
		on scope and p and not s: calm -> owed
		on s: owed -> calm }
	`

// TestCatalogue: wherever the language can say a cell, its observers and the judge agree with the published formula.
func TestCatalogue(t *testing.T) {
	if len(catalogue) != 25 {
		t.Fatalf("%d cells, want 5 patterns in 5 scopes", len(catalogue))
	}
	said := 0
	for _, c := range catalogue {
		t.Run(c.pattern+" "+c.scope, func(t *testing.T) {
			if c.text == "" {
				unbreakable(t, c.published)
				return
			}
			said++
			agree(t, 1500, c.text, c.published)
		})
	}
	t.Logf("%d of %d cells are said", said, len(catalogue))
}

// TestBoundedExistence: "at most twice", globally, is the form with a window longer than any run. Same source.
func TestBoundedExistence(t *testing.T) {
	agree(t, 3000, `require "x" { at most 2 times p within 24 h }`, "(!p W (p W (!p W (p W G(!p)))))")
}
