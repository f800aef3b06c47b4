// What the language reference shows is so: each block of code in it is read, and played or proved where its marks say so.

package main

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"lampwarden/checker"
	"lampwarden/checker/rehearse"
	"lampwarden/lang"
	"lampwarden/lang/lexicon"
	"lampwarden/lang/resolve"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// wholeSite tells that a sample does not lean on the head.
var wholeSite = regexp.MustCompile(`(?m)^site "`)

// reference gives the book and its samples.
func reference(t *testing.T) (*lexicon.Book, []lexicon.Sample) {
	t.Helper()
	book, err := newBook()
	if err != nil {
		t.Fatal(err)
	}
	return book, book.Samples("lamp")
}

func TestReferenceSamples(t *testing.T) {
	book, samples := reference(t)
	tables := fstest.MapFS{}
	for _, s := range book.Samples("csv") {
		tables[s.Mark] = &fstest.MapFile{Data: []byte(s.Text)}
	}
	head, heads, proofs, pack := "", 0, 0, ""
	for _, s := range samples {
		if s.Mark == "head" {
			head, heads = s.Text, heads+1
		}
	}
	if heads != 1 {
		t.Fatalf("%d samples are marked as the head", heads)
	}
	for _, s := range samples {
		if s.Mark == "pack" {
			pack = s.Text
		}
		if s.Mark == "proves" || s.Mark == "fails" || s.Mark == "finds" {
			proofs++
		}
		t.Run(fmt.Sprintf("line%d", s.Line), func(t *testing.T) {
			c := sampleCheck{Sample: s, pack: pack, tables: tables}
			c.whole = s.Text
			if s.Mark != "head" && s.Mark != "pack" && !wholeSite.MatchString(s.Text) {
				c.whole = head + s.Text
			}
			c.check(t)
		})
		if s.Mark != "pack" {
			pack = ""
		}
	}
	if proofs < 20 {
		t.Errorf("only %d samples are proved", proofs)
	}
}

// sampleCheck is a sample under test.
type sampleCheck struct {
	lexicon.Sample
	whole string // with the head, if it needs that
	pack  string // the requirement pack that it may use, or ""
	// tables are the circuit schedules that it may read.
	tables fstest.MapFS
}

// firstLine is what a reader is told of a sample with a mark.
func (c *sampleCheck) firstLine() string {
	switch c.Mark {
	case "proves":
		return "# Proved.\n"
	case "fails":
		return fmt.Sprintf("# Fails: %q.\n", c.Arg)
	case "finds":
		return "# Found: " + c.Arg + ".\n"
	case "error":
		return "# Mistake: " + c.Arg + ".\n"
	case "pack":
		return "# A requirement pack.\n"
	}
	return ""
}

func (c *sampleCheck) check(t *testing.T) {
	if !strings.HasPrefix(c.Text, c.firstLine()) {
		t.Errorf("the first line is not %q", c.firstLine())
	}
	if c.Mark == "pack" {
		if _, ds := syntax.Parse((&source.Set{}).Add("example.lamp", c.Text)); len(ds) > 0 {
			t.Errorf("%v", ds)
		}
		return // its meaning is tested by the next sample
	}
	s, ds := c.load()
	if c.Mark == "error" {
		if len(ds) != 1 || string(ds[0].Code) != c.Arg {
			t.Errorf("want the diagnostic %s, got:\n%s", c.Arg, c.show(ds))
		}
		return
	}
	if len(ds) > 0 || s == nil {
		t.Fatalf("the sample has mistakes:\n%s", c.show(ds))
	}
	c.play(t, s)
	switch c.Mark {
	case "", "head":
	case "proves", "fails", "finds":
		c.prove(t, s)
	default:
		t.Errorf("unknown mark %q", c.Mark)
	}
}

// load reads the sample; diagnostics keep the places that they have in the whole text.
func (c *sampleCheck) load() (*site.Site, source.Diagnostics) {
	if c.pack == "" {
		p := lang.LoadTextIn(c.tables, "LANGUAGE.md", c.whole)
		return p.Site, p.Diagnostics
	}
	set := &source.Set{}
	f, ds := syntax.Parse(set.Add("LANGUAGE.md", c.whole))
	pack, more := syntax.Parse(set.Add("example.lamp", c.pack))
	s, meaning := resolve.ResolveWith([]*syntax.File{f}, resolve.Packs{
		Names: []string{"example"}, Files: map[string]*syntax.File{"example": pack}})
	return s, append(append(ds, more...), meaning...)
}

func (c *sampleCheck) show(ds source.Diagnostics) string {
	set := &source.Set{}
	set.Add("LANGUAGE.md", c.whole)
	var b strings.Builder
	if err := (source.Renderer{Set: set}).Write(&b, ds); err != nil {
		return err.Error()
	}
	return b.String()
}

// play holds the scenarios against what happens.
func (c *sampleCheck) play(t *testing.T, s *site.Site) {
	for i := range s.Scenarios {
		sc := &s.Scenarios[i]
		_, xs, err := rehearse.Rehearse(s, sc)
		if err != nil {
			t.Errorf("scenario %q: %v", sc.Name, err)
		}
		for _, x := range xs {
			if !x.Met {
				t.Errorf("scenario %q: not met: %s", sc.Name, s.ExprText(sc.Steps[x.Step].Expect))
			}
		}
	}
}

// prove decides the requirements and the built-in checks.
func (c *sampleCheck) prove(t *testing.T, s *site.Site) {
	rep, err := checker.Prove(t.Context(), s, checker.Options{Limits: checker.Limits{Time: 20 * time.Second}})
	if err != nil {
		t.Fatal(err)
	}
	failed := false
	for _, o := range rep.Outcomes {
		want := c.Mark != "fails" || s.Requirements[o.Requirement].Name != c.Arg
		failed = failed || !want
		holds := o.Verdict == checker.Proved || o.Verdict == checker.IsPossible || c.Arg == checker.CodeVacuous && o.Verdict == checker.Vacuous
		if holds != want || o.Verdict == checker.Undecided {
			t.Errorf("%q: the verdict is %v", s.Requirements[o.Requirement].Name, o.Verdict)
		}
	}
	if c.Mark == "fails" && !failed {
		t.Errorf("no requirement is named %q", c.Arg)
	}
	if c.Mark == "proves" && len(rep.Outcomes) == 0 {
		t.Error("the sample has no requirement")
	}
	if c.Mark == "finds" && len(rep.Findings) != 1 {
		t.Errorf("there are %d findings", len(rep.Findings))
	}
	for _, f := range rep.Findings {
		if c.Mark == "proves" || c.Mark == "finds" && f.Code != c.Arg {
			t.Errorf("unexpected finding: %s", f.Code)
		}
	}
}
