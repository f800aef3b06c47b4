// The engine against the brute-force oracle over integer time, on random sites.

package checker_test

import (
	"context"
	"flag"
	"testing"

	"lampwarden/checker"
	"lampwarden/checker/internal/oracle"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/lang/site"
)

var (
	oracleSites = flag.Uint64("oracle-sites", 2000, "random sites compared with the brute-force oracle")
	oracleFirst = flag.Uint64("oracle-first", 0, "seed of the first of them")
)

// finest is the number of ticks per unit at which the oracle gives up looking for
// a run that needs several reactions between two ticks.
const finest = 16

// TestOracleAgrees compares every verdict and every finding.
func TestOracleAgrees(t *testing.T) {
	count := map[string]int{}
	n := *oracleSites
	if testing.Short() {
		n = min(n, 200)
	}
	for seed := *oracleFirst; seed < *oracleFirst+n; seed++ {
		s := sitegen.Generate(seed, sitegen.Options{})
		rep := prove(t, s, checker.Options{NoFindings: seed%4 != 0})
		for i, o := range rep.Outcomes {
			r := &s.Requirements[i]
			res, err := oracle.CheckFiner(context.Background(), s, r, oracle.Options{MaxStates: 60_000}, finest)
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			switch {
			case o.Verdict == checker.Undecided || res.Verdict == oracle.TooBig:
				count["not decided"]++
			case reachedBy(o.Verdict) == (res.Verdict == oracle.Broken || res.Verdict == oracle.Witness):
				count[o.Verdict.String()]++
			default:
				t.Errorf("seed %d, %s: engine %v, oracle %v (%d ticks, %d states, %+v)\n%s", seed, r.Name, o.Verdict, res.Verdict, res.Ticks,
					res.States, res.Run, sitegen.Print(s))
			}
		}
		if seed%4 == 0 {
			compareFindings(t, seed, s, rep, count)
		}
	}
	t.Log(count)
	decided := count["proved"] + count["vacuous"] + count["impossible"]
	if failed := count["fails"] + count["possible"]; decided < int(n)/4 || failed < int(n)/4 {
		t.Errorf("too few verdicts of one kind to mean anything: %v", count)
	}
}

func reachedBy(v checker.Verdict) bool { return v == checker.Fails || v == checker.IsPossible }

// compareFindings compares ambiguity, dead modes and settings that never win.
func compareFindings(t *testing.T, seed uint64, s *site.Site, rep *checker.Report, count map[string]int) {
	found := map[string]bool{}
	for _, f := range rep.Findings {
		if f.Undecided {
			return
		}
		found[f.Message] = true
	}
	// A win or an activation may need several changes within the shortest duration: four ticks a unit find all of
	// them on these small sites, two do not (seed 1476).
	opt, ctx := oracle.Options{MaxStates: 60_000, TicksPerUnit: 4}, context.Background()
	check := func(what string, engine bool, res oracle.Result, err error) {
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if res.Verdict == oracle.TooBig {
			return
		}
		count["findings"]++
		if engine != (res.Verdict == oracle.Witness) {
			t.Errorf("seed %d: %s: engine %v, oracle %v\n%s", seed, what, engine, res.Verdict, sitegen.Print(s))
		}
	}
	for c := range s.Circuits {
		res, err := oracle.CanBeAmbiguous(ctx, s, site.CircuitID(c), opt)
		engine := false
		for _, f := range rep.Findings {
			engine = engine || f.Code == checker.CodeAmbiguous && len(f.Counterexample.Focus) == 1 && f.Counterexample.Focus[0] == site.CircuitID(c)
		}
		check("ambiguous "+s.Circuits[c].Name, engine, res, err)
	}
	for m := range s.Modes {
		res, err := oracle.CanBeActive(ctx, s, site.ModeID(m), opt)
		check("active "+s.Modes[m].Name, !found["mode "+s.Modes[m].Name+" can never become active"], res, err)
	}
	never, wins := 0, 0
	for m := range s.Modes {
		for i, st := range s.Modes[m].States {
			for j, sg := range st.Stages {
				for k := range sg.Settings {
					res, err := oracle.CanWin(ctx, s, site.ModeID(m), i, j, k, opt)
					if err != nil {
						t.Fatalf("seed %d: %v", seed, err)
					}
					if res.Verdict == oracle.TooBig {
						return
					}
					wins++
					if res.Verdict == oracle.NoWitness {
						never++
					}
				}
			}
		}
	}
	engine := 0
	for _, f := range rep.Findings {
		if f.Code == checker.CodeNeverWins {
			engine++
		}
	}
	count["findings"] += wins
	if engine != never {
		t.Errorf("seed %d: engine says %d settings never win, oracle %d\n%s", seed, engine, never, sitegen.Print(s))
	}
}
