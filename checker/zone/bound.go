// The bounds of a difference-bound matrix and their arithmetic.

package zone

import (
	"math"
	"strconv"
)

// Bound is an upper bound on a difference of two clocks, "< c" or "<= c", kept
// in one word: the constant shifted left by one, with bit 0 set for "<=". So
// the natural order of the integers is the order of the bounds, tightest first:
// < 3, <= 3, < 4, ..., Infinity.
type Bound int32

const (
	// Infinity is the bound that bounds nothing.
	Infinity Bound = 1 << 30
	// lowest is the tightest bound that Add gives; see Add.
	lowest Bound = -(1 << 30) + 2
	// MaxConstant is the largest constant of a guard, in either direction. It
	// leaves room for the sums that arise while a matrix is closed.
	MaxConstant = 1<<28 - 1
	// NoBound stands in a table of L or U constants for a clock that is compared
	// with no such bound before its next reset.
	NoBound int32 = math.MinInt32
)

// LE is the bound "<= c".
func LE(c int32) Bound { return Bound(c)<<1 | 1 }

// LT is the bound "< c".
func LT(c int32) Bound { return Bound(c) << 1 }

// Value is the constant of a finite bound.
func (b Bound) Value() int32 { return int32(b >> 1) }

// Strict reports whether a finite bound is "<".
func (b Bound) Strict() bool { return b&1 == 0 }

// Add is the bound on a sum of two differences: the constants add, and it is
// strict if either is. Infinity absorbs. A sum outside the range of finite
// bounds becomes Infinity, or the tightest bound there is; both are weaker than
// the true sum, so a matrix that leaves the range grows and never loses a point.
// A model whose constants keep to MaxConstant only gets there by adding clocks
// up round and round, which the explorer prevents (see DBM.Cap).
func Add(a, b Bound) Bound {
	if a == Infinity || b == Infinity {
		return Infinity
	}
	s := a + b - (a|b)&1
	if s >= Infinity {
		return Infinity
	}
	if s < lowest {
		return lowest
	}
	return s
}

// String writes the bound as it is read, for example "<=5".
func (b Bound) String() string {
	switch {
	case b >= Infinity:
		return "<inf"
	case b.Strict():
		return "<" + strconv.Itoa(int(b.Value()))
	}
	return "<=" + strconv.Itoa(int(b.Value()))
}
