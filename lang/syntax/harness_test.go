package syntax_test

// What the tests share: reading source texts, and comparing trees.

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"lampwarden/lang/source"
	"lampwarden/lang/syntax"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// parse reads a text under a name.
func parse(name, text string) (*source.Set, *syntax.File, source.Diagnostics) {
	set := &source.Set{}
	f, ds := syntax.Parse(set.Add(name, text))
	return set, f, ds
}

// show renders diagnostics for a failure message.
func show(set *source.Set, ds source.Diagnostics) string {
	var b strings.Builder
	_ = source.Renderer{Set: set}.Write(&b, ds)
	return b.String()
}

// sameTree compares two trees without their places.
func sameTree(a, b *syntax.File) string {
	ignore := cmpopts.IgnoreTypes(syntax.Node{})
	if cmp.Equal(a.Decls, b.Decls, ignore) {
		return ""
	}
	return cmp.Diff(a.Decls, b.Decls, ignore)
}

// goodTexts gives every sound source text of the repository: the .lamp files that expect no error, and the blocks of the
// language document.
func goodTexts(t testing.TB) map[string]string {
	t.Helper()
	out := map[string]string{}
	doc, err := os.ReadFile("../LANGUAGE.md")
	if err != nil {
		t.Fatal(err)
	}
	for i, m := range regexp.MustCompile("(?s)```lamp\n(.*?)```").FindAllStringSubmatch(string(doc), -1) {
		out["LANGUAGE.md block "+string(rune('1'+i))] = m[1]
	}
	if len(out) == 0 {
		t.Fatal("no blocks in the language document")
	}
	err = filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".lamp" {
			return err
		}
		text, err := os.ReadFile(path)
		if !strings.Contains(string(text), "# ERROR ") {
			out[path] = string(text)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}
