// The exact search.

package explore

import (
	"context"
	"math"
	"time"

	"lampwarden/checker/zone"
)

// Run explores the model in order of total cost and reports how it ended, with
// the path to a bad state if one was met. Negative costs count as 0.
func Run(ctx context.Context, m Model, opt Options) Result {
	s := &search{
		limits: newLimits(ctx, opt),
		model:  m,
		st:     newStore(),
		q:      queue{buckets: map[int32]*fifo{}},
		parent: none,
		goal:   none,
	}
	s.add = s.successor
	s.explore()
	return s.result()
}

// search is the state of one run.
type search struct {
	limits
	model Model
	st    *store
	q     queue
	add   func(Succ) bool // successor as a value, made once

	parent int32 // the node being expanded
	base   int32 // its cost
	from   zone.DBM
	work   zone.DBM

	halted bool
	status Status
	goal   int32 // node of the path to report
	bad    bool  // goal is a bad state
	marks  uint64
	stats  Stats
}

// explore is the main loop.
func (s *search) explore() {
	if s.stop(s.poll()) {
		return
	}
	s.model.Initial(s.add)
	s.stats.Transitions = 0
	for !s.halted {
		id, ok := s.q.pop()
		if !ok {
			break
		}
		n := &s.st.nodes[id]
		if n.removed {
			continue
		}
		if s.opt.StopAtBad && s.bad && n.cost >= s.st.nodes[s.goal].cost {
			break // nothing left can be cheaper
		}
		if s.stop(s.poll()) {
			return
		}
		s.expand(id)
	}
	if !s.halted && s.opt.StopAtBad && s.bad {
		s.status = FoundBad
	}
}

// expand yields the successors of a node to s.successor. It works on a copy of
// the zone, since the node may be removed, and its memory reused, meanwhile.
func (s *search) expand(id int32) {
	n := s.st.nodes[id]
	z := s.st.zone(id)
	s.from.N = int(s.st.keys[n.state].clocks)
	s.from.B = append(s.from.B[:0], z...)
	s.parent, s.base = id, n.cost
	s.stats.Visited++
	s.model.Successors(s.st.key(int(n.state)), &s.from, s.add)
}

// stop ends the search unless the status is Exhausted, and reports whether it
// has ended.
func (s *search) stop(st Status) bool {
	if st != Exhausted {
		s.halted, s.status = true, st
	}
	return s.halted
}

// successor takes one symbolic successor of s.parent; false ends the search.
func (s *search) successor(x Succ) bool {
	if s.halted || s.stop(s.poll()) {
		return false
	}
	s.stats.Transitions++
	cost := s.total(x.Cost)
	if x.Bad && (!s.bad || cost < s.st.nodes[s.goal].cost) {
		s.bad = true
		s.goal = s.remember(x, cost)
	}
	s.marks |= x.Marks
	if s.opt.StopAtBad && s.bad {
		// Go on only for what could be cheaper than the best path so far.
		if best := s.st.nodes[s.goal].cost; best == s.base {
			return !s.stop(FoundBad)
		} else if cost >= best {
			return true
		}
	}
	if want := s.opt.StopWhenMarks; want != 0 && s.marks&want == want {
		if !s.bad {
			s.goal = s.remember(x, cost)
		}
		return !s.stop(AllMarks)
	}
	return s.insert(x, cost)
}

// total is the cost of a step from the present node, kept within 32 bits.
func (s *search) total(step int) int32 {
	if step <= 0 {
		return s.base
	}
	return int32(min(int64(s.base)+int64(min(step, math.MaxInt32)), math.MaxInt32))
}

// remember stores a node for a path only.
func (s *search) remember(x Succ, cost int32) int32 {
	state := s.stateOf(x)
	return s.st.addNode(state, x.Zone.B, s.parent, x.Label, cost)
}

// stateOf numbers the discrete state of x and learns its bounds.
func (s *search) stateOf(x Succ) int {
	id, isNew := s.st.state(x.Key, x.Zone.N)
	if isNew {
		l, u := s.model.Bounds(s.st.key(id))
		s.st.setBounds(id, l, u)
	}
	return id
}

