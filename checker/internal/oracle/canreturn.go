// The form CanReturn, decided backward over the whole graph of states.

package oracle

import (
	"context"

	"lampwarden/lang/site"
)

// returnMonitor notes where P is true, and which states count as beginnings. Memory: 2
// if P is true now, 1 if it was at an earlier moment of this tick, else 0; and the ticks
// since the last pace, or a whole pace if something has happened between two.
//
// A pace is some ticks. A beginning is a run in which all happens at whole paces; what goes on
// from it may happen at any tick. So there is room for changes before the next thing that is due,
// however soon that is: with paces of one tick a state just before it would have none,
// and would seem to be too far from P, however fine the ticks.
type returnMonitor struct {
	p    *site.Expr
	pace int // ticks
}

func newReturnMonitor(m *model, p *site.Expr) *returnMonitor {
	r := &returnMonitor{p: p, pace: max(m.per/2, 1)}
	if m.per > 8 {
		r.pace = m.per / 4
	}
	return r
}

// begins tells whether a state, of which this is the memory, counts as a beginning.
func (m *returnMonitor) begins(mem []uint16) bool { return mem[1] == 0 }

func (m *returnMonitor) size() int { return 2 }
func (m *returnMonitor) moment(mem []uint16, holds func(*site.Expr) bool) bool {
	if mem[1] > 0 {
		mem[1] = uint16(m.pace)
	}
	if holds(m.p) {
		mem[0] = 2
	} else {
		mem[0] = min(mem[0], 1)
	}
	return false
}
func (m *returnMonitor) tick(mem, _ []uint16) bool {
	if mem[0] == 1 {
		mem[0] = 0
	}
	if int(mem[1]) < m.pace {
		mem[1] = (mem[1] + 1) % uint16(m.pace)
	}
	return false
}

// searchReturn looks at the whole graph, in which each edge is a tick, and goes
// backward from P. A state is too far from P if no path leads from it to P in D.
// Every beginning counts, also one that ends without a reaction, for a
// chance may pass without one.
//
// Both answers hold as far as so many ticks show: with finer ticks there are more
// runs that go on, and more beginnings.
func searchReturn(ctx context.Context, m *model, o Options, d site.Millis) (Result, error) {
	s := newSearcher(m, o)
	s.graph = &graph{}
	if err := s.walk(ctx); err != nil || s.full {
		return s.result(), err
	}
	v := make([]uint16, m.size)
	for _, id := range s.graph.far(s.nodes, m.monAt, m.ticks(d)) {
		n := &s.nodes[id]
		if unpack(v, n.key); !m.mon.(*returnMonitor).begins(v[m.monAt:]) {
			continue
		}
		if !s.hit.ok || n.dist < s.hit.dist {
			s.hit = found{n.parent, n.ord, n.dist, true}
		}
	}
	return s.result(), nil
}

// graph holds the edges backward.
type graph struct{ from [][]int32 }

func (g *graph) add(from, to int32) {
	for int(to) >= len(g.from) {
		g.from = append(g.from, nil)
	}
	if from >= 0 {
		g.from[to] = append(g.from[to], from)
	}
}

// far gives the states from which no moment with P comes within d ticks.
func (g *graph) far(nodes []node, monAt, d int) (far []int32) {
	const never = -1
	met := func(id int32) byte { return nodes[id].key[2*monAt] }
	ticks := make([]int, len(nodes)) // until the next moment with P
	var layer, next []int32          // states at the arrival at which P has so far to go
	for i := range nodes {
		ticks[i] = never
		if met(int32(i)) > 0 {
			layer = append(layer, int32(i))
		}
		if met(int32(i)) == 2 {
			ticks[i] = 0
		}
	}
	for n := 1; n <= d && len(layer) > 0; n++ {
		next = nil
		for _, to := range layer {
			for _, from := range g.from[to] {
				if ticks[from] == never {
					ticks[from] = n
					if met(from) == 0 {
						next = append(next, from)
					}
				}
			}
		}
		layer = next
	}
	for i, t := range ticks {
		if t == never {
			far = append(far, int32(i))
		}
	}
	return far
}
