// Limits and cancellation: what is not decided is undecided, and says why.

package checker_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"lampwarden/checker"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/lang/site"
)

// wideSite has n holds of different lengths on one lamp, which is lit while any of them lasts: to prove that, every order
// of their ends has to be looked at.
func wideSite(t testing.TB, n int, switches bool) *site.Site {
	var b strings.Builder
	b.WriteString("area hall\ncircuit lamp in hall { switches }\nswitch s0\n")
	var modes, over []string
	for i := range n {
		sw := "s0"
		if switches && i > 0 {
			sw = fmt.Sprintf("s%d", i)
			fmt.Fprintf(&b, "switch %s\n", sw)
		}
		fmt.Fprintf(&b, "mode m%d { while %s, off delay %d s  lamp full }\n", i, sw, 7*i+11)
		modes, over = append(modes, fmt.Sprintf("m%d", i)), append(over, fmt.Sprintf("m%d", i))
	}
	fmt.Fprintf(&b, "precedence %s\n", strings.Join(over, " > "))
	fmt.Fprintf(&b, "require \"lit\" { never (%s) and lamp off }\n", strings.Join(modes, " or "))
	fmt.Fprintf(&b, "require \"easy\" { never m0 and not m0 }\n")
	return load(t, b.String())
}

// TestLimitsEndInUndecided: each limit is named, with how far the search got.
func TestLimitsEndInUndecided(t *testing.T) {
	s := wideSite(t, 12, true)
	for _, c := range []struct {
		name   string
		limits checker.Limits
		says   []string
	}{
		{"states", checker.Limits{States: 100}, []string{"limit of states reached after", "zones in", "discrete states"}},
		{"memory", checker.Limits{Memory: 100_000}, []string{"limit of memory reached after", "zones in", "discrete states"}},
		{"time", checker.Limits{Time: 50 * time.Millisecond}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			start := time.Now()
			rep, err := checker.Prove(context.Background(), s, checker.Options{Limits: c.limits, NoFindings: true, Structural: true})
			if err != nil {
				t.Fatal(err)
			}
			if d := time.Since(start); d > 10*time.Second {
				t.Errorf("it took %v", d)
			}
			o := rep.Outcomes[0]
			if o.Verdict != checker.Undecided || o.Reason == "" || o.Counterexample != nil {
				t.Fatalf("%v because %q", o.Verdict, o.Reason)
			}
			for _, w := range c.says {
				if !strings.Contains(o.Reason, w) {
					t.Errorf("the reason %q does not say %q", o.Reason, w)
				}
			}
			if rep.Cancelled {
				t.Error("a limit counts as a cancellation")
			}
			if v := rep.Outcomes[1].Verdict; c.limits.Time == 0 && v != checker.Proved {
				t.Errorf("the easy requirement is %v", v)
			}
			if rep.Stats.Stored == 0 {
				t.Errorf("no cost: %+v", rep.Stats)
			}
		})
	}
}

// TestNothingIsProvedByOmission: without time, nothing is decided, and every check says so; the same when cancelled before
// it began.
func TestNothingIsProvedByOmission(t *testing.T) {
	p := loadPaths(t, guesthouse)
	cancelled, cancel := context.WithCancel(context.Background())
	cancel()
	for name, run := range map[string]func() (*checker.Report, error){
		"no time": func() (*checker.Report, error) {
			return checker.Prove(context.Background(), p.Site, checker.Options{Limits: checker.Limits{Time: 1}})
		},
		"cancelled": func() (*checker.Report, error) { return checker.Prove(cancelled, p.Site, checker.Options{}) },
	} {
		start := time.Now()
		rep, err := run()
		if err != nil {
			t.Fatal(err)
		}
		if d := time.Since(start); d > 5*time.Second {
			t.Errorf("%s: it took %v", name, d)
		}
		if len(rep.Outcomes) != len(p.Site.Requirements) {
			t.Errorf("%s: %d outcomes", name, len(rep.Outcomes))
		}
		for _, o := range rep.Outcomes {
			if o.Verdict != checker.Undecided || o.Reason == "" {
				t.Errorf("%s: %s is %v because %q", name, p.Site.Requirements[o.Requirement].Name, o.Verdict, o.Reason)
			}
		}
		open := 0
		for _, f := range rep.Findings {
			if !f.Undecided || f.Message == "" {
				t.Errorf("%s: found without a search: %+v", name, f)
			}
			open++
		}
		settings := 0
		eachSetting(p.Site, func(_, _, _, _ int, _ *site.Setting) { settings++ })
		if open < len(p.Site.Modes)+settings {
			t.Errorf("%s: only %d checks are said to be open, of %d modes and %d settings", name, open, len(p.Site.Modes), settings)
		}
		if rep.Cancelled != (name == "cancelled") {
			t.Errorf("%s: cancelled %v", name, rep.Cancelled)
		}
	}
}

