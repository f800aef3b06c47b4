// Package horn writes a question about a site as a script for an SMT solver (SMT-LIB 2.6), so that a verdict can be
// confirmed by a program that shares nothing with this one. It is written from lang/SEMANTICS.md and reads only lang/site.
//
// # Horn clauses
//
// A script declares one predicate, Reach, over a state of the site and of an observer of the requirement, and says with
// clauses what it must be true of: the states after start-up; the states that a reaction after a delay leads to from a
// state of which it is true; likewise those after a move of a lamp. A last clause says that it is false wherever the
// requirement is broken. A solver that finds such a predicate (sat) has found an invariant: the requirement holds. If
// there is none (unsat), a chain of clauses leads from start-up to a state in which it is broken. This is the reading of
// transition systems as constrained Horn clauses (Bjorner, Gurfinkel, McMillan, Rybalchenko: Horn Clause Solvers
// for Program Verification, 2015).
//
// # The state
//
// Inputs, places of modes, stages and the like are Bool (finite.go), timers are Real: time is dense. A timer counts
// down from its duration and is 0 while it does not run, so that a delay d is one that no running timer is less than,
// and a timer is due where it equals d. A lamp's level is one of the stretches into which the resting levels and the
// thresholds of the requirement cut the levels (lamp.go): movements are monotone and otherwise free, so where in a
// stretch the level is decides nothing. The local clock is the stretch of the day or week between times that are
// read, and what is left of it. All durations are divided by what divides them all.
//
// # What may be wrong with a step, and is not
//
// A reaction may come at any time, even if nothing is due and nothing changes: such a one changes nothing, and no verdict may
// depend on it (SEMANTICS section 1). A move of a lamp comes strictly before anything is due, and any two steps are
// some time apart, though SEMANTICS lets several moves come together, and with a reaction: every condition by which an
// observer says "broken" is open in the times of moves (it holds a little earlier or later as well), so that a run with
// moves at one time breaks a requirement only if one with moves a little apart does.
//
// # The slice
//
// Only what can influence the question is written (slice.go): from the conditions of the requirement back over the
// modes that they name, the circuits that they read with all modes that ask for them, the conditions of those, and when
// the circuit is dead, cut or the controller down. What is left out can not act on what is written: a mode steps by its
// own conditions, a request by the asks for that circuit alone. Inputs that are left out may stay at rest, which no
// assumption forbids: those that would (a rung of a ladder above another, a battery and its charger) are
// written with the inputs that they bind. In the other direction, a run of the whole site keeps the assumptions
// cut down to the inputs that are written, as each of them only forbids. Timers of what is left out make reactions in
// which nothing that is written changes.
//
// Modes may be left free (Question.Free), which allows more than the site does; Guesses proposes some: a mode matters little if
// one that certainly asks whenever the requirement is about to be broken outranks it. It can not break into what the
// requirement says, but the state in which it leaves the lamp before may matter, and so it is freed and not forgotten.
package horn

import (
	"fmt"
	"io"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// BeyondError tells what of a question the encoding does not cover, and where it stands.
type BeyondError struct {
	Construct string
	Span      source.Span
}

func (e *BeyondError) Error() string { return e.Construct + " is not covered" }

// Write writes one self-contained script of Horn clauses for a requirement: sat says that it holds (a possible one: that
// it is impossible), unsat that it does not. The error is a *BeyondError if the encoding does not cover it; then nothing
// has been written.
func Write(w io.Writer, s *site.Site, requirement int) error {
	q := Question{Requirement: s.Requirements[requirement]}
	return q.Write(w, s)
}

// WriteUnrolled writes one self-contained script without a predicate: sat says that the requirement can be broken (a
// possible one: reached) by start-up and at most so many steps, each a reaction or a move of a lamp.
func WriteUnrolled(w io.Writer, s *site.Site, requirement, steps int) error {
	q := Question{Requirement: s.Requirements[requirement]}
	return q.WriteUnrolled(w, s, steps)
}

// beyond tells what the encoding does not cover.
func beyond(s *site.Site, r *site.Requirement, in *slice) error {
	switch r.Form {
	case site.CanReturn:
		return &BeyondError{`a requirement "can always return"`, r.Span}
	case site.Energy:
		return &BeyondError{"a requirement of energy", r.Span}
	}
	if r.Form > site.Energy {
		return &BeyondError{fmt.Sprintf("form %d of a requirement", r.Form), r.Span}
	}
	if len(s.Dates) == 0 {
		return nil // or one date of them
	}
	for _, b := range sorted(in.bands) {
		if x := &s.Bands[b]; x.FromSun != nil || x.ToSun != nil {
			return &BeyondError{"a band by the sun, on a site without a date,", x.Span}
		}
	}
	for _, t := range in.sun {
		return &BeyondError{"a trigger by the sun, on a site without a date,", t.Span}
	}
	return nil
}
