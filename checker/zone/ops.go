// The operations of a step: guards, delay, reset, change of clocks.

package zone

import "math/bits"

// Constrain cuts z to x_i - x_j <= c (or < c) and reports whether a point is
// left; if not, z is only good for IsEmpty and for being overwritten. An upper
// bound of clock i is Constrain(i, 0, LE(c)); a lower bound is
// Constrain(0, i, LE(-c)). O(1) when the bound changes nothing or empties the
// zone, else O(n²): a shortest path through the new edge uses it once.
func (z *DBM) Constrain(i, j int, bound Bound) bool {
	n, b := z.N, z.B
	if b[i*n+j] <= bound {
		return true
	}
	if Add(b[j*n+i], bound) < zeroLE {
		z.setEmpty()
		return false
	}
	b[i*n+j] = bound
	rowJ := b[j*n : j*n+n]
	for k := range n {
		ki := b[k*n+i]
		if ki == Infinity {
			continue
		}
		kj := Add(ki, bound)
		rowK := b[k*n : k*n+n]
		if kj > rowK[j] {
			continue // the new edge is no short cut from k, to j or beyond
		}
		for l, jl := range rowJ {
			if s := Add(kj, jl); s < rowK[l] {
				rowK[l] = s
			}
		}
	}
	return true
}

// Up lets any time pass, none included: {v + d | v in z, d >= 0}. O(n).
func (z *DBM) Up() {
	for i := 1; i < z.N; i++ {
		z.B[i*z.N] = Infinity
	}
}

// UpStrict lets some time pass, however little: {v + d | v in z, d > 0}. O(n).
//
// Upper bounds go, and every lower bound becomes strict. That is exact: w is in
// the result iff some d > 0 has w - d in z. Eliminating d from "d below every
// w_i - lower_i, above every w_i - upper_i, above 0" leaves w_i - w_j within
// upper_i - lower_j, which the closed matrix implies already, and w_i > lower_i,
// strict even where z's bound is not. The result is closed: a sum with a strict
// row-0 entry is strict.
func (z *DBM) UpStrict() {
	for i := 1; i < z.N; i++ {
		z.B[i*z.N] = Infinity
		z.B[i] &^= 1
	}
}

// Reset sets clock i to 0. O(n).
func (z *DBM) Reset(i int) {
	n, b := z.N, z.B
	for j := range n {
		b[i*n+j] = b[j]
		b[j*n+i] = b[j*n]
	}
	b[i*n+i] = zeroLE
}

// Free forgets all about clock i but that it is >= 0. O(n).
func (z *DBM) Free(i int) {
	n, b := z.N, z.B
	for j := range n {
		b[i*n+j] = Infinity
		b[j*n+i] = b[j*n]
	}
	b[i] = zeroLE
	b[i*n+i] = zeroLE
}

// Select makes dst the zone over a new list of clocks. Entry k of from tells
// where clock k of dst comes from: an index of src, or 0 for a fresh clock that
// is 0. from[0] is the constant itself and must be 0, so dst has len(from)-1
// clocks. Clocks of src that are not named are projected away; one named twice
// gives two equal clocks. src must be closed and must not be dst. O(n²).
func Select(dst, src *DBM, from []int) {
	n := len(from)
	dst.resize(n)
	for k, fk := range from {
		row, old := dst.B[k*n:k*n+n], src.B[fk*src.N:fk*src.N+src.N]
		for l, fl := range from {
			row[l] = old[fl]
		}
	}
}

// Hull grows z to the smallest zone that includes both z and o: the entrywise
// weaker bounds, which are closed because both are. It reports whether z grew.
// O(n²).
func (z *DBM) Hull(o *DBM) bool {
	grew := false
	for i, b := range o.B {
		if b > z.B[i] {
			z.B[i] = b
			grew = true
		}
	}
	return grew
}

// Includes reports whether every point of o is in z. Both closed, o not empty.
// O(n²).
func (z *DBM) Includes(o *DBM) bool {
	b := z.B[:len(o.B)]
	for i, x := range o.B {
		if x > b[i] {
			return false
		}
	}
	return true
}

// Intersects reports whether z and o share a point; scratch is overwritten. O(n³).
func (z *DBM) Intersects(o, scratch *DBM) bool {
	scratch.CopyFrom(z)
	for i, b := range o.B {
		if b < scratch.B[i] {
			scratch.B[i] = b
		}
	}
	return scratch.Close()
}

// Contains reports whether the point with clock i at num[i]/den is in z; num
// has N entries, num[0] is ignored, den is positive. O(n²).
func (z *DBM) Contains(num []int64, den int64) bool {
	at := func(i int) int64 {
		if i == 0 {
			return 0
		}
		return num[i]
	}
	for i := range z.N {
		for j := range z.N {
			b := z.At(i, j)
			if b == Infinity {
				continue
			}
			diff, limit := at(i)-at(j), int64(b.Value())*den
			if diff > limit || diff == limit && b.Strict() {
				return false
			}
		}
	}
	return true
}

// Hash mixes the entries to one word, for tables of whole zones. O(n²).
func (z *DBM) Hash() uint64 {
	const k = 0x9e3779b97f4a7c15
	h := uint64(z.N) * k
	for _, b := range z.B {
		h = bits.RotateLeft64(h^uint64(uint32(b)), 27) * k
	}
	return h ^ h>>32
}