// TestOpenChecksAreNotCalledCancelled: a check that a limit of time leaves open says how far it got, and not that somebody
// cancelled it.
func TestOpenChecksAreNotCalledCancelled(t *testing.T) {
	var b, held strings.Builder
	b.WriteString("area hall\ncircuit lamp in hall { switches }\nbutton key\nmode fake { starts on tap key if key_on and not key_on }\n")
	b.WriteString("switch key_on\n")
	for i := range 20 {
		fmt.Fprintf(&b, "switch s%d\nmode m%d { while s%d, off delay %d s }\n", i, i, i, 7*i+11)
		fmt.Fprintf(&held, " or m%d", i)
	}
	fmt.Fprintf(&b, "mode dead { while fake and (key_on%s)  lamp full }\n", held.String())
	rep, err := checker.Prove(context.Background(), load(t, b.String()), checker.Options{Limits: checker.Limits{Time: 2 * time.Second}})
	if err != nil {
		t.Fatal(err)
	}
	open := 0
	for _, f := range rep.Findings {
		if f.Undecided && strings.Contains(f.Message, "mode dead") {
			open++
			if strings.Contains(f.Message, "cancelled") || !strings.Contains(f.Message, "zones in") {
				t.Error(f.Message)
			}
		}
	}
	if open != 1 {
		t.Errorf("%d open checks of the dead mode: %+v", open, rep.Findings)
	}
}

// TestCancelReturnsWhatWasDecided cancels a moment after the first question is decided, in the middle of a search that would
// take hours.
func TestCancelReturnsWhatWasDecided(t *testing.T) {
	s := wideSite(t, 20, true)
	s.Requirements = []site.Requirement{s.Requirements[1], s.Requirements[0], s.Requirements[0]}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	var once sync.Once
	stopped := make(chan time.Time, 1)
	rep, err := checker.Prove(ctx, s, checker.Options{Workers: 2, NoFindings: true, Structural: true, Progress: func(done, total int) {
		if done < 1 || done > total {
			t.Errorf("%d of %d done", done, total)
		}
		once.Do(func() {
			time.AfterFunc(200*time.Millisecond, func() { stopped <- time.Now(); cancel() })
		})
	}})
	if err != nil {
		t.Fatal(err)
	}
	if ctx.Err() == nil {
		t.Fatal("it ended before it was cancelled")
	}
	if d := time.Since(<-stopped); d > 5*time.Second {
		t.Errorf("it returned %v after it was cancelled", d)
	}
	if !rep.Cancelled {
		t.Error("the report does not say that it was cancelled")
	}
	want := []checker.Verdict{checker.Proved, checker.Undecided, checker.Undecided}
	for i, o := range rep.Outcomes {
		if o.Verdict != want[i] || (o.Verdict == checker.Undecided) != (o.Reason != "") {
			t.Errorf("requirement %d is %v because %q, want %v", i, o.Verdict, o.Reason, want[i])
		}
	}
}

// TestTooWide: a question with more timers than the engine can label is undecided and says so; those beside it are decided.
func TestTooWide(t *testing.T) {
	rep, err := checker.Prove(context.Background(), wideSite(t, 43, false), checker.Options{NoFindings: true, Structural: true})
	if err != nil {
		t.Fatal(err)
	}
	o := rep.Outcomes[0]
	if o.Verdict != checker.Undecided || !strings.Contains(o.Reason, "43 timers, at most 34") {
		t.Errorf("%v because %q", o.Verdict, o.Reason)
	}
	if v := rep.Outcomes[1].Verdict; v != checker.Proved {
		t.Errorf("the easy requirement is %v", v)
	}
}

