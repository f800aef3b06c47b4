// Order of search, limits, cancellation, marks, determinism.

package explore_test

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"testing"
	"time"

	"lampwarden/checker/explore"
	"lampwarden/checker/zone"
)

// graph is a model without clocks: plain edges with costs.
type graph struct {
	edges   map[int][]arc
	initial []int
	bad     map[int]bool
	each    func(node int) // called at each expansion
}

type arc struct {
	to, cost int
	marks    uint64
}

func (g *graph) succ(to, cost int, label, marks uint64) explore.Succ {
	return explore.Succ{Key: []byte{byte(to), byte(to >> 8), byte(to >> 16), byte(to >> 24)}, Zone: zone.Zero(1),
		Label: label, Cost: cost, Bad: g.bad[to], Marks: marks}
}

func (g *graph) Initial(yield func(explore.Succ) bool) {
	for i, v := range g.initial {
		if !yield(g.succ(v, 0, uint64(i), 0)) {
			return
		}
	}
}

func (g *graph) Successors(key []byte, _ *zone.DBM, yield func(explore.Succ) bool) {
	v := int(key[0]) | int(key[1])<<8 | int(key[2])<<16 | int(key[3])<<24
	if g.each != nil {
		g.each(v)
	}
	for i, a := range g.edges[v] {
		if !yield(g.succ(a.to, a.cost, uint64(i), a.marks)) {
			return
		}
	}
}

func (g *graph) Bounds([]byte) (l, u []int32) { return make([]int32, 1), make([]int32, 1) }

// endless is a graph with a new state at every step.
type endless struct{ graph }

func (g *endless) Successors(key []byte, z *zone.DBM, yield func(explore.Succ) bool) {
	v := int(key[0]) | int(key[1])<<8 | int(key[2])<<16 | int(key[3])<<24
	if g.each != nil {
		g.each(v)
	}
	yield(g.succ(v+1, 0, 0, 1))
}

// The bad state is met first at cost 7 in one step, then at 5, and at 3 in four.
func TestLeastCost(t *testing.T) {
	g := &graph{initial: []int{0}, bad: map[int]bool{9: true}, edges: map[int][]arc{
		0: {{to: 9, cost: 7}, {to: 1, cost: 4}, {to: 2, cost: 1}},
		1: {{to: 9, cost: 1}},
		2: {{to: 3, cost: 1}},
		3: {{to: 4, cost: 0}},
		4: {{to: 9, cost: 1}, {to: 0, cost: 0}},
	}}
	r := run(t, g, explore.Options{StopAtBad: true}, explore.FoundBad)
	var got []string
	for _, s := range r.Path {
		got = append(got, fmt.Sprint(s.Key[0], ":", s.Label, ":", s.Cost))
	}
	want := []string{"0:0:0", "2:2:1", "3:0:2", "4:0:2", "9:0:3"}
	if !reflect.DeepEqual(got, want) || !r.Least {
		t.Errorf("path %v (least %v), want %v", got, r.Least, want)
	}
	// Without stopping the path is the same, and everything is explored.
	r = run(t, g, explore.Options{}, explore.Exhausted)
	if !r.BadSeen || !r.Least || len(r.Path) != 5 || r.Stats.DiscreteStates != 6 {
		t.Errorf("bad %v, least %v, path of %d, %d states", r.BadSeen, r.Least, len(r.Path), r.Stats.DiscreteStates)
	}
}

// Equal costs: the fewest steps, and the first in the model's order.
func TestBreadthFirst(t *testing.T) {
	g := &graph{initial: []int{0}, bad: map[int]bool{9: true}, edges: map[int][]arc{
		0: {{to: 1}, {to: 2}, {to: 3}}, 1: {{to: 4}}, 4: {{to: 9}}, 2: {{to: 9}}, 3: {{to: 9}},
	}}
	r := run(t, g, explore.Options{StopAtBad: true}, explore.FoundBad)
	if len(r.Path) != 3 || r.Path[1].Key[0] != 2 {
		t.Errorf("path %v, want 0 2 9", r.Path)
	}
	g = &graph{initial: []int{5, 9, 0}, bad: map[int]bool{9: true}}
	if r = run(t, g, explore.Options{StopAtBad: true}, explore.FoundBad); len(r.Path) != 1 || r.Path[0].Label != 1 {
		t.Errorf("path %v, want the second initial state", r.Path)
	}
}

