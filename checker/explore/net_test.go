// A network of timed automata as a Model, for the textbook checks.

package explore_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"lampwarden/checker/explore"
	"lampwarden/checker/zone"
)

// guard compares a clock with a constant: op is one of < <= = >= >.
type guard struct {
	clock int
	op    string
	c     int32
}

// loc is a location of an automaton.
type loc struct {
	name      string
	inv       []guard
	committed bool // no delay here, and some committed automaton must move next
}

// edge of an automaton. An event that is in some sync vector is taken with its
// partners, any other alone.
type edge struct {
	from, to string
	event    string
	guards   []guard
	when     func(*netState) bool
	do       func(*netState)
	resets   []int
	cost     int
	marks    uint64

	src, dst int
	joint    bool // the event is in some sync vector
}

// auto is one automaton; the first location is the initial one.
type auto struct {
	name  string
	locs  []loc
	edges []edge
}

// party is an event of an automaton in a sync vector.
type party struct {
	auto  int
	event string
}

// netState is the discrete part: locations and small integers.
type netState struct {
	loc  []int
	vars []int
}

// net is a network of automata; clocks are 1..clocks.
type net struct {
	clocks int
	vars   []int // initial values
	autos  []auto
	syncs  [][]party
	bad    func(*netState) bool

	l, u  [][][]int32 // by automaton, location, clock
	joint map[party]bool
	cur   netState
	next  netState
	key   []byte
	z     zone.DBM
	ll    []int32
	uu    []int32
	who   [1]int
	es    [1]*edge
	order [][]int   // the automata of each sync vector
	pick  [][]*edge // the edges picked for it
}

// ready resolves names and computes the bounds by a backward fixpoint over edges
// that do not reset the clock (Behrmann, Bouyer, Fleury, Larsen 2003).
func (n *net) ready() *net {
	n.joint = map[party]bool{}
	for _, v := range n.syncs {
		order := make([]int, len(v))
		for i, p := range v {
			n.joint[p] = true
			order[i] = p.auto
		}
		n.order, n.pick = append(n.order, order), append(n.pick, make([]*edge, len(v)))
	}
	for a := range n.autos {
		au := &n.autos[a]
		index := map[string]int{}
		for i, l := range au.locs {
			index[l.name] = i
		}
		for e := range au.edges {
			ed := &au.edges[e]
			var ok1, ok2 bool
			ed.src, ok1 = index[ed.from]
			ed.dst, ok2 = index[ed.to]
			if !ok1 || !ok2 {
				panic(fmt.Sprintf("%s: edge %s -> %s names no location", au.name, ed.from, ed.to))
			}
		}
		for e := range au.edges {
			au.edges[e].joint = n.joint[party{a, au.edges[e].event}]
		}
		n.bounds(au)
	}
	n.ll, n.uu = make([]int32, n.clocks+1), make([]int32, n.clocks+1)
	n.cur = netState{make([]int, len(n.autos)), make([]int, len(n.vars))}
	n.next = netState{make([]int, len(n.autos)), make([]int, len(n.vars))}
	return n
}

func (n *net) bounds(au *auto) {
	l, u := make([][]int32, len(au.locs)), make([][]int32, len(au.locs))
	note := func(at int, gs []guard) {
		for _, g := range gs {
			if strings.ContainsAny(g.op, ">=") && g.op != "<=" {
				l[at][g.clock] = max(l[at][g.clock], g.c)
			}
			if strings.ContainsAny(g.op, "<=") && g.op != ">=" {
				u[at][g.clock] = max(u[at][g.clock], g.c)
			}
		}
	}
	for i := range au.locs {
		l[i], u[i] = make([]int32, n.clocks+1), make([]int32, n.clocks+1)
		for x := range l[i] {
			l[i][x], u[i][x] = zone.NoBound, zone.NoBound
		}
		note(i, au.locs[i].inv)
	}
	for _, e := range au.edges {
		note(e.src, e.guards)
	}
	for changed := true; changed; {
		changed = false
		for _, e := range au.edges {
			for x := 1; x <= n.clocks; x++ {
				if contains(e.resets, x) {
					continue
				}
				if l[e.dst][x] > l[e.src][x] {
					l[e.src][x], changed = l[e.dst][x], true
				}
				if u[e.dst][x] > u[e.src][x] {
					u[e.src][x], changed = u[e.dst][x], true
				}
			}
		}
	}
	n.l, n.u = append(n.l, l), append(n.u, u)
}

