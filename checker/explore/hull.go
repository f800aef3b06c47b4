// The proof-only pass: one joined zone for each discrete state.

package explore

import (
	"context"
	"time"

	"lampwarden/checker/zone"
)

// DefaultWidenAfter is the number of joins before widening starts.
const DefaultWidenAfter = 8

// giveUpAfter is the number of widened joins after which a zone becomes all
// valuations, so that the pass ends whatever closing does to widened bounds.
const giveUpAfter = 64

// HullVerdict is what the rough pass can say.
type HullVerdict uint8

const (
	// Inconclusive: a bad state may or may not be reachable.
	Inconclusive HullVerdict = iota
	// Proved: no bad state is reachable.
	Proved
)

// HullResult is the outcome of the rough pass.
type HullResult struct {
	Verdict HullVerdict
	// Status is Exhausted if the pass went to its end, FoundBad if it stopped at a
	// bad state that may be unreachable, else the limit that stopped it.
	Status Status
	// MayBeBad tells that the pass met a bad state. It may be unreachable.
	MayBeBad bool
	// Marks holds at least the marks of every reachable step, if Status is Exhausted: a
	// mark that is missing is never seen. One that is there may be unreachable.
	Marks uint64
	Stats Stats // Stored counts discrete states; Visited counts every revisit

	states *store
}

// Each yields the joined zones if KeepStates was set, as Result.Each does. They are closed under every step.
func (r *HullResult) Each(yield func(key []byte, z *zone.DBM) bool) {
	if r.states == nil {
		return
	}
	var z zone.DBM
	for id := range r.states.keys {
		z.N, z.B = int(r.states.keys[id].clocks), r.states.zone(int32(id))
		if !yield(r.states.key(id), &z) {
			return
		}
	}
}

// Hull runs the rough pass. All zones of a discrete state are joined into their
// hull, extrapolated with the state's bounds; after Options.WidenAfter joins what
// still grows is widened. A state is expanded again when its zone grew. The
// result covers every reachable state, so without a bad one the model is proved;
// a bad one proves nothing, because a hull has points that no run has.
// Options.StopAtBad, the limits and WidenAfter count; costs are ignored, and so is
// StopWhenMarks, since marks met here need not be reachable.
func Hull(ctx context.Context, m Model, opt Options) HullResult {
	h := &hull{limits: newLimits(ctx, opt), model: m, st: newStore()}
	if h.opt.WidenAfter <= 0 {
		h.opt.WidenAfter = DefaultWidenAfter
	}
	h.add = h.successor
	h.explore()
	h.stats.Stored = len(h.st.nodes)
	h.stats.DiscreteStates = len(h.st.keys)
	h.stats.Bytes = h.st.size()
	h.stats.Elapsed = time.Since(h.start)
	r := HullResult{Status: h.status, MayBeBad: h.bad, Marks: h.marks, Stats: h.stats}
	if h.status == Exhausted && !h.bad {
		r.Verdict = Proved
	}
	if opt.KeepStates {
		r.states = h.st
	}
	return r
}

// hull is the state of one rough pass. Node numbers are state numbers.
type hull struct {
	limits
	model   Model
	st      *store
	add     func(Succ) bool
	waiting fifo
	queued  []bool // by state
	joins   []int  // by state

	from, work zone.DBM
	old        []zone.Bound

	halted bool
	status Status
	bad    bool
	marks  uint64
	stats  Stats
}

// explore is the main loop.
func (h *hull) explore() {
	if h.stop(h.poll()) {
		return
	}
	h.model.Initial(h.add)
	h.stats.Transitions = 0
	for !h.halted && !h.waiting.empty() {
		id := h.waiting.pop()
		if h.stop(h.poll()) {
			return
		}
		h.queued[id] = false
		h.stats.Visited++
		h.from.N = int(h.st.keys[id].clocks)
		h.from.B = append(h.from.B[:0], h.st.zone(id)...)
		h.model.Successors(h.st.key(int(id)), &h.from, h.add)
	}
}

// stop ends the pass unless the status is Exhausted, and reports whether it has
// ended.
func (h *hull) stop(st Status) bool {
	if st != Exhausted {
		h.halted, h.status = true, st
	}
	return h.halted
}

// successor takes one symbolic successor; false ends the pass.
func (h *hull) successor(x Succ) bool {
	if h.halted || h.stop(h.poll()) {
		return false
	}
	h.stats.Transitions++
	h.marks |= x.Marks
	if x.Bad {
		h.bad = true
		if h.opt.StopAtBad {
			return !h.stop(FoundBad)
		}
	}
	id, isNew := h.st.state(x.Key, x.Zone.N)
	if isNew {
		l, u := h.model.Bounds(h.st.key(id))
		h.st.setBounds(id, l, u)
		h.work.CopyFrom(x.Zone)
		h.work.ExtraLU(h.st.lu(id))
		h.st.addNode(id, h.work.B, none, x.Label, 0)
		h.queued, h.joins = append(h.queued, false), append(h.joins, 0)
		h.enqueue(id)
		return !h.stop(h.room(len(h.st.nodes), h.st))
	}
	if stored := h.st.zone(int32(id)); !includes(stored, x.Zone.B) {
		h.join(id, stored, x.Zone)
		h.enqueue(id)
	}
	return true
}

// enqueue has a state expanded, again if need be.
func (h *hull) enqueue(id int) {
	if !h.queued[id] {
		h.queued[id] = true
		h.waiting.push(int32(id))
	}
}

// join grows the stored zone of a state so that it includes z.
func (h *hull) join(id int, stored []zone.Bound, z *zone.DBM) {
	l, u := h.st.lu(id)
	h.old = append(h.old[:0], stored...)
	h.work.CopyFrom(z)
	h.work.ExtraLU(l, u)
	h.work.Hull(&zone.DBM{N: z.N, B: h.old})
	h.work.ExtraLU(l, u)
	h.joins[id]++
	switch j := h.joins[id]; {
	case j > h.opt.WidenAfter+giveUpAfter:
		h.work.SetUniverse(z.N)
	case j > h.opt.WidenAfter:
		widen(&h.work, h.old, u)
	}
	copy(stored, h.work.B)
}

// widen weakens every bound of z that is weaker than in old: an upper bound first
// to the largest constant it can be compared with, then to none, a lower bound to
// 0, a difference to none.
func widen(z *zone.DBM, old []zone.Bound, u []int32) {
	for at, b := range z.B {
		if b <= old[at] {
			continue
		}
		i, j := at/z.N, at%z.N
		switch {
		case i == 0:
			z.B[at] = zone.LE(0)
		case j == 0 && u[i] >= 0 && b <= zone.LE(u[i]):
			z.B[at] = zone.LE(u[i])
		default:
			z.B[at] = zone.Infinity
		}
	}
	z.Close()
}