// A negative cost is 0, and a huge one does not overflow.
func TestOddCosts(t *testing.T) {
	g := &graph{initial: []int{0}, bad: map[int]bool{9: true}, edges: map[int][]arc{
		0: {{to: 1, cost: 1 << 40}, {to: 2, cost: -5}}, 1: {{to: 9, cost: 1 << 40}}, 2: {{to: 3, cost: 2}},
	}}
	r := run(t, g, explore.Options{StopAtBad: true}, explore.FoundBad)
	if len(r.Path) != 3 || r.Path[2].Cost < r.Path[1].Cost || r.Path[1].Cost <= 0 {
		t.Errorf("path %v", r.Path)
	}
}

func TestMarks(t *testing.T) {
	g := &graph{initial: []int{0}, edges: map[int][]arc{
		0: {{to: 1, marks: 1}, {to: 0, marks: 2}}, 1: {{to: 2, marks: 4}}, 2: {{to: 3, marks: 8}}, 3: {{to: 0}},
	}}
	r := run(t, g, explore.Options{StopWhenMarks: 6}, explore.AllMarks)
	if r.Marks != 7 || len(r.Path) != 3 || r.Path[2].Key[0] != 2 || r.BadSeen {
		t.Errorf("marks %b, path %v", r.Marks, r.Path)
	}
	r = run(t, g, explore.Options{StopWhenMarks: 16}, explore.Exhausted)
	if r.Marks != 15 || r.Path != nil {
		t.Errorf("marks %b, path %v", r.Marks, r.Path)
	}
	if h := explore.Hull(context.Background(), g, explore.Options{}); h.Marks != 15 || h.Verdict != explore.Proved {
		t.Errorf("hull: marks %b, verdict %v", h.Marks, h.Verdict)
	}
}

func TestLimits(t *testing.T) {
	for _, c := range []struct {
		opt  explore.Options
		want explore.Status
	}{
		{explore.Options{MaxStates: 1000}, explore.LimitStates},
		{explore.Options{MaxBytes: 1 << 20}, explore.LimitMemory},
		{explore.Options{MaxTime: 20 * time.Millisecond}, explore.LimitTime},
		{explore.Options{MaxTransitions: 1000, MaxStates: 100_000}, explore.LimitWork},
	} {
		t.Run(c.want.String(), func(t *testing.T) {
			start := time.Now()
			r := run(t, &endless{graph{initial: []int{0}}}, c.opt, c.want)
			if r.Status.Conclusive() || r.Stats.Stored == 0 || r.Marks != 1 || r.BadSeen {
				t.Errorf("not what was reached: %+v", r)
			}
			if c.want == explore.LimitStates && r.Stats.Stored != c.opt.MaxStates+1 {
				t.Errorf("stored %d with a limit of %d", r.Stats.Stored, c.opt.MaxStates)
			}
			if c.opt.MaxBytes > 0 && (r.Stats.Bytes > 2*c.opt.MaxBytes || r.Stats.Bytes < c.opt.MaxBytes) {
				t.Errorf("%d bytes with a limit of %d", r.Stats.Bytes, c.opt.MaxBytes)
			}
			if d := time.Since(start); d > 10*time.Second {
				t.Errorf("took %v", d)
			}
			h := explore.Hull(context.Background(), &endless{graph{initial: []int{0}}}, c.opt)
			if h.Status != c.want || h.Verdict != explore.Inconclusive {
				t.Errorf("hull: %v, verdict %v", h.Status, h.Verdict)
			}
		})
	}
}

// A bad state that was met before a limit came is reported, but not as the least.
func TestLimitAfterBad(t *testing.T) {
	g := &endless{graph{initial: []int{0, 9}, bad: map[int]bool{9: true}}}
	r := run(t, g, explore.Options{MaxStates: 100}, explore.LimitStates)
	if !r.BadSeen || r.Least || len(r.Path) != 1 {
		t.Errorf("bad %v, least %v, path %v", r.BadSeen, r.Least, r.Path)
	}
}

