// Result types of a proof run: what checker/report renders.

package checker

import (
	"time"

	"lampwarden/checker/trace"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// Verdict is the answer to one requirement. The zero value is Undecided, so
// that nothing is ever proved by omission.
type Verdict uint8

// The verdicts. Vacuous: the requirement holds, but its "whenever" never
// happens, so it says nothing.
const (
	Undecided Verdict = iota
	Proved
	Fails
	IsPossible // a "possible" requirement, with a witness
	Impossible // a "possible" requirement that no run reaches
	Vacuous
)

// String gives the word that reports use.
func (v Verdict) String() string {
	return [...]string{"undecided", "proved", "fails", "possible", "impossible", "vacuous"}[v]
}

// Outcome is the verdict on one requirement with its evidence.
type Outcome struct {
	Requirement int // index into Site.Requirements
	Verdict     Verdict
	// Counterexample is the evidence of Fails, the witness of IsPossible; else nil.
	Counterexample *trace.Counterexample
	// Reason says why the verdict is Undecided: which limit was reached, how far the search got.
	Reason string
	Stats  Stats
}

// Finding is a built-in check that found something.
type Finding struct {
	Code           string // a code of the findings registry
	Message        string // one sentence in the building's words
	Span           source.Span
	Mode           site.ModeID // of never-active and never-wins; else None
	Related        []source.Related
	Counterexample *trace.Counterexample // or nil
	Undecided      bool                  // the check could not be finished; Message says why
}

// Stats is what a proof cost.
type Stats struct {
	Slices      int // separate questions explored
	Stored      int // zones stored at the end
	Visited     int // zones expanded
	Transitions int // symbolic successors computed
	Bytes       int64
	Elapsed     time.Duration // wall time; never printed where output must be reproducible
	// Slices proved without the whole of what can influence them: with only the modes that
	// matter under the requirement's own condition, and with joined zones.
	ByConditional, ByHull int
	// Equal is how many of the slices were equal to another one but for names and so were not searched again;
	// their cost is counted all the same.
	Equal  int
	Spared int // symbolic successors that so were not computed
	// Recalled is how many answers were kept from an earlier run; their cost is counted all the same.
	Recalled int
}

// Add accumulates s2 into s; Bytes keeps the larger.
func (s *Stats) Add(t Stats) {
	s.Slices += t.Slices
	s.Stored += t.Stored
	s.Visited += t.Visited
	s.Transitions += t.Transitions
	s.Bytes = max(s.Bytes, t.Bytes)
	s.Elapsed += t.Elapsed
	s.ByConditional += t.ByConditional
	s.ByHull += t.ByHull
	s.Equal += t.Equal
	s.Spared += t.Spared
	s.Recalled += t.Recalled
}

// Report is the result of a whole proof run, in the site's written order.
type Report struct {
	Site     *site.Site
	Sources  *source.Set // for rendering places; may be nil
	Outcomes []Outcome   // of the requirements asked for
	Findings []Finding
	// Assumed lists, in plain words, the site's assumptions and the standing
	// simplifications that the verdicts rest on.
	Assumed   []string
	Stats     Stats // of the whole run; Elapsed is wall time
	Checks    Stats // the share of the built-in checks
	Cancelled bool  // the run was stopped early; Outcomes has what was decided
}
