package syntax_test

// Fuzzing: no text makes the parser or the printer fail.

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

func seeds(f *testing.F) {
	f.Helper()
	for _, text := range goodTexts(f) {
		for _, part := range strings.SplitAfter(text, "\n\n") {
			f.Add(part)
		}
	}
	for _, pattern := range []string{"testdata/broken/*.lamp", "testdata/format/*.in"} {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) == 0 {
			f.Fatal(pattern, err)
		}
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(string(text))
		}
	}
	for _, c := range source.Codes() {
		f.Add(c.Example)
	}
}

// FuzzParse holds that every text gives a tree and diagnostics whose places are in the text and that can be shown.
func FuzzParse(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<16 {
			t.Skip()
		}
		set, tree, ds := parse("fuzz.lamp", text)
		if tree == nil || tree.Faulty != ds.HasErrors() {
			t.Fatal("no tree, or a tree that does not know its errors")
		}
		if len(tree.Decls) == 0 && len(ds) == 0 {
			t.Error("nothing read and nothing said")
		}
		for _, d := range ds {
			if d.Span.File != 1 || d.Span.Start < 0 || d.Span.Start > d.Span.End || int(d.Span.End) > len(text) {
				t.Errorf("place %v of %q is not in the text", d.Span, d.Message)
			}
			if _, ok := source.LookUp(d.Code); !ok {
				t.Errorf("code %q is not registered", d.Code)
			}
		}
		if out := show(set, ds); !utf8.ValidString(out) || strings.ContainsAny(out, "\x00\x1b\u202e") {
			t.Errorf("the report is not fit to be shown: %q", out)
		}
		for _, d := range tree.Decls {
			if sp := d.Place(); sp.File != 1 || sp.Start >= sp.End || int(sp.End) > len(text) {
				t.Errorf("declaration at %v", sp)
			}
		}
	})
}

// FuzzFormat holds that printing a sound text keeps its meaning and comments and is stable.
func FuzzFormat(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 1<<16 {
			t.Skip()
		}
		_, tree, _ := parse("fuzz.lamp", text)
		out, err := syntax.Format(tree)
		if tree.Faulty {
			if err == nil {
				t.Error("formatted a faulty text")
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		checkFormat(t, "fuzz.lamp", text)
		if strings.Contains(out, "\x00") {
			t.Error("a mark of the printer's own is left in the text")
		}
	})
}
