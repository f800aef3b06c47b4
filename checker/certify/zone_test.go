package certify

import (
	"math/rand/v2"
	"testing"
)

// fine is how many points of the grid lie in a unit. Three clocks have at most four different fractions, 0 included; a fourth
// of a unit tells them apart, an eighth leaves room for time to pass between.
const fine = 8

// holds is membership by definition; v counts in parts of a unit, v[0] is 0.
func (z *zone) holds(v []int64) bool {
	for i := range z.n {
		for j := range z.n {
			b, d := z.at[i*z.n+j], v[i]-v[j]
			if b != none && (d > int64(b>>1)*fine || b&1 == 0 && d == int64(b>>1)*fine) {
				return false
			}
		}
	}
	for _, x := range v {
		if x < 0 {
			return false
		}
	}
	return true
}

// gridPoints calls f for every point of the grid up to the number of units, in steps of so many parts.
func gridPoints(n int, units, step int64, f func(v []int64)) {
	v := make([]int64, n)
	var rec func(i int)
	rec = func(i int) {
		if i == n {
			f(v)
			return
		}
		for v[i] = 0; v[i] <= units*fine; v[i] += step {
			rec(i + 1)
		}
	}
	rec(1)
}

// hasPoint tells whether some point of the grid is in the zone and passes.
func hasPoint(z *zone, units int64, pass func(v []int64) bool) bool {
	found := false
	gridPoints(z.n, units, 2, func(v []int64) { found = found || z.holds(v) && pass(v) })
	return found
}

func anyBound(r *rand.Rand) bound {
	v := int64(r.IntN(7) - 3)
	if r.IntN(2) == 0 {
		return le(v)
	}
	return lt(v)
}

// anyZone is a zone that is not empty, with its clocks within 3 units.
func anyZone(r *rand.Rand, n int) *zone {
	z := universe(n)
	for i := 1; i < n; i++ {
		z.constrain(i, 0, le(3))
	}
	for range r.IntN(6) {
		next := z.clone()
		if i, j := r.IntN(n), r.IntN(n); next.constrain(i, j, anyBound(r)) {
			z = next
		}
	}
	return z
}

// Every operation against its meaning, point by point.
func TestZonesPointByPoint(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	empty, notWithin := 0, 0
	for range 150 {
		n := 2 + r.IntN(3)
		z := anyZone(r, n)
		i, j, b := r.IntN(n), r.IntN(n), anyBound(r)
		cut, raw := z.clone(), z.clone()
		nonempty := cut.constrain(i, j, b)
		if piece, ok := z.cut(i, j, b); ok != nonempty || ok && piece.String() != cut.String() {
			t.Fatalf("%v with %d-%d %v: cut to %v, %t", z, i, j, b, piece, ok)
		}
		raw.at[i*n+j] = min(raw.at[i*n+j], b)
		if got := hasPoint(raw, 3, func([]int64) bool { return true }); got != nonempty {
			t.Fatalf("%v with %d-%d %v: nonempty %t, points say %t", z, i, j, b, nonempty, got)
		}
		if closed, ok := zoneOf(n, raw.at); ok != nonempty || ok && closed.String() != cut.String() {
			t.Fatalf("%v with %d-%d %v: closed one by one %v, as a whole %v %t", z, i, j, b, cut, closed, ok)
		}
		later, other := z.clone(), anyZone(r, n)
		later.later()
		within := true
		gridPoints(n, 4, 2, func(v []int64) {
			if nonempty && cut.holds(v) != raw.holds(v) {
				t.Fatalf("%v with %d-%d %v is %v at %v", z, i, j, b, cut, v)
			}
			before, u := false, make([]int64, n)
			for d := int64(1); d <= 4*fine && !before; d++ {
				for k := 1; k < n; k++ {
					u[k] = v[k] - d
				}
				before = z.holds(u)
			}
			if later.holds(v) != before {
				t.Fatalf("%v later is %v at %v", z, later, v)
			}
			within = within && (!z.holds(v) || other.holds(v))
		})
		if z.within(other) != within {
			t.Fatalf("%v within %v: points say %t", z, other, within)
		}
		if !nonempty {
			empty++
		}
		if !within {
			notWithin++
		}
	}
	if empty < 10 || notWithin < 50 || notWithin > 140 {
		t.Errorf("%d empty, %d not within: the zones are too much alike", empty, notWithin)
	}
}

// Picked clocks stand where some old valuation has them, fresh ones at zero.
func TestPickedClocks(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	for range 100 {
		n := 2 + r.IntN(3)
		z := anyZone(r, n)
		from := make([]int, 1+r.IntN(3))
		for k := 1; k < len(from); k++ {
			from[k] = r.IntN(n)
		}
		got := z.pick(from)
		gridPoints(len(from), 3, 2, func(v []int64) {
			want := hasPoint(z, 3, func(old []int64) bool {
				for k := range from {
					if v[k] != old[from[k]] {
						return false
					}
				}
				return true
			})
			if got.holds(v) != want {
				t.Fatalf("%v picked %v is %v at %v", z, from, got, v)
			}
		})
	}
}

func TestBoundsInOneForm(t *testing.T) {
	for _, text := range []string{"0", "5", "-5", "<0", "<-7", "*"} {
		if b, err := parseBound(text); err != nil || b.String() != text {
			t.Errorf("%q reads as %v, %v", text, b, err)
		}
	}
	for _, text := range []string{"", "+5", "05", "-0", "<", "<<5", "<*", "5 ", "1e3", "99999999999999999999", "35184372088833", "٣"} {
		if b, err := parseBound(text); err == nil {
			t.Errorf("%q reads as %v", text, b)
		}
	}
}

// A contradiction among many clocks with great numbers is seen without running over.
func TestZoneOfGreatNumbers(t *testing.T) {
	const n = 40
	at := universe(n).at
	for i := range n {
		for j := range n {
			if i != j {
				at[i*n+j] = le(-maxNumber)
			}
		}
	}
	if z, ok := zoneOf(n, at); ok {
		t.Errorf("not empty: %v", z)
	}
}
