// What comes out of judging a run.

package rehearse

import "lampwarden/lang/site"

// Judgement of one requirement over one timeline.
type Judgement struct {
	Broken    bool
	Witness   bool  // Possible: some moment has P
	Triggered bool  // Whenever: A rose at least once
	Branching bool  // CanReturn: no single run decides it (see Reaches); nothing else is set
	At        Nanos // when it was broken, or the witness's moment
	Since     Nanos // the rise that started the obligation or stretch; At where there is none
	Deadline  Nanos // the latest time in time, where the form has one
	Part      Part
	// False lists the smallest parts of the condition that are responsible: those that are false where the condition
	// had to be true, or true where it had to be false; of a P that had to stay, those that make it what it is now. None
	// for Energy.
	False []*site.Expr
}

// Part tells which part of a requirement failed.
type Part uint8

// The parts.
const (
	NoPart    Part = iota
	Forbidden      // never P: P is true; always P: P is false
	NotInTime      // whenever: B did not come by the deadline
	NotKept        // whenever: B came in time but did not last
	TooLong        // lasts at most
	TooShort       // lasts at least
	TooOften       // at most N times
	TooSoon        // only after: P without Q
	Unsettled      // settles: P changes later than D after Since, the last cause
	TooMuch        // energy: more than Limit since Since
)

// Expectation is the outcome of one "expect" of a scenario.
type Expectation struct {
	Step int   // index into Scenario.Steps
	Met  bool  // it surely held at some moment of its window
	At   Nanos // the first such moment; else the end of the window
	// Why lists, if it was not met, the parts that were not surely true at the window's end; Unsure tells that some
	// of them hang on a lamp that was on its way.
	Why    []*site.Expr
	Unsure bool
}
