package resolve

import (
	"slices"
	"testing"

	"lampwarden/lang/site"

	"pgregory.net/rapid"
)

// randomGraph draws a small graph with sorted successors.
func randomGraph(t *rapid.T) graph {
	n := rapid.IntRange(1, 9).Draw(t, "n")
	g := make(graph, n)
	for i := range g {
		for j := range g {
			if rapid.IntRange(0, 9).Draw(t, "edge") == 0 {
				g[i] = append(g[i], site.ModeID(j))
			}
		}
	}
	return g
}

// reach is the transitive closure by Warshall (1962), the plain way.
func reach(g graph) [][]bool {
	r := square[bool](len(g))
	for i := range g {
		for _, j := range g[i] {
			r[i][j] = true
		}
	}
	for k := range g {
		for i := range g {
			for j := range g {
				r[i][j] = r[i][j] || r[i][k] && r[k][j]
			}
		}
	}
	return r
}

// TestGraphs holds circles, closure and order against the plain closure.
func TestGraphs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := randomGraph(t)
		want := reach(g)
		onCircle := 0
		for i := range g {
			if want[i][i] {
				onCircle++
			}
		}
		circles := g.circles()
		checkCircles(t, g, want, circles)
		if (onCircle > 0) != (len(circles) > 0) {
			t.Fatalf("%d nodes are on circles, %d circles found", onCircle, len(circles))
		}
		if onCircle > 0 {
			return
		}
		for i, row := range closure(g) {
			if !slices.Equal(row, want[i]) {
				t.Fatalf("closure of %v at %d: %v, want %v", g, i, row, want[i])
			}
		}
		plant := rapid.SliceOfN(rapid.Bool(), len(g), len(g)).Draw(t, "plant")
		first := func(m site.ModeID) bool { return plant[m] }
		checkOrder(t, g, first, kahn(g, first))
	})
}

// checkCircles: each circle is one, and every node on a circle can reach the
// circle of its component.
func checkCircles(t *rapid.T, g graph, want [][]bool, circles [][]site.ModeID) {
	for _, c := range circles {
		for i, m := range c {
			if next := c[(i+1)%len(c)]; !slices.Contains(g[m], next) {
				t.Fatalf("no edge from %d to %d in the circle %v", m, next, c)
			}
		}
	}
	for n := range g {
		if !want[n][n] {
			continue
		}
		if !slices.ContainsFunc(circles, func(c []site.ModeID) bool { return want[n][c[0]] && want[c[0]][n] }) {
			t.Fatalf("the component of %d has no circle in %v", n, circles)
		}
	}
}

// checkOrder: a permutation, each after all that it names, and always the least
// of those that go first that could stand next, else the least of all.
func checkOrder(t *rapid.T, g graph, first func(site.ModeID) bool, order []site.ModeID) {
	done := map[site.ModeID]bool{}
	for _, m := range order {
		want := site.ModeID(site.None)
		for i := range g {
			id := site.ModeID(i)
			if !done[id] && allDone(g[i], done) && (want == site.None || first(id) && !first(want)) {
				want = id
			}
		}
		if want != m {
			t.Fatalf("%v: %d stands where %d could", order, m, want)
		}
		if done[m] || !allDone(g[m], done) {
			t.Fatalf("%v: %d stands too early or twice", order, m)
		}
		done[m] = true
	}
	if len(done) != len(g) {
		t.Fatalf("%v has not all of %d", order, len(g))
	}
}

func allDone(ids []site.ModeID, done map[site.ModeID]bool) bool {
	return !slices.ContainsFunc(ids, func(id site.ModeID) bool { return !done[id] })
}
