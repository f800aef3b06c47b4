// Package trace turns a path of the explorer into a counterexample that a
// person can read: concrete, nice times, replayed by the interpreter.
package trace

import (
	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

// Counterexample is a replayed timed list of events that ends in a broken
// requirement (or, for a witness, in the moment that was asked for).
type Counterexample struct {
	Script   rehearse.Script    // what the environment did
	Timeline *rehearse.Timeline // what the site did, from the interpreter
	// Judgement of the requirement on the timeline; zero for findings.
	Judgement rehearse.Judgement
	// Focus lists the circuits that the requirement or finding speaks of on this
	// path; the others may be left out of a short report.
	Focus []site.CircuitID
	// Clock tells whether the time of day matters; if not, a report may say
	// "at any time of day".
	Clock bool
}
