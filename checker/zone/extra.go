// Abstraction by the constants that clocks can still be compared with.

package zone

// ExtraLU widens z to its LU-extrapolation Extra+_LU (Behrmann and others, 2006)
// and reports whether a bound had to go (closing may bring it back). l and u hold, for clocks 1..N-1, the
// largest constant of a lower and of an upper bound that the clock can still be
// compared with, or NoBound. Every point that is added can do only what some
// point of z can do, so reachability keeps its answer, and only finitely many
// zones are left. It is valid for guards over single clocks only, never for
// guards over differences of clocks. O(n²), and O(n³) when something changed.
//
// With d the matrix before and x_0's constants 0, the bound on x_i - x_j goes
//
//	if d_ij > L_i, or -d_0i > L_i, or -d_0j > U_j, for i > 0;
//	and d_0j becomes "< -U_j" if -d_0j > U_j ("<= 0" with no U_j).
func (z *DBM) ExtraLU(l, u []int32) bool {
	n, b := z.N, z.B
	changed := false
	for i := 1; i < n; i++ {
		row := b[i*n : i*n+n]
		li := l[i]
		above := -b[i].Value() > li
		for j, d := range row {
			if i == j || d == Infinity {
				continue
			}
			if above || d.Value() > li || j > 0 && -b[j].Value() > u[j] {
				row[j] = Infinity
				changed = true
			}
		}
	}
	for j := 1; j < n; j++ {
		if -b[j].Value() <= u[j] {
			continue
		}
		to := zeroLE
		if u[j] >= 0 {
			to = LT(-u[j])
		}
		if b[j] != to {
			b[j] = to
			changed = true
		}
	}
	if changed {
		z.Close()
	}
	return changed
}

// Cap widens z so that no bound is tighter than -MaxConstant, and reports whether
// a constant was out of range either way. It is Extra+ with MaxConstant for every
// clock, exact for guards within it; it keeps sums in range when zones are otherwise
// stored as they come. Differences to a clock that is surely above the constant are
// dropped, lest closing bring its lower bound back; upper bounds above it are
// dropped too, but closing may derive one again. O(n²), and O(n³) when it changes z.
func (z *DBM) Cap() bool {
	inside := true
	for _, b := range z.B {
		if b < LT(-MaxConstant) || b > LE(MaxConstant) && b != Infinity {
			inside = false
			break
		}
	}
	if inside {
		return false
	}
	n, b := z.N, z.B
	for i := 1; i < n; i++ {
		for j := range n {
			if i != j && (b[i*n+j] > LE(MaxConstant) || b[i] < LT(-MaxConstant) || b[j] < LT(-MaxConstant)) {
				b[i*n+j] = Infinity
			}
		}
	}
	for j := 1; j < n; j++ {
		b[j] = max(b[j], LT(-MaxConstant))
	}
	z.Close()
	return true
}

// CoveredALU reports whether z is included in aLU(o), the coarsest abstraction
// of o that is sound when only L and U are known (Herbreteau, Srivathsan,
// Walukiewicz 2012). z and o are closed and not empty, over the same clocks and
// the same state, whose constants are l and u (see ExtraLU). Neither need be
// extrapolated. O(n²).
//
// z is not included iff for some clocks x, y, constant included,
//
//	d_0x >= (<=, -U_x)  and  o_yx < d_yx  and  o_yx + (<, -L_y) < d_0x.
func (z *DBM) CoveredALU(o *DBM, l, u []int32) bool {
	n := z.N
	for y := range n {
		ly := int32(0)
		if y > 0 {
			if ly = l[y]; ly == NoBound {
				continue
			}
		}
		zRow, oRow := z.B[y*n:y*n+n], o.B[y*n:y*n+n]
		for x, oyx := range oRow {
			if oyx >= zRow[x] {
				continue
			}
			ux := int32(0)
			if x > 0 {
				if ux = u[x]; ux == NoBound {
					continue
				}
			}
			zx := z.B[x]
			if zx >= LE(-ux) && Add(oyx, LT(-ly)) < zx {
				return false
			}
		}
	}
	return true
}