// insert stores x unless it is covered; false ends the search.
func (s *search) insert(x Succ, cost int32) bool {
	state := s.stateOf(x)
	var size measure
	if s.opt.Cover == ALU {
		s.work.CopyFrom(x.Zone)
		s.work.Cap()
		if s.coveredALU(state, cost) {
			return true
		}
		s.removeALU(state, cost)
	} else {
		if s.covered(state, x.Zone, cost) {
			return true
		}
		l, u := s.st.lu(state)
		s.work.CopyFrom(x.Zone)
		s.work.ExtraLU(l, u)
		size = measureOf(&s.work)
		s.remove(state, size, cost)
	}
	id := s.st.addNode(state, s.work.B, s.parent, x.Label, cost)
	s.st.list(id, size)
	s.q.push(id, cost)
	s.stats.Stored++
	return !s.stop(s.room(s.stats.Stored, s.st))
}

// covered reports whether a stored zone of no greater cost includes z. The zone
// itself is compared, not its extrapolation: if it is inside a stored one nothing
// new can follow from it, and extrapolation is spared.
func (s *search) covered(state int, z *zone.DBM, cost int32) bool {
	size := measureOf(z)
	list := s.st.keys[state].list
	s.compared(len(list))
	for i := len(list) - 1; i >= 0; i-- { // the latest are the likeliest
		e := &list[i]
		if size.within(e.size) && e.cost <= cost && includes(s.st.zone(e.node), z.B) {
			return true
		}
	}
	return false
}

// remove takes away the stored zones of no smaller cost that s.work includes.
func (s *search) remove(state int, size measure, cost int32) {
	list := s.st.keys[state].list
	s.compared(len(list))
	kept := 0
	for i := range list {
		e := &list[i]
		if e.size.within(size) && e.cost >= cost && includes(s.work.B, s.st.zone(e.node)) {
			s.st.release(e.node)
			continue
		}
		if kept != i {
			list[kept] = *e
		}
		kept++
	}
	s.shorten(state, kept)
}

// coveredALU is covered, for s.work and inclusion in aLU.
func (s *search) coveredALU(state int, cost int32) bool {
	l, u := s.st.lu(state)
	o := zone.DBM{N: s.work.N}
	list := s.st.keys[state].list
	s.compared(8 * len(list)) // each takes longer
	for i := len(list) - 1; i >= 0; i-- {
		e := &list[i]
		if e.cost > cost {
			continue
		}
		o.B = s.st.zone(e.node)
		if s.work.CoveredALU(&o, l, u) {
			return true
		}
	}
	return false
}

// removeALU is remove, for inclusion in aLU.
func (s *search) removeALU(state int, cost int32) {
	l, u := s.st.lu(state)
	o := zone.DBM{N: s.work.N}
	list := s.st.keys[state].list
	s.compared(8 * len(list)) // each takes longer
	kept := 0
	for _, e := range list {
		o.B = s.st.zone(e.node)
		if e.cost >= cost && o.CoveredALU(&s.work, l, u) {
			s.st.release(e.node)
			continue
		}
		list[kept] = e
		kept++
	}
	s.shorten(state, kept)
}

// shorten cuts the list of a state after its first kept entries.
func (s *search) shorten(state, kept int) {
	k := &s.st.keys[state]
	s.stats.Stored -= len(k.list) - kept
	k.list = k.list[:kept]
}

// result gathers the outcome.
func (s *search) result() Result {
	s.stats.DiscreteStates = len(s.st.keys)
	s.stats.Bytes = s.st.size()
	s.stats.Elapsed = time.Since(s.start)
	r := Result{
		Status:  s.status,
		BadSeen: s.bad,
		Least:   s.bad && (s.status == FoundBad || s.status == Exhausted),
		Marks:   s.marks,
		Stats:   s.stats,
	}
	if s.goal != none {
		r.Path = s.st.path(s.goal)
	}
	if s.opt.KeepStates {
		r.states = s.st
	}
	return r
}

// measure is the sums of the bounds above and below the diagonal. A zone that
// includes another has no smaller one of either. Two sums and not one: where clocks
// have almost fixed differences, the bounds on x-y and on y-x are almost opposite,
// and one sum of both says little.
type measure struct{ above, below int64 }

// within reports whether a zone of measure m may be included in one of measure o.
func (m measure) within(o measure) bool { return m.above <= o.above && m.below <= o.below }

// measureOf adds up the bounds of z.
func measureOf(z *zone.DBM) measure {
	var m measure
	for i := range z.N {
		row := z.B[i*z.N : i*z.N+z.N]
		for _, b := range row[:i] {
			m.below += int64(b)
		}
		for _, b := range row[i:] {
			m.above += int64(b)
		}
	}
	return m
}

// includes reports whether closed matrix a is weaker than b everywhere.
func includes(a, b []zone.Bound) bool {
	a = a[:len(b)]
	for i, x := range b {
		if x > a[i] {
			return false
		}
	}
	return true
}
