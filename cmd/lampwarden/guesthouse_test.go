// The example is proved whole, and each of its seeded defects is caught in its own way.

package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"lampwarden/checker"
	"lampwarden/checker/rehearse"
	"lampwarden/checker/report"
	"lampwarden/lang"
)

const (
	guesthouse = "../../examples/guesthouse/guesthouse.lamp"
	defects    = "../../testdata/guesthouse-defects"
)

// project loads a site that must be without errors and warnings.
func project(t testing.TB, paths ...string) *lang.Project {
	t.Helper()
	p, err := lang.Load(paths)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Diagnostics) > 0 {
		var b strings.Builder
		_ = p.WriteDiagnostics(&b, false)
		t.Fatal(b.String())
	}
	return p
}

func prove(t testing.TB, p *lang.Project, opt checker.Options) *checker.Report {
	t.Helper()
	rep, err := checker.Prove(context.Background(), p.Site, opt)
	if err != nil {
		t.Fatal(err)
	}
	rep.Sources = p.Sources
	return rep
}

func TestGuesthouseIsProved(t *testing.T) {
	p := project(t, guesthouse)
	rep := prove(t, p, checker.Options{Limits: checker.Limits{Time: 2 * time.Minute, Memory: 500e6}})
	d := report.Tell(rep, report.Options{})
	if d.Verdict != "proved" || d.Counts.Hold != len(p.Site.Requirements) || len(d.Findings) != 0 {
		var b strings.Builder
		_ = d.Text(&b, report.Options{Quiet: true})
		t.Fatal(b.String())
	}
	if n := len(p.Site.Areas); n < 12 {
		t.Errorf("%d areas", n)
	}
	if n := len(p.Site.Circuits); n < 20 {
		t.Errorf("%d circuits", n)
	}
}

func TestGuesthouseScenarios(t *testing.T) {
	p := project(t, guesthouse)
	for i := range p.Site.Scenarios {
		sc := &p.Site.Scenarios[i]
		_, xs, err := rehearse.Rehearse(p.Site, sc)
		if err != nil || len(xs) == 0 {
			t.Errorf("%s: %d expectations, error %v", sc.Name, len(xs), err)
		}
		for _, x := range xs {
			if !x.Met {
				t.Errorf("%s: %s", sc.Name, x)
			}
		}
	}
}

// expected is one line of expected.tsv.
type expected struct{ variant, what, name, verdict, says string }

func expectations(t *testing.T) []expected { return expectedIn(t, defects) }

