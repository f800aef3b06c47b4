// Speed on Fischer's protocol.

package explore_test

import (
	"context"
	"fmt"
	"testing"

	"lampwarden/checker/explore"
)

func BenchmarkFischer(b *testing.B) {
	for n := 5; n <= 8; n++ {
		benchmark(b, fmt.Sprint("N", n), fischer(n, 10, ">", 10))
	}
}

// timers is a few discrete states with long lists of zones: a day in two parts, a
// flash in two parts, and holds that are started again at any moment.
func timers(holds int) *net {
	nt := &net{clocks: 2 + holds}
	twoPart := func(name string, x int, first, second int32) auto {
		return auto{name: name,
			locs: []loc{{name: "a", inv: []guard{{x, "<=", first}}}, {name: "b", inv: []guard{{x, "<=", second}}}},
			edges: []edge{
				{from: "a", to: "b", guards: []guard{{x, "=", first}}, resets: []int{x}},
				{from: "b", to: "a", guards: []guard{{x, "=", second}}, resets: []int{x}},
			}}
	}
	nt.autos = append(nt.autos, twoPart("Day", 1, 120, 100), twoPart("Flash", 2, 3, 2))
	for i := range holds {
		x := 3 + i
		hold := int32(30 + 7*i)
		nt.autos = append(nt.autos, auto{name: fmt.Sprint("Hold", i),
			locs: []loc{{name: "off"}, {name: "on", inv: []guard{{x, "<=", hold}}}},
			edges: []edge{
				{from: "off", to: "on", resets: []int{x}},
				{from: "on", to: "on", resets: []int{x}},
				{from: "on", to: "off", guards: []guard{{x, "=", hold}}},
			}})
	}
	return nt.ready()
}

func BenchmarkTimers(b *testing.B) {
	for n := 1; n <= 2; n++ {
		benchmark(b, fmt.Sprint("holds", n), timers(n))
	}
}

// benchmark explores the model with each cover.
func benchmark(b *testing.B, name string, m explore.Model) {
	for _, cover := range []explore.Cover{explore.ExtraLU, explore.ALU} {
		b.Run(fmt.Sprintf("%s/%s", []string{"ExtraLU", "ALU"}[cover], name), func(b *testing.B) {
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

func BenchmarkHull(b *testing.B) {
	m := fischer(8, 10, ">", 10)
	for b.Loop() {
		if r := explore.Hull(context.Background(), m, explore.Options{}); r.Status != explore.Exhausted {
			b.Fatal(r.Status)
		}
	}
}
