// The engine against the interpreter on random sites, and slices against none.

package checker_test

import (
	"context"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"lampwarden/checker"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/checker/rehearse"
	"lampwarden/checker/report"
	"lampwarden/lang/site"
)

// bounds keeps a random site's search small; a site that meets a limit is not compared.
var bounds = checker.Limits{States: 30_000}

// prove runs the engine within the bounds on one worker.
func prove(t testing.TB, s *site.Site, opt checker.Options) *checker.Report {
	t.Helper()
	return proveWithin(t, s, bounds, opt)
}

// proveWithin runs the engine on one worker and prints the site on an internal contradiction.
func proveWithin(t testing.TB, s *site.Site, l checker.Limits, opt checker.Options) *checker.Report {
	t.Helper()
	opt.Limits = l
	if opt.Workers == 0 {
		opt.Workers = 1
	}
	rep, err := checker.Prove(context.Background(), s, opt)
	if err != nil {
		t.Errorf("%s: %v\n%s", s.Name, err, sitegen.Print(s))
		return &checker.Report{Site: s}
	}
	return rep
}

// TestSlicesAgree compares conditional slices, structural slices and no slicing, clocks as needed and all clocks.
func TestSlicesAgree(t *testing.T) {
	var mu sync.Mutex
	compared := 0
	eachSeed(0, 300, func(seed uint64) {
		s := sitegen.Generate(seed, sitegen.Options{})
		findings := seed%8 == 0 // many small searches, each unsliced
		whole := prove(t, s, checker.Options{Structural: true, Unsliced: true, AllClocks: true, NoFindings: !findings})
		for _, opt := range []checker.Options{{}, {Structural: true}, {AllClocks: true}, {Apart: true}} {
			opt.NoFindings = !findings
			rep := prove(t, s, opt)
			mu.Lock()
			for i, o := range rep.Outcomes {
				w := whole.Outcomes[i]
				if o.Verdict == checker.Undecided || w.Verdict == checker.Undecided {
					continue
				}
				compared++
				if o.Verdict != w.Verdict {
					t.Errorf("seed %d, %s: %v sliced, %v unsliced\n%s", seed, s.Requirements[i].Name, o.Verdict, w.Verdict, sitegen.Print(s))
				}
			}
			mu.Unlock()
			if a, b := codes(rep), codes(whole); a != b {
				t.Errorf("seed %d: findings\n%s sliced,\n%s unsliced\n%s", seed, a, b, sitegen.Print(s))
			}
		}
	})
	t.Logf("%d verdicts compared", compared)
	if compared < 1500 {
		t.Errorf("only %d verdicts compared", compared)
	}
}

func codes(r *checker.Report) (out string) {
	for _, f := range r.Findings {
		if !f.Undecided {
			out += f.Code + ": " + f.Message + "\n"
		}
	}
	return out
}

// TestRehearsalsKeepProofs plays random scripts on proved requirements.
func TestRehearsalsKeepProofs(t *testing.T) {
	var mu sync.Mutex
	count := map[checker.Verdict]int{}
	eachSeed(0, 400, func(seed uint64) {
		s := sitegen.Generate(seed, sitegen.Options{})
		rep := prove(t, s, checker.Options{NoFindings: true})
		rng := rand.New(rand.NewPCG(seed, 7))
		for range 5 {
			sc, err := rehearse.RandomScript(s, rng, 40)
			if err != nil {
				t.Errorf("seed %d: %v", seed, err)
				return
			}
			tl, err := rehearse.Run(s, sc)
			if err != nil {
				t.Errorf("seed %d: %v", seed, err)
				return
			}
			mu.Lock()
			for i := range rep.Outcomes {
				o := &rep.Outcomes[i]
				j, err := rehearse.Judge(s, tl, &s.Requirements[o.Requirement])
				if err != nil {
					continue // more inputs of "even with" are true than it counts with
				}
				count[o.Verdict]++
				if contradicts(o.Verdict, j) {
					t.Errorf("seed %d: %s is %v, but a rehearsal shows otherwise: %+v\n%s", seed, s.Requirements[o.Requirement].Name, o.Verdict,
						j, sitegen.Print(s))
				}
			}
			mu.Unlock()
		}
	})
	t.Logf("rehearsals judged: %v", count)
	if count[checker.Proved] < 500 || count[checker.Impossible] < 50 {
		t.Errorf("too few rehearsals of proved requirements: %v", count)
	}
}

// contradicts tells whether a rehearsal refutes a verdict.
func contradicts(v checker.Verdict, j rehearse.Judgement) bool {
	return (v == checker.Proved || v == checker.Vacuous) && j.Broken || v == checker.Vacuous && j.Triggered ||
		v == checker.Impossible && j.Witness
}

// written gives everything that a report says, as text and as JSON, what it cost included, but for the times.
func written(t testing.TB, rep *checker.Report) string {
	t.Helper()
	rep.Stats.Elapsed, rep.Checks.Elapsed = 0, 0
	for i := range rep.Outcomes {
		rep.Outcomes[i].Stats.Elapsed = 0
	}
	var b strings.Builder
	opt := report.Options{Stats: true}
	d := report.Tell(rep, opt)
	if err := d.Text(&b, opt); err != nil {
		t.Fatal(err)
	}
	if err := d.JSON(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestWorkersAgree: one worker and two write the same bytes.
func TestWorkersAgree(t *testing.T) {
	check := func(name string, s *site.Site, l checker.Limits, opt checker.Options) {
		opt.Workers = 1
		one := written(t, proveWithin(t, s, l, opt))
		opt.Workers = 2
		two := written(t, proveWithin(t, s, l, opt))
		if one != two {
			t.Errorf("%s: the reports differ\n%s\nwith two workers\n%s", name, one, two)
		}
		if len(one) < 500 {
			t.Errorf("%s: a report of %d bytes", name, len(one))
		}
	}
	check("guest house", loadPaths(t, guesthouse).Site, checker.Limits{}, checker.Options{})
	for variant, opt := range defectOptions(t) {
		check(variant, loadPaths(t, filepath.Join(defects, variant+".lamp")).Site, checker.Limits{}, opt)
	}
	for seed := range uint64(60) {
		check("random site", sitegen.Generate(seed, sitegen.Options{}), bounds, checker.Options{})
	}
}
