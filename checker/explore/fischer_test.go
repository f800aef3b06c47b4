// Fischer's mutual exclusion, right and broken.

package explore_test

import (
	"fmt"
	"testing"
)

// fischer is Fischer's protocol for n processes: a request is written within
// deadline, and the critical section is entered after a wait that fulfils the
// guard. Two in the critical section is bad.
func fischer(n int, deadline int32, wait string, c int32) *net {
	nt := &net{clocks: n, vars: []int{0}}
	all := make([]int, n)
	for i := range n {
		all[i] = i
		x, me := i+1, i+1
		free := func(s *netState) bool { return s.vars[0] == 0 }
		nt.autos = append(nt.autos, auto{
			name: fmt.Sprint("P", me),
			locs: []loc{{name: "A"}, {name: "req", inv: []guard{{x, "<=", deadline}}}, {name: "wait"}, {name: "cs"}},
			edges: []edge{
				{from: "A", to: "req", when: free, resets: []int{x}},
				{from: "req", to: "wait", guards: []guard{{x, "<=", deadline}}, resets: []int{x},
					do: func(s *netState) { s.vars[0] = me }},
				{from: "wait", to: "req", when: free, resets: []int{x}},
				{from: "wait", to: "cs", guards: []guard{{x, wait, c}}, when: func(s *netState) bool { return s.vars[0] == me }},
				{from: "cs", to: "A", do: func(s *netState) { s.vars[0] = 0 }},
			},
		})
	}
	nt.bad = func(s *netState) bool { return s.locations(all, 3) >= 2 }
	return nt.ready()
}

// The counts for 2 and 3 processes are those of the open MIT-licensed TickTac set of
// timed models; 4 to 6 were computed with a separate explorer and agree with the
// numbers of nodes published for the aLU abstraction.
func TestFischerCounts(t *testing.T) {
	for _, c := range []struct{ n, stored, transitions, visited int }{
		{2, 18, 26, 18}, {3, 65, 126, 71}, {4, 220, 552, 268}, {5, 727, 2290, 977}, {6, 2378, 9132, 3458},
	} {
		t.Run(fmt.Sprint(c.n), func(t *testing.T) {
			counts(t, fischer(c.n, 10, ">", 10), false, c.stored, c.transitions, c.visited)
		})
	}
}
