// Bounds, printing, and memory.

package zone

import (
	"testing"

	"pgregory.net/rapid"
)

func TestBoundOrder(t *testing.T) {
	order := []Bound{LT(-2), LE(-2), LT(-1), LE(-1), LT(0), LE(0), LT(1), LE(1), LE(MaxConstant), Infinity}
	for i := 1; i < len(order); i++ {
		if order[i-1] >= order[i] {
			t.Errorf("%v is not below %v", order[i-1], order[i])
		}
	}
	if LE(-7).Value() != -7 || LT(-7).Value() != -7 || LE(7).Strict() || !LT(7).Strict() {
		t.Error("value or strictness lost")
	}
}

// Sums are exact within range, absorb Infinity, and are never tighter than exact
// out of range.
func TestAdd(t *testing.T) {
	draw := func(t *rapid.T, label string) Bound {
		c := rapid.OneOf(rapid.Int32Range(-5, 5), rapid.Int32Range(-1<<29+1, 1<<29-1)).Draw(t, label)
		if rapid.Bool().Draw(t, "strict") {
			return LT(c)
		}
		return LE(c)
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := draw(t, "a"), draw(t, "b")
		sum := int64(a.Value()) + int64(b.Value())
		got := Add(a, b)
		switch {
		case sum >= 1<<29:
			if got != Infinity {
				t.Fatalf("%v + %v = %v", a, b, got)
			}
		case sum <= -1<<29:
			if int64(got.Value()) < sum || got > LE(-MaxConstant) {
				t.Fatalf("%v + %v = %v", a, b, got)
			}
		case int64(got.Value()) != sum || got.Strict() != (a.Strict() || b.Strict()):
			t.Fatalf("%v + %v = %v", a, b, got)
		}
		if got != Add(b, a) || Add(a, Infinity) != Infinity || Add(Infinity, a) != Infinity {
			t.Fatalf("%v, %v: not symmetric, or Infinity does not absorb", a, b)
		}
	})
}

func TestString(t *testing.T) {
	z := Universe(3)
	if got := z.String(); got != "true" {
		t.Errorf("universe is %q", got)
	}
	z.Constrain(0, 1, LE(-1))
	z.Constrain(1, 0, LT(3))
	z.Constrain(1, 2, LE(2))
	if got, want := z.String(), "1<=x1 x1<3 x1-x2<=2"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if z.Constrain(1, 0, LT(1)) || z.String() != "false" || (&DBM{}).String() != "false" {
		t.Errorf("empty is %q", z)
	}
}

// Nothing allocates once the memory is there.
func TestNoAllocation(t *testing.T) {
	z, o, dst, scratch := Zero(6), Zero(6), Zero(6), Zero(6)
	l, u := make([]int32, 6), make([]int32, 6)
	from := []int{0, 3, 0, 1, 5}
	allocs := testing.AllocsPerRun(100, func() {
		z.SetZero(6)
		z.Up()
		z.Constrain(1, 0, LE(5))
		z.Reset(2)
		z.UpStrict()
		z.Free(4)
		Select(dst, z, from)
		dst.CopyFrom(z)
		dst.Hull(o)
		dst.Cap()
		dst.ExtraLU(l, u)
		if dst.Includes(z) && z.CoveredALU(dst, l, u) && dst.Intersects(z, scratch) {
			dst.SetUniverse(6)
		}
		z.Hash()
	})
	if allocs != 0 {
		t.Errorf("%v allocations", allocs)
	}
}
