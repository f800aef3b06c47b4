// Random small networks: the exact search against integer time, the hull pass and
// the certificate property against the exact search.

package explore_test

import (
	"context"
	"fmt"
	"testing"

	"lampwarden/checker/explore"
	"lampwarden/checker/zone"

	"pgregory.net/rapid"
)

// randomNet draws two or three small automata with three clocks and one shared
// bit. With closed set all guards are closed, so that integer time reaches the
// same locations (T. Henzinger, Z. Manna, A. Pnueli, What good are digital clocks?
// 1992).
func randomNet(t *rapid.T, closed bool) *net {
	const clocks = 3
	nt := &net{clocks: clocks, vars: []int{0}}
	ops := []string{"<=", ">=", "=", "<", ">"}
	caps := []string{"<=", "<"}
	if closed {
		ops, caps = ops[:3], caps[:1]
	}
	guards := func(number []int, ops []string, label string) []guard {
		var gs []guard
		for range rapid.SampledFrom(number).Draw(t, label) {
			gs = append(gs, guard{
				clock: rapid.IntRange(1, clocks).Draw(t, "clock"),
				op:    rapid.SampledFrom(ops).Draw(t, "op"),
				c:     int32(rapid.SampledFrom([]int{1, 2, 3, 4, 5, 0}).Draw(t, "c")),
			})
		}
		return gs
	}
	autos := rapid.IntRange(2, 3).Draw(t, "autos")
	for a := range autos {
		au := auto{name: fmt.Sprint("A", a)}
		for l := range 3 {
			au.locs = append(au.locs, loc{name: fmt.Sprint(l), inv: guards([]int{0, 0, 1}, caps, "inv")})
		}
		for range rapid.IntRange(4, 7).Draw(t, "edges") {
			e := edge{
				from:   fmt.Sprint(rapid.IntRange(0, 2).Draw(t, "from")),
				to:     fmt.Sprint(rapid.IntRange(0, 2).Draw(t, "to")),
				event:  rapid.SampledFrom([]string{"own", "own", "both"}).Draw(t, "event"),
				guards: guards([]int{0, 1, 1, 2}, ops, "guards"),
				cost:   rapid.IntRange(0, 2).Draw(t, "cost"),
				marks:  1 << rapid.IntRange(0, 7).Draw(t, "mark"),
			}
			for x := 1; x <= clocks; x++ {
				if rapid.IntRange(0, 3).Draw(t, "reset") == 0 {
					e.resets = append(e.resets, x)
				}
			}
			switch rapid.IntRange(0, 5).Draw(t, "bit") {
			case 0:
				e.when = func(s *netState) bool { return s.vars[0] == 1 }
			case 1:
				e.do = func(s *netState) { s.vars[0] = 1 - s.vars[0] }
			}
			au.edges = append(au.edges, e)
		}
		nt.autos = append(nt.autos, au)
	}
	nt.syncs = [][]party{{{0, "both"}, {1, "both"}}}
	nt.bad = func(s *netState) bool { return s.loc[0] == 2 && s.loc[1] == 2 }
	return nt.ready()
}

// Least cost, reachability and the covers agree with integer time on closed
// networks.
func TestRandomClosed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := randomNet(t, true)
		_, want := m.ticks(1)
		for _, cover := range []explore.Cover{explore.ExtraLU, explore.ALU} {
			r := explore.Run(context.Background(), m, explore.Options{Cover: cover, StopAtBad: true})
			got := unreached
			if r.Status == explore.FoundBad {
				got = r.Path[len(r.Path)-1].Cost
			}
			if got != want || r.BadSeen != (want != unreached) || r.Least != r.BadSeen {
				t.Fatalf("cover %d: least cost %d, want %d (%v)", cover, got, want, r.Status)
			}
		}
	})
}

// With strict guards too: both covers agree, no explicit state on a finer grid
// beats them, and each path can be given real times.
func TestRandomStrict(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := randomNet(t, false)
		lu := explore.Run(context.Background(), m, explore.Options{StopAtBad: true})
		alu := explore.Run(context.Background(), m, explore.Options{Cover: explore.ALU, StopAtBad: true})
		if lu.Status != alu.Status {
			t.Fatalf("%v with ExtraLU, %v with ALU", lu.Status, alu.Status)
		}
		_, least := m.tickUntil(2, 0)
		if lu.Status == explore.Exhausted {
			if least != unreached {
				t.Fatalf("reached in half ticks at cost %d, not with zones", least)
			}
			return
		}
		if got, other := lu.Path[len(lu.Path)-1].Cost, alu.Path[len(alu.Path)-1].Cost; got != other || got > least {
			t.Fatalf("least cost %d with ExtraLU, %d with ALU, %d in half ticks", got, other, least)
		}
		for _, r := range []explore.Result{lu, alu} {
			if !m.timeable(r.Path) {
				t.Fatalf("no times fit the path %v", r.Path)
			}
		}
	})
}

