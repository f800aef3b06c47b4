// Zones against their meaning: sets of points, sampled on a grid fine enough.

package zone

import (
	"testing"

	"pgregory.net/rapid"
)

// limit is the largest constant of the random zones.
const limit = 3

// region is the reference: membership straight from the definition of each
// operation, on points in units of 1/grid.
type region func(p []int64) bool

// grid divides the unit. A zone of two or three clocks whose constants are multiples of
// 1/4 has a point whose clocks are multiples of 1/16, even where all of them are apart.
const (
	coarse = 4
	grid   = 16
)

// drawConstraint draws a bound x_i - x_j < or <= c.
func drawConstraint(t *rapid.T, n int) (i, j int, b Bound) {
	i = rapid.IntRange(0, n-1).Draw(t, "i")
	j = (i + rapid.IntRange(1, n-1).Draw(t, "j")) % n
	c := int32(rapid.IntRange(-limit, limit).Draw(t, "c"))
	if rapid.Bool().Draw(t, "strict") {
		return i, j, LT(c)
	}
	return i, j, LE(c)
}

// holds is a constraint on a point in units of 1/grid.
func holds(p []int64, i, j int, b Bound) bool {
	d, c := p[i]-p[j], int64(b.Value())*grid
	return d < c || d == c && !b.Strict()
}

// drawZone draws a closed zone of n-1 clocks that is not empty.
func drawZone(t *rapid.T, n int) *DBM {
	z := Universe(n)
	if rapid.Bool().Draw(t, "zero") {
		z = Zero(n)
	}
	for range rapid.IntRange(0, 6).Draw(t, "steps") {
		before := z.Copy()
		switch rapid.IntRange(0, 5).Draw(t, "op") {
		case 0:
			z.Up()
		case 1:
			z.UpStrict()
		case 2:
			z.Reset(rapid.IntRange(1, n-1).Draw(t, "clock"))
		case 3:
			z.Free(rapid.IntRange(1, n-1).Draw(t, "clock"))
		default:
			if !z.Constrain(drawConstraint(t, n)) {
				z = before
			}
		}
	}
	return z
}

// checkClosed fails unless z is in closed form and not empty.
func checkClosed(t *rapid.T, z *DBM) {
	c := z.Copy()
	if !c.Close() || z.IsEmpty() {
		t.Fatalf("empty: %v", z)
	}
	if !c.Equal(z) {
		t.Fatalf("not closed: %v, closed %v", z.B, c.B)
	}
}

// points calls f with every point of n-1 clocks on the grid of 1/coarse up to top.
func points(n int, top int64, f func(p []int64)) {
	p := make([]int64, n)
	var rec func(i int)
	rec = func(i int) {
		if i == n {
			f(p)
			return
		}
		for v := int64(0); v <= top*grid; v += grid / coarse {
			p[i] = v
			rec(i + 1)
		}
	}
	rec(1)
}

// compare fails unless z is the region, on the sampled points.
func compare(t *rapid.T, what string, z *DBM, want region) {
	checkClosed(t, z)
	points(z.N, limit+1, func(p []int64) {
		if got := z.Contains(p, grid); got != want(p) {
			t.Fatalf("%s: %v contains %v/%d: %v, want %v", what, z, p, grid, got, !got)
		}
	})
}

// some reports whether moving the point by f(p, v) for some v of a range that covers
// every interesting value is in z.
func some(z *DBM, p []int64, from int64, f func(q []int64, v int64)) bool {
	q := make([]int64, len(p))
	for v := from; v <= 4*limit*grid; v++ {
		copy(q, p)
		f(q, v)
		if z.Contains(q, grid) {
			return true
		}
	}
	return false
}

func back(q []int64, d int64) {
	for i := 1; i < len(q); i++ {
		q[i] -= d
	}
}

func TestConstrain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		z := drawZone(t, 3)
		i, j, b := drawConstraint(t, 3)
		old := z.Copy()
		// The reference is the full closure.
		ref := z.Copy()
		ref.B[i*3+j] = min(ref.B[i*3+j], b)
		some := ref.Close()
		if got := z.Constrain(i, j, b); got != some || z.IsEmpty() == got {
			t.Fatalf("%v with x%d-x%d%v: %v, want %v", old, i, j, b, got, some)
		}
		if !some {
			points(3, limit+1, func(p []int64) {
				if old.Contains(p, grid) && holds(p, i, j, b) {
					t.Fatalf("emptied, but %v is in %v", p, old)
				}
			})
			return
		}
		if !z.Equal(ref) {
			t.Fatalf("%v, closure %v", z.B, ref.B)
		}
		compare(t, "constrain", z, func(p []int64) bool { return old.Contains(p, grid) && holds(p, i, j, b) })
	})
}