// expectedIn reads what is expected of the variants in a folder.
func expectedIn(t *testing.T, dir string) []expected {
	text, err := os.ReadFile(filepath.Join(dir, "expected.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	var out []expected
	for _, l := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		if strings.HasPrefix(l, "#") {
			continue
		}
		f := strings.Split(l, "\t")
		if len(f) != 5 {
			t.Fatalf("expected.tsv: %d fields in %q", len(f), l)
		}
		out = append(out, expected{f[0], f[1], f[2], f[3], f[4]})
	}
	return out
}

func TestDefectsAreCaught(t *testing.T) {
	for _, x := range expectations(t) {
		t.Run(x.variant+"/"+x.name, func(t *testing.T) {
			p := project(t, filepath.Join(defects, x.variant+".lamp"))
			opt := checker.Options{Only: []int{}, Limits: checker.Limits{Time: 2 * time.Minute}}
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

// The whole report on each variant: what is expected holds whatever else is asked, nothing is wider than a terminal,
// and the first screen names a line of the edit. Each question gets so many zones and no more, so that the outcome is
// the same on every machine.
func TestDefectsWhole(t *testing.T) {
	for variant, xs := range byVariant(t) {
		t.Run(variant, func(t *testing.T) {
			path := filepath.Join(defects, variant+".lamp")
			rep := prove(t, project(t, path), checker.Options{Limits: checker.Limits{States: 20_000, Memory: 1e9}})
			for _, x := range xs {
				if got := verdictOf(rep, x); got != x.verdict {
					t.Errorf("%s: got %s, want %s", x.name, got, x.verdict)
				}
			}
			var b strings.Builder
			if err := report.Tell(rep, report.Options{}).Text(&b, report.Options{}); err != nil {
				t.Fatal(err)
			}
			lines := strings.Split(b.String(), "\n")
			for _, l := range lines {
				if n := utf8.RuneCountInString(l); n > 80 {
					t.Errorf("%d columns: %s", n, l)
				}
			}
			screen := strings.Join(lines[:min(len(lines), screenful)], "\n")
			if from, to := edited(t, path); variant != missingOrder && !names(screen, from, to) {
				t.Errorf("the first screen names none of the lines %d to %d:\n%s", from, to, screen)
			}
		})
	}
}

// screenful is what a terminal shows at once; missingOrder is the variant in which a whole declaration is missing, so
// that there is no line to name.
const (
	screenful    = 30
	missingOrder = "07-ambiguity"
)

// names tells whether the text cites one of the lines, or a neighbour of them: where a line was taken out, that is all
// that is left.
func names(text string, from, to int) bool {
	for _, m := range regexp.MustCompile(`lines? (\d+)|lines \d+ and (\d+)|\.lamp:(\d+)`).FindAllStringSubmatch(text, -1) {
		for _, digits := range m[1:] {
			if n, err := strconv.Atoi(digits); err == nil && from-1 <= n && n <= to+1 {
				return true
			}
		}
	}
	return false
}

// edited gives the lines of a variant that differ from the example.
func edited(t *testing.T, path string) (from, to int) {
	example, variant := readLines(t, guesthouse), readLines(t, path)
	_, put := hunk(example, variant)
	for from < len(variant) && variant[from] == example[from] {
		from++
	}
	return from + 1, from + max(len(put), 1)
}

func readLines(t *testing.T, path string) []string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(string(text), "\n")
}

func byVariant(t *testing.T) map[string][]expected {
	out := map[string][]expected{}
	for _, x := range expectations(t) {
		out[x.variant] = append(out[x.variant], x)
	}
	return out
}

func verdictOf(rep *checker.Report, x expected) string {
	for _, o := range rep.Outcomes {
		if x.what == "requirement" && rep.Site.Requirements[o.Requirement].Name == x.name {
			return o.Verdict.String()
		}
	}
	for _, f := range rep.Findings {
		if f.Code == x.name && !f.Undecided {
			return "fails"
		}
	}
	return "no such finding"
}

// Each variant is one edit away from the example: lines taken out at one place, lines put in at that place.
func TestDefectsAreOneEditAway(t *testing.T) {
	example := readLines(t, guesthouse)
	paths, err := filepath.Glob(filepath.Join(defects, "*.lamp"))
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{}
	for _, x := range expectations(t) {
		listed[x.variant] = true
	}
	if len(paths) < 10 || len(listed) != len(paths) {
		t.Errorf("%d variants, %d of them in expected.tsv", len(paths), len(listed))
	}
	for _, path := range paths {
		taken, put := hunk(example, readLines(t, path))
		if len(taken)+len(put) == 0 || len(taken) > 2 || len(put) > 3 {
			t.Errorf("%s: not one small edit: %d lines taken out, %d put in", filepath.Base(path), len(taken), len(put))
		}
		if !listed[strings.TrimSuffix(filepath.Base(path), ".lamp")] {
			t.Errorf("%s is not in expected.tsv", filepath.Base(path))
		}
	}
}

// hunk strips what two texts have in common at both ends.
func hunk(a, b []string) (taken, put []string) {
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	return a, b
}

// The same bytes for any number of workers.
func TestReportIsReproducible(t *testing.T) {
	p := project(t, filepath.Join(defects, "01-escape-circuit-on-the-failed-supply.lamp"))
	only, err := pick(p.Site, []string{"a power cut lights the way out", "smoke lights the way out", "escape routes reach full output on fire"})
	if err != nil {
		t.Fatal(err)
	}
	var first string
	for _, workers := range []int{1, 2, 5} {
		var b strings.Builder
		rep := prove(t, p, checker.Options{Only: only, Workers: workers})
		if err := report.Tell(rep, report.Options{}).JSON(&b); err != nil {
			t.Fatal(err)
		}
		if first == "" {
			first = b.String()
		}
		if b.String() != first {
			t.Errorf("the report with %d workers differs", workers)
		}
	}
}
