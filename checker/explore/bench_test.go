// Speed on Fischer's protocol.

package explore_test

import (
	"context"
	"fmt"
	"testing"

	"lampwarden/checker/explore"
)

func BenchmarkFischer(b *testing.B) {
	for _, cover := range []explore.Cover{explore.ExtraLU, explore.ALU} {
		for n := 5; n <= 8; n++ {
			b.Run(fmt.Sprintf("%s/N%d", []string{"ExtraLU", "ALU"}[cover], n), func(b *testing.B) {
				m := fischer(n, 10, ">", 10)
				b.ReportAllocs()
				steps, stored, bytes := 0, 0, int64(0)
				for b.Loop() {
					r := explore.Run(context.Background(), m, explore.Options{Cover: cover})
					if r.Status != explore.Exhausted || r.BadSeen {
						b.Fatalf("%v, bad %v", r.Status, r.BadSeen)
					}
					steps += r.Stats.Transitions
					stored, bytes = r.Stats.Stored, r.Stats.Bytes
				}
				b.ReportMetric(float64(steps)/b.Elapsed().Seconds(), "successors/s")
				b.ReportMetric(float64(stored), "stored")
				b.ReportMetric(float64(bytes)/float64(stored), "B/stored")
			})
		}
	}
}

func BenchmarkHull(b *testing.B) {
	m := fischer(8, 10, ">", 10)
	for b.Loop() {
		if r := explore.Hull(context.Background(), m, explore.Options{}); r.Status != explore.Exhausted {
			b.Fatal(r.Status)
		}
	}
}
