// The textbook models that come beside the ten, in the conventions of textbook_test.go.

package explore_test

import (
	"fmt"
	"testing"

	"lampwarden/checker/explore"
)

// signOn follows F. Yu, B.-Y. Wang, SAT-based model checking for region automata, 2006 (a single sign-on protocol): n users
// choose a policy that asks for one or for two certificates, get them one by one, each after more than 2, and have access if
// that took less than 10. All with access at once is bad.
func signOn(n int) *net {
	const each, within, most = 2, 10, 2
	need := []int{1, 2}
	nt := &net{clocks: 2 * n, vars: make([]int, 2*n)}
	all := make([]int, n)
	for i := range n {
		all[i] = i
		x, y, have, policy := 2*i+1, 2*i+2, 2*i, 2*i+1
		au := auto{name: fmt.Sprint("U", i), locs: []loc{{name: "asking"}, {name: "access"}}}
		au.edges = append(au.edges, edge{from: "asking", to: "asking", guards: []guard{{x, ">", each}}, resets: []int{x},
			when: func(s *netState) bool { return s.vars[policy] > 0 && s.vars[have] < most },
			do:   func(s *netState) { s.vars[have]++ }})
		for j, k := range need {
			au.edges = append(au.edges,
				edge{from: "asking", to: "asking", resets: []int{x, y}, when: func(s *netState) bool { return s.vars[policy] == 0 },
					do: func(s *netState) { s.vars[policy], s.vars[have] = j+1, 0 }},
				edge{from: "asking", to: "access", guards: []guard{{y, "<", within}},
					when: func(s *netState) bool { return s.vars[policy] == j+1 && s.vars[have] >= k }})
		}
		au.edges = append(au.edges, edge{from: "access", to: "asking", do: func(s *netState) { s.vars[policy] = 0 }})
		nt.autos = append(nt.autos, au)
	}
	nt.bad = func(s *netState) bool { return s.locations(all, 1) == n }
	return nt.ready()
}

// Each of two users chooses, gets one certificate and goes in: six steps. (The golden counts of a generator of this model,
// 347 zones and 554 steps, are of another order of search or version of it; the whole graph here has 265 and 692.)
func TestSignOn(t *testing.T) {
	both(t, func(t *testing.T, c explore.Cover) { reachable(t, signOn(2), c, 6) })
	counts(t, signOn(2), true, 265, 692, 265)
}

// twice is the lamp that a second press within less than 5 of the first makes bright, and a user who lets pause pass
// between presses. Bright is bad.
func twice(pause int32) *net {
	const x, y = 1, 2
	nt := &net{clocks: 2, autos: []auto{
		{name: "Lamp", locs: []loc{{name: "off"}, {name: "low"}, {name: "bright"}}, edges: []edge{
			{from: "off", to: "low", event: "press", resets: []int{x}},
			{from: "low", to: "bright", event: "press", guards: []guard{{x, "<", 5}}},
			{from: "low", to: "off", event: "press", guards: []guard{{x, ">=", 5}}},
			{from: "bright", to: "off", event: "press"},
		}},
		{name: "User", locs: []loc{{name: "u"}}, edges: []edge{
			{from: "u", to: "u", event: "press", guards: []guard{{y, ">=", pause}}, resets: []int{y}},
		}},
	}}
	nt.syncs = [][]party{{{0, "press"}, {1, "press"}}}
	nt.bad = func(s *netState) bool { return s.loc[0] == 2 }
	return nt.ready()
}

// By construction: bright can be had by who presses again before 5, not by who waits for it.
func TestPressTwice(t *testing.T) {
	both(t, func(t *testing.T, c explore.Cover) {
		for _, pause := range []int32{0, 3, 4} {
			reachable(t, twice(pause), c, 2)
		}
		for _, pause := range []int32{5, 6} {
			run(t, twice(pause), explore.Options{Cover: c, StopAtBad: true}, explore.Exhausted)
		}
	})
}

// Larger ones of the ten: counts of the separate explorer, but for Fischer's, which are also published.
func TestLargerCounts(t *testing.T) {
	for _, c := range []struct {
		name                string
		m                   *net
		stored, transitions int
	}{
		{"Fischer 7", fischer(7, 10, ">", 10), 7737, 35266},
		{"CSMA/CD 6", csma(6, 0), 2594, 6081},
		{"train gate 4", train(4, false), 12000, 28800},
		{"philosophers 6", philosophers(6), 5480, 30042},
		{"parallel lock 6", parallelLock(6), 11743, 80244},
		{"FDDI 8", fddi(8, false), 303, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := run(t, c.m, explore.Options{Cover: explore.ALU}, explore.Exhausted)
			if r.Stats.Stored != c.stored || c.transitions != 0 && r.Stats.Transitions != c.transitions || r.BadSeen {
				t.Errorf("stored %d, %d transitions, bad %v, want %d, %d, not", r.Stats.Stored, r.Stats.Transitions, r.BadSeen, c.stored, c.transitions)
			}
		})
	}
	run(t, philosophers(2), explore.Options{StopAtBad: true}, explore.Exhausted)
	// With extrapolation 56 and 141 for 3 and 5 stations; here the latter is 140, as a zone is compared before it is extrapolated.
	for n, want := range map[int]int{3: 56, 5: 140} {
		if r := run(t, fddi(n, false), explore.Options{}, explore.Exhausted); r.Stats.Stored != want {
			t.Errorf("FDDI %d with extrapolation: stored %d, want %d", n, r.Stats.Stored, want)
		}
	}
}
