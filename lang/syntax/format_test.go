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
			got := formatted(t, in, string(text))
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
			checkFormat(t, in, string(text))
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

func formatted(t *testing.T, name, text string) string {
	t.Helper()
	set, f, ds := parse(name, text)
	if len(ds) > 0 {
		t.Fatalf("does not parse:\n%s", show(set, ds))
	}
	out, err := syntax.Format(f)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// checkFormat holds that printing keeps the tree and the comments, and that printing again changes nothing.
func checkFormat(t *testing.T, name, text string) {
	t.Helper()
	_, before, _ := parse(name, text)
	once := formatted(t, name, text)
	set, after, ds := parse(name, once)
	if len(ds) > 0 {
		t.Fatalf("the result does not parse:\n%s\n%s", show(set, ds), once)
	}
	if diff := sameTree(before, after); diff != "" {
		t.Errorf("the tree changed (-before +after):\n%s\n%s", diff, once)
	}
	if diff := cmp.Diff(comments(before), comments(after)); diff != "" {
		t.Errorf("the comments changed (-before +after):\n%s\n%s", diff, once)
	}
	if twice := formatted(t, name, once); twice != once {
		t.Errorf("printing again changes the text:\n%s", cmp.Diff(once, twice))
	}
	for i, l := range strings.Split(once, "\n") {
		if strings.TrimRight(l, " \t\r") != l {
			t.Errorf("line %d ends with blanks: %q", i+1, l)
		}
	}
}

func comments(f *syntax.File) []string {
	var out []string
	for _, c := range f.Comments {
		out = append(out, c.Text)
	}
	return out
}
