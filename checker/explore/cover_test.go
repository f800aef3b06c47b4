// Which zones are kept, by hand; every search here has a limit, so that a wrong cover ends it too.

package explore_test

import (
	"testing"

	"lampwarden/checker/explore"
	"lampwarden/checker/zone"
)

// twoWays leads from a to b in two ways, one after the other, and from there to the goal once x is late.
func twoWays(first, second edge, late int32) *net {
	const x, y = 1, 2
	for _, e := range []*edge{&first, &second} {
		e.from, e.to, e.resets = "a", "b", []int{y}
	}
	m := &net{clocks: 2, autos: []auto{{
		name: "A", locs: []loc{{name: "a"}, {name: "b", inv: []guard{{x, "<=", 20}}}, {name: "goal"}},
		edges: []edge{first, second, {from: "b", to: "goal", guards: []guard{{x, ">=", late}, {y, "<=", 4}}}},
	}}}
	m.bad = func(s *netState) bool { return s.loc[0] == 2 }
	return m.ready()
}

// Of two zones of b the one that includes the other is kept, whichever comes first; of two apart both are.
func TestCovering(t *testing.T) {
	const x = 1
	small, large, apart := edge{guards: []guard{{x, "<=", 2}}}, edge{guards: []guard{{x, "<=", 8}}}, edge{guards: []guard{{x, ">=", 9}}}
	for _, c := range []struct {
		name          string
		first, second edge
		zones         int // of b
	}{
		{"large, then small", large, small, 1}, {"small, then large", small, large, 1},
		{"apart", small, apart, 2}, {"apart, the other way", apart, small, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			both(t, func(t *testing.T, cover explore.Cover) {
				r := run(t, twoWays(c.first, c.second, 15), explore.Options{Cover: cover, MaxStates: 50, KeepStates: true}, explore.Exhausted)
				got := 0
				r.Each(func(key []byte, _ *zone.DBM) bool {
					if key[0] == 1 {
						got++
					}
					return true
				})
				if got != c.zones {
					t.Errorf("%d zones of b, want %d (%+v)", got, c.zones, r.Stats)
				}
			})
		})
	}
}

// A zone that comes later at a lower cost is not covered by a larger one that came at a higher.
func TestLaterCheaperZone(t *testing.T) {
	const x = 1
	dear, cheap := edge{cost: 5}, edge{guards: []guard{{x, "<=", 2}}, cost: 1}
	both(t, func(t *testing.T, c explore.Cover) {
		if r := reachable(t, twoWays(dear, cheap, 1), c, 2); r.Path[2].Cost != 1 {
			t.Errorf("least cost %d, want 1", r.Path[2].Cost)
		}
	})
}
