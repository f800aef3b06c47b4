// Abstractions against their definition.

package zone

import (
	"testing"

	"pgregory.net/rapid"
)

// drawLU draws constants for n-1 clocks, sometimes none.
func drawLU(t *rapid.T, n int) (l, u []int32) {
	l, u = make([]int32, n), make([]int32, n)
	draw := func() int32 {
		c := int32(rapid.IntRange(-1, limit).Draw(t, "lu"))
		if c < 0 {
			return NoBound
		}
		return c
	}
	for i := 1; i < n; i++ {
		l[i], u[i] = draw(), draw()
	}
	return l, u
}

// simulated is the definition behind aLU: w can do all that v can, if for every
// clock w is the same, or smaller but above L, or larger while v is above U
// already (Behrmann and others, 2006).
func simulated(v, w []int64, l, u []int32, unit int64) bool {
	above := func(x int64, c int32) bool { return c == NoBound || x > int64(c)*unit }
	for i := 1; i < len(v); i++ {
		switch {
		case w[i] < v[i] && !above(w[i], l[i]):
			return false
		case w[i] > v[i] && !above(v[i], u[i]):
			return false
		}
	}
	return true
}

// The cover test against the definition, on all regions of two clocks: a region
// has a point on every third, and what simulates it one on every ninth.
func TestCoveredALU(t *testing.T) {
	const unit, far = 9, 3*limit + 2
	covered, open := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		z, o := drawZone(t, 3), drawZone(t, 3)
		for _, b := range append(z.Copy().B, o.B...) {
			if b != Infinity && (b.Value() > limit+1 || b.Value() < -limit-1) {
				return // beyond the sampled points
			}
		}
		l, u := drawLU(t, 3)
		var inO [][]int64
		for a := int64(0); a <= far*unit; a++ {
			for b := int64(0); b <= far*unit; b++ {
				if p := []int64{0, a, b}; o.Contains(p, unit) {
					inO = append(inO, p)
				}
			}
		}
		want := true
		for a := int64(0); a <= (limit+2)*unit && want; a += 3 {
			for b := int64(0); b <= (limit+2)*unit && want; b += 3 {
				p := []int64{0, a, b}
				if !z.Contains(p, unit) {
					continue
				}
				found := false
				for _, w := range inO {
					if found = simulated(p, w, l, u, unit); found {
						break
					}
				}
				want = found
			}
		}
		if got := z.CoveredALU(o, l, u); got != want {
			t.Fatalf("%v covered by %v with L %v U %v: %v, want %v", z, o, l[1:], u[1:], got, want)
		}
		if want {
			covered++
		} else {
			open++
		}
	})
	if covered == 0 || open == 0 {
		t.Errorf("%d covered, %d not: the test decides nothing", covered, open)
	}
}

// Extrapolation grows a zone, but never beyond aLU, is the same when done
// twice, and knows only constants up to the largest.
func TestExtraLU(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 5).Draw(t, "n")
		z := drawZone(t, n)
		l, u := drawLU(t, n)
		e := z.Copy()
		changed := e.ExtraLU(l, u)
		checkClosed(t, e)
		if !changed && !e.Equal(z) {
			t.Fatalf("%v to %v, changed %v", z, e, changed)
		}
		if !e.Includes(z) {
			t.Fatalf("%v does not include %v", e, z)
		}
		if !e.CoveredALU(z, l, u) {
			t.Fatalf("L %v U %v: %v is beyond aLU of %v", l[1:], u[1:], e, z)
		}
		again := e.Copy()
		if again.ExtraLU(l, u) && !again.Includes(e) {
			t.Fatalf("twice: %v, then %v", e, again)
		}
		for i := 1; i < n; i++ {
			if l[i] == NoBound && u[i] == NoBound && (e.Upper(i) != Infinity || e.Lower(i) != LE(0)) {
				t.Fatalf("clock %d is never looked at but bounded: %v", i, e)
			}
		}
	})
}

// An example worked out by hand: x1 = x2 = 5 with L = 3, U = 4 for x1 and nothing
// for x2. The upper bound of x1 goes as 5 > L, its lower bound becomes > 4.
func TestExtraLUByHand(t *testing.T) {
	z := Zero(3)
	z.Up()
	z.Constrain(1, 0, LE(5))
	z.Constrain(0, 1, LE(-5))
	z.ExtraLU([]int32{0, 3, NoBound}, []int32{0, 4, NoBound})
	if got, want := z.String(), "4<x1"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestCap(t *testing.T) {
	z := Zero(3)
	z.Up()
	if z.Cap() {
		t.Errorf("small constants changed: %v", z)
	}
	const big = MaxConstant
	z.Constrain(0, 1, LE(-big))
	z.Reset(2)
	z.Up()
	z.Constrain(0, 2, LE(-big)) // x1 >= 2*big, x2 >= big
	old := z.Copy()
	if !z.Cap() || !z.Includes(old) {
		t.Fatalf("%v from %v", z, old)
	}
	if z.Lower(1) != LT(-big) || z.Lower(2) != LE(-big) {
		t.Errorf("got %v", z)
	}
}

// Clocks that are added up round and round stay within range, and nothing is lost.
func TestCapInRange(t *testing.T) {
	const big = MaxConstant
	rapid.Check(t, func(t *rapid.T) {
		z := Zero(4)
		for range rapid.IntRange(1, 12).Draw(t, "steps") {
			x := rapid.IntRange(1, 3).Draw(t, "x")
			c := int32(rapid.SampledFrom([]int{0, 1, big / 2, big - 1, big}).Draw(t, "c"))
			ok := true
			switch rapid.IntRange(0, 3).Draw(t, "op") {
			case 0:
				z.Up()
			case 1:
				z.Reset(x)
			case 2:
				ok = z.Constrain(0, x, LE(-c))
			case 3:
				ok = z.Constrain(x, 0, LT(c))
			}
			if !ok {
				return
			}
			old := z.Copy()
			if capped := z.Cap(); !capped && !z.Equal(old) || !z.Includes(old) {
				t.Fatalf("%v from %v", z, old)
			}
			checkClosed(t, z)
			for _, b := range z.B {
				if b < LT(-big) {
					t.Fatalf("constant %v left in %v", b, z.B)
				}
			}
		}
	})
}
