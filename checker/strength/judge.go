// What decides on a mutant. The engine does, through this door (package checker); this package knows only what it asks.

package strength

import (
	"context"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// Answer is the answer to a requirement, as far as a survey needs to know.
type Answer uint8

// The answers. The zero value is Open, so that nothing survives by omission.
const (
	Open Answer = iota
	Holds
	Breaks     // it fails, or what was to be possible is not
	SaysNought // it holds, but its "whenever" never happens
)

// Check names one built-in check of one thing; which of its fields are set depends on the code.
type Check struct {
	Code     string
	Mode     site.ModeID
	Circuit  site.CircuitID
	Circuits []site.CircuitID // of the setting of the mode
}

// Finding is what a built-in check found, or left open.
type Finding struct {
	Code string
	Mode site.ModeID
	Span source.Span
	Open bool
}

// Judge decides on sites. Its answers must not hang on what it was asked before.
type Judge interface {
	// Requirement decides requirement i of a site, and tells how many successors that took. A search ends after so much
	// work (0: no limit) with an open answer.
	Requirement(ctx context.Context, s *site.Site, i, work int) (Answer, int, error)
	// Checks does the built-in checks that are wanted.
	Checks(ctx context.Context, s *site.Site, work int, wanted func(Check) bool) ([]Finding, error)
}
