// Sets of clock valuations as difference-bound matrices (Dill 1989), written for being plainly right.

package certify

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// bound is an upper bound of a difference of two clocks: twice the number, plus one if the number itself is allowed. So of
// two bounds the lesser number is the tighter bound.
type bound int64

// none is no bound at all.
const none bound = math.MaxInt64

// maxNumber bounds the numbers, maxClocks the clocks (with the constant zero) of a zone, so that sums along a path never run
// over: a path has fewer than maxClocks steps. In milliseconds the number is more than a thousand years.
const (
	maxNumber = 1 << 45
	maxClocks = 1 << 12
)

// le is "at most v", lt "less than v".
func le(v int64) bound { return bound(2*v + 1) }
func lt(v int64) bound { return bound(2 * v) }

// strict makes "less than" of "at most".
func (b bound) strict() bound {
	if b == none {
		return none
	}
	return b &^ 1
}

// plus bounds x - z, where a bounds x - y and b bounds y - z.
func plus(a, b bound) bound {
	if a == none || b == none {
		return none
	}
	sum := a>>1 + b>>1
	if a&b&1 == 1 {
		return le(int64(sum))
	}
	return lt(int64(sum))
}

// String writes a bound as certificates do.
func (b bound) String() string {
	switch {
	case b == none:
		return "*"
	case b&1 == 1:
		return strconv.FormatInt(int64(b>>1), 10)
	}
	return "<" + strconv.FormatInt(int64(b>>1), 10)
}

// parseBound reads what String writes: "5", "<5", "*"; nothing else, so that a bound has one form.
func parseBound(text string) (bound, error) {
	if text == "*" {
		return none, nil
	}
	digits, less := strings.CutPrefix(text, "<")
	v, err := strconv.ParseInt(digits, 10, 64)
	if err != nil || v > maxNumber || v < -maxNumber || strconv.FormatInt(v, 10) != digits {
		return 0, fmt.Errorf(`expected a bound such as 5, <5 or *, of at most %d`, int64(maxNumber))
	}
	if less {
		return lt(v), nil
	}
	return le(v), nil
}

// zone is the set of all valuations of n-1 clocks, none less than 0, that keep all its bounds: at[i*n+j] bounds clock i minus clock
// j, clock 0 being the constant zero. It is always closed (no bound follows from others that is tighter than the one that stands
// there) and never empty; what would make it empty says so and leaves it of no use.
type zone struct {
	n  int
	at []bound
}

// universe is all valuations.
func universe(n int) *zone {
	z := &zone{n, make([]bound, n*n)}
	for i := range n {
		for j := range n {
			z.at[i*n+j] = none
			if i == 0 || i == j {
				z.at[i*n+j] = le(0)
			}
		}
	}
	return z
}

// zoneOf closes a matrix that someone else gives; ok is false if no valuation keeps it. The matrix is copied.
func zoneOf(n int, at []bound) (z *zone, ok bool) {
	z = universe(n)
	for i, b := range at {
		z.at[i] = min(z.at[i], b)
	}
	for k := range n {
		for i := range n {
			for j := range n {
				z.at[i*n+j] = min(z.at[i*n+j], plus(z.at[i*n+k], z.at[k*n+j]))
			}
			if z.at[i*n+i] < le(0) { // at once, before sums along the contradiction grow
				return z, false
			}
		}
	}
	return z, true
}

func (z *zone) clone() *zone { return &zone{z.n, append([]bound(nil), z.at...)} }

// constrain keeps only the valuations with clock i minus clock j within the bound, and tells whether there are any.
func (z *zone) constrain(i, j int, b bound) (nonempty bool) {
	n := z.n
	if b >= z.at[i*n+j] {
		return true
	}
	if plus(b, z.at[j*n+i]) < le(0) {
		return false
	}
	// A path that uses the new bound goes to i, over it to j, and on; once is enough.
	for p := range n {
		to := plus(z.at[p*n+i], b)
		if to == none {
			continue
		}
		for q := range n {
			z.at[p*n+q] = min(z.at[p*n+q], plus(to, z.at[j*n+q]))
		}
	}
	return true
}

// cut is constrain on a copy; it is z itself if that changes nothing.
func (z *zone) cut(i, j int, b bound) (out *zone, nonempty bool) {
	switch {
	case b >= z.at[i*z.n+j]:
		return z, true
	case plus(b, z.at[j*z.n+i]) < le(0):
		return nil, false
	}
	out = z.clone()
	return out, out.constrain(i, j, b)
}

// pick gives the valuations of other clocks, of which clock k stands at the old clock from[k]; 0 is the constant, so that such a
// clock starts from zero. from[0] is 0. Clocks that are not picked are forgotten.
func (z *zone) pick(from []int) *zone {
	n := len(from)
	out := &zone{n, make([]bound, n*n)}
	for k, a := range from {
		for l, b := range from {
			out.at[k*n+l] = z.at[a*z.n+b]
		}
	}
	return out
}

// later lets some time pass, more than none, by which all clocks grow alike.
func (z *zone) later() {
	for i := 1; i < z.n; i++ {
		z.at[i*z.n] = none
		z.at[i] = z.at[i].strict()
	}
}

// within tells whether every valuation of z is one of o.
func (z *zone) within(o *zone) bool {
	for i, b := range z.at {
		if b > o.at[i] {
			return false
		}
	}
	return true
}

// lower bounds 0 minus clock i: le(-3) if the clock is at least 3. upper bounds the clock.
func (z *zone) lower(i int) bound { return z.at[i] }
func (z *zone) upper(i int) bound { return z.at[i*z.n] }

// String writes the bounds as certificates do.
func (z *zone) String() string {
	var b strings.Builder
	for i, x := range z.at {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(x.String())
	}
	return b.String()
}
