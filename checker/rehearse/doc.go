// Package rehearse plays one timed list of events on a site and judges requirements on what came out. It is the
// independent second opinion: every counterexample is replayed here before anyone sees it, and long random rehearsals
// must never break a requirement that was proved.
//
// Duty. Run is lang/SEMANTICS.md sections 1 to 3 over concrete time, Judge is sections 4 and 5 over one finite run.
// The package is written to be read beside that page: each function names its section, nothing is clever, and it
// imports only lang/site and lang/source. Nothing of the engine is shared with it.
//
// Algorithm. The state between two steps is plain data (state.go). The next reaction is at the earliest of the next
// event of the script, the next timer, the next clock time, the change of the clock (clock.go), the next lamp arrival and
// the next lamp to be seen, found by scanning them all (due.go). A reaction copies the state before and changes the copy
// (react.go; plant modes by mode.go, then the controller's by controller.go, then request.go, lamp.go and seen.go for each
// circuit), so every state of a run stays readable. A requirement is judged by its definition, with loops for "each rise"
// and "some moment" (judge.go, whenever.go, settles.go; energy.go integrates exactly); an observer machine would be faster,
// but would be the engine's method a second time. What no single run decides, such as "can always return", says so.
//
// A site whose times are the sun's is played on one of its dates (Site.OnDate). Whether a run counts for a requirement is a
// matter of its own (faults.go): Run plays any fault, Judge refuses a run with others than the requirement stands.
//
// Time is int64 nanoseconds since start-up. The millisecond grid of a site has a million instants between two points,
// enough for "just before" and "just after" in any script. A run is the closed interval [0, End]; what is not decided
// by then is not broken.
//
// Naming key: before and after are the states around a reaction; due is a time at which something is to happen; since
// is a time at which something began.
package rehearse
