// What only the text does: lines kept together, instances told once, the table of costs.

package report

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/checker"
	"lampwarden/checker/rehearse"
	"lampwarden/checker/trace"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

func TestWrapKeepsNumbersWithTheirUnits(t *testing.T) {
	for _, c := range []struct {
		text string
		room int
		want []string
	}{
		{"asks for 70 % (line 12)", 12, []string{"asks for", "70 %", "(line 12)"}},
		{"it asks for 70 % of it", 13, []string{"it asks for", "70 % of it"}},
		{"it comes within 5 min, or", 17, []string{"it comes within", "5 min, or"}},
		{"comes before it (line 12)", 22, []string{"comes before it", "(line 12)"}},
		{"before it (lines 12 and 14)", 16, []string{"before it", "(lines 12 and", "14)"}},
		{"a line of words", 7, []string{"a line", "of", "words"}},
	} {
		if d := cmp.Diff(c.want, wrap(c.text, c.room)); d != "" {
			t.Errorf("%q at %d (-want +got):\n%s", c.text, c.room, d)
		}
	}
}

func TestOpposite(t *testing.T) {
	r := newRun(t, twoRooms)
	spots := r.s.CircuitNamed("hall_spots")
	for _, c := range []struct {
		lo, hi site.Level
		want   string
	}{
		{1, site.Full, "hall_spots off"}, {0, 0, "hall_spots lit"}, {1001, site.Full, "hall_spots at most 10 %"},
		{1000, site.Full, "hall_spots below 10 %"}, {0, 999, "hall_spots at least 10 %"}, {0, 1000, "hall_spots above 10 %"},
		{500, 2000, "not hall_spots between 5 % and 20 %"}, {0, site.Full, "not hall_spots at least 0 %"},
	} {
		e := &site.Expr{Op: site.OpLight, Circuit: spots, Lo: c.lo, Hi: c.hi}
		if got := r.s.ExprText(opposite(e)); got != c.want {
			t.Errorf("the opposite of %s is %s, want %s", r.s.ExprText(e), got, c.want)
		}
	}
}

const threeRooms = `site "Three Rooms"
supply mains
area a, b, c : guest
circuit a1 in a { dims  fed by mains }
circuit b1 in b { dims  fed by mains }
circuit c1 in c { dims  fed by mains }
presence a_pir in a
presence b_pir in b
presence c_pir in c
button key in a
mode welcome for each area x tagged guest { while presence in x, off delay 5 min  circuits in x at 60 % }
mode other { while c_pir  c1 at 10 % }
precedence other > welcome
require "well lit" for each area x tagged guest { whenever presence in x then within 2 s every circuit in x at full }
`

// Instances that fail in the same way are told once; one that fails through other lines is told in full.
func TestInstancesAlikeAreToldOnce(t *testing.T) {
	r := newRun(t, threeRooms)
	for _, a := range []string{"a", "b", "c"} {
		r.story("well lit ("+a+")", checker.Fails, rehearse.Script{Start: clock(12, 0), End: 10 * second,
			Events: []rehearse.Event{r.level(second, a+"_pir", true)}}, a+"1")
	}
	text := string(r.text(Options{Quiet: true}))
	checkText(t, text, 80)
	if n := strings.Count(text, "here the requirement is broken"); n != 2 {
		t.Errorf("%d stories are told, want 2", n)
	}
	if n := strings.Count(text, `Like "well lit (a)" above`); n != 1 {
		t.Errorf("%d instances are told as like the first, want 1", n)
	}
	if t.Failed() {
		t.Log(text)
	}
	for i, req := range Tell(r.rep, Options{}).Requirements {
		if req.Story == nil {
			t.Errorf("as data, requirement %d has no story", i)
		}
	}
}

// An ambiguity ends with the circuit, the modes between which nothing decides, and their lines.
func TestAmbiguityShowsItsEnd(t *testing.T) {
	r := newRun(t, strings.Replace(threeRooms, "precedence other > welcome\n", "", 1))
	sc := rehearse.Script{Start: clock(12, 0), End: 10 * second, Events: []rehearse.Event{r.level(second, "c_pir", true)}}
	tl, err := rehearse.Run(r.s, sc)
	if err != nil {
		t.Fatal(err)
	}
	r.rep.Findings = []checker.Finding{{Code: checker.CodeAmbiguous, Mode: site.None, Message: "nothing decides",
		Counterexample: &trace.Counterexample{Script: sc, Timeline: tl, Focus: []site.CircuitID{r.s.CircuitNamed("c1")}}}}
	text := string(r.text(Options{Quiet: true}))
	for _, want := range []string{
		"12:00:01  c_pir senses presence", "here nothing decides", "At 12:00:01 this is so:", "c1: 60 %",
		"welcome in c asks for 60 % (line 11)", "60 % or 10 % may come", "other asks for 10 % (line 12) and loses",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("nothing says %q:\n%s", want, text)
		}
	}
}