func contains(xs []int, x int) bool {
	for _, y := range xs {
		if x == y {
			return true
		}
	}
	return false
}

func (n *net) encode(s *netState) []byte {
	n.key = n.key[:0]
	for _, l := range s.loc {
		n.key = append(n.key, byte(l))
	}
	for _, v := range s.vars {
		n.key = append(n.key, byte(int8(v)))
	}
	return n.key
}

func (n *net) decode(key []byte, s *netState) {
	for i := range s.loc {
		s.loc[i] = int(key[i])
	}
	for i := range s.vars {
		s.vars[i] = int(int8(key[len(s.loc)+i]))
	}
}

func constrain(z *zone.DBM, gs []guard) bool {
	for _, g := range gs {
		ok := true
		switch g.op {
		case "<":
			ok = z.Constrain(g.clock, 0, zone.LT(g.c))
		case "<=":
			ok = z.Constrain(g.clock, 0, zone.LE(g.c))
		case ">":
			ok = z.Constrain(0, g.clock, zone.LT(-g.c))
		case ">=":
			ok = z.Constrain(0, g.clock, zone.LE(-g.c))
		case "=":
			ok = z.Constrain(g.clock, 0, zone.LE(g.c)) && z.Constrain(0, g.clock, zone.LE(-g.c))
		default:
			panic("unknown operator " + g.op)
		}
		if !ok {
			return false
		}
	}
	return true
}

func (n *net) committed(s *netState) bool {
	for a, l := range s.loc {
		if n.autos[a].locs[l].committed {
			return true
		}
	}
	return false
}

// settle cuts z to the invariant, and lets time pass if the locations allow it.
func (n *net) settle(s *netState, z *zone.DBM) bool {
	for pass := range 2 {
		for a, l := range s.loc {
			if !constrain(z, n.autos[a].locs[l].inv) {
				return false
			}
		}
		if pass == 1 || n.committed(s) {
			break
		}
		z.Up()
	}
	return true
}

func (n *net) Initial(yield func(explore.Succ) bool) {
	s := netState{make([]int, len(n.autos)), append([]int(nil), n.vars...)}
	n.z.SetZero(n.clocks + 1)
	if n.settle(&s, &n.z) {
		yield(explore.Succ{Key: n.encode(&s), Zone: &n.z, Bad: n.isBad(&s)})
	}
}

func (n *net) isBad(s *netState) bool { return n.bad != nil && n.bad(s) }

// joints calls f with each combination of edges whose discrete part is enabled
// in s. The label tells them apart: the automaton and its edge for one that moves
// alone; for a sync vector its number, plus 1, in bits 48 and up and the edges, plus
// 1, in a byte each (up to six parties).
func (n *net) joints(s *netState, f func(label uint64, who []int, es []*edge) bool) {
	committed := n.committed(s)
	allowed := func(who []int) bool {
		if !committed {
			return true
		}
		for _, a := range who {
			if n.autos[a].locs[s.loc[a]].committed {
				return true
			}
		}
		return false
	}
	for a := range n.autos {
		who, es := n.who[:], n.es[:]
		if who[0] = a; !allowed(who) {
			continue
		}
		for i := range n.autos[a].edges {
			e := &n.autos[a].edges[i]
			if e.src != s.loc[a] || e.joint || e.when != nil && !e.when(s) {
				continue
			}
			es[0] = e
			if !f(uint64(a)<<8|uint64(i), who, es) {
				return
			}
		}
	}
	for v, vec := range n.syncs {
		who, es := n.order[v], n.pick[v]
		if !allowed(who) {
			continue
		}
		label := uint64(0)
		var rec func(i int) bool
		rec = func(i int) bool {
			if i == len(vec) {
				return f(label, who, es)
			}
			au := &n.autos[vec[i].auto]
			for k := range au.edges {
				e := &au.edges[k]
				if e.event != vec[i].event || e.src != s.loc[vec[i].auto] || e.when != nil && !e.when(s) {
					continue
				}
				was := label
				es[i], label = e, label|uint64(k+1)<<(8*i)
				if i == 0 {
					label |= uint64(v+1) << 48
				}
				if !rec(i + 1) {
					return false
				}
				label = was
			}
			return true
		}
		if !rec(0) {
			return
		}
	}
}

