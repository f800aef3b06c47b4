// Benchmarks of whole proofs. Judge by ratios within one run.

package checker_test

import (
	"context"
	"runtime"
	"testing"
	"time"

	"lampwarden/checker"
	"lampwarden/lang/site"
)

func mustProve(b *testing.B, s *site.Site, opt checker.Options) *checker.Report {
	b.Helper()
	rep, err := checker.Prove(context.Background(), s, opt)
	if err != nil {
		b.Fatal(err)
	}
	for _, o := range rep.Outcomes {
		if o.Verdict != checker.Proved && o.Verdict != checker.IsPossible {
			b.Fatalf("%s: %v", s.Requirements[o.Requirement].Name, o.Verdict)
		}
	}
	return rep
}

// BenchmarkGuesthouse proves the whole example, findings included. The bar: less than 2 s on two processors, less than
// 500 MB.
func BenchmarkGuesthouse(b *testing.B) {
	s := loadPaths(b, guesthouse).Site
	b.ReportAllocs()
	var st checker.Stats
	for b.Loop() {
		st = mustProve(b, s, checker.Options{}).Stats
	}
	b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N), "ms/op")
	b.ReportMetric(float64(st.Stored), "zones/op")
	b.ReportMetric(float64(st.Transitions), "successors/op")
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	b.ReportMetric(float64(m.Sys)/1e6, "MB-from-system")
}

// oneCircuit is the guest house with one requirement about one escape circuit.
func oneCircuit(b *testing.B) *site.Site {
	s := *loadPaths(b, guesthouse).Site
	c := s.CircuitNamed("stair_leds")
	fire := &site.Expr{Op: site.OpInput, Input: s.InputNamed("fire")}
	s.Requirements = []site.Requirement{{Name: "the stairs are lit on fire", Form: site.Whenever, A: fire, D: 5000,
		B:     &site.Expr{Op: site.OpLight, Circuit: c, Lo: s.Circuits[c].Top(), Hi: site.Full},
		Until: &site.Expr{Op: site.OpNot, Kids: []*site.Expr{fire}}}}
	return &s
}

// BenchmarkOneEscapeCircuit proves one escape requirement on one circuit. The bar: less than 5 ms.
func BenchmarkOneEscapeCircuit(b *testing.B) {
	s := oneCircuit(b)
	b.ReportAllocs()
	for b.Loop() {
		mustProve(b, s, checker.Options{NoFindings: true})
	}
}

// ratio runs two variants of a proof in turn and reports how many times longer the first takes, and how many times more
// zones it stores.
func ratio(b *testing.B, s *site.Site, slow, fast checker.Options) {
	var took [2]time.Duration
	var zones [2]int
	for b.Loop() {
		for i, opt := range []checker.Options{slow, fast} {
			opt.NoFindings, opt.Workers = true, 1
			start := time.Now()
			zones[i] = mustProve(b, s, opt).Stats.Stored
			took[i] += time.Since(start)
		}
	}
	b.ReportMetric(float64(took[0])/float64(took[1]), "times-longer")
	b.ReportMetric(float64(zones[0])/float64(max(1, zones[1])), "times-the-zones")
	b.ReportMetric(float64(took[1].Microseconds())/float64(b.N), "us-the-faster")
}

// BenchmarkConditionalAgainstStructural: what freeing the modes that cannot matter saves, on the same circuit.
func BenchmarkConditionalAgainstStructural(b *testing.B) {
	ratio(b, oneCircuit(b), checker.Options{Structural: true}, checker.Options{})
}

// BenchmarkClocksAsNeeded: what adding clocks as they matter saves against starting with all of them.
func BenchmarkClocksAsNeeded(b *testing.B) {
	s := oneCircuit(b)
	ratio(b, s, checker.Options{AllClocks: true, Structural: true}, checker.Options{Structural: true})
}
