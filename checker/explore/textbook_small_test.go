// Small textbook models with known verdicts, in the conventions of textbook_test.go.

package explore_test

import (
	"fmt"
	"testing"

	"lampwarden/checker/explore"
)

// alurDill is the running example of R. Alur and D. Dill, A theory of timed
// automata, 1994; its location l3 is bad.
func alurDill() *net {
	const x, y = 1, 2
	nt := &net{clocks: 2, autos: []auto{{
		name: "A", locs: []loc{{name: "l0"}, {name: "l1"}, {name: "l2"}, {name: "l3"}},
		edges: []edge{
			{from: "l0", to: "l1", resets: []int{y}},
			{from: "l1", to: "l2", guards: []guard{{y, "=", 1}}},
			{from: "l1", to: "l3", guards: []guard{{x, "<", 1}}},
			{from: "l2", to: "l3", guards: []guard{{x, "<", 1}}},
			{from: "l3", to: "l1", guards: []guard{{y, "<", 1}}, resets: []int{y}},
			{from: "l3", to: "l3", guards: []guard{{x, ">", 1}}},
		},
	}}}
	nt.bad = func(s *netState) bool { return s.loc[0] == 3 }
	return nt.ready()
}

// The full graph, worked out by hand: one zone for each location, and the steps
// l0-l1, l1-l2, l1-l3, l3-l1 and l3-l3, the last two covered. The golden count at the
// goal is 4 zones, the goal's own included, and 3 steps.
func TestAlurDill(t *testing.T) {
	counts(t, alurDill(), true, 4, 5, 4)
	both(t, func(t *testing.T, c explore.Cover) {
		r := reachable(t, alurDill(), c, 2)
		if r.Stats.Stored+1 != 4 || r.Stats.Transitions != 3 {
			t.Errorf("at the goal %d stored and the goal, %d transitions, want 4 in all and 3", r.Stats.Stored, r.Stats.Transitions)
		}
	})
}

// bridge is the bridge crossing with one torch: at most two cross at a time, at
// the slower one's speed. All four across within the deadline is bad.
func bridge(deadline int32) *net {
	const t, y = 1, 2
	speed := []int32{5, 10, 20, 25}
	a := auto{name: "Torch", locs: []loc{{name: "here"}, {name: "there"}, {name: "done"}}}
	for i := range 4 {
		for j := i; j < 4; j++ {
			for side, from := range []string{"here", "there"} {
				to := []string{"there", "here"}[side]
				under := fmt.Sprintf("%s-%d-%d", to, i, j)
				slow := max(speed[i], speed[j])
				a.locs = append(a.locs, loc{name: under, inv: []guard{{y, "<=", slow}}})
				land := func(s *netState) { s.vars[i], s.vars[j] = 1-side, 1-side }
				a.edges = append(a.edges,
					edge{from: from, to: under, resets: []int{y},
						when: func(s *netState) bool { return s.vars[i] == side && s.vars[j] == side }},
					edge{from: under, to: to, guards: []guard{{y, ">=", slow}}, do: land})
				if side == 0 {
					last := func(s *netState) bool {
						across := s.vars[0] + s.vars[1] + s.vars[2] + s.vars[3]
						return across == 2 && i != j
					}
					a.edges = append(a.edges, edge{from: under, to: "done", do: land, when: last,
						guards: []guard{{y, ">=", slow}, {t, "<=", deadline}}})
				}
			}
		}
	}
	nt := &net{clocks: 2, vars: make([]int, 4), autos: []auto{a}}
	nt.bad = func(s *netState) bool { return s.loc[0] == 2 }
	return nt.ready()
}

// Crossing with 5, 10, 20, 25 minutes takes 60 at least: a common puzzle, also
// used in papers on the cheapest path in priced timed automata.
func TestBridge(t *testing.T) {
	both(t, func(t *testing.T, c explore.Cover) {
		for _, d := range []int32{58, 59} {
			run(t, bridge(d), explore.Options{Cover: c, StopAtBad: true}, explore.Exhausted)
		}
		for _, d := range []int32{60, 61} {
			reachable(t, bridge(d), c, 10)
		}
	})
}

