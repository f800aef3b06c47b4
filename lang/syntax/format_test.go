package syntax_test

// The canonical layout: goldens, and that it keeps meaning and comments and is stable.

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lampwarden/lang/syntax"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func TestFormatGolden(t *testing.T) {
	files, err := filepath.Glob("testdata/format/*.in")
	if err != nil || len(files) == 0 {
		t.Fatal("no cases", err)
	}
	for _, in := range files {
		t.Run(filepath.Base(in), func(t *testing.T) {
			text, err := os.ReadFile(in)
			if err != nil {
				t.Fatal(err)
			}
			got := checkFormat(t, in, string(text))
			golden := strings.TrimSuffix(in, ".in") + ".golden"
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got); diff != "" {
				t.Errorf("layout (-want +got):\n%s", diff)
			}
		})
	}
}

func TestFormatKeepsMeaning(t *testing.T) {
	for name, text := range goodTexts(t) {
		t.Run(name, func(t *testing.T) { checkFormat(t, name, text) })
	}
}

func TestFormatRefusesFaulty(t *testing.T) {
	_, f, _ := parse("x.lamp", "area hall\nmode {")
	if out, err := syntax.Format(f); err == nil {
		t.Errorf("formatted a faulty file to %q", out)
	}
}

// read parses a text that has to be sound.
func read(t *testing.T, name, text string) *syntax.File {
	t.Helper()
	set, f, ds := parse(name, text)
	if len(ds) > 0 {
		t.Fatalf("does not parse:\n%s\n%s", show(set, ds), text)
	}
	return f
}

func format(t *testing.T, f *syntax.File) string {
	t.Helper()
	out, err := syntax.Format(f)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// checkFormat holds that printing keeps the tree and the comments, and that printing again changes nothing. It gives
// the printed text.
func checkFormat(t *testing.T, name, text string) string {
	t.Helper()
	before := read(t, name, text)
	once := format(t, before)
	after := read(t, name, once)
	if diff := sameTree(before, after); diff != "" {
		t.Errorf("the tree changed (-before +after):\n%s\n%s", diff, once)
	}
	if diff := cmp.Diff(comments(before), comments(after)); diff != "" {
		t.Errorf("the comments changed (-before +after):\n%s\n%s", diff, once)
	}
	if twice := format(t, after); twice != once {
		t.Errorf("printing again changes the text:\n%s", cmp.Diff(once, twice))
	}
	for i, l := range strings.Split(once, "\n") {
		if strings.TrimRight(l, " \t\r") != l {
			t.Errorf("line %d ends with blanks: %q", i+1, l)
		}
	}
	return once
}

func comments(f *syntax.File) []string {
	var out []string
	for _, c := range f.Comments {
		out = append(out, c.Text)
	}
	return out
}
