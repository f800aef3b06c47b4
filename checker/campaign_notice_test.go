// The campaign notices what is wrong.

package checker_test

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lampwarden/checker"
	"lampwarden/lang/site"

	"github.com/google/go-cmp/cmp"
)

// lying proves like the engine, and then says something else of the requirements of one form.
func lying(form site.Form, lie func(*checker.Outcome)) prover {
	return func(ctx context.Context, s *site.Site, opt checker.Options) (*checker.Report, error) {
		rep, err := checker.Prove(ctx, s, opt)
		if err == nil {
			for i := range rep.Outcomes {
				if s.Requirements[rep.Outcomes[i].Requirement].Form == form {
					lie(&rep.Outcomes[i])
				}
			}
		}
		return rep, err
	}
}

// TestCampaignNotices: wrong verdicts, wrong runs, contradictions and panics are noticed, and the sites that show them are
// written out smaller than they were.
func TestCampaignNotices(t *testing.T) {
	for name, c := range map[string]struct {
		prove prover
		kind  string // of the disagreement
		want  string // in the file
	}{
		"what fails is said to be proved": {lying(site.Never, func(o *checker.Outcome) {
			if o.Verdict == checker.Fails {
				o.Verdict, o.Counterexample = checker.Proved, nil
			}
		}), "proved of form 0", "{ never"},
		"what holds is said to fail": {lying(site.Always, func(o *checker.Outcome) {
			if o.Verdict == checker.Proved {
				o.Verdict = checker.Fails
			}
		}), "fails of form 1", "{ always"},
		"the impossible is said to be possible": {lying(site.Possible, func(o *checker.Outcome) {
			if o.Verdict == checker.Impossible {
				o.Verdict = checker.IsPossible
			}
		}), "possible of form 7", "is possible"},
		"a run that shows nothing": {lying(site.Whenever, func(o *checker.Outcome) {
			if o.Counterexample != nil {
				ce := *o.Counterexample
				ce.Script.End, ce.Script.Events, ce.Script.Moves, ce.Script.Choices, ce.Script.Jumps = 0, nil, nil, nil, nil
				o.Counterexample = &ce
			}
		}), "replay of form 2", "{ whenever"},
		"a finding that is kept back": {func(ctx context.Context, s *site.Site, opt checker.Options) (*checker.Report, error) {
			rep, err := checker.Prove(ctx, s, opt)
			if err == nil {
				rep.Findings = nil
			}
			return rep, err
		}, "finding", "mode mode"},
		"a contradiction": {func(ctx context.Context, s *site.Site, opt checker.Options) (*checker.Report, error) {
			if len(s.Modes) > 0 {
				return nil, errors.New("two parts of the engine differ")
			}
			return checker.Prove(ctx, s, opt)
		}, "contradiction", "two parts of the engine differ"},
		"a panic": {func(ctx context.Context, s *site.Site, opt checker.Options) (*checker.Report, error) {
			for i := range s.Modes {
				if s.Modes[i].Kind == site.States {
					panic("states")
				}
			}
			return checker.Prove(ctx, s, opt)
		}, "panic states", "states auto"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			run := &campaign{sites: 400, dir: t.TempDir(), workers: 1, prove: c.prove, most: 1, out: io.Discard}
			run.run(context.Background())
			if len(run.found()) == 0 {
				t.Fatal("not noticed in 400 sites")
			}
			checkQuarrel(t, run, c.kind, c.want)
		})
	}
}

func checkQuarrel(t *testing.T, run *campaign, kind, want string) {
	t.Helper()
	q := run.quarrels[0]
	if !strings.HasPrefix(q.what.kind, kind) {
		t.Errorf("noticed as %v", q.what)
	}
	text, err := os.ReadFile(filepath.Join(run.dir, filepath.Base(q.file)))
	if err != nil {
		t.Fatal(err)
	}
	if s := string(text); !strings.Contains(s, want) || !strings.HasPrefix(s, "# Seed ") || !strings.Contains(s, kind) {
		t.Errorf("the file says:\n%s", s)
	}
	old := sampleOf(q.seed).site()
	if n := strings.Count(string(text), "\nrequire "); n > 1 || strings.Count(string(text), "\nmode ") > 1 {
		t.Errorf("of %d modes and %d requirements it keeps:\n%s", len(old.Modes), len(old.Requirements), text)
	}
	if run.total.wrong == 0 {
		t.Error("it is not counted")
	}
}

// TestCampaignIsTheSameForAnyWorkers: the seeds alone decide.
func TestCampaignIsTheSameForAnyWorkers(t *testing.T) {
	counts := func(workers int) map[string]int {
		c := &campaign{first: 7000, sites: 40, dir: t.TempDir(), workers: workers, prove: checker.Prove, most: 1, out: io.Discard}
		return c.run(context.Background()).count
	}
	one, three := counts(1), counts(3)
	for k := range one {
		if one[k] != three[k] {
			t.Errorf("%d %s with one worker, %d with three", one[k], k, three[k])
		}
	}
	if len(one) != len(three) {
		t.Errorf("%v with one worker, %v with three", one, three)
	}
}

// TestSamplesAreShared: the kinds come up in their shares, and a seed is the same each time.
func TestSamplesAreShared(t *testing.T) {
	n := map[string]int{}
	for seed := range uint64(4000) {
		x := sampleOf(seed)
		n[x.kind]++
		if d := cmp.Diff(x, sampleOf(seed), cmp.AllowUnexported(sample{})); d != "" {
			t.Fatalf("seed %d is not the same each time: %s", seed, d)
		}
	}
	for _, k := range kinds {
		if got := n[k.name]; got < k.share*40*2/3 || got > k.share*40*3/2 {
			t.Errorf("%d of 4000 are %s, want %d in a hundred", got, k.name, k.share)
		}
	}
}
