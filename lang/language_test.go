package lang_test

// The rough notes of the language document are executable: their blocks, one after the other, are one site. (The
// examples of the reference are tested where they can be proved, in cmd/lampwarden.)

import (
	"os"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"lampwarden/lang"
)

// blocks puts the ```lamp blocks of a document's rough notes together; everything else is
// left out but its line ends, so that lines keep their numbers.
func blocks(t *testing.T, doc string) string {
	t.Helper()
	text, err := os.ReadFile(doc)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	inside, rough, n := false, false, 0
	for _, line := range strings.Split(string(text), "\n") {
		rough = rough || line == "# Rough notes"
		switch {
		case !rough:
		case strings.HasPrefix(line, "```lamp"):
			inside = true
			n++
		case strings.HasPrefix(line, "```"):
			inside = false
		case inside:
			b.WriteString(line)
		}
		b.WriteByte('\n')
	}
	if n == 0 {
		t.Fatalf("%s has no lamp block", doc)
	}
	return b.String()
}

// tables are the ```csv blocks of a document, each a file with the name behind that word.
func tables(t *testing.T, doc string) fstest.MapFS {
	t.Helper()
	text, err := os.ReadFile(doc)
	if err != nil {
		t.Fatal(err)
	}
	out := fstest.MapFS{}
	for _, m := range regexp.MustCompile("(?s)```csv (\\S+)\n(.*?)```").FindAllSubmatch(text, -1) {
		out[string(m[1])] = &fstest.MapFile{Data: m[2]}
	}
	return out
}

func TestLanguageDocument(t *testing.T) {
	p := lang.LoadTextIn(tables(t, "LANGUAGE.md"), "LANGUAGE.md", blocks(t, "LANGUAGE.md"))
	var out strings.Builder
	if err := p.WriteDiagnostics(&out, false); err != nil {
		t.Fatal(err)
	}
	if out.Len() > 0 || p.Site == nil {
		t.Fatalf("the blocks of LANGUAGE.md are not a site:\n%s", out.String())
	}
	if got := len(p.Site.Requirements); got < 10 {
		t.Errorf("only %d requirements were read", got)
	}
}
