package syntax_test

// Diagnostics, with the expectations in the source under test.
//
// A comment `# ERROR code "regexp"` expects that diagnostic on its line; `# ^ ERROR ...` on the line above, at the
// column of the ^. The regexp is matched against the message, a space, "try: " and the suggestion. Several may stand
// in one comment, parted by `;`. What is not expected, and what does not come, both fail.

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

type want struct {
	line, col int // col 0: anywhere on the line
	code      string
	re        *regexp.Regexp
	met       bool
}

var wantText = regexp.MustCompile(`(\^ )?ERROR ([a-z-]+) ("(?:[^"\\]|\\.)*")`)

func wants(t *testing.T, text string) []*want {
	t.Helper()
	var out []*want
	for i, l := range strings.Split(text, "\n") {
		for _, m := range wantText.FindAllStringSubmatch(l, -1) {
			pattern, err := strconv.Unquote(m[3])
			if err != nil {
				t.Fatalf("line %d: %v", i+1, err)
			}
			w := &want{line: i + 1, code: m[2], re: regexp.MustCompile(pattern)}
			if m[1] != "" {
				w.line, w.col = i, strings.Index(l, "^")+1
			}
			out = append(out, w)
		}
	}
	return out
}

func TestErrors(t *testing.T) {
	files, err := filepath.Glob("testdata/broken/*.lamp")
	if err != nil || len(files) == 0 {
		t.Fatal("no cases", err)
	}
	for _, name := range files {
		t.Run(filepath.Base(name), func(t *testing.T) {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			checkErrors(t, name, string(text))
		})
	}
}

func checkErrors(t *testing.T, name, text string) {
	t.Helper()
	set, _, ds := parse(name, text)
	ws := wants(t, text)
	if len(ws) == 0 {
		t.Fatal("the file expects nothing")
	}
next:
	for _, d := range ds {
		pos, _ := set.Position(d.Span)
		said := d.Message + " try: " + d.Suggestion
		for _, w := range ws {
			if !w.met && w.line == pos.Line && (w.col == 0 || w.col == pos.Col) && w.code == string(d.Code) && w.re.MatchString(said) {
				w.met = true
				continue next
			}
		}
		t.Errorf("not expected:\n%s", show(set, source.Diagnostics{d}))
	}
	for _, w := range ws {
		if !w.met {
			t.Errorf("%s:%d:%d: expected %s %q", name, w.line, w.col, w.code, w.re)
		}
	}
}

// TestRest holds that the sound declarations of a broken file are in the tree, and the names of the broken ones known.
func TestRest(t *testing.T) {
	_, f, ds := parse("x.lamp", "area hall\nmode day { while ( all circuits full }\nnonsense here\narea stairs\nband x, 5\ncircut c in hall\n")
	var got []string
	for _, d := range f.Decls {
		got = append(got, strings.TrimPrefix(fmt.Sprintf("%T", d), "*syntax."))
	}
	if s := strings.Join(got, " "); s != "AreaDecl AreaDecl CircuitDecl" {
		t.Errorf("declarations: %s", s)
	}
	got = nil
	for _, n := range f.Broken {
		got = append(got, n.Name)
	}
	if s := strings.Join(got, " "); s != "day x" || !f.Faulty {
		t.Errorf("broken names: %s, faulty %v", s, f.Faulty)
	}
	if len(ds) != 4 {
		t.Errorf("%d diagnostics, want 4", len(ds))
	}
}

// TestHostile gives texts that are made to break a parser.
func TestHostile(t *testing.T) {
	for name, c := range map[string]struct{ text, code string }{
		"nul":          {"area hall\x00", "not-text"},
		"utf-16":       {"\xff\xfea\x00r\x00", "not-text"},
		"empty":        {"", "empty-file"},
		"blank":        {" \n\t\r\n", "empty-file"},
		"ten MB":       {strings.Repeat("area hall\n", 1<<20), "too-large"},
		"deep":         {"require \"x\" { never " + strings.Repeat("(", 100_000) + "a", "too-deep"},
		"nots":         {"require \"x\" { never " + strings.Repeat("not ", 100_000) + "a }", "too-deep"},
		"wases":        {"mode x { while " + strings.Repeat("was (", 100_000) + "a }", "too-deep"},
		"mixed":        {"mode x { while " + strings.Repeat("not not not (", 60) + "a }", "too-deep"},
		"braces":       {strings.Repeat("{", 100_000), "unclosed-brace"},
		"closed":       {strings.Repeat("}", 100_000), "too-many-errors"},
		"quote":        {`"`, "unclosed-text"},
		"backslash":    {`site "\`, "unclosed-text"},
		"bidi":         {"area \u202ehall", "bad-character"},
		"long number":  {"circuit a in b { fade " + strings.Repeat("9", 1000) + " s }", "bad-number"},
		"fine number":  {"circuit a in b { fade 0." + strings.Repeat("1", 1000) + " s }", "bad-number"},
		"long clock":   {"band a 1:" + strings.Repeat("1", 1000) + " to 2:00", "bad-time"},
		"keywords":     {strings.Repeat("area ", 50_000), "unexpected-text"},
		"long garbage": {strings.Repeat("foo bar ", 50_000), "unknown-word"},
	} {
		t.Run(name, func(t *testing.T) {
			begin := time.Now()
			set, _, ds := parse("hostile.lamp", c.text)
			if took := time.Since(begin); took > 10*time.Second {
				t.Errorf("took %v", took)
			}
			found := false
			for _, d := range ds {
				found = found || string(d.Code) == c.code
			}
			text := show(set, ds)
			if !found {
				t.Errorf("no %s in %.2000s", c.code, text)
			}
			for _, r := range text {
				if r == '\u202e' || r < ' ' && r != '\n' {
					t.Errorf("the report has the character %U", r)
				}
			}
		})
	}
}

// TestSpans holds that names and literals know where they stand, and that a declaration covers its text.
func TestSpans(t *testing.T) {
	const text = "area hall , stairs :escape # tag\n  band  late 22:00 to  05:30\nmode m { while x,off delay 5  min  spots: cleaning off, otherwise full }"
	_, f, ds := parse("x.lamp", text)
	if len(ds) > 0 || len(f.Decls) != 3 {
		t.Fatal("does not parse")
	}
	cut := func(sp source.Span) string { return text[sp.Start:sp.End] }
	area, band, mode := f.Decls[0].(*syntax.AreaDecl), f.Decls[1].(*syntax.BandDecl), f.Decls[2].(*syntax.ModeDecl)
	cases := mode.Clauses[1].Asks.Stages[0].Settings[0].Cases
	for got, want := range map[string]string{
		cut(area.Span): "area hall , stairs :escape", cut(area.Names[1].Span): "stairs", cut(area.Tags[0].Span): "escape",
		cut(band.Span): "band  late 22:00 to  05:30", cut(band.To.Span): "05:30",
		cut(mode.Clauses[0].Span): "while x,off delay 5  min", cut(mode.Clauses[0].While.Delays[0].D.Span): "5  min",
		cut(cases[0].Span): "cleaning off", cut(cases[0].When.Span): "cleaning", cut(cases[0].Level.Span): "off",
		cut(cases[0].When.Terms[0].Terms[0].Terms[0].Atom.Place()): "cleaning", cut(f.Comments[0].Span): "# tag",
	} {
		if got != want {
			t.Errorf("span covers %q, want %q", got, want)
		}
	}
	if cases[0].When.Terms[0].Terms[0].Terms[0].Atom.(*syntax.NameAtom).State != "" {
		t.Error("`off` is both state and level")
	}
}
