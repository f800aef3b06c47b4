package syntax_test

// Sound texts in every other layout: blanks, line ends and comments between any two tokens.

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"lampwarden/lang/syntax"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// pieceText is a text in quotes, a comment, a number with its unit, or a run without blanks.
var pieceText = regexp.MustCompile(`"(?:[^"\\\n]|\\.)*"|#[^\n]*|\d[\d.:]*[ \t]+(?:%|[A-Za-z]+\b)|[^\s"#]+`)

// relaid gives the text with other blanks and with comments of its own between its tokens.
func relaid(t *rapid.T, text string) string {
	var b strings.Builder
	notes := 0
	for _, piece := range pieceText.FindAllString(text, -1) {
		if piece[0] == '#' {
			b.WriteString(piece + "\n")
			continue
		}
		b.WriteString(piece)
		switch rapid.IntRange(0, 13).Draw(t, "gap") {
		case 0, 1:
			b.WriteString("\n")
		case 2:
			b.WriteString("\n \n\t")
		case 3:
			notes++
			fmt.Fprintf(&b, " # note %d\n", notes)
		case 4:
			notes++
			fmt.Fprintf(&b, "\n# note %d\n", notes)
		default:
			b.WriteString(" ")
		}
	}
	return b.String()
}

func TestFormatAnyLayout(t *testing.T) {
	for _, name := range []string{"testdata/format/layout.in", "testdata/format/structure.in"} {
		anyLayout(t, name)
	}
}

func anyLayout(t *testing.T, name string) {
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var decls []string
	for _, l := range strings.Split(string(text), "\n") {
		if strings.HasPrefix(l, "mode ") || strings.HasPrefix(l, "require ") || strings.HasPrefix(l, "scenario ") ||
			strings.HasPrefix(l, "join ") || strings.HasPrefix(l, "circuits ") || strings.HasPrefix(l, "alarm ") || len(decls) == 0 {
			decls = append(decls, "")
		}
		decls[len(decls)-1] += l + "\n"
	}
	for _, d := range decls {
		plain := read(t, name, d)
		rapid.Check(t, func(rt *rapid.T) {
			other := relaid(rt, d)
			set, f, ds := parse("relaid.lamp", other)
			if len(ds) > 0 {
				rt.Fatalf("another layout does not parse:\n%s\n%s", show(set, ds), other)
			}
			if diff := sameTree(plain, f); diff != "" {
				rt.Fatalf("another layout changes the tree:\n%s\n%s", diff, other)
			}
			stable(rt, f, other)
		})
	}
}

// stable is checkFormat for random texts.
func stable(t *rapid.T, f *syntax.File, text string) {
	once, err := syntax.Format(f)
	if err != nil {
		t.Fatal(err)
	}
	set, after, ds := parse("printed.lamp", once)
	if len(ds) > 0 {
		t.Fatalf("the result does not parse:\n%s\n%s", show(set, ds), once)
	}
	if diff := sameTree(f, after) + cmp.Diff(comments(f), comments(after)); diff != "" {
		t.Fatalf("printing changes the tree or the comments:\n%s\nfrom\n%s\nto\n%s", diff, text, once)
	}
	if twice, _ := syntax.Format(after); twice != once {
		t.Fatalf("printing again changes the text:\n%s\nfrom\n%s", cmp.Diff(once, twice), text)
	}
}