// The same with more clocks, against the full closure only.
func TestConstrainWide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 7).Draw(t, "n")
		z := drawZone(t, n)
		for range 6 {
			i, j, b := drawConstraint(t, n)
			ref := z.Copy()
			ref.B[i*n+j] = min(ref.B[i*n+j], b)
			some := ref.Close()
			if z.Constrain(i, j, b) != some {
				t.Fatalf("empty: %v, want %v", some, !some)
			}
			if !some {
				return
			}
			if !z.Equal(ref) {
				t.Fatalf("%v, closure %v", z.B, ref.B)
			}
		}
	})
}

func TestDelay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		z := drawZone(t, 3)
		up, strict := z.Copy(), z.Copy()
		up.Up()
		strict.UpStrict()
		compare(t, "up", up, func(p []int64) bool { return some(z, p, 0, back) })
		compare(t, "strict up", strict, func(p []int64) bool { return some(z, p, 1, back) })
	})
}

func TestResetAndFree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		z := drawZone(t, 3)
		x := rapid.IntRange(1, 2).Draw(t, "x")
		reset, free := z.Copy(), z.Copy()
		reset.Reset(x)
		free.Free(x)
		set := func(q []int64, v int64) { q[x] = v }
		compare(t, "reset", reset, func(p []int64) bool { return p[x] == 0 && some(z, p, 0, set) })
		compare(t, "free", free, func(p []int64) bool { return some(z, p, 0, set) })
	})
}

func TestSelect(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		z := drawZone(t, 3)
		from := append([]int{0}, rapid.SliceOfN(rapid.IntRange(0, 2), 0, 2).Draw(t, "from")...)
		var dst DBM
		Select(&dst, z, from)
		compare(t, "select", &dst, func(p []int64) bool {
			q := []int64{0, -1, -1}
			for k, f := range from {
				switch {
				case f == 0 && p[k] != 0:
					return false // fresh clocks are 0
				case f != 0 && q[f] >= 0 && q[f] != p[k]:
					return false // the same clock twice
				case f != 0:
					q[f] = p[k]
				}
			}
			return completes(z, q, 1)
		})
	})
}

// completes reports whether some values for the clocks at -1 put q into z.
func completes(z *DBM, q []int64, i int) bool {
	if i == len(q) {
		return z.Contains(q, grid)
	}
	if q[i] >= 0 {
		return completes(z, q, i+1)
	}
	defer func() { q[i] = -1 }()
	for v := int64(0); v <= 3*limit*grid; v += grid / coarse / 2 {
		q[i] = v
		if completes(z, q, i+1) {
			return true
		}
	}
	return false
}

func TestHullAndIncludes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawZone(t, 4), drawZone(t, 4)
		h := a.Copy()
		grew := h.Hull(b)
		checkClosed(t, h)
		if !h.Includes(a) || !h.Includes(b) || grew != !a.Includes(b) || grew == h.Equal(a) {
			t.Fatalf("hull of %v and %v is %v, grew %v", a, b, h, grew)
		}
		for at, x := range h.B { // no smaller zone will do
			if i, j := at/4, at%4; i != j && x != Infinity && outside(a, i, j, x-1) == nil && outside(b, i, j, x-1) == nil {
				t.Fatalf("hull of %v and %v is %v: x%d-x%d could be tighter", a, b, h, i, j)
			}
		}
		// Inclusion fails exactly where a point of b breaks a bound of a.
		var witness *DBM
		for at, x := range a.B {
			if w := outside(b, at/4, at%4, x); w != nil {
				witness = w
			}
		}
		if a.Includes(b) != (witness == nil) {
			t.Fatalf("%v includes %v: %v, but outside is %v", a, b, a.Includes(b), witness)
		}
		var scratch DBM
		meet := a.Copy()
		ok := true
		for at, x := range b.B {
			ok = ok && (at/4 == at%4 || meet.Constrain(at/4, at%4, x))
		}
		if a.Intersects(b, &scratch) != ok {
			t.Fatalf("%v meets %v: %v, want %v", a, b, !ok, ok)
		}
	})
}

// outside is the part of z that breaks x_i - x_j within b, or nil.
func outside(z *DBM, i, j int, b Bound) *DBM {
	if i == j || b == Infinity {
		return nil
	}
	w := z.Copy()
	not := LT(-b.Value())
	if b.Strict() {
		not = LE(-b.Value())
	}
	w.B[j*w.N+i] = min(w.B[j*w.N+i], not)
	if !w.Close() {
		return nil
	}
	return w
}
