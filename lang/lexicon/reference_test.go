// The reference is complete: every word of the language is explained and shown, and its grammar and lists of words are
// those of the program. Run with -update to put the grammar and the reserved words in anew.

package lexicon_test

import (
	"flag"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/lang/lexicon"
	"lampwarden/lang/lexicon/ebnf"
	"lampwarden/lang/syntax"
)

var update = flag.Bool("update", false, "put the grammar and the reserved words in the reference anew")

const document = "../LANGUAGE.md"

func readReference(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile(document)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func book(t *testing.T) *lexicon.Book {
	t.Helper()
	b, err := lexicon.Parse(readReference(t))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// grammarNames says how the grammar of lang/syntax is written in the reference.
var grammarNames = ebnf.Names{
	Tokens: map[string]string{
		"ident": "name", "follower": "name", "string": "text", "clock": "time-literal", "duration": "duration-literal",
		"percent": "percentage-literal", "power": "power", "energy": "energy", "degrees": "degrees",
		"number": "whole-number", "lux": "lux-literal", "kelvin": "kelvin-literal", "date": "date-literal",
	},
	Leaves: map[string]string{
		"Ident": "name", "Str": "text", "Degrees": "degrees", "Power": "power", "Energy": "energy",
	},
	Words: map[string]string{
		"Decl": "declaration", "Expr": "condition", "Int": "number", "Clock": "time", "Percent": "percentage", "Ref": "reference",
		"Atom": "atom", "Quant": "quantifier", "Each": "each",
	},
	Skip: []string{"Root"},
}

// TestGeneratedParts holds that the grammar and the reserved words in the reference are those of lang/syntax.
func TestGeneratedParts(t *testing.T) {
	grammar, err := ebnf.Write(syntax.Grammar(), grammarNames, 76)
	if err != nil {
		t.Fatal(err)
	}
	doc := readReference(t)
	fresh := replaceBlock(t, doc, "ebnf", "site-file = { declaration } ;\n"+grammar)
	fresh = replaceBlock(t, fresh, "words", reservedWords())
	if *update {
		if err := os.WriteFile(document, []byte(fresh), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if d := cmp.Diff(fresh, doc); d != "" {
		t.Errorf("the reference has not the grammar and words of the program (go test ./lang/lexicon -update):\n%s", d)
	}
}

// replaceBlock puts a text in the block with the info.
func replaceBlock(t *testing.T, doc, info, text string) string {
	t.Helper()
	before, rest, ok := strings.Cut(doc, "\n```"+info+"\n")
	_, after, closed := strings.Cut("\n"+rest, "\n```\n")
	if !ok || !closed {
		t.Fatalf("the reference has no block ```%s", info)
	}
	return before + "\n```" + info + "\n" + text + "```\n" + after
}

// reservedWords lists the reserved words in lines.
func reservedWords() string {
	var b strings.Builder
	line := ""
	for _, w := range slices.Sorted(slices.Values(syntax.Reserved())) {
		if line != "" && len(line)+1+len(w) > 76 {
			b.WriteString(line + "\n")
			line = ""
		}
		line = strings.TrimPrefix(line+" "+w, " ")
	}
	return b.String() + line + "\n"
}

// literals lists the fixed words and marks of the grammar.
func literals() []string {
	var out []string
	for _, m := range regexp.MustCompile(`"([^"]+)"`).FindAllStringSubmatch(syntax.Grammar(), -1) {
		out = append(out, m[1])
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// TestEveryWordIsExplained: reserved words, the words and marks of the grammar, units.
func TestEveryWordIsExplained(t *testing.T) {
	b := book(t)
	all := slices.Concat(syntax.Reserved(), literals(), syntax.Units())
	if len(all) < 200 {
		t.Fatalf("only %d words are known", len(all))
	}
	for _, w := range all {
		if a := b.Look(w); len(a.Entries)+len(a.Inside) == 0 {
			t.Errorf("no entry explains `%s`", w)
		}
	}
}

// TestEveryWordIsShown: each word and mark of the grammar, and each unit, stands in an example, which other tests read.
func TestEveryWordIsShown(t *testing.T) {
	tokens := map[string]bool{}
	for _, s := range book(t).Samples("lamp") {
		if s.Mark == "error" {
			continue
		}
		for _, w := range token.FindAllString(unquoted.ReplaceAllString(s.Text, ""), -1) {
			tokens[w] = true
		}
	}
	for _, w := range slices.Concat(literals(), syntax.Units()) {
		if !tokens[w] {
			t.Errorf("no example has `%s`", w)
		}
	}
}

var (
	unquoted = regexp.MustCompile(`"(\\.|[^"\\])*"|#[^\n]*`)
	token    = regexp.MustCompile(`[A-Za-z][A-Za-z0-9_]*|->|\.\.|[^\sA-Za-z0-9_]`)
)

// TestWrittenFormsHaveKnownWords: in what is said to be written, each word in small letters is one of the language. (The
// names in examples are in capitals there.)
func TestWrittenFormsHaveKnownWords(t *testing.T) {
	known := map[string]bool{}
	for _, w := range slices.Concat(literals(), syntax.Units()) {
		known[w] = true
	}
	forms := 0
	for _, e := range book(t).Entries() {
		for _, p := range e.Body {
			if p.Kind != lexicon.Paragraph || !strings.HasPrefix(p.Lines[0], "**Written.**") {
				continue
			}
			for _, q := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(p.Lines[0], -1) {
				if !strings.ContainsAny(q[1], "ABCDEFGHIJKLMNOPQRSTUVWXYZ") {
					continue // an example with real names
				}
				forms++
				for _, w := range regexp.MustCompile(`[A-Za-z_]+`).FindAllString(unquoted.ReplaceAllString(q[1], ""), -1) {
					if w == strings.ToLower(w) && len(w) > 1 && !known[w] {
						t.Errorf("%s: `%s` has the word `%s`, which the grammar does not have", strings.Join(e.Terms, ", "), q[1], w)
					}
				}
			}
		}
	}
	if forms < 40 {
		t.Errorf("only %d forms were read", forms)
	}
}

// label is the label of a paragraph.
var label = regexp.MustCompile(`^\*\*(\w+)\.\*\* `)

// TestEntriesHaveTheirParts: each entry of a construct says how it is written or what it means, and shows it.
func TestEntriesHaveTheirParts(t *testing.T) {
	for _, e := range book(t).Entries() {
		said, shown := e.Chapter == "Small words", false
		for _, p := range e.Body {
			shown = shown || p.Kind == lexicon.Block
			if p.Kind != lexicon.Paragraph || !strings.HasPrefix(p.Lines[0], "**") {
				continue
			}
			switch m := label.FindStringSubmatch(p.Lines[0]); {
			case m == nil || !slices.Contains([]string{"Written", "Meaning", "Caution"}, m[1]):
				t.Errorf("line %d: an unknown label", p.Line)
			case m[1] != "Caution":
				said = true
			}
		}
		if !said || !shown {
			t.Errorf("%s: has form or meaning: %v, has an example: %v", strings.Join(e.Terms, ", "), said, shown)
		}
	}
}

// TestHeadingsAreApart: no two entries have the same word in their headings.
func TestHeadingsAreApart(t *testing.T) {
	at := map[string]string{}
	for _, e := range book(t).Entries() {
		for _, w := range e.Terms {
			if other, ok := at[w]; ok {
				t.Errorf("`%s` is in the headings of %q and %q", w, other, strings.Join(e.Terms, ", "))
			}
			at[w] = strings.Join(e.Terms, ", ")
		}
	}
}
