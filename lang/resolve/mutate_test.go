package resolve_test

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"lampwarden/lang/resolve"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"

	"pgregory.net/rapid"
)

var mutableToken = regexp.MustCompile(`[a-z_0-9]+|[0-9.]+ (?:%|ms|s|min|h)\b`)

// TestMutations swaps names and values of real sites about, which keeps most of
// them readable and so reaches deep into the meaning. Every result is a sane site
// or has reports.
func TestMutations(t *testing.T) {
	for _, name := range []string{"../../examples/guesthouse/guesthouse.lamp", "testdata/structure.lamp"} {
		t.Run(filepath.Base(name), func(t *testing.T) { mutate(t, name) })
	}
}

func mutate(t *testing.T, name string) {
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	base := string(text)
	places := mutableToken.FindAllStringIndex(base, -1)
	accepted, refused := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		mutant := base
		for range rapid.IntRange(1, 3).Draw(rt, "swaps") {
			to := rapid.SampledFrom(places).Draw(rt, "to")
			from := rapid.SampledFrom(places).Draw(rt, "from")
			if to[1] <= len(mutant) {
				mutant = mutant[:to[0]] + base[from[0]:from[1]] + mutant[to[1]:]
			}
		}
		set := &source.Set{}
		tree, parse := syntax.Parse(set.Add("mutant.lamp", mutant))
		s, ds := resolve.Resolve([]*syntax.File{tree})
		if (s == nil) != ds.HasErrors() {
			rt.Fatalf("site %v with %v", s != nil, ds)
		}
		checkReports(t, ds, len(mutant))
		if s != nil && !parse.HasErrors() {
			checkSite(t, s)
			accepted++
		} else {
			refused++
		}
		if t.Failed() {
			rt.Fatalf("in:\n%s", mutant)
		}
	})
	if accepted == 0 || refused == 0 {
		t.Errorf("%d accepted, %d refused: the mutations do not bite", accepted, refused)
	}
}
