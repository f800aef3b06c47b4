// The FDDI token ring, in the conventions of textbook_test.go.

package explore_test

import (
	"fmt"
	"testing"

	"lampwarden/checker/explore"
)

// fddi is the token ring with n stations: a target rotation time of 50 for each,
// 20 for synchronous sending, no delay on the ring. With last it is bad that the
// last station sends asynchronously, else that two stations hold the token.
func fddi(n int, last bool) *net {
	const sa, td = 20, 0
	ttrt := int32(50 * n)
	nt := &net{clocks: 3*n + 1}
	t := 3*n + 1
	ring := auto{name: "Ring"}
	for i := 1; i <= n; i++ {
		q, r := fmt.Sprint("q", i), fmt.Sprint("r", i)
		ring.locs = append(ring.locs, loc{name: q, inv: []guard{{t, "<=", td}}}, loc{name: r})
		ring.edges = append(ring.edges,
			edge{from: q, to: r, event: fmt.Sprint("TT", i), guards: []guard{{t, "=", td}}},
			edge{from: r, to: fmt.Sprint("q", i%n+1), event: fmt.Sprint("RT", i), resets: []int{t}})
	}
	nt.autos = append(nt.autos, ring)
	stations := make([]int, n)
	for i := 1; i <= n; i++ {
		stations[i-1] = i
		trt, xa, xb := 3*i-2, 3*i-1, 3*i
		a := auto{name: fmt.Sprint("S", i)}
		for half, x := range [][2]int{{xa, xb}, {xb, xa}} {
			old, fresh := x[0], x[1] // the clocks of the last round and of this one
			name := func(k int) string { return fmt.Sprint("q", (4*half+k)%8) }
			a.locs = append(a.locs, loc{name: name(0)}, loc{name: name(1), inv: []guard{{trt, "<=", sa}}},
				loc{name: name(2), inv: []guard{{trt, "<=", sa}}}, loc{name: name(3), inv: []guard{{old, "<=", ttrt + sa}}})
			a.edges = append(a.edges,
				edge{from: name(0), to: name(1), event: "TT", guards: []guard{{trt, ">=", ttrt}}, resets: []int{trt, fresh}},
				edge{from: name(0), to: name(2), event: "TT", guards: []guard{{trt, "<", ttrt}}, resets: []int{trt, fresh}},
				edge{from: name(1), to: name(4), event: "RT", guards: []guard{{trt, "=", sa}}},
				edge{from: name(2), to: name(3), guards: []guard{{trt, "=", sa}}},
				edge{from: name(3), to: name(4), event: "RT"})
		}
		nt.autos = append(nt.autos, a)
		nt.syncs = append(nt.syncs, []party{{0, fmt.Sprint("TT", i)}, {i, "TT"}}, []party{{0, fmt.Sprint("RT", i)}, {i, "RT"}})
	}
	nt.bad = func(s *netState) bool {
		if last {
			return s.loc[n]%4 == 3
		}
		return n-s.locations(stations, 0)-s.locations(stations, 4) >= 2
	}
	return nt.ready()
}

// Verdicts, lengths and the aLU counts of the separate explorer.
func TestFDDI(t *testing.T) {
	for n, want := range map[int]struct{ stored, steps int }{2: {0, 5}, 3: {53, 8}, 4: {0, 11}, 5: {129, 14}} {
		r := run(t, fddi(n, false), explore.Options{Cover: explore.ALU, StopAtBad: true}, explore.Exhausted)
		if want.stored != 0 && r.Stats.Stored != want.stored {
			t.Errorf("%d stations: stored %d, want %d", n, r.Stats.Stored, want.stored)
		}
		run(t, fddi(n, false), explore.Options{StopAtBad: true}, explore.Exhausted)
		both(t, func(t *testing.T, c explore.Cover) { reachable(t, fddi(n, true), c, want.steps) })
	}
}
