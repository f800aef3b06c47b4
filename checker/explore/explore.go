// Package explore searches a timed transition system exactly, in order of
// cost, or roughly with one zone per discrete state.
//
// Run is the exact search: the forward zone graph in order of total cost, first
// in first out among equal costs, so with all costs 0 it is breadth-first. Passed
// and waiting states live in one table keyed by the discrete state; a new zone
// that a stored one covers is dropped, and stored zones that the new one covers
// are removed (mutual coverage), where a zone never covers one of smaller cost.
// So the path found to a bad state is one of least cost.
//
// Two ways to make the graph finite, both exact for guards over single clocks:
//
//   - ExtraLU (the default) stores zones extrapolated with the bounds that the
//     model gives for the discrete state and covers by plain inclusion. The set
//     stored at the end contains the initial states and is closed under plain
//     successors up to plain inclusion, which is all that a certificate needs:
//     its checker knows nothing of bounds or extrapolation.
//   - ALU stores zones as they come and covers by inclusion in the aLU abstraction,
//     the coarsest that is sound. Often fewer zones are stored, but that set is
//     closed only up to the abstraction, so it makes no certificate by itself.
//
// A step found through a stored zone can be taken from the exact zone too: each
// point that extrapolation adds can do only what a point of the zone can do.
//
// Hull is the rough pass: it joins all zones of a discrete state into one. What
// it does not reach is unreachable; what it reaches may be so only because of
// the joining, so it proves and never refutes.
//
// Data layout: discrete states are numbered as found; their keys, their bounds
// and the zones lie in chunked arenas; a node is a record of 32 bytes with the
// number of its parent; each discrete state has the list of its stored nodes with
// sums of their bounds beside each, which settle most inclusion tests without
// looking at a zone. Everything is in one goroutine and deterministic.
//
// Sources: G. Behrmann, P. Bouyer, K. Larsen, R. Pelánek, Lower and upper bounds
// in zone-based abstractions of timed automata, 2006; F. Herbreteau, B. Srivathsan,
// I. Walukiewicz, Better abstractions for timed automata, 2012; S. Wimmer, J. von
// Mutius, Verified certification of reachability checking for timed automata, 2020.
//
// Naming key: a key is the model's encoding of a discrete state, a state is its
// number, a node is a stored pair of state and zone.
package explore

import (
	"time"

	"lampwarden/checker/zone"
)

// Cover tells how zones are stored and compared.
type Cover uint8

const (
	// ExtraLU stores extrapolated zones and compares by inclusion. Its stored
	// states can be written out as a certificate.
	ExtraLU Cover = iota
	// ALU stores exact zones and compares by inclusion in aLU. Not for certificates.
	ALU
)

// Options of a search. The zero value explores everything without limits.
type Options struct {
	Cover     Cover
	StopAtBad bool // stop at a bad state of least cost
	// StopWhenMarks, if not 0, stops the exact search as soon as all these marks were seen.
	StopWhenMarks  uint64
	MaxStates      int           // stored zones; 0: no limit
	MaxTransitions int           // symbolic successors computed; 0: no limit
	MaxBytes       int64         // memory of the search's own tables; 0: no limit
	MaxTime        time.Duration // 0: no limit
	// KeepStates keeps the stored states for Result.Each.
	KeepStates bool
	// WidenAfter is the number of joins of one discrete state after which the hull
	// pass widens; 0: DefaultWidenAfter.
	WidenAfter int
}

// Status tells how a search ended.
type Status uint8

// The ways to end. All but the first three leave the question open.
const (
	Exhausted   Status = iota // every reachable state was explored
	FoundBad                  // a bad state was reached, and StopAtBad asked for it
	AllMarks                  // StopWhenMarks is satisfied
	LimitStates               // Options.MaxStates
	LimitMemory               // Options.MaxBytes
	LimitTime                 // Options.MaxTime
	LimitWork                 // Options.MaxTransitions
	Cancelled                 // the context ended
)

// String names the status in words fit for a message.
func (s Status) String() string {
	switch s {
	case Exhausted:
		return "exhausted"
	case FoundBad:
		return "bad state found"
	case AllMarks:
		return "all marks seen"
	case LimitStates:
		return "limit of states reached"
	case LimitMemory:
		return "limit of memory reached"
	case LimitTime:
		return "limit of time reached"
	case LimitWork:
		return "limit of work reached"
	case Cancelled:
		return "cancelled"
	}
	return "unknown status"
}

// Conclusive reports whether the search ended of itself and not at a limit.
func (s Status) Conclusive() bool { return s <= AllMarks }

// Step is one state of a path with the label of the step that led there.
type Step struct {
	Key   []byte
	Label uint64
	Cost  int // total cost up to and including this step
}

// Stats counts a search.
type Stats struct {
	Stored         int   // zones stored and not covered since
	Visited        int   // nodes expanded
	Transitions    int   // symbolic successors, covered ones included
	DiscreteStates int   // different keys met
	Bytes          int64 // memory of the tables, at their largest
	Elapsed        time.Duration
}

// Result is the outcome of the exact search.
type Result struct {
	Status Status
	// BadSeen tells that a bad state was met, whatever the status. Without StopAtBad
	// the search goes on past it.
	BadSeen bool
	// Path leads from an initial state to a bad state if BadSeen, else, if the status
	// is AllMarks, to the step that brought the last mark.
	Path []Step
	// Least tells that no bad state has a smaller total cost than the path's. It is
	// always so when the status is FoundBad, but not if a limit came first.
	Least bool
	Marks uint64 // union of the marks of every step met
	Stats Stats

	states *store
}

// Each yields the stored states if KeepStates was set, by discrete state in the
// order met. Key and zone are valid during the call only.
func (r *Result) Each(yield func(key []byte, z *zone.DBM) bool) {
	if r.states == nil {
		return
	}
	var z zone.DBM
	for id := range r.states.keys {
		k := &r.states.keys[id]
		for _, e := range k.list {
			z.N, z.B = int(k.clocks), r.states.zone(e.node)
			if !yield(r.states.key(id), &z) {
				return
			}
		}
	}
}
