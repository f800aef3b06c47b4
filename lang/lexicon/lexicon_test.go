package lexicon

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/lang/source"
)

const small = "# Title\n\nIntro.\n\n" +
	"## Things\n\n### circuit, lamps\n\nA circuit is what is switched. It has lamps, as [the other page](x.md) says.\n\n" +
	"**Written.** `circuit NAME`\nwith more.\n\n- one item\n  that goes on\n- another\n\n```lamp proves\narea a\n```\n\n" +
	"**Words.** `fed by` `W`.\n\n" +
	"### long press\n\nA gesture.\n\n| what | words |\n| --- | --- |\n| alarm | `raised` |\n\n```lamp fails \"a name\"\nalarm b\n```\n\n" +
	"### at most N times\n\nA count of `W`.\n"

func smallBook(t *testing.T) *Book {
	t.Helper()
	b, err := Parse(small)
	if err != nil {
		t.Fatal(err)
	}
	b.Groups = []Group{{Title: "Codes", Kind: "diagnostic", Codes: []source.CodeInfo{
		{Code: "no-lamp", Title: "there is no lamp", Explanation: "Add one.", Example: "area a\n"}}}}
	return b
}

func TestParse(t *testing.T) {
	b := smallBook(t)
	if len(b.Chapters) != 2 || b.Chapters[0].Title != "Title" || len(b.Entries()) != 3 {
		t.Fatalf("%+v", b.Chapters)
	}
	e := b.Entries()[0]
	want := &Entry{
		Terms: []string{"circuit", "lamps"}, Words: []string{"fed by", "W"}, Chapter: "Things",
		Purpose: "A circuit is what is switched.", Line: 7,
		Body: []Piece{
			{Kind: Paragraph, Lines: []string{"A circuit is what is switched. It has lamps, as [the other page](x.md) says."}, Line: 9},
			{Kind: Paragraph, Lines: []string{"**Written.** `circuit NAME` with more."}, Line: 11},
			{Kind: List, Lines: []string{"one item that goes on", "another"}, Line: 14},
			{Kind: Block, Lines: []string{"area a"}, Info: "lamp proves", Line: 19},
		},
	}
	if d := cmp.Diff(want, e); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
	samples := b.Samples("lamp")
	if len(samples) != 2 || samples[0].Mark != "proves" || samples[0].Text != "area a\n" ||
		samples[1].Mark != "fails" || samples[1].Arg != "a name" || samples[1].Entry != b.Entries()[1] {
		t.Errorf("%+v", samples)
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"words\n", "line 1: the text begins with a title"},
		{"### a\n", "line 1: an entry stands in a chapter"},
		{"# a\n## b\n# c\n", "line 3: the title stands first"},
		{"# a\n#### b\n", "line 2: a heading has one, two or three"},
		{"# a\n### b, , c\n", "line 2: the heading has an empty word"},
		{"# a\n\n```lamp\nx\n", "line 3: this block of code has no end"},
		{"# a\n### b\n\n- c\n", `line 2: the entry "b" does not begin with what it is for`},
	} {
		if _, err := Parse(c.text); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: the error is %v, want %q", c.text, err, c.want)
		}
	}
}

func TestLook(t *testing.T) {
	b := smallBook(t)
	for _, c := range []struct {
		word    string
		entries string // first words of their headings
		inside  string
		codes   int
		near    string
	}{
		{word: "lamps", entries: "circuit"},
		{word: "long   press", entries: "long press"},
		{word: "press", inside: "long press"},
		{word: "fed by", inside: "circuit"},
		{word: "by", inside: "circuit"},
		{word: "CIRCUIT", entries: "circuit"},
		{word: "at most 3 times", entries: "at most N times"},
		{word: "no-lamp", codes: 1},
		{word: "circut", near: "circuit"},
		{word: "lamp", near: "lamps no-lamp"},
		{word: "zebra"},
	} {
		t.Run(c.word, func(t *testing.T) {
			a := b.Look(c.word)
			if got := headings(a.Entries); got != c.entries {
				t.Errorf("entries %q, want %q", got, c.entries)
			}
			if got := headings(a.Inside); got != c.inside {
				t.Errorf("inside %q, want %q", got, c.inside)
			}
			if got := strings.Join(a.Near, " "); got != c.near || len(a.Codes) != c.codes {
				t.Errorf("near %q, want %q; %d codes, want %d", got, c.near, len(a.Codes), c.codes)
			}
		})
	}
}

