// The engine against the interpreter on random sites, and slices against none.

package checker_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"lampwarden/checker"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

// bounds keeps a random site's search small; a site that meets a limit is not compared.
var bounds = checker.Limits{States: 30_000}

// prove runs the engine and prints the site on an internal contradiction.
func prove(t *testing.T, s *site.Site, opt checker.Options) *checker.Report {
	t.Helper()
	opt.Limits, opt.Workers = bounds, 1
	rep, err := checker.Prove(context.Background(), s, opt)
	if err != nil {
		t.Fatalf("%s: %v\n%s", s.Name, err, sitegen.Print(s))
	}
	return rep
}

// TestSlicesAgree compares conditional slices, structural slices and no slicing.
func TestSlicesAgree(t *testing.T) {
	compared := 0
	for seed := range uint64(400) {
		s := sitegen.Generate(seed, sitegen.Options{})
		findings := seed%8 == 0 // many small searches, each unsliced
		whole := prove(t, s, checker.Options{Structural: true, Unsliced: true, AllClocks: true, NoFindings: !findings})
		for _, opt := range []checker.Options{{}, {Structural: true}, {AllClocks: true}} {
			opt.NoFindings = !findings
			rep := prove(t, s, opt)
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
			if a, b := codes(rep), codes(whole); a != b {
				t.Errorf("seed %d: findings\n%s sliced,\n%s unsliced\n%s", seed, a, b, sitegen.Print(s))
			}
		}
	}
	t.Logf("%d verdicts compared", compared)
	if compared < 400 {
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
	played := 0
	for seed := range uint64(400) {
		s := sitegen.Generate(seed, sitegen.Options{})
		rep := prove(t, s, checker.Options{NoFindings: true})
		rng := rand.New(rand.NewPCG(seed, 7))
		for range 5 {
			sc, err := rehearse.RandomScript(s, rng, 40)
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			tl, err := rehearse.Run(s, sc)
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			for i := range rep.Outcomes {
				o := &rep.Outcomes[i]
				j := rehearse.Judge(s, tl, &s.Requirements[o.Requirement])
				played++
				switch {
				case o.Verdict == checker.Proved && j.Broken, o.Verdict == checker.Vacuous && j.Triggered,
					o.Verdict == checker.Impossible && j.Witness:
					t.Errorf("seed %d: %s is %v, but a rehearsal shows otherwise: %+v\n%s", seed, s.Requirements[o.Requirement].Name, o.Verdict, j, sitegen.Print(s))
				}
			}
		}
	}
	t.Logf("%d rehearsals judged", played)
}