// criticalRegion follows G. Morbé, F. Pigorsch, C. Scholl, Fully symbolic model
// checking for timed automata, 2011: n cells with an arbiter each and a counter
// that passes the right to enter round.
func criticalRegion(n int) *net {
	const t = 10
	nt := &net{clocks: n, vars: []int{0}}
	first := func(s *netState) { s.vars[0] = 1 }
	nt.autos = append(nt.autos, auto{name: "Counter", locs: []loc{{name: "I"}, {name: "C"}}, edges: []edge{
		{from: "I", to: "C", when: func(s *netState) bool { return s.vars[0] == 0 }, do: first},
		{from: "C", to: "C", when: func(s *netState) bool { return s.vars[0] < n }, do: func(s *netState) { s.vars[0]++ }},
		{from: "C", to: "C", when: func(s *netState) bool { return s.vars[0] == n }, do: first},
	}})
	var cells []int
	for i := 1; i <= n; i++ {
		arbiter, cell := len(nt.autos), len(nt.autos)+1
		cells = append(cells, cell)
		nt.autos = append(nt.autos, auto{
			name: fmt.Sprint("Arbiter", i), locs: []loc{{name: "req"}, {name: "ack"}},
			edges: []edge{
				{from: "req", to: "ack", event: "enter", when: func(s *netState) bool { return s.vars[0] == i },
					do: func(s *netState) { s.vars[0] = 0 }},
				{from: "ack", to: "req", event: "exit", do: func(s *netState) { s.vars[0] = i }},
			},
		}, auto{
			name: fmt.Sprint("Cell", i),
			locs: []loc{{name: "not_ready"}, {name: "testing", inv: []guard{{i, "<=", t}}}, {name: "requesting"},
				{name: "critical", inv: []guard{{i, "<=", 2 * t}}}, {name: "error"},
				{name: "testing2", inv: []guard{{i, "<=", t}}}, {name: "safe"}},
			edges: []edge{
				{from: "not_ready", to: "testing", guards: []guard{{i, "<=", 2 * t}}, resets: []int{i}},
				{from: "testing", to: "not_ready", guards: []guard{{i, ">=", t}}, resets: []int{i}},
				{from: "testing", to: "requesting", guards: []guard{{i, "<=", t - 1}}},
				{from: "requesting", to: "critical", event: "enter", resets: []int{i}},
				{from: "critical", to: "error", guards: []guard{{i, ">=", 2 * t}}},
				{from: "critical", to: "testing2", event: "exit", guards: []guard{{i, "<=", t - 1}}, resets: []int{i}},
				{from: "testing2", to: "error", guards: []guard{{i, ">=", t}}},
				{from: "testing2", to: "safe", guards: []guard{{i, "<=", t - 1}}},
			},
		})
		nt.syncs = append(nt.syncs,
			[]party{{arbiter, "enter"}, {cell, "enter"}}, []party{{arbiter, "exit"}, {cell, "exit"}})
	}
	nt.bad = func(s *netState) bool { return s.locations(cells, 4) > 0 }
	return nt.ready()
}

func TestCriticalRegion(t *testing.T) {
	for n := 1; n <= 3; n++ {
		both(t, func(t *testing.T, c explore.Cover) { reachable(t, criticalRegion(n), c, 5) })
	}
	counts(t, criticalRegion(1), true, 13, 26, 0)
	counts(t, criticalRegion(2), true, 191, 673, 0)
	counts(t, criticalRegion(3), true, 3015, 16603, 0)
}

// simultaneous is n automata that go from A to B one by one and from B to C all
// together within 1 of the first.
func simultaneous(n int) *net {
	nt := &net{clocks: n}
	var vec []party
	for x := 1; x <= n; x++ {
		nt.autos = append(nt.autos, auto{
			name: fmt.Sprint("P", x), locs: []loc{{name: "A"}, {name: "B"}, {name: "C"}},
			edges: []edge{
				{from: "A", to: "B", resets: []int{x}},
				{from: "B", to: "C", event: "all", guards: []guard{{x, "<=", 1}}},
			},
		})
		vec = append(vec, party{x - 1, "all"})
	}
	nt.syncs = [][]party{vec}
	nt.bad = func(s *netState) bool { return s.loc[0] == 2 }
	return nt.ready()
}

// By construction there is a zone for each set of automata in B, and the goal.
func TestSimultaneous(t *testing.T) {
	for n := 1; n <= 5; n++ {
		m := simultaneous(n)
		both(t, func(t *testing.T, c explore.Cover) { reachable(t, m, c, n+1) })
		r := run(t, m, explore.Options{Cover: explore.ALU}, explore.Exhausted)
		if want := 1<<n + 1; r.Stats.Stored != want {
			t.Errorf("%d automata: stored %d, want %d", n, r.Stats.Stored, want)
		}
	}
}

// Integer time blows up where zones do not: the counts of explicit states were
// computed with a separate explorer.
func TestTicksAgainstZones(t *testing.T) {
	if n, least := fischer(3, 10, ">", 10).ticks(1); n != 15990 || least != unreached {
		t.Errorf("Fischer, 3 processes: %d explicit states, least cost %d, want 15990, none", n, least)
	}
	if n, least := train(2, false).ticks(1); n != 6325 || least != unreached {
		t.Errorf("2 trains: %d explicit states, least cost %d, want 6325, none", n, least)
	}
}