// TestMoreThanAFieldHolds: a mode with more states, parts, times or ramps than the engine can number is left undecided.
func TestMoreThanAFieldHolds(t *testing.T) {
	list := func(n int, sep, format string) string {
		var parts []string
		for i := range n {
			parts = append(parts, strings.ReplaceAll(format, "#", fmt.Sprint(i+1)))
		}
		return strings.Join(parts, sep)
	}
	for _, c := range []struct{ mode, says string }{
		{"mode m { states q0, " + list(299, ", ", "q#") + "  on tap key: q0" + list(299, "", " -> q#") + "  in q299: lamp at 7 % }", "300 states of one mode, at most 256"},
		{"mode m { while s  first " + list(34, " then ", "for 1999 s flash lamp at # %, 1 s on, 1 s off") + "  then lamp at 7 % }", "parts of one sequence, at most 65536"},
		{"mode m { states q0, q1  " + list(300, " ", "after # s if s: q0 -> q1") + "  in q1: lamp at 7 % }", "300 times in one state, at most 255"},
		{"mode m { while s  first " + list(300, " then ", "for 1 min lamp ramp to 50 % over # s") + "  then lamp at 7 % }", "301 lengths of a ramp on one circuit, at most 256"},
	} {
		s := load(t, "area hall circuit lamp in hall { dims } button key switch s\n"+c.mode+"\nrequire \"never\" { never lamp at 7 % }")
		for _, structural := range []bool{false, true} {
			rep, err := checker.Prove(context.Background(), s, checker.Options{NoFindings: true, Structural: structural})
			if err != nil {
				t.Fatal(err)
			}
			if o := rep.Outcomes[0]; o.Verdict != checker.Undecided || !strings.Contains(o.Reason, c.says) {
				t.Errorf("%v because %q, want %q", o.Verdict, o.Reason, c.says)
			}
		}
	}
}

// TestSmallLimitsNeverChangeAVerdict: with next to no states a verdict is the one without limits, or undecided.
func TestSmallLimitsNeverChangeAVerdict(t *testing.T) {
	var mu sync.Mutex
	undecided, decided := 0, 0
	eachSeed(500, 150, func(seed uint64) {
		s := sitegen.Generate(seed, sitegen.Options{})
		numberSettings(s)
		whole := proveWithin(t, s, bounds, checker.Options{})
		for _, n := range []int{1, 3, 10, 40} {
			rep := proveWithin(t, s, checker.Limits{States: n}, checker.Options{})
			mu.Lock()
			for i, o := range rep.Outcomes {
				if o.Verdict == checker.Undecided {
					undecided++
				} else if decided++; o.Verdict != whole.Outcomes[i].Verdict && whole.Outcomes[i].Verdict != checker.Undecided {
					if o.Verdict == checker.Proved && whole.Outcomes[i].Verdict == checker.Vacuous {
						continue // that it never happens was not decided
					}
					t.Errorf("seed %d: %v with %d states, else %v\n%s", seed, o.Verdict, n, whole.Outcomes[i].Verdict, sitegen.Print(s))
				}
			}
			for _, f := range rep.Findings {
				same := func(g checker.Finding) bool { return about(f) == about(g) }
				if !f.Undecided && !slices.ContainsFunc(whole.Findings, same) {
					t.Errorf("seed %d: with %d states it finds %s\n%s", seed, n, f.Message, sitegen.Print(s))
				}
			}
			mu.Unlock()
		}
	})
	if undecided < 100 || decided < 100 {
		t.Errorf("%d undecided, %d decided: nothing to compare", undecided, decided)
	}
}

// about tells what a finding is about, leaving out how it comes about.
func about(f checker.Finding) string {
	switch {
	case f.Counterexample != nil:
		return fmt.Sprint(f.Code, f.Counterexample.Focus)
	case f.Code == checker.CodeNeverWins:
		return fmt.Sprint(f.Code, f.Span)
	}
	return f.Code + f.Message
}

// TestAllMemoryForOneQuestion: a question that is alone at work has the whole of the memory, however many workers there are.
func TestAllMemoryForOneQuestion(t *testing.T) {
	s := wideSite(t, 16, true)
	s.Requirements = s.Requirements[:1]
	s.Requirements[0].Form = site.Possible // which is one question
	const limit = 4 << 20
	for _, workers := range []int{1, 4} {
		rep, err := checker.Prove(context.Background(), s, checker.Options{Limits: checker.Limits{Memory: limit}, Workers: workers, NoFindings: true, Structural: true})
		if err != nil {
			t.Fatal(err)
		}
		o := rep.Outcomes[0]
		if !strings.Contains(o.Reason, "limit of memory") || o.Stats.Bytes < limit || o.Stats.Bytes > limit+limit/10 {
			t.Errorf("%d workers: %s, with %d bytes of %d", workers, o.Reason, o.Stats.Bytes, limit)
		}
	}
}
