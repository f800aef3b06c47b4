// Expressions compiled against a slice.

package machine

import (
	"slices"

	"lampwarden/lang/site"
)

// node is an expression with its look-ups done.
type node struct {
	op    site.Op
	kids  []*node
	n     int
	id    int    // input, mode, lamp or event index
	state int    // mode state or stage
	mask  uint64 // regions of a lamp in which a light comparison is true
	segs  []bool // segments in which a band holds
	terms []term // of a sum
	need  int64
}

// term is a summand of a sum: a lamp, with what each of its regions counts, or a sight with its weight.
type term struct {
	id     int
	counts []int64
	weight int64
}

// compile turns e into a node; nil stays nil.
func (s *System) compile(e *site.Expr) *node {
	if e == nil {
		return nil
	}
	n := &node{op: e.Op, n: e.N, state: e.State}
	switch e.Op {
	case site.OpInput:
		n.id = int(e.Input)
		if !s.sl.Inputs[e.Input] { // a fault that does not strike
			n.op = site.OpFalse
		}
	case site.OpEvent:
		n.id = s.eventIndex(e.Input, e.Gesture)
	case site.OpMode, site.OpState, site.OpStage:
		n.id = int(e.Mode)
	case site.OpBand:
		n.segs = make([]bool, len(s.segs))
		for i, sg := range s.segs {
			n.segs[i] = s.site.Bands[e.Band].Holds(sg.from)
		}
	case site.OpLight:
		n.id = s.lampIndex(e.Circuit)
		n.mask = s.lamps[n.id].mask(e.Lo, e.Hi)
	}
	if e.Op == site.OpSum {
		s.compileSum(n, e)
	}
	for _, k := range e.Kids {
		n.kids = append(n.kids, s.compile(k))
	}
	return n
}

// compileSum looks up the terms of a sum.
func (s *System) compileSum(n *node, e *site.Expr) {
	n.need = e.Need
	for _, t := range e.Terms {
		x := term{weight: t.Weight}
		if e.Seen {
			n.state = 1
			x.id = slices.Index(s.sl.Seen, t.Circuit)
			n.terms = append(n.terms, x)
			continue
		}
		x.id = s.lampIndex(t.Circuit)
		l, rests := &s.lamps[x.id], s.site.Rests(t.Circuit)
		for r := range l.cuts {
			lo, hi := l.bounds(uint8(r))
			if e.Up {
				lo = hi
			}
			x.counts = append(x.counts, t.Weight*int64(site.Round(rests, lo, e.Up)))
		}
		n.terms = append(n.terms, x)
	}
}

// sum adds up the terms of a sum in f.
func (n *node) sum(f *frame) (sum int64) {
	for _, t := range n.terms {
		if n.state == 1 {
			sum += t.weight * int64(f.seen[t.id])
		} else {
			sum += t.counts[f.reg[t.id]]
		}
	}
	return sum
}

// eval tells whether n holds in f, with the given event happening (0: none) and
// the given frame before. It follows lang/SEMANTICS.md, section 4.
func (s *System) eval(n *node, f, before *frame, ev int) bool {
	switch n.op {
	case site.OpTrue:
		return true
	case site.OpFalse:
		return false
	case site.OpNot:
		return !s.eval(n.kids[0], f, before, ev)
	case site.OpAnd:
		for _, k := range n.kids {
			if !s.eval(k, f, before, ev) {
				return false
			}
		}
		return true
	case site.OpOr:
		for _, k := range n.kids {
			if s.eval(k, f, before, ev) {
				return true
			}
		}
		return false
	case site.OpAtMost, site.OpAtLeast:
		c := 0
		for _, k := range n.kids {
			if s.eval(k, f, before, ev) {
				c++
			}
		}
		if n.op == site.OpAtMost {
			return c <= n.n
		}
		return c >= n.n
	case site.OpInput:
		return f.in[n.id]
	case site.OpEvent:
		return ev != 0 && ev == n.id
	case site.OpBand:
		return f.seg >= 0 && n.segs[f.seg]
	case site.OpMode:
		return s.active(f, site.ModeID(n.id))
	case site.OpState:
		return int(f.loc[n.id]) == n.state
	case site.OpStage:
		m := site.ModeID(n.id)
		return s.active(f, m) && s.phaseOf(f, m).stage == n.state
	case site.OpWas:
		return s.eval(n.kids[0], before, before, 0)
	case site.OpLight:
		return n.mask>>f.reg[n.id]&1 == 1
	case site.OpSum:
		return n.sum(f) >= n.need
	}
	panic("machine: unknown operator")
}

// rises tells whether n is true now and was false before.
func (s *System) rises(n *node, f, before *frame, ev int) bool {
	return s.eval(n, f, before, ev) && !s.eval(n, before, before, 0)
}

// active tells whether the mode is active in f.
func (s *System) active(f *frame, m site.ModeID) bool {
	l := f.loc[m]
	switch s.site.Modes[m].Kind {
	case site.While:
		return l == locOn || l == locHolding || l == locPulsing
	default: // Latch: locOn; States: any but the first
		return l != 0
	}
}
