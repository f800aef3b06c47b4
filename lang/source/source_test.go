package source_test

// Places, the text form of diagnostics, escapes, spelling.

import (
	"strings"
	"testing"
	"unicode"

	"lampwarden/lang/source"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func at(f *source.File, part string) source.Span {
	i := strings.Index(f.Text, part)
	return source.Span{File: f.ID, Start: int32(i), End: int32(i + len(part))}
}

func TestText(t *testing.T) {
	set := &source.Set{}
	f := set.Add("a.lamp", "area hall\r\n\tcircut é in hall { }\nend")
	d := source.Diagnostic{
		Code: "unknown-word", Span: at(f, "é in"), Label: "this one", Message: "`é` is not known",
		Related: []source.Related{{Span: at(f, "hall"), Label: "the area is declared here"}},
		Notes:   []string{"first note", "second note"}, Suggestion: "`e`",
	}
	want := `a.lamp:2:9: error[unknown-word]: ` + "`é`" + ` is not known
   2 |     circut é in hall { }
     |            ^^^^ this one
  a.lamp:1:6: the area is declared here
   1 | area hall
     |      ----
  note: first note
  note: second note
  try: ` + "`e`\n"
	if diff := cmp.Diff(want, source.Renderer{Set: set}.Text(d)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	d.Severity = source.Warning
	coloured := source.Renderer{Set: set, Color: true}.Text(d)
	if !strings.Contains(coloured, "\x1b[1;33mwarning[unknown-word]:\x1b[0m") {
		t.Errorf("no colour in %q", coloured)
	}
}

// TestHostileText holds that nothing in a file, its name or a message reaches the terminal as a control.
func TestHostileText(t *testing.T) {
	set := &source.Set{}
	f := set.Add("a\x1b[2J.lamp", "x \x1b[31m \u202e \u200b \xff \u0301 y\n")
	text := source.Renderer{Set: set}.Text(source.Diagnostic{Span: at(f, "\u202e"), Message: "bad \u202e\r\n\x07", Suggestion: "\x1b"})
	want := "a\\x1b[2J.lamp:1:9: error: bad \\u202e\\x0d\\x0a\\x07\n" +
		"   1 | x \\x1b[31m \\u202e \\u200b \\xff \\u0301 y\n" +
		"     |            ^^^^^^\n" +
		"  try: \\x1b\n"
	if diff := cmp.Diff(want, text); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

func TestAnyTextIsSafe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		raw := string(rapid.SliceOf(rapid.Byte()).Draw(t, "bytes")) + rapid.String().Draw(t, "text")
		set := &source.Set{}
		f := set.Add(raw, raw)
		from := rapid.IntRange(0, len(raw)).Draw(t, "from")
		to := rapid.IntRange(from, len(raw)).Draw(t, "to")
		out := source.Renderer{Set: set}.Text(source.Diagnostic{
			Span: source.Span{File: f.ID, Start: int32(from), End: int32(to)}, Message: raw, Label: raw,
		})
		for _, r := range out {
			if r != '\n' && !unicode.IsGraphic(r) || r == unicode.ReplacementChar && !strings.ContainsRune(raw, r) {
				t.Fatalf("%U reaches the terminal in %q", r, out)
			}
		}
	})
}

func TestLongLineIsCut(t *testing.T) {
	set := &source.Set{}
	f := set.Add("a", strings.Repeat("é ", 5000)+"HERE"+strings.Repeat(" x", 5000))
	lines := strings.Split(source.Renderer{Set: set}.Text(source.Diagnostic{Span: at(f, "HERE"), Message: "m"}), "\n")
	shown, under := []rune(lines[1]), lines[2]
	if len(shown) > 140 {
		t.Errorf("%d columns", len(shown))
	}
	if i := strings.Index(under, "^"); string(shown[i:i+4]) != "HERE" || !strings.HasSuffix(under, "^^^^") {
		t.Errorf("the underline is elsewhere:\n%s\n%s", lines[1], under)
	}
}

// TestEndlessMessageIsCut holds that a message that quotes a name without end keeps its two ends.
func TestEndlessMessageIsCut(t *testing.T) {
	text := source.Renderer{}.Text(source.Diagnostic{Message: "nothing is named `" + strings.Repeat("é", 1_000_000) + "` here"})
	if n := len([]rune(text)); n > 2100 || !strings.HasPrefix(text, "error: nothing is named `é") || !strings.HasSuffix(text, "é` here\n") {
		t.Errorf("%d characters: %.80s", n, text)
	}
}

func TestSorted(t *testing.T) {
	sp := func(f source.FileID, start int32) source.Span {
		return source.Span{File: f, Start: start, End: start + 1}
	}
	ds := source.Diagnostics{
		{Span: sp(2, 0), Message: "d"}, {Span: sp(1, 5), Message: "c", Severity: source.Warning},
		{Span: sp(1, 5), Message: "b"}, {Span: sp(1, 0), Message: "a"}, {Span: sp(1, 5), Message: "b"},
	}
	var got string
	for _, d := range ds.Sorted() {
		got += d.Message
	}
	if got != "abcd" {
		t.Errorf("order %s", got)
	}
	if !ds.HasErrors() || ds[1:2].HasErrors() {
		t.Error("a warning is taken for an error, or an error is not")
	}
}

func TestClosest(t *testing.T) {
	words := []string{"circuit", "circuits", "area", "mode", "lit", "lost", "min", "ms", "s", "on", "hall_spots"}
	for name, want := range map[string]string{
		"circut": "circuit", "cricuit": "circuit", "circuites": "circuits", "aera": "area", "lst": "lost", "minz": "min",
		"Mode": "mode", "hall_spot": "hall_spots", "HALL_SPOTS": "hall_spots", "S": "s", "of": "", "zebra": "", "": "", "x": "", "mode": "",
	} {
		if got := source.Closest(name, words); got != want {
			t.Errorf("Closest(%q) = %q, want %q", name, got, want)
		}
	}
}

// TestCodes holds that the registry is sorted, complete in its texts, and names no code twice.
func TestCodes(t *testing.T) {
	last := source.Code("")
	for _, c := range source.Codes() {
		if c.Code <= last {
			t.Errorf("%s stands after %s", c.Code, last)
		}
		last = c.Code
		if c.Title == "" || strings.HasSuffix(c.Title, ".") || !strings.HasSuffix(c.Explanation, ".") {
			t.Errorf("%s: title %q, explanation %q", c.Code, c.Title, c.Explanation)
		}
		if got, ok := source.LookUp(c.Code); !ok || got.Title != c.Title {
			t.Errorf("%s is not found", c.Code)
		}
	}
	if _, ok := source.LookUp("no-such-code"); ok {
		t.Error("an unknown code is found")
	}
}

func TestLineCol(t *testing.T) {
	f := (&source.Set{}).Add("a", "é\nxy\r\n\nz")
	for off, want := range map[int32][2]int{0: {1, 1}, 2: {1, 2}, 3: {2, 1}, 5: {2, 3}, 7: {3, 1}, 8: {4, 1}, 9: {4, 2}, 99: {4, 2}} {
		if l, c := f.LineCol(off); l != want[0] || c != want[1] {
			t.Errorf("offset %d at %d:%d, want %v", off, l, c, want)
		}
	}
	if f.Line(2) != "xy" || f.Line(4) != "z" || f.Line(5) != "" || f.Line(0) != "" {
		t.Error("lines")
	}
}
