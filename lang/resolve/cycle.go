// Circles in a graph of modes: components by Tarjan's algorithm (Tarjan 1972),
// then a shortest circle in each by breadth-first search.

package resolve

import (
	"slices"

	"lampwarden/lang/site"
)

// graph has the successors of each node, ascending.
type graph [][]site.ModeID

// circles returns one shortest circle of each strongly connected component that
// has one, as its nodes in order, starting with the least.
func (g graph) circles() [][]site.ModeID {
	var out [][]site.ModeID
	for _, c := range g.components() {
		if len(c) > 1 || slices.Contains(g[c[0]], c[0]) {
			out = append(out, g.shortest(slices.Min(c), c))
		}
	}
	slices.SortFunc(out, func(a, b []site.ModeID) int { return int(a[0] - b[0]) })
	return out
}

// shortest finds a shortest circle through start within its component.
func (g graph) shortest(start site.ModeID, component []site.ModeID) []site.ModeID {
	inside := map[site.ModeID]bool{}
	for _, n := range component {
		inside[n] = true
	}
	from := map[site.ModeID]site.ModeID{}
	queue := []site.ModeID{start}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		for _, to := range g[n] {
			if to == start {
				path := []site.ModeID{n}
				for n != start {
					n = from[n]
					path = append(path, n)
				}
				slices.Reverse(path)
				return path
			}
			if _, seen := from[to]; !seen && inside[to] {
				from[to] = n
				queue = append(queue, to)
			}
		}
	}
	return []site.ModeID{start} // not reached: a component of several nodes is a circle
}

// tarjan holds the search's tables; index 0 means not visited.
type tarjan struct {
	g          graph
	index, low []int
	onStack    []bool
	stack      []site.ModeID
	next       int
	out        [][]site.ModeID
}

// components returns the strongly connected components, successors first.
func (g graph) components() [][]site.ModeID {
	t := &tarjan{g: g, index: make([]int, len(g)), low: make([]int, len(g)), onStack: make([]bool, len(g))}
	for n := range g {
		if t.index[n] == 0 {
			t.visit(site.ModeID(n))
		}
	}
	return t.out
}

// visit recurses at most maxModes deep.
func (t *tarjan) visit(n site.ModeID) {
	t.next++
	t.index[n], t.low[n] = t.next, t.next
	t.stack = append(t.stack, n)
	t.onStack[n] = true
	for _, to := range t.g[n] {
		if t.index[to] == 0 {
			t.visit(to)
			t.low[n] = min(t.low[n], t.low[to])
		} else if t.onStack[to] {
			t.low[n] = min(t.low[n], t.index[to])
		}
	}
	if t.low[n] != t.index[n] {
		return
	}
	for i := len(t.stack) - 1; ; i-- {
		t.onStack[t.stack[i]] = false
		if t.stack[i] == n {
			t.out = append(t.out, slices.Clone(t.stack[i:]))
			t.stack = t.stack[:i]
			return
		}
	}
}
