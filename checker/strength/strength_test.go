// A survey of small sites, and what every survey has to keep to.

package strength_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"lampwarden/checker"
	"lampwarden/checker/strength"
	"lampwarden/lang"
	"lampwarden/lang/site"
)

// small has rules on which a requirement depends, one on which none does, and one that makes no difference.
const small = `site "s"
supply mains
battery ups { capacity 100 Wh  charged by mains }
area hall : escape
area den
circuit spots in hall { dims  fed by ups }
circuit lamp in den { switches  fed by mains }
presence pir in hall
presence den_pir in den
alarm fire
mode fire_alarm { while fire  all circuits full }
mode power_cut { while mains lost  spots full  lamp off }
mode walk { while presence in hall, off delay 5 min  spots at 60 % }
mode cosy { while presence in den, off delay 5 min  lamp full }
precedence fire_alarm > power_cut > walk > cosy
assume never ups flat
assume changes of fire at least 2 s apart
require "fire lights all" {
    whenever fire and mains live
    then within 1 s every circuit in escape areas at full and lamp lit
    until not fire or mains lost
}
require "a power cut lights the hall" { whenever mains lost then within 1 s spots at full until mains live }
require "the hold ends" { walk and not presence in hall lasts at most 5 min }
require "the den can be lit" { lamp lit and not fire is possible }
`

func load(t *testing.T, text string) *lang.Project {
	t.Helper()
	p := lang.LoadText("site.lamp", text)
	if len(p.Diagnostics) > 0 {
		var b strings.Builder
		_ = p.WriteDiagnostics(&b, false)
		t.Fatal(b.String())
	}
	return p
}

func survey(t *testing.T, s *site.Site, workers int, what strength.Options) *strength.Report {
	t.Helper()
	r, err := checker.Strength(context.Background(), s, checker.Options{Workers: workers}, what)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// lines tells every fate: "rule / change (where): fate by whom".
func lines(r *strength.Report) (out []string) {
	for i := range r.Mutants {
		m, o := &r.Mutants[i], &r.Outcomes[i]
		by := o.Check + m.Same
		if o.Requirement != site.None {
			by = r.Site.Requirements[o.Requirement].Name
		}
		out = append(out, fmt.Sprintf("%s / %s: %s %s", r.Rules[m.Rule].Text, m.What, o.Fate, by))
	}
	return out
}

func TestFates(t *testing.T) {
	got := strings.Join(lines(survey(t, load(t, small).Site, 1, strength.Options{})), "\n")
	for _, want := range []string{
		"fire_alarm: while fire / the mode left out: caught fire lights all",
		"fire_alarm: all circuits full / off instead of full: caught fire lights all",
		"spots: fed by ups / fed by mains instead: caught a power cut lights the hall",
		"spots: no fade / fade 10 s instead: caught a power cut lights the hall",
		"power_cut: spots full / left out: caught a power cut lights the hall",
		"walk: off delay 5 min / 10 min instead of 5 min: caught the hold ends",
		"walk: off delay 5 min / 150 s instead of 5 min: survives ",
		"walk: spots 60 % / left out: survives ",
		"cosy: while presence in den / the mode left out: caught the den can be lit",
		"cosy: off delay 5 min / none: survives ",
		"fire_alarm > power_cut / the other way round: equivalent the lamps have no current when both ask",
		"fire_alarm > power_cut / the two left without order: caught by a built-in check ambiguous",
		"power_cut > walk / the other way round: caught a power cut lights the hall",
		"power_cut > walk / the two left without order: caught a power cut lights the hall",
		"walk > cosy / the other way round: equivalent the two never ask for the same circuit",
		"power_cut: lamp off / left out: equivalent the lamps have no current whenever this mode asks",
		"power_cut: lamp off / full instead of off: equivalent the lamps have no current whenever this mode asks",
	} {
		if !strings.Contains(got+"\n", want+"\n") {
			t.Errorf("missing: %s", want)
		}
	}
	if t.Failed() {
		t.Log(got)
	}
}

// What is found does not hang on the number of workers.
func TestWorkers(t *testing.T) {
	s := load(t, small).Site
	if d := cmp.Diff(lines(survey(t, s, 1, strength.Options{})), lines(survey(t, s, 2, strength.Options{}))); d != "" {
		t.Error(d)
	}
}

// A requirement that the site itself breaks cannot notice anything, and is told.
func TestUnfit(t *testing.T) {
	s := load(t, small+`require "no light" { never lamp lit }`+"\n").Site
	r := survey(t, s, 1, strength.Options{NoChecks: true})
	if len(r.Unfit) != 1 || s.Requirements[r.Unfit[0]].Name != "no light" {
		t.Errorf("unfit: %v", r.Unfit)
	}
	for i, o := range r.Outcomes {
		if o.Requirement == r.Unfit[0] {
			t.Errorf("%s is caught by it", r.Mutants[i].What)
		}
	}
}

// A stopped survey says so, and counts nothing as looked at that was not.
func TestStopped(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Nanosecond)
	defer cancel()
	r, err := checker.Strength(ctx, load(t, small).Site, checker.Options{}, strength.Options{})
	if err != nil {
		t.Fatal(err)
	}
	c := r.Count(func(*strength.Mutant) bool { return true })
	if !r.Stopped || c.By[strength.NotReached] != c.All || c.All == 0 {
		t.Errorf("stopped %v, %+v", r.Stopped, c)
	}
}

// A new finding counts apart from requirements.
func TestCaughtByCheck(t *testing.T) {
	got := strings.Join(lines(survey(t, load(t, `site "s"
area hall
circuit spots in hall { dims }
presence pir in hall
switch late in hall
mode welcome { while presence in hall  spots at 60 % }
mode night { while late  spots at 5 % }
precedence night > welcome
`).Site, 1, strength.Options{})), "\n")
	for _, want := range []string{
		"night > welcome / the two left without order: caught by a built-in check ambiguous",
		"night > welcome / the other way round: survives ",
		"night: while late / the mode left out: caught by a built-in check never-active",
	} {
		if !strings.Contains(got+"\n", want+"\n") {
			t.Errorf("missing: %s in\n%s", want, got)
		}
	}
}
