// The contract between a model and the search.

package explore

import "lampwarden/checker/zone"

// Model is a timed transition system as the explorer sees it: a discrete state
// is an opaque key, time is a zone over the clocks that are active in it.
//
// A model hands out zones that are already delayed and cut to the state's
// invariant ("elapsed" zones), closed and never empty, and not extrapolated.
// Key and Zone of a Succ are the model's scratch memory: valid only during the
// call of yield. A model is used by one goroutine at a time.
type Model interface {
	// Initial yields the initial states.
	Initial(yield func(Succ) bool)
	// Successors yields every symbolic successor of the state, in a fixed
	// order, until yield returns false.
	Successors(key []byte, z *zone.DBM, yield func(Succ) bool)
	// Bounds gives, for each clock of the state's zone (index 1..N-1; index 0 is
	// unused), the largest constant of a lower (L) and of an upper (U) bound
	// that it can still be compared with before it is reset; zone.NoBound for none.
	Bounds(key []byte) (l, u []int32)
}

// Succ is one symbolic successor.
type Succ struct {
	Key   []byte
	Zone  *zone.DBM
	Label uint64 // the model's own encoding of the step, kept for traces
	Cost  int    // number of outside events in the step; the search is in order of total cost
	Bad   bool   // a goal state: the search stops here if asked to
	Marks uint64 // facts seen on the step; the explorer collects their union
}
