package lang_test

// Expectations in the source under test: testdata/badsites.

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lampwarden/lang"
	"lampwarden/lang/source"
)

// expectation is one `code "regexp"` of an ERROR comment. Several codes that
// would do are parted by "|".
type expectation struct {
	line  int
	codes []string
	text  *regexp.Regexp
	met   bool
}

var expectationForm = regexp.MustCompile(`([a-z|-]+) "([^"]*)"`)

// expectations reads the ERROR comments of a file.
func expectations(t *testing.T, text string) []*expectation {
	t.Helper()
	var out []*expectation
	for i, line := range strings.Split(text, "\n") {
		_, comment, found := strings.Cut(line, "# ERROR ")
		if !found {
			continue
		}
		found = false
		for _, m := range expectationForm.FindAllStringSubmatch(comment, -1) {
			found = true
			out = append(out, &expectation{line: i + 1, codes: strings.Split(m[1], "|"), text: regexp.MustCompile("(?s)" + m[2])})
		}
		if !found {
			t.Errorf("line %d: an ERROR comment without an expectation", i+1)
		}
	}
	return out
}

// whole is the text that an expectation is held against: message, labels,
// notes, suggestion.
func whole(d source.Diagnostic) string {
	parts := []string{d.Message}
	for _, r := range d.Related {
		parts = append(parts, r.Label)
	}
	return strings.Join(append(append(parts, d.Notes...), d.Suggestion), "\n")
}

func TestBadSites(t *testing.T) {
	files, err := filepath.Glob("../testdata/badsites/*.lamp")
	if err != nil || len(files) == 0 {
		t.Fatal("no bad sites found", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) { checkBadSite(t, file) })
	}
}

func checkBadSite(t *testing.T, file string) {
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	p, err := lang.Load([]string{file})
	if err != nil {
		t.Fatal(err)
	}
	want := expectations(t, string(text))
	if p.Site != nil {
		t.Error("a bad site became a site")
	}
	for _, d := range p.Diagnostics {
		pos, ok := p.Sources.Position(d.Span)
		if !ok {
			t.Errorf("no place: %s %s", d.Code, d.Message)
			continue
		}
		i := slices.IndexFunc(want, func(e *expectation) bool {
			return !e.met && e.line == pos.Line && slices.Contains(e.codes, string(d.Code)) && e.text.MatchString(whole(d))
		})
		if i < 0 {
			t.Errorf("unexpected at line %d: %s %q", pos.Line, d.Code, whole(d))
			continue
		}
		want[i].met = true
	}
	for _, e := range want {
		if !e.met {
			t.Errorf("line %d: no report %s matching %q", e.line, strings.Join(e.codes, "|"), e.text)
		}
	}
}

// TestTenMistakes: ten mistakes of ten kinds, ten reports, nothing hidden and
// nothing that only follows.
func TestTenMistakes(t *testing.T) {
	p, err := lang.Load([]string{"../testdata/badsites/ten.lamp"})
	if err != nil {
		t.Fatal(err)
	}
	codes := map[source.Code]bool{}
	var lines []string
	for _, d := range p.Diagnostics {
		codes[d.Code] = true
		pos, _ := p.Sources.Position(d.Span)
		lines = append(lines, fmt.Sprintf("%s %s: %s", pos, d.Code, d.Message))
	}
	if len(p.Diagnostics) != 10 || len(codes) != 10 {
		t.Errorf("%d reports of %d kinds, want 10 of 10:\n%s", len(p.Diagnostics), len(codes), strings.Join(lines, "\n"))
	}
}
