// Splitting a requirement keeps its meaning.

package observe

import (
	"math/rand/v2"
	"testing"

	"lampwarden/lang/site"
)

// randomExpr makes an expression over n inputs and one event.
func randomExpr(rng *rand.Rand, n, depth int) *site.Expr {
	if depth == 0 || rng.IntN(4) == 0 {
		switch rng.IntN(8) {
		case 0:
			return &site.Expr{Op: site.OpTrue}
		case 1:
			return &site.Expr{Op: site.OpFalse}
		case 2:
			return &site.Expr{Op: site.OpEvent}
		}
		return letter(rng.IntN(n))
	}
	e := &site.Expr{Op: [...]site.Op{site.OpNot, site.OpAnd, site.OpOr, site.OpAtMost, site.OpAtLeast}[rng.IntN(5)]}
	kids := 1
	if e.Op != site.OpNot {
		kids, e.N = rng.IntN(4), rng.IntN(4)
	}
	for range kids {
		e.Kids = append(e.Kids, randomExpr(rng, n, depth-1))
	}
	return e
}

// truth evaluates an expression when the inputs of set are true.
func truth(e *site.Expr, set int, event bool) bool {
	n := 0
	for _, k := range e.Kids {
		if truth(k, set, event) {
			n++
		}
	}
	switch e.Op {
	case site.OpTrue:
		return true
	case site.OpFalse:
		return false
	case site.OpNot:
		return n == 0
	case site.OpAnd:
		return n == len(e.Kids)
	case site.OpOr:
		return n > 0
	case site.OpAtMost:
		return n <= e.N
	case site.OpAtLeast:
		return n >= e.N
	case site.OpInput:
		return set>>e.Input&1 == 1
	case site.OpEvent:
		return event
	}
	panic("an operator that the test does not make")
}

// eachMoment calls f with every truth of n inputs and the event.
func eachMoment(n int, f func(set int, event bool)) {
	for set := range 1 << n {
		f(set, false)
		f(set, true)
	}
}

// TestNeverSplits: "never P" has the pieces of P, no more and no less, and what a piece gives holds whenever it is true.
func TestNeverSplits(t *testing.T) {
	const inputs = 4
	rng := rand.New(rand.NewPCG(1, 2))
	several := 0
	for range 3000 {
		p := randomExpr(rng, inputs, 4)
		for _, form := range []site.Form{site.Never, site.Always} {
			pieces := Pieces(&site.Requirement{Form: form, P: p})
			if len(pieces) > 1 {
				several++
			}
			eachMoment(inputs, func(set int, event bool) {
				any := false
				for _, pc := range pieces {
					v := truth(pc.Observer.Exprs[0], set, event)
					any = any || v
					for _, g := range pc.Given {
						if v && !truth(g, set, event) {
							t.Fatalf("%+v: a piece is true where what it gives is not", p)
						}
					}
				}
				if want := truth(p, set, event) == (form == site.Never); any != want {
					t.Fatalf("form %d of %+v: pieces %v, want %v", form, p, any, want)
				}
			})
		}
	}
	if several < 500 {
		t.Errorf("only %d requirements have several pieces", several)
	}
}

// TestUntilSplits: B holds exactly if the B of every piece does; where a piece's error is, C and its B are false.
func TestUntilSplits(t *testing.T) {
	const inputs = 4
	rng := rand.New(rand.NewPCG(3, 4))
	for range 3000 {
		r := &site.Requirement{Form: site.Whenever, A: letter(0), B: randomExpr(rng, inputs, 3), Until: randomExpr(rng, inputs, 2), D: 5}
		pieces := Pieces(r)
		eachMoment(inputs, func(set int, event bool) {
			all := true
			for _, pc := range pieces {
				b, c := truth(pc.Observer.Exprs[1], set, event), truth(pc.Observer.Exprs[2], set, event)
				all = all && b
				for _, g := range pc.Given {
					if !b && !c && !truth(g, set, event) {
						t.Fatalf("%+v: an error is where what the piece gives is not", r.B)
					}
				}
				if c != truth(r.Until, set, event) {
					t.Fatalf("%+v: until changed", r.Until)
				}
			}
			if all != truth(r.B, set, event) {
				t.Fatalf("%+v: the pieces say %v", r.B, all)
			}
		})
	}
}