// move takes the discrete part of a joint step from s to n.next.
func (n *net) move(s *netState, who []int, es []*edge) *netState {
	copy(n.next.loc, s.loc)
	copy(n.next.vars, s.vars)
	for i, e := range es {
		n.next.loc[who[i]] = e.dst
		if e.do != nil {
			e.do(&n.next)
		}
	}
	return &n.next
}

func (n *net) Successors(key []byte, z *zone.DBM, yield func(explore.Succ) bool) {
	n.decode(key, &n.cur)
	n.joints(&n.cur, func(label uint64, who []int, es []*edge) bool {
		n.z.CopyFrom(z)
		for _, e := range es {
			if !constrain(&n.z, e.guards) {
				return true
			}
		}
		succ := explore.Succ{Zone: &n.z, Label: label}
		for _, e := range es {
			for _, x := range e.resets {
				n.z.Reset(x)
			}
			succ.Cost += e.cost
			succ.Marks |= e.marks
		}
		to := n.move(&n.cur, who, es)
		if !n.settle(to, &n.z) {
			return true
		}
		succ.Key, succ.Bad = n.encode(to), n.isBad(to)
		return yield(succ)
	})
}

func (n *net) Bounds(key []byte) (l, u []int32) {
	for x := range n.ll {
		n.ll[x], n.uu[x] = zone.NoBound, zone.NoBound
	}
	for a := range n.autos {
		at := int(key[a])
		for x := 1; x <= n.clocks; x++ {
			n.ll[x] = max(n.ll[x], n.l[a][at][x])
			n.uu[x] = max(n.uu[x], n.u[a][at][x])
		}
	}
	return n.ll, n.uu
}

// locations counts the automata that are in the location of this index.
func (s *netState) locations(of []int, at int) int {
	n := 0
	for _, a := range of {
		if s.loc[a] == at {
			n++
		}
	}
	return n
}

// run explores and fails the test at an unexpected status.
func run(t *testing.T, m explore.Model, opt explore.Options, want explore.Status) explore.Result {
	t.Helper()
	r := explore.Run(context.Background(), m, opt)
	if r.Status != want {
		t.Fatalf("status %q, want %q (%+v)", r.Status, want, r.Stats)
	}
	return r
}

// reachable checks that a bad state is found, by a path of this many steps.
func reachable(t *testing.T, m explore.Model, cover explore.Cover, steps int) explore.Result {
	t.Helper()
	r := run(t, m, explore.Options{Cover: cover, StopAtBad: true}, explore.FoundBad)
	if got := len(r.Path) - 1; got != steps {
		t.Errorf("path of %d steps, want %d", got, steps)
	}
	return r
}

// counts checks the size of the whole graph in aLU mode: stored and transitions,
// and visited unless it is 0; and that the verdict is the same with ExtraLU.
func counts(t *testing.T, m explore.Model, bad bool, stored, transitions, visited int) {
	t.Helper()
	r := run(t, m, explore.Options{Cover: explore.ALU}, explore.Exhausted)
	if r.Stats.Stored != stored || r.Stats.Transitions != transitions {
		t.Errorf("stored/transitions %d/%d, want %d/%d", r.Stats.Stored, r.Stats.Transitions, stored, transitions)
	}
	if visited != 0 && r.Stats.Visited != visited {
		t.Errorf("visited %d, want %d", r.Stats.Visited, visited)
	}
	if x := run(t, m, explore.Options{}, explore.Exhausted); x.BadSeen != bad || r.BadSeen != bad {
		t.Errorf("bad reachable: %v with ALU, %v with ExtraLU, want %v", r.BadSeen, x.BadSeen, bad)
	}
}
