// The larger examples are proved whole, their stories come out as written, and each of their seeded defects is caught.

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"lampwarden/checker"
	"lampwarden/checker/rehearse"
	"lampwarden/checker/report"
)

// example is a folder of examples whose variants with defects lie in testdata/NAME-defects: in a folder for each, the
// files that differ.
type example struct {
	name                     string
	areas, circuits, defects int // at least so many
}

var examples = []example{
	{name: "hut", areas: 10, circuits: 15, defects: 4},
	{name: "carehome", areas: 36, circuits: 100, defects: 4},
	{name: "office", areas: 9, circuits: 7, defects: 4},
}

func (e *example) dir() string { return filepath.Join("../../examples", e.name) }

func (e *example) defectsDir() string { return filepath.Join("../../testdata", e.name+"-defects") }

// variant lists the files of a variant: those in its own folder, and the example's others.
func (e *example) variant(t *testing.T, name string) (paths []string, changed []string) {
	t.Helper()
	all, err := filepath.Glob(filepath.Join(e.dir(), "*.lamp"))
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range all {
		own := filepath.Join(e.defectsDir(), name, filepath.Base(path))
		if _, err := os.Stat(own); err == nil {
			path = own
			changed = append(changed, filepath.Base(path))
		}
		paths = append(paths, path)
	}
	return paths, changed
}

// whole are the limits of a proof of everything.
var whole = checker.Options{Limits: checker.Limits{Time: 3 * time.Minute, Memory: 1e9}}

func TestExamplesAreProved(t *testing.T) {
	for _, e := range examples {
		t.Run(e.name, func(t *testing.T) {
			p := project(t, e.dir())
			d := report.Tell(prove(t, p, whole), report.Options{})
			if d.Verdict != "proved" || d.Counts.Hold != len(p.Site.Requirements) || len(d.Findings) != 0 {
				var b strings.Builder
				_ = d.Text(&b, report.Options{Quiet: true})
				t.Error(b.String())
			}
			if n := len(p.Site.Areas); n < e.areas {
				t.Errorf("%d areas, not %d", n, e.areas)
			}
			lights := 0
			for i := range p.Site.Circuits {
				if c := &p.Site.Circuits[i]; !c.Output && !c.Colour {
					lights++
				}
			}
			if lights < e.circuits {
				t.Errorf("%d circuits, not %d", lights, e.circuits)
			}
		})
	}
}

func TestExamplesScenarios(t *testing.T) {
	for _, e := range examples {
		p := project(t, e.dir())
		if len(p.Site.Scenarios) < 2 {
			t.Errorf("%s: %d scenarios", e.name, len(p.Site.Scenarios))
		}
		for i := range p.Site.Scenarios {
			sc := &p.Site.Scenarios[i]
			_, xs, err := rehearse.Rehearse(p.Site, sc)
			if err != nil || len(xs) == 0 {
				t.Errorf("%s, %s: %d expectations, error %v", e.name, sc.Name, len(xs), err)
			}
			for _, x := range xs {
				if !x.Met {
					t.Errorf("%s, %s: %s", e.name, sc.Name, x)
				}
			}
		}
	}
}

func TestExamplesDefectsAreCaught(t *testing.T) {
	for _, e := range examples {
		for _, x := range expectedIn(t, e.defectsDir()) {
			t.Run(e.name+"/"+x.variant+"/"+x.name, func(t *testing.T) {
				paths, _ := e.variant(t, x.variant)
				p := project(t, paths...)
				opt := checker.Options{Only: []int{}, Limits: whole.Limits}
				if x.what == "requirement" {
					only, err := pick(p.Site, []string{x.name})
					if err != nil {
						t.Fatal(err)
					}
					opt.Only, opt.NoFindings = only, true
				}
				rep := prove(t, p, opt)
				if got := verdictOf(rep, x); got != x.verdict {
					t.Fatalf("got %s, want %s", got, x.verdict)
				}
				var b bytes.Buffer
				wide := report.Options{Width: 1000}
				if err := report.Tell(rep, wide).Text(&b, wide); err != nil {
					t.Fatal(err)
				}
				if !strings.Contains(b.String(), x.says) {
					t.Errorf("the report does not say %q:\n%s", x.says, b.String())
				}
			})
		}
	}
}

// Each variant is one edit away from the example: in one file, lines taken out at one place, lines put in at that place.
func TestExamplesDefectsAreOneEditAway(t *testing.T) {
	for _, e := range examples {
		listed := map[string]bool{}
		for _, x := range expectedIn(t, e.defectsDir()) {
			listed[x.variant] = true
		}
		folders, err := filepath.Glob(filepath.Join(e.defectsDir(), "*", "*.lamp"))
		if err != nil {
			t.Fatal(err)
		}
		if len(listed) < e.defects || len(folders) != len(listed) {
			t.Errorf("%s: %d variants listed, %d files", e.name, len(listed), len(folders))
		}
		for _, path := range folders {
			variant := filepath.Base(filepath.Dir(path))
			_, changed := e.variant(t, variant)
			if !listed[variant] || len(changed) != 1 {
				t.Errorf("%s: listed %v, takes the place of %v", path, listed[variant], changed)
				continue
			}
			taken, put := hunk(readLines(t, filepath.Join(e.dir(), changed[0])), readLines(t, path))
			if len(taken)+len(put) == 0 || len(taken) > 2 || len(put) > 3 {
				t.Errorf("%s: not one small edit: %d lines taken out, %d put in", path, len(taken), len(put))
			}
		}
	}
}

func TestExamplesAreInCanonicalLayout(t *testing.T) {
	for _, e := range examples {
		paths, err := filepath.Glob(filepath.Join(e.defectsDir(), "*"))
		if err != nil {
			t.Fatal(err)
		}
		args := []string{"format", "--check", e.dir()}
		for _, path := range paths {
			if info, err := os.Stat(path); err == nil && info.IsDir() {
				args = append(args, path)
			}
		}
		if code, stdout, stderr := lampwarden(t.Context(), args...); code != exitProved {
			t.Errorf("%s: exit status %d\n%s%s", e.name, code, stdout, stderr)
		}
	}
}