func headings(es []*Entry) string {
	var out []string
	for _, e := range es {
		out = append(out, e.Terms[0])
	}
	return strings.Join(out, " ")
}

func TestText(t *testing.T) {
	b := smallBook(t)
	for word, want := range map[string]string{
		"circuit": `circuit, lamps
==============

A circuit is what is switched. It has lamps, as the other page says.

Written: ` + "`circuit NAME`" + ` with more.

- one item that goes on
- another

    area a
`,
		"raised": "",
		"press": `long press
==========

A gesture.

  alarm
      ` + "`raised`" + `

    alarm b
`,
		"no-lamp": `no-lamp (diagnostic)
====================

There is no lamp.

Add one.

For example:

    area a
`,
	} {
		var out strings.Builder
		if err := b.Look(word).Text(&out); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, out.String()); d != "" {
			t.Errorf("%s: -want +got:\n%s", word, d)
		}
	}
}

// Text in backquotes stays together where it is short, and no line is too long.
func TestFill(t *testing.T) {
	var p page
	p.fill("- ", "  ", strings.Repeat("word ", 14)+"`two words` "+strings.Repeat("x", 90)+" `"+strings.Repeat("long ", 20)+"` and `a short one` after it")
	lines := strings.Split(p.b.String(), "\n")
	if !strings.HasPrefix(lines[1], "  `two words`") {
		t.Errorf("%q", lines)
	}
	for _, l := range lines {
		if columns(l) > width && !strings.Contains(l, "xxx") {
			t.Errorf("%d columns: %s", columns(l), l)
		}
	}
}

// Long lines of an example are broken where clauses part, else at a blank that is in no text.
func TestShown(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"short", "area a\nalarm b\n", []string{"area a", "alarm b"}},
		{"clauses", "mode welcome { while presence in hall  spots at 60 %  circuits in hall at 20 % }\n",
			[]string{"mode welcome { while presence in hall  spots at 60 %", "        circuits in hall at 20 % }"}},
		{"text", `require "` + strings.Repeat("word ", 10) + `" { never night and fire and more }`,
			[]string{`require "` + strings.Repeat("word ", 10) + `" { never night`, "        and fire and more }"}},
		{"comment", strings.Repeat("area a ", 11) + "# comment", []string{
			strings.TrimSpace(strings.Repeat("area a ", 11)), "        # comment"}},
		{"no blank", strings.Repeat("(", 200), nil},
		{"many lines", strings.Repeat("area a\n", 50), nil},
		{"control characters", "area \x1b\n", []string{`area \x1b`}},
		{"none", "", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, ok := shown(c.text)
			if d := cmp.Diff(c.want, got); ok && d != "" || ok != (c.want != nil) {
				t.Errorf("shown: %v; -want +got:\n%s", ok, d)
			}
		})
	}
}

func TestContents(t *testing.T) {
	var out strings.Builder
	if err := smallBook(t).Contents(&out); err != nil {
		t.Fatal(err)
	}
	want := "Things\n  circuit, lamps, long press, at most N times\n\nCodes\n  no-lamp\n"
	if d := cmp.Diff(want, out.String()); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
}

func TestJSON(t *testing.T) {
	var out strings.Builder
	if err := smallBook(t).Look("circuit").JSON(&out); err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal([]byte(out.String()), &got); err != nil {
		t.Fatal(err)
	}
	want := map[string]any{
		"version": 1.0, "word": "circuit", "inside": []any{}, "codes": []any{}, "near": []any{},
		"entries": []any{map[string]any{
			"terms": []any{"circuit", "lamps"}, "words": []any{"fed by", "W"}, "chapter": "Things", "purpose": "A circuit is what is switched.",
			"text": "A circuit is what is switched. It has lamps, as the other page says.\n\nWritten: `circuit NAME` with more.\n\n" +
				"- one item that goes on\n- another\n",
			"examples": []any{map[string]any{"mark": "proves", "arg": "", "text": "area a\n"}},
		}},
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
}
