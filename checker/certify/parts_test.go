package certify

import (
	"math/rand/v2"
	"testing"

	"lampwarden/lang/site"
)

// truthOf is the value of an expression over level inputs, by definition; input k is bit k.
func truthOf(e *site.Expr, inputs uint) bool {
	count := 0
	for _, k := range e.Kids {
		if truthOf(k, inputs) {
			count++
		}
	}
	switch e.Op {
	case site.OpTrue:
		return true
	case site.OpNot:
		return count == 0
	case site.OpAnd:
		return count == len(e.Kids)
	case site.OpOr:
		return count > 0
	case site.OpAtMost:
		return count <= e.N
	case site.OpAtLeast:
		return count >= e.N
	case site.OpInput:
		return inputs>>e.Input&1 == 1
	}
	return false
}

func anyExpr(r *rand.Rand, depth int) *site.Expr {
	ops := []site.Op{site.OpNot, site.OpAnd, site.OpOr, site.OpAtMost, site.OpAtLeast}
	if depth == 0 {
		ops = []site.Op{site.OpInput, site.OpInput, site.OpInput, site.OpTrue, site.OpFalse}
	}
	e := &site.Expr{Op: ops[r.IntN(len(ops))], N: r.IntN(4) - 1, Input: site.InputID(r.IntN(4))}
	kids := 0
	switch {
	case e.Op == site.OpNot:
		kids = 1
	case depth > 0:
		kids = r.IntN(4)
	}
	for range kids {
		e.Kids = append(e.Kids, anyExpr(r, r.IntN(depth)))
	}
	return e
}

// The parts of a condition are together what it is, for every truth of its atoms, either way round.
func TestPartsAreTheWhole(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	several, all := 0, &site.Expr{Op: site.OpTrue}
	for range 2000 {
		e := anyExpr(r, 4)
		for _, q := range []site.Requirement{
			{Form: site.Never, P: e}, {Form: site.Always, P: e}, {Form: site.Whenever, A: all, B: e, Until: all},
		} {
			ps, ok := parts(&q)
			if !ok {
				t.Fatalf("form %d has no parts", q.Form)
			}
			if len(ps) > 1 {
				several++
			}
			for inputs := range uint(16) {
				some := false
				for _, p := range ps {
					some = some || truthOf(p.exprs[len(p.exprs)/2], inputs)
				}
				if want := truthOf(e, inputs) == (q.Form == site.Never); some != want {
					t.Fatalf("form %d of %+v at %04b: parts say %t", q.Form, e, inputs, some)
				}
			}
		}
	}
	if several < 500 {
		t.Errorf("only %d of them fell into parts", several)
	}
}

func inputExpr(i site.InputID) *site.Expr { return &site.Expr{Op: site.OpInput, Input: i} }

func opExpr(o site.Op, kids ...*site.Expr) *site.Expr { return &site.Expr{Op: o, Kids: kids} }

// The order of the parts is fixed: a certificate names them by number.
func TestOrderOfParts(t *testing.T) {
	ps, _ := parts(&site.Requirement{Form: site.Never, P: opExpr(site.OpAnd, opExpr(site.OpOr, inputExpr(0), inputExpr(1)), opExpr(site.OpOr, inputExpr(2), inputExpr(3)))})
	want := [][2]site.InputID{{0, 2}, {0, 3}, {1, 2}, {1, 3}}
	if len(ps) != len(want) {
		t.Fatalf("%d parts", len(ps))
	}
	for i, p := range ps {
		if k := p.exprs[0].Kids; k[0].Input != want[i][0] || k[1].Input != want[i][1] {
			t.Errorf("part %d has inputs %d and %d", i, k[0].Input, k[1].Input)
		}
	}
}

// What would fall into too many parts stays whole; what must hold at one moment as a whole is never taken apart.
func TestWholeQuestions(t *testing.T) {
	both := opExpr(site.OpOr, inputExpr(0), inputExpr(1))
	wide := opExpr(site.OpAnd)
	for range 12 {
		wide.Kids = append(wide.Kids, both)
	}
	for _, c := range []struct {
		name string
		r    site.Requirement
		want int
	}{
		{"4096 ways", site.Requirement{Form: site.Never, P: wide}, 1},
		{"two ways", site.Requirement{Form: site.Never, P: both}, 2},
		{"no way", site.Requirement{Form: site.Never, P: opExpr(site.OpOr)}, 0},
		{"whenever", site.Requirement{Form: site.Whenever, A: both, B: opExpr(site.OpAnd, inputExpr(0), inputExpr(1))}, 1},
		{"whenever for", site.Requirement{Form: site.Whenever, A: both, B: opExpr(site.OpAnd, inputExpr(0), inputExpr(1)), E: 1, Until: both}, 1},
		{"whenever until", site.Requirement{Form: site.Whenever, A: both, B: opExpr(site.OpAnd, inputExpr(0), inputExpr(1)), Until: both}, 2},
		{"possible", site.Requirement{Form: site.Possible, P: both}, 1},
	} {
		if ps, ok := parts(&c.r); !ok || len(ps) != c.want {
			t.Errorf("%s: %d parts, %t", c.name, len(ps), ok)
		}
	}
	for _, f := range []site.Form{site.CanReturn, site.Energy} {
		if _, ok := parts(&site.Requirement{Form: f, P: both}); ok {
			t.Errorf("form %d has parts", f)
		}
	}
}
