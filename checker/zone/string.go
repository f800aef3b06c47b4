// Zones in words, for messages and tests.

package zone

import (
	"fmt"
	"strings"
)

// String writes the bounds that say something, for example
// "1<=x1 x1<3 x1-x2<=2"; "true" for all valuations, "false" for none.
func (z *DBM) String() string {
	if z.N == 0 || z.IsEmpty() {
		return "false"
	}
	var parts []string
	for i := 1; i < z.N; i++ {
		if lo := z.Lower(i); lo != zeroLE && lo != Infinity {
			parts = append(parts, fmt.Sprintf("%d%sx%d", -lo.Value(), relation(lo), i))
		}
		if up := z.Upper(i); up != Infinity {
			parts = append(parts, fmt.Sprintf("x%d%s", i, up))
		}
	}
	for i := 1; i < z.N; i++ {
		for j := 1; j < z.N; j++ {
			if b := z.At(i, j); i != j && b < Add(z.At(i, 0), z.At(0, j)) {
				parts = append(parts, fmt.Sprintf("x%d-x%d%s", i, j, b))
			}
		}
	}
	if len(parts) == 0 {
		return "true"
	}
	return strings.Join(parts, " ")
}

// relation is the sign of a finite bound.
func relation(b Bound) string {
	if b.Strict() {
		return "<"
	}
	return "<="
}