// TestSteadyDropsEvents: what a piece gives holds after the instant too.
func TestSteadyDropsEvents(t *testing.T) {
	p := &site.Expr{Op: site.OpAnd, Kids: []*site.Expr{letter(0), {Op: site.OpEvent}, not(&site.Expr{Op: site.OpEvent})}}
	for _, form := range []site.Form{site.Never, site.AtMostTimes, site.OnlyAfter} {
		pc := Pieces(&site.Requirement{Form: form, P: p, Q: letter(1), N: 1, D: 5})
		if len(pc) != 1 || len(pc[0].Given) != 1 || pc[0].Given[0].Op != site.OpInput {
			t.Errorf("form %d gives %+v", form, pc)
		}
	}
}

// TestTooManyPieces: a product of more than maxPieces parts is left whole.
func TestTooManyPieces(t *testing.T) {
	p := &site.Expr{Op: site.OpAnd}
	for range 12 {
		p.Kids = append(p.Kids, &site.Expr{Op: site.OpOr, Kids: []*site.Expr{letter(0), letter(1)}})
	}
	if n := len(Pieces(&site.Requirement{Form: site.Never, P: p})); n != 1 {
		t.Errorf("%d pieces", n)
	}
	p.Kids = p.Kids[:10]
	if n := len(Pieces(&site.Requirement{Form: site.Never, P: p})); n != 1024 {
		t.Errorf("%d pieces", n)
	}
}

// TestFormsThatAreNotSplit have one piece, whatever their parts.
func TestFormsThatAreNotSplit(t *testing.T) {
	or := &site.Expr{Op: site.OpOr, Kids: []*site.Expr{letter(0), letter(1)}}
	and := &site.Expr{Op: site.OpAnd, Kids: or.Kids}
	for _, r := range []site.Requirement{
		{Form: site.Possible, P: or}, {Form: site.LastsAtMost, P: or, D: 5}, {Form: site.LastsAtLeast, P: and, D: 5},
		{Form: site.AtMostTimes, P: or, N: 2, D: 5}, {Form: site.OnlyAfter, P: or, Q: and},
		{Form: site.Whenever, A: or, B: and, D: 5}, {Form: site.Whenever, A: or, B: and, D: 5, E: 2, Until: and},
	} {
		if n := len(Pieces(&r)); n != 1 {
			t.Errorf("form %d: %d pieces", r.Form, n)
		}
	}
}

// TestSplittingIsBounded: what could be split into very many pieces gives few, soon, and they still mean the same.
func TestSplittingIsBounded(t *testing.T) {
	pairs := func(n int) (kids []*site.Expr) {
		for i := range n {
			kids = append(kids, &site.Expr{Op: site.OpOr, Kids: []*site.Expr{letter(i % 4), letter((i + 1) % 4)}})
		}
		return kids
	}
	and := func(kids []*site.Expr) *site.Expr { return &site.Expr{Op: site.OpAnd, Kids: kids} }
	or := func(kids ...*site.Expr) *site.Expr { return &site.Expr{Op: site.OpOr, Kids: kids} }
	var singles, many []*site.Expr
	for i := range 4000 {
		singles = append(singles, letter(i%4))
	}
	for range 30 {
		many = append(many, and(pairs(10)))
	}
	for _, c := range []struct {
		name string
		p    *site.Expr
		want int
	}{
		{"a few pairs", and(pairs(10)), 1 << 10},
		{"many pairs", and(pairs(60)), 1},
		{"wide", and(append(pairs(10), singles...)), 1},
		{"an or of some", or(many...), 30},
		{"an or of simple ones", or(singles...), 4000},
	} {
		pieces := Pieces(&site.Requirement{Form: site.Never, P: c.p})
		if len(pieces) != c.want {
			t.Errorf("%s: %d pieces, want %d", c.name, len(pieces), c.want)
		}
		whole := Whole(&site.Requirement{Form: site.Never, P: c.p})
		eachMoment(4, func(set int, event bool) {
			any := false
			for _, pc := range pieces {
				any = any || truth(pc.Observer.Exprs[0], set, event)
			}
			if want := truth(c.p, set, event); any != want || truth(whole.Observer.Exprs[0], set, event) != want {
				t.Errorf("%s, inputs %b: pieces %v, want %v", c.name, set, any, want)
			}
		})
	}
}