// That a setting never wins is not news of a mode that is never active.
func TestNeverActiveIsToldOnce(t *testing.T) {
	r := newRun(t, twoRooms)
	r.rep.Findings = []checker.Finding{
		{Code: checker.CodeNeverActive, Mode: 1, Message: "mode night can never become active"},
		{Code: checker.CodeNeverWins, Mode: 1, Message: "this setting of night never decides"},
		{Code: checker.CodeNeverWins, Mode: 2, Message: "this setting of welcome never decides"},
		{Code: checker.CodeNeverWins, Mode: 1, Message: "whether this setting wins is open", Undecided: true},
	}
	d := Tell(r.rep, Options{})
	if len(d.Findings) != 3 || d.Counts.Findings != 2 || d.Counts.OpenFindings != 1 {
		t.Errorf("%d findings, counts %+v", len(d.Findings), d.Counts)
	}
	text := string(r.text(Options{}))
	if n := strings.Count(text, "Whenever it asks, something else decides"); n != 1 {
		t.Errorf("never-wins is explained %d times", n)
	}
	if quiet := string(r.text(Options{Quiet: true})); !strings.Contains(quiet, "this setting of welcome never decides") {
		t.Error("a finding is lost when quiet")
	}
}

// The cost of each requirement is one line of at most 80 columns, the sum last.
func TestCosts(t *testing.T) {
	r := newRun(t, twoRooms)
	r.s.Requirements[0].Name = strings.Repeat("a very long name ", 9) + "(hall)"
	for i := range r.s.Requirements {
		r.rep.Outcomes = append(r.rep.Outcomes, checker.Outcome{Requirement: i, Verdict: checker.Proved,
			Stats: checker.Stats{Slices: i + 1, Stored: 1 << (4 * i), Transitions: 10 << (4 * i), Elapsed: 1500 * 1000 << i}})
	}
	r.rep.Stats = checker.Stats{Slices: 40, Stored: 17_895_697, Transitions: 1_789_569_706, Elapsed: 2e9, Bytes: 5e6, ByConditional: 3}
	r.rep.Checks = checker.Stats{Slices: 12, Stored: 3, Transitions: 4, Elapsed: 5000}
	o := Options{Stats: true}
	text := string(r.text(o))
	checkText(t, text, 80)
	_, table, _ := strings.Cut(text, "questions ")
	rows := strings.Split(table, "\n")[1:]
	for i := range r.s.Requirements {
		if f := strings.Fields(rows[i]); f[0] != string(rune('1'+i)) {
			t.Errorf("row %d is %q", i, rows[i])
		}
	}
	for _, want := range []string{
		"(hall)\n", "12       3          4     5 us  (built-in checks)", "1 789 569 706   2.00 s  (all; wall time)",
		"Throughput: 894 784 853 successors a second.", "at most 5 MB of zones", "conditional slice: 3; with joined zones: 0.",
	} {
		if !strings.Contains(text, want) && !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
			t.Errorf("nothing says %q", want)
		}
	}
	if t.Failed() {
		t.Log(text)
	}
	if strings.Contains(string(r.text(Options{})), "Throughput") {
		t.Error("figures that nobody asked for")
	}
}

// With several files a place names the file; a place is told once.
func TestPlaces(t *testing.T) {
	s, one := read(t, twoRooms)
	a, b := s.Modes[0].Span, s.Modes[1].Span
	if got := newTeller(s, one).at(b, a, b, source.Span{}); got != " (lines 12 and 13)" {
		t.Errorf("got %q", got)
	}
	one.Add("other/more.lamp", "area x\n")
	if got := newTeller(s, one).at(a, b); got != " (two-rooms.lamp:12 and two-rooms.lamp:13)" {
		t.Errorf("got %q", got)
	}
	if got := newTeller(s, nil).at(a, b); got != "" {
		t.Errorf("got %q without sources", got)
	}
}
