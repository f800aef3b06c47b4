// The textbook models in one table: what is checked of each, and where it comes from.

package explore_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"strings"
	"testing"
)

// textbook lists the models. "Golden" counts are those of the open MIT-licensed TickTac set of timed models (commit d711ace);
// "separate" ones were computed with an explorer written for that alone. Counts are zones stored / symbolic steps, with aLU.
var textbook = []struct {
	model, source, verdict, counts string
	tests                          string
}{
	{"1 Fischer's mutual exclusion", "common; published node counts for aLU", "never two inside: holds, N = 2..7",
		"18/26, 65/126 (golden), 220/552, 727/2290, 2378/9132, 7737/35266", "TestFischerCounts TestLargerCounts"},
	{"2 Fischer, broken", "by construction; confirmed by a solver for N = 2..4", "two inside in 6 steps, N = 2..4, three ways; one variant holds",
		"18, 65, 220 of the one that holds", "TestFischerBroken"},
	{"3 CSMA/CD", "common benchmark", "late collision: 52 never, 51 in dense time only, 50 also in ticks",
		"70/147 (golden), 258/583, 850/1977, 2594/6081", "TestCSMACounts TestCSMADenseOnly TestLargerCounts"},
	{"4 FDDI token ring", "common benchmark", "never two tokens: holds, N = 2..5; last station sends in 5, 8, 11, 14 steps",
		"53, 129, 303 for N = 3, 5, 8; with extrapolation 56 and 140 (separate explorer: 141)", "TestFDDI TestLargerCounts"},
	{"5 Train gate", "common benchmark", "never two trains: holds, N = 2..4; without the stop two in 4 steps",
		"56/84, 765/1503 (golden), 12000/28800", "TestTrainGate TestLargerCounts"},
	{"6 Critical region", "Morbé, Pigorsch, Scholl 2011", "error in 5 steps, N = 1..3", "13/26, 191/673, 3015/16603", "TestCriticalRegion"},
	{"7 Philosophers with timeouts", "common benchmark", "no two neighbours eat: holds, N = 2..6",
		"40/108 (golden), 177/644, 911/4145, 5480/30042", "TestPhilosophers TestLargerCounts"},
	{"8 Bridge crossing 5, 10, 20, 25", "common puzzle", "58 and 59 impossible; 60 and 61 in 10 steps", "", "TestBridge"},
	{"9 Parallel lock", "TickTac set", "never two holders: holds, N = 2..6",
		"11/28, 49/180 (golden), 261/1240, 1631/9460, 11743/80244", "TestParallelLock TestLargerCounts"},
	{"10 Alur and Dill's example", "Alur, Dill 1994", "l3 in 2 steps",
		"4/3 at the goal (golden); whole graph 4/5, worked out by hand (separate explorer: 6/8, not reproduced)", "TestAlurDill"},
	{"Simultaneous steps", "by construction", "reached in N + 1 steps, N = 1..5", "2^N + 1", "TestSimultaneous"},
	{"Single sign-on 2", "Yu, Wang 2006", "both with access in 6 steps", "265/692 (golden 347/554, not reproduced)", "TestSignOn"},
	{"Critical region 2, without a shared variable", "TickTac set", "the same graph as model 6: error in 5 steps",
		"191/673 (golden 165/540, not reproduced)", "TestCriticalRegion"},
	{"Press-twice lamp", "by construction", "bright if pressed again before 5; never by who waits 5", "", "TestPressTwice"},
	{"Integer time", "separate explorer", "blows up where zones do not", "15990 states for 65 zones, 6325 for 56", "TestTicksAgainstZones"},
	{"Difference guards (Bouyer 2003)", "literature", "extrapolation is wrong with guards on differences of clocks: no guard of a model or of the language has one", "", ""},
}

// TestTextbookTable prints the table (-v) and checks that every test that it names exists.
func TestTextbookTable(t *testing.T) {
	pkgs, err := parser.ParseDir(token.NewFileSet(), ".", func(f fs.FileInfo) bool { return strings.HasSuffix(f.Name(), "_test.go") }, 0)
	if err != nil {
		t.Fatal(err)
	}
	have := map[string]bool{}
	for _, f := range pkgs["explore_test"].Files {
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok {
				have[fn.Name.Name] = true
			}
		}
	}
	for _, m := range textbook {
		t.Logf("%s | %s | %s | %s | %s", m.model, m.source, m.verdict, m.counts, m.tests)
		for _, name := range strings.Fields(m.tests) {
			if !have[name] {
				t.Errorf("%s: there is no %s", m.model, name)
			}
		}
	}
}