// The hull pass proves only what is true and misses no mark.
func TestRandomHull(t *testing.T) {
	proved := 0
	rapid.Check(t, func(t *rapid.T) {
		m := randomNet(t, false)
		exact := explore.Run(context.Background(), m, explore.Options{})
		for _, widen := range []int{1, 0} {
			h := explore.Hull(context.Background(), m, explore.Options{WidenAfter: widen})
			if h.Status != explore.Exhausted {
				t.Fatalf("status %v", h.Status)
			}
			if (h.Verdict == explore.Proved) == h.MayBeBad {
				t.Fatalf("verdict %v, may be bad %v", h.Verdict, h.MayBeBad)
			}
			if exact.BadSeen && !h.MayBeBad {
				t.Fatal("proved, but a bad state is reachable")
			}
			if exact.Marks&^h.Marks != 0 {
				t.Fatalf("marks %b, hull only %b", exact.Marks, h.Marks)
			}
			if h.Verdict == explore.Proved {
				proved++
			}
		}
	})
	if proved == 0 {
		t.Error("the hull pass proved nothing at all")
	}
}

// The states stored with ExtraLU hold the initial ones and are closed under plain
// successors up to plain inclusion, so they certify what they do not contain.
func TestRandomCertificate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := randomNet(t, false)
		r := explore.Run(context.Background(), m, explore.Options{KeepStates: true})
		if msg := openEnd(m, &r); msg != "" {
			t.Fatal(msg)
		}
	})
}

func TestFischerCertificate(t *testing.T) {
	m := fischer(4, 10, ">", 10)
	r := run(t, m, explore.Options{KeepStates: true}, explore.Exhausted)
	if msg := openEnd(m, &r); msg != "" {
		t.Error(msg)
	}
}

// openEnd describes a successor that no stored state includes, or is "".
func openEnd(m explore.Model, r *explore.Result) string {
	stored := map[string][]*zone.DBM{}
	n := 0
	r.Each(func(key []byte, z *zone.DBM) bool {
		stored[string(key)] = append(stored[string(key)], z.Copy())
		n++
		return true
	})
	if n != r.Stats.Stored {
		return fmt.Sprintf("%d states given, %d stored", n, r.Stats.Stored)
	}
	msg := ""
	inside := func(x explore.Succ) bool {
		for _, z := range stored[string(x.Key)] {
			if z.Includes(x.Zone) {
				return true
			}
		}
		msg = fmt.Sprintf("not included: %v %v", x.Key, x.Zone)
		return false
	}
	m.Initial(inside)
	for key, zs := range stored {
		for _, z := range zs {
			m.Successors([]byte(key), z, inside)
		}
	}
	return msg
}

// timeable reports whether the steps of a path can be given times that fulfil
// all guards and invariants. It solves the differences of the times by Bellman and
// Ford, in integers: a strict bound is one short of a unit of many parts.
func (n *net) timeable(path []explore.Step) bool {
	const unit = 1 << 20
	type diff struct {
		a, b int // t_a - t_b <= c
		c    int
	}
	var ds []diff
	last := make([]int, n.clocks+1) // the step of the last reset, 0 the start
	bound := func(now int, gs []guard) {
		for _, g := range gs {
			c, since := int(g.c)*unit, last[g.clock]
			switch g.op {
			case "<":
				ds = append(ds, diff{now, since, c - 1})
			case "<=":
				ds = append(ds, diff{now, since, c})
			case ">":
				ds = append(ds, diff{since, now, -c - 1})
			case ">=":
				ds = append(ds, diff{since, now, -c})
			case "=":
				ds = append(ds, diff{now, since, c}, diff{since, now, -c})
			}
		}
	}
	s := netState{make([]int, len(n.autos)), append([]int(nil), n.vars...)}
	stay := func(at int) {
		for a, l := range s.loc {
			bound(at, n.autos[a].locs[l].inv)
		}
	}
	stay(0)
	for i, step := range path[1:] {
		at := i + 1
		ds = append(ds, diff{at - 1, at, 0})
		stay(at) // the old locations' invariants, until now
		found := false
		n.joints(&s, func(label uint64, who []int, es []*edge) bool {
			if label != step.Label {
				return true
			}
			found = true
			for _, e := range es {
				bound(at, e.guards)
			}
			for _, e := range es {
				for _, x := range e.resets {
					last[x] = at
				}
			}
			to := n.move(&s, who, es)
			s = netState{append([]int(nil), to.loc...), append([]int(nil), to.vars...)}
			return false
		})
		if !found || string(n.encode(&s)) != string(step.Key) {
			return false
		}
		stay(at)
	}
	dist := make([]int, len(path))
	for range len(path) + 1 {
		changed := false
		for _, d := range ds {
			if dist[d.b]+d.c < dist[d.a] {
				dist[d.a], changed = dist[d.b]+d.c, true
			}
		}
		if !changed {
			return true
		}
	}
	return false
}
