// Package zone is the time part of a symbolic state: a convex set of clock
// valuations (a zone), kept as a difference-bound matrix.
//
// A zone over clocks x_1..x_{N-1} is a conjunction of bounds x_i - x_j < c or
// <= c, where x_0 is the constant 0. Entry (i, j) of the matrix is the bound on
// x_i - x_j: row i column 0 is the upper bound of x_i, row 0 column i is minus
// its lower bound. A matrix is closed when no entry can be tightened through a
// third clock; then it is the only closed matrix of its zone, inclusion is
// entrywise comparison, and delay and reset only move entries.
//
// Every operation takes a closed non-empty matrix and leaves a closed one,
// except where it says otherwise; none allocates, except the constructors and
// Select or CopyFrom into memory that is too small. Costs are given for n = N.
//
// Sources: D. Dill, Timing assumptions and verification of finite-state
// concurrent systems, 1989 (the matrices); J. Bengtsson and W. Yi, Timed
// automata: semantics, algorithms and tools, 2004 (the operations); G. Behrmann,
// P. Bouyer, K. Larsen, R. Pelánek, Lower and upper bounds in zone-based
// abstractions of timed automata, 2006 (ExtraLU); F. Herbreteau, B. Srivathsan,
// I. Walukiewicz, Better abstractions for timed automata, 2012 (CoveredALU).
//
// Naming key: i, j, k, l are clock indices; L and U are per-clock constants of
// lower and upper bounds, as those papers name them.
package zone

// zeroLE is the bound of the diagonal.
const zeroLE Bound = 1

// DBM is a difference-bound matrix. The zero value is an empty slot to copy into.
type DBM struct {
	N int     // clocks + 1; index 0 is the constant zero
	B []Bound // row by row: x_i - x_j is bounded by B[i*N+j]
}

// Zero is the zone in which every clock is 0; n is clocks + 1. O(n²).
func Zero(n int) *DBM {
	z := &DBM{}
	z.SetZero(n)
	return z
}

// Universe is the zone of all valuations with clocks >= 0; n is clocks + 1. O(n²).
func Universe(n int) *DBM {
	z := &DBM{}
	z.SetUniverse(n)
	return z
}

// SetZero makes z the zone in which each of n-1 clocks is 0. O(n²).
func (z *DBM) SetZero(n int) {
	z.resize(n)
	for i := range z.B {
		z.B[i] = zeroLE
	}
}

// SetUniverse makes z the zone of all valuations of n-1 clocks. O(n²).
func (z *DBM) SetUniverse(n int) {
	z.resize(n)
	for i := range z.B {
		z.B[i] = Infinity
	}
	for i := range n {
		z.B[i] = zeroLE     // row 0: x_i >= 0
		z.B[i*n+i] = zeroLE // diagonal
	}
}

// resize gives z room for an n by n matrix, with undefined content.
func (z *DBM) resize(n int) {
	if cap(z.B) < n*n {
		z.B = make([]Bound, n*n)
	}
	z.N, z.B = n, z.B[:n*n]
}

// At is the bound on x_i - x_j.
func (z *DBM) At(i, j int) Bound { return z.B[i*z.N+j] }

// Upper is the upper bound of clock i.
func (z *DBM) Upper(i int) Bound { return z.B[i*z.N] }

// Lower is the bound on minus clock i: its Value is minus the lower bound.
func (z *DBM) Lower(i int) Bound { return z.B[i] }

// Copy is a new matrix equal to z. O(n²).
func (z *DBM) Copy() *DBM {
	c := &DBM{}
	c.CopyFrom(z)
	return c
}

// CopyFrom makes z equal to src, in z's own memory if it is large enough. O(n²).
func (z *DBM) CopyFrom(src *DBM) {
	z.resize(src.N)
	copy(z.B, src.B)
}

// Equal reports whether two closed matrices are the same zone. O(n²).
func (z *DBM) Equal(o *DBM) bool {
	if z.N != o.N {
		return false
	}
	for i, b := range z.B {
		if b != o.B[i] {
			return false
		}
	}
	return true
}

// IsEmpty reports whether z has no point. It holds for what Close and Constrain
// leave behind, which mark an empty matrix at its first entry. O(1).
func (z *DBM) IsEmpty() bool { return z.B[0] < zeroLE }

// setEmpty marks z as empty.
func (z *DBM) setEmpty() { z.B[0] = -1 }

// Close tightens an arbitrary matrix to closed form (all shortest paths,
// Floyd-Warshall) and reports whether the zone has a point. O(n³).
func (z *DBM) Close() bool {
	n, b := z.N, z.B
	for k := range n {
		rowK := b[k*n : k*n+n]
		if unbounded(rowK, k) {
			continue
		}
		for i := range n {
			ik := b[i*n+k]
			if i == k || ik == Infinity {
				continue
			}
			rowI := b[i*n : i*n+n]
			for j, kj := range rowK {
				if s := Add(ik, kj); s < rowI[j] {
					rowI[j] = s
				}
			}
			if rowI[i] < zeroLE {
				z.setEmpty()
				return false
			}
		}
	}
	return true
}

// unbounded reports whether clock k has no bound to any other, as is common after
// extrapolation.
func unbounded(rowK []Bound, k int) bool {
	for j, b := range rowK {
		if b != Infinity && j != k {
			return false
		}
	}
	return true
}
