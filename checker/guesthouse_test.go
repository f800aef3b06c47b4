// The example site, whole: verdicts, long rehearsals, and the bytes of its counterexamples.

package checker_test

import (
	"context"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"lampwarden/checker"
	"lampwarden/checker/rehearse"
)

const (
	guesthouse = "../examples/guesthouse"
	defects    = "../testdata/guesthouse-defects"
)

func TestGuesthouse(t *testing.T) {
	p := loadPaths(t, guesthouse)
	rep, err := checker.Prove(context.Background(), p.Site, checker.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(rep.Outcomes) != len(p.Site.Requirements) || len(rep.Outcomes) < 30 {
		t.Errorf("%d outcomes for %d requirements", len(rep.Outcomes), len(p.Site.Requirements))
	}
	for _, o := range rep.Outcomes {
		if o.Verdict != checker.Proved && o.Verdict != checker.IsPossible {
			t.Errorf("%s: %v %s", p.Site.Requirements[o.Requirement].Name, o.Verdict, o.Reason)
		}
	}
	for _, f := range rep.Findings {
		t.Errorf("%s: %s", f.Code, f.Message)
	}
	rehearseLong(t, rep)
}

// rehearseLong plays random scripts of a thousand events each, which keep the assumptions, on a proved site: none may show
// what a verdict excludes.
func rehearseLong(t *testing.T, rep *checker.Report) {
	s := rep.Site
	var mu sync.Mutex
	triggered := map[string]bool{}
	eachSeed(1, 20, func(seed uint64) {
		sc, err := rehearse.RandomScript(s, rand.New(rand.NewPCG(seed, 11)), 1000)
		if err != nil || len(sc.Events) < 1000 {
			t.Errorf("script %d: %d events, %v", seed, len(sc.Events), err)
			return
		}
		tl, err := rehearse.Run(s, sc)
		if err != nil {
			t.Errorf("script %d: %v", seed, err)
			return
		}
		for _, o := range rep.Outcomes {
			r := &s.Requirements[o.Requirement]
			j, err := rehearse.Judge(s, tl, r)
			if err != nil {
				continue // more inputs of "even with" are true than it counts with
			}
			if contradicts(o.Verdict, j) {
				t.Errorf("script %d: %s is %v, but a rehearsal shows otherwise: %+v", seed, r.Name, o.Verdict, j)
			}
			if j.Triggered {
				mu.Lock()
				triggered[r.Name] = true
				mu.Unlock()
			}
		}
	})
	if len(triggered) < 10 {
		t.Errorf("the rehearsals trigger only %d requirements", len(triggered))
	}
}

// defectOptions tells for each variant of the example what to ask: what its seeded defect breaks. Other requirements of a
// broken site may be out of reach.
func defectOptions(t *testing.T) map[string]checker.Options {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(defects, "expected.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]checker.Options{}
	for line := range strings.Lines(string(text)) {
		f := strings.Split(line, "\t")
		if strings.HasPrefix(line, "#") || len(f) < 3 {
			continue
		}
		opt, ok := out[f[0]]
		if !ok {
			opt = checker.Options{Only: []int{}, NoFindings: true}
		}
		if f[1] == "finding" {
			opt.NoFindings = false
		} else {
			s := loadPaths(t, filepath.Join(defects, f[0]+".lamp")).Site
			for i := range s.Requirements {
				if s.Requirements[i].Name == f[2] {
					opt.Only = append(opt.Only, i)
				}
			}
		}
		out[f[0]] = opt
	}
	if len(out) < 10 {
		t.Fatalf("only %d variants", len(out))
	}
	return out
}

// TestDefectsSameBytes: two runs on a defect write the same bytes, and every failure has a counterexample.
func TestDefectsSameBytes(t *testing.T) {
	for variant, opt := range defectOptions(t) {
		t.Run(variant, func(t *testing.T) {
			t.Parallel()
			var runs [2]string
			for i := range runs {
				p := loadPaths(t, filepath.Join(defects, variant+".lamp"))
				rep, err := checker.Prove(context.Background(), p.Site, opt)
				if err != nil {
					t.Fatal(err)
				}
				rep.Sources = p.Sources
				for _, o := range rep.Outcomes {
					if o.Verdict == checker.Proved || o.Verdict == checker.Undecided || (o.Verdict == checker.Fails) != (o.Counterexample != nil) {
						t.Errorf("%s: %v, counterexample %v", p.Site.Requirements[o.Requirement].Name, o.Verdict, o.Counterexample)
					}
				}
				if len(rep.Outcomes)+len(rep.Findings) == 0 {
					t.Error("nothing is wrong with it")
				}
				runs[i] = written(t, rep)
			}
			if runs[0] != runs[1] {
				t.Errorf("two runs differ:\n%s\nand\n%s", runs[0], runs[1])
			}
		})
	}
}
