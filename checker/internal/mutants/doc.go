// Package mutants holds seeded bugs of the checker, each with the test that catches it: a check of the checks (R. DeMillo,
// R. Lipton, F. Sayward, Hints on test data selection, 1978).
//
// A mutant is a small change to one file of the engine, of the interpreter or of what checks certificates: the text that it
// takes away, which stands there exactly once, and the text that it puts in. Nothing of this is in the program: a test writes
// the changed file to a temporary folder and runs the catching test with "go test -overlay", which must then fail. A change
// that does not compile catches nothing.
//
// By default only the table is checked: each text is found exactly once, and each changed package still type-checks.
//
//	go test ./checker/internal/mutants -v -mutants          runs all, and prints which test catches which
//	go test ./checker/internal/mutants -v -mutants=NAME     runs one, or all whose names begin so
//
// Some catching tests compare a random site with the brute-force oracle; they name the seed that shows the bug, so that a run
// takes a second. All those seeds are among the sites that the tests look at by default.
package mutants
