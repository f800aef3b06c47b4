// Integer time, explicitly: a reference for the zones that shares no code with them.

package explore_test

// unreached is the cost of a bad state that is not reachable.
const unreached = 1 << 30

// point is an explicit state: locations, variables, and clocks as whole ticks.
type point struct {
	s    netState
	x    []int32
	cost int
}

// ticker explores a network in integer time with a number of ticks to the unit.
type ticker struct {
	*net
	grain int32
	top   []int32
	seen  map[string]int // cost
	wait  [][]point      // by cost
	least int
	key   []byte
}

// ticks explores every explicit state, and gives their number and the least cost
// of a bad one, or unreached. Clocks stop counting two above the largest constant
// that they are compared with.
func (n *net) ticks(grain int32) (states, least int) {
	return n.tickUntil(grain, -1)
}

// tickUntil is ticks, but stops when a bad state of at most this cost is seen.
func (n *net) tickUntil(grain int32, enough int) (states, least int) {
	t := &ticker{net: n, grain: grain, top: make([]int32, n.clocks+1), seen: map[string]int{}, least: unreached}
	for a := range n.autos {
		for at := range n.l[a] {
			for x := 1; x <= n.clocks; x++ {
				t.top[x] = max(t.top[x], (n.l[a][at][x]+2)*grain, (n.u[a][at][x]+2)*grain)
			}
		}
	}
	start := netState{make([]int, len(n.autos)), n.vars}
	t.visit(&start, make([]int32, n.clocks+1), 0)
	for cost := 0; cost < len(t.wait); cost++ {
		for len(t.wait[cost]) > 0 && t.least > enough {
			last := len(t.wait[cost]) - 1
			p := t.wait[cost][last]
			t.wait[cost] = t.wait[cost][:last]
			t.expand(&p)
		}
	}
	return len(t.seen), t.least
}

func (t *ticker) expand(p *point) {
	x := make([]int32, t.clocks+1)
	if !t.committed(&p.s) {
		for i := 1; i < len(x); i++ {
			x[i] = min(p.x[i]+1, t.top[i])
		}
		t.visit(&p.s, x, p.cost)
	}
	t.joints(&p.s, func(_ uint64, who []int, es []*edge) bool {
		copy(x, p.x)
		cost := p.cost
		for _, e := range es {
			if !t.holds(p.x, e.guards) {
				return true
			}
			for _, r := range e.resets {
				x[r] = 0
			}
			cost += e.cost
		}
		t.visit(t.move(&p.s, who, es), x, cost)
		return true
	})
}

// visit stores a state if it is inside its invariants and not known at this cost.
func (t *ticker) visit(s *netState, x []int32, cost int) {
	t.key = append(t.key[:0], t.encode(s)...)
	for _, v := range x[1:] {
		t.key = append(t.key, byte(v), byte(v>>8))
	}
	if known, ok := t.seen[string(t.key)]; ok && known <= cost {
		return
	}
	for a, l := range s.loc {
		if !t.holds(x, t.autos[a].locs[l].inv) {
			return
		}
	}
	t.seen[string(t.key)] = cost
	if t.isBad(s) {
		t.least = min(t.least, cost)
	}
	for len(t.wait) <= cost {
		t.wait = append(t.wait, nil)
	}
	t.wait[cost] = append(t.wait[cost], point{
		netState{append([]int(nil), s.loc...), append([]int(nil), s.vars...)}, append([]int32(nil), x...), cost})
}

func (t *ticker) holds(x []int32, gs []guard) bool {
	for _, g := range gs {
		if !g.holds(x[g.clock], t.grain) {
			return false
		}
	}
	return true
}

// holds compares a clock in ticks with the guard's constant in units.
func (g guard) holds(v, grain int32) bool {
	c := g.c * grain
	switch g.op {
	case "<":
		return v < c
	case "<=":
		return v <= c
	case "=":
		return v == c
	case ">=":
		return v >= c
	}
	return v > c
}