func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	expanded := 0
	g := &endless{graph{initial: []int{0}, each: func(v int) {
		if v == 5000 {
			cancel()
		}
		expanded = v
	}}}
	if r := explore.Run(ctx, g, explore.Options{}); r.Status != explore.Cancelled {
		t.Errorf("status %v", r.Status)
	}
	if expanded < 5000 || expanded > 10000 {
		t.Errorf("stopped at %d", expanded)
	}
	// With a context that has ended nothing is done at all.
	g.each = func(int) { t.Error("expanded after the end") }
	if r := explore.Run(ctx, g, explore.Options{}); r.Status != explore.Cancelled || r.Stats.Stored != 0 {
		t.Errorf("status %v, stored %d", r.Status, r.Stats.Stored)
	}
	if h := explore.Hull(ctx, g, explore.Options{}); h.Status != explore.Cancelled || h.Verdict != explore.Inconclusive {
		t.Errorf("hull: %v, %v", h.Status, h.Verdict)
	}
	if !errors.Is(ctx.Err(), context.Canceled) {
		t.Error("the context did not end")
	}
}

// The same search twice gives the same bytes.
func TestDeterministic(t *testing.T) {
	for _, cover := range []explore.Cover{explore.ExtraLU, explore.ALU} {
		var first string
		for i := range 3 {
			r := run(t, train(3, false), explore.Options{Cover: cover, KeepStates: true}, explore.Exhausted)
			r.Stats.Elapsed = 0
			all := fmt.Sprint(r.Stats)
			r.Each(func(key []byte, z *zone.DBM) bool {
				all += fmt.Sprint(key, z.B)
				return true
			})
			if i == 0 {
				first = all
			} else if all != first {
				t.Fatalf("run %d differs", i)
			}
		}
	}
}

// The hull pass proves mutual exclusion where joining loses nothing that matters,
// and says nothing where the bad state is reachable.
func TestHullVerdicts(t *testing.T) {
	h := explore.Hull(context.Background(), fischer(3, 10, ">", 10), explore.Options{StopAtBad: true})
	if h.Verdict != explore.Proved {
		t.Errorf("Fischer: %v, %v", h.Verdict, h.Status)
	}
	h = explore.Hull(context.Background(), train(3, false), explore.Options{StopAtBad: true})
	if h.Verdict != explore.Proved {
		t.Errorf("train gate: %v, %v", h.Verdict, h.Status)
	}
	h = explore.Hull(context.Background(), train(2, true), explore.Options{StopAtBad: true})
	if h.Verdict != explore.Inconclusive || h.Status != explore.FoundBad || !h.MayBeBad {
		t.Errorf("broken train gate: %v, %v", h.Verdict, h.Status)
	}
	h = explore.Hull(context.Background(), train(2, true), explore.Options{})
	if h.Verdict != explore.Inconclusive || h.Status != explore.Exhausted || !h.MayBeBad {
		t.Errorf("broken train gate, to the end: %v, %v", h.Verdict, h.Status)
	}
}

// A zone that waits at cost 1 is not dropped for a larger one of the same state at
// cost 5.
func TestCheaperZoneStays(t *testing.T) {
	const x, y = 1, 2
	m := &net{clocks: 2, autos: []auto{{
		name: "A", locs: []loc{{name: "a"}, {name: "b"}, {name: "goal"}},
		edges: []edge{
			{from: "a", to: "b", guards: []guard{{x, "<=", 1}}, resets: []int{y}, cost: 1},
			{from: "a", to: "b", resets: []int{y}, cost: 5},
			{from: "b", to: "goal", guards: []guard{{x, "<=", 5}, {x, ">=", 1}, {y, ">=", 1}, {y, "<=", 4}}},
		},
	}}}
	m.bad = func(s *netState) bool { return s.loc[0] == 2 }
	m.ready()
	both(t, func(t *testing.T, c explore.Cover) {
		r := reachable(t, m, c, 2)
		if got := r.Path[2].Cost; got != 1 {
			t.Errorf("least cost %d, want 1", got)
		}
	})
}

// A state whose first successor covers it, so that its memory is used again, still
// yields its own successors: the goal needs the step round a first.
func TestCoveredWhileExpanded(t *testing.T) {
	const x, y = 1, 2
	m := &net{clocks: 2, autos: []auto{{
		name: "A", locs: []loc{{name: "a"}, {name: "goal"}},
		edges: []edge{
			{from: "a", to: "a", resets: []int{x}},
			{from: "a", to: "goal", guards: []guard{{y, ">=", 1}, {x, "<", 1}}},
		},
	}}}
	m.bad = func(s *netState) bool { return s.loc[0] == 1 }
	m.ready()
	both(t, func(t *testing.T, c explore.Cover) { reachable(t, m, c, 2) })
}
