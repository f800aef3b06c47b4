// Fuzzing: no site makes a proof run panic, hang, grow without bound, or contradict itself.

package checker_test

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode"

	"lampwarden/checker"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/checker/report"
	"lampwarden/lang"
	"lampwarden/lang/source"
)

// Bounds of one proof run under fuzzing. The limits of the run are tight, those of the watch generous: a machine may
// be loaded, but not by a hundred times.
var fuzzLimits = checker.Limits{States: 500, Memory: 8 << 20, Time: 50 * time.Millisecond}

const (
	fuzzMemory = 256 << 20
	fuzzTime   = 30 * time.Second
)

// FuzzProve: any text that is a site is proved, refuted or left undecided, within bounds.
func FuzzProve(f *testing.F) {
	f.Add(readText(f, guesthouse+"/guesthouse.lamp"))
	for _, glob := range []string{"../testdata/guesthouse-defects/*.lamp", "../examples/*/*.lamp"} {
		names, err := filepath.Glob(glob)
		if err != nil || len(names) == 0 {
			f.Fatal(glob, err)
		}
		for i, name := range names {
			if i%6 == 0 && !testing.Short() {
				f.Add(readText(f, name))
			}
		}
	}
	for _, c := range source.Codes() {
		f.Add(c.Example)
	}
	for _, c := range checker.Codes() {
		f.Add(c.Example)
	}
	for seed := range uint64(20) {
		f.Add(sitegen.Print(sitegen.Generate(seed, sitegen.Everything())))
	}
	f.Fuzz(proveText)
}

// FuzzProveGenerated: the same for random sites with a few edits, which are sites far more often than random text.
func FuzzProveGenerated(f *testing.F) {
	for seed := range uint64(24) {
		f.Add(seed, []byte{byte(seed), byte(11 * seed), byte(7 * seed)})
	}
	f.Fuzz(func(t *testing.T, seed uint64, edits []byte) {
		if len(edits) > 12 {
			t.Skip()
		}
		proveText(t, edit(sitegen.Print(sitegen.Generate(seed, sitegen.Everything())), edits))
	})
}

func readText(t testing.TB, name string) string {
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

var (
	words   = regexp.MustCompile(`[A-Za-z_][A-Za-z_0-9]*|[0-9.:]+|"[^"\n]*"|[^\sA-Za-z0-9"]`)
	hostile = []string{"0", "1", "9223372036854775807", "99999999", "0.001", "24:00", "100 %", "0 %", "not", "(", "}", "1 ms", "24 h"}
)

// edit makes one change for each three bytes: a word becomes another one of its kind in the text or a hostile one, goes away
// or comes twice; or a line does.
func edit(text string, edits []byte) string {
	for ; len(edits) >= 3; edits = edits[3:] {
		at := words.FindAllStringIndex(text, -1)
		if len(at) == 0 {
			return text
		}
		w := at[int(edits[1])*len(at)/256]
		var alike []string
		for _, x := range at {
			if isDigit(text[x[0]]) == isDigit(text[w[0]]) {
				alike = append(alike, text[x[0]:x[1]])
			}
		}
		other := alike[int(edits[2])*len(alike)/256]
		put := func(s string) { text = text[:w[0]] + s + text[w[1]:] }
		switch edits[0] % 8 {
		default:
			put(other)
		case 4:
			put(hostile[int(edits[2])%len(hostile)])
		case 5:
			put("")
		case 6:
			put(text[w[0]:w[1]] + " " + other)
		case 7:
			lines := strings.SplitAfter(text, "\n")
			line := strings.Count(text[:w[0]], "\n")
			lines[line] = strings.Repeat(lines[line], int(edits[2]%3))
			text = strings.Join(lines, "")
		}
	}
	return text
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// proveText proves a text, if it is a site, under tight limits, and renders the report.
func proveText(t *testing.T, text string) {
	if len(text) > 1<<16 {
		t.Skip()
	}
	within(t, fuzzMemory, fuzzTime, text, func() {
		p := lang.LoadText("fuzz.lamp", text)
		if p.Site == nil {
			return
		}
		rep, err := checker.Prove(context.Background(), p.Site, checker.Options{Limits: fuzzLimits, Workers: 1})
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if len(rep.Outcomes) != len(p.Site.Requirements) {
			t.Errorf("%d outcomes of %d requirements", len(rep.Outcomes), len(p.Site.Requirements))
		}
		rep.Sources = p.Sources
		checkRendering(t, rep)
	})
}

// checkRendering: the report is valid JSON, and text fit to be shown.
func checkRendering(t *testing.T, rep *checker.Report) {
	t.Helper()
	var text, doc strings.Builder
	d := report.Tell(rep, report.Options{Stats: true})
	if err := d.Text(&text, report.Options{Stats: true}); err != nil {
		t.Error(err)
	}
	if err := d.JSON(&doc); err != nil || !json.Valid([]byte(doc.String())) {
		t.Errorf("no JSON: %v\n%s", err, doc.String())
	}
	for _, r := range text.String() {
		if r != '\n' && !unicode.IsGraphic(r) {
			t.Errorf("%U is in the report:\n%q", r, text.String())
		}
	}
}
