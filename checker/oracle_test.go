// The engine against the brute-force oracle over integer time, on random sites.

package checker_test

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"testing"

	"lampwarden/checker"
	"lampwarden/checker/internal/oracle"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

var (
	oracleSites = flag.Uint64("oracle-sites", 2000, "random sites compared with the brute-force oracle")
	oracleFirst = flag.Uint64("oracle-first", 0, "seed of the first of them")
)

// oracleStates bounds the oracle's first look at a question; a dispute is looked at with eight times as many.
const oracleStates = 30_000

// TestOracleAgrees compares every verdict, and every finding of each fourth site.
//
// The oracle starts with the ticks that nearly always show everything (eight a unit for "at most N times", else two),
// and makes them finer only where the engine has a run that it does not see: of a dense run with many changes within
// one unit, each needs a tick of its own.
func TestOracleAgrees(t *testing.T) {
	n := *oracleSites
	if testing.Short() {
		n = min(n, 200)
	}
	compareSites(t, n, sitegen.Options{})
}

// TestOracleAgreesOnEverything is the same with all that the language has.
func TestOracleAgreesOnEverything(t *testing.T) {
	n := *oracleSites / 2
	if testing.Short() {
		n = min(n, 100)
	}
	compareSites(t, n, sitegen.Everything())
}

func compareSites(t *testing.T, n uint64, opt sitegen.Options) {
	var mu sync.Mutex
	count := map[string]int{}
	eachSeed(*oracleFirst, n, func(seed uint64) {
		c := newComparison(sitegen.Generate(seed, opt))
		c.run(seed%4 == 0)
		mu.Lock()
		defer mu.Unlock()
		for k, v := range c.count {
			count[k] += v
		}
		for _, w := range c.wrong {
			t.Errorf("seed %d: %s\n%s", seed, w, sitegen.Print(c.site))
		}
	})
	for _, k := range slices.Sorted(maps.Keys(count)) {
		t.Logf("%6d %s", count[k], k)
	}
	decided := count["proved"] + count["vacuous"] + count["impossible"]
	if failed := count["fails"] + count["possible"]; decided < int(n)/4 || failed < int(n)/4 {
		t.Errorf("too few verdicts of one kind to mean anything: %v", count)
	}
}

// TestOnceWrong are sites on which the engine once differed: a setting of a mode that was freed counted as never
// winning, a contradiction between the times of a path was blamed on the wrong clocks, and a slow ramp that a freed mode
// had begun was taken to end at once.
func TestOnceWrong(t *testing.T) {
	for _, seed := range []uint64{6644, 7148, 10511, 11015, 11624, 12195, 16014, 17484, 18758, 65411} {
		c := newComparison(sitegen.Generate(seed, sitegen.Options{}))
		c.run(true)
		for _, w := range c.wrong {
			t.Errorf("seed %d: %s\n%s", seed, w, sitegen.Print(c.site))
		}
	}
}

// TestOnceWrongWithEverything: that a battery is full again was told by a clock that the search had dropped.
func TestOnceWrongWithEverything(t *testing.T) {
	for _, seed := range []uint64{3364} {
		c := newComparison(sitegen.Generate(seed, sitegen.Everything()))
		c.run(true)
		for _, w := range c.wrong {
			t.Errorf("seed %d: %s\n%s", seed, w, sitegen.Print(c.site))
		}
	}
}

// TestCampaignOnceWrong are seeds of the campaign. A mode that was freed counted as free although it was kept, so that a
// lamp on which it acts could not be between its levels; two inputs of which only one counts as a cause were taken for
// one; the runs of two dates were compared for their length.
func TestCampaignOnceWrong(t *testing.T) {
	run := &campaign{prove: checker.Prove}
	for _, seed := range []uint64{1028456, 1140186, 1006234, 1006594, 1027482} {
		x := sampleOf(seed)
		x.findings = true
		c := run.lookAt(x, x.site())
		for _, w := range c.wrong {
			t.Errorf("seed %d: %s\n%s", seed, w, sitegen.Print(c.site))
		}
	}
}

// prover is checker.Prove, or a wrong one that a test puts in its place.
type prover func(context.Context, *site.Site, checker.Options) (*checker.Report, error)

// comparison is one site in both hands.
type comparison struct {
	ctx    context.Context
	prove  prover
	limits checker.Limits
	states int // of the oracle's first look at a question
	site   *site.Site
	report *checker.Report // nil: an internal contradiction
	count  map[string]int
	wrong  []disagreement
}

// disagreement is what two checkers say differently. Its kind stays the same when the site is made smaller.
type disagreement struct{ kind, text string }

func (d disagreement) String() string { return d.kind + ": " + d.text }

func newComparison(s *site.Site) *comparison {
	return &comparison{ctx: context.Background(), prove: checker.Prove, limits: bounds, states: oracleStates, site: s, count: map[string]int{}}
}

func (c *comparison) disagree(kind, format string, args ...any) {
	c.wrong = append(c.wrong, disagreement{kind, fmt.Sprintf(format, args...)})
}

// late counts a question that the time for a site did not suffice for, and tells whether that is what the error is.
func (c *comparison) late(err error) bool {
	if err == nil || c.ctx.Err() == nil {
		return false
	}
	c.count["stopped by the time limit"]++
	return true
}

func (c *comparison) run(findings bool) {
	numberSettings(c.site)
	rep, err := c.prove(c.ctx, c.site, checker.Options{NoFindings: !findings, Limits: c.limits, Workers: 1})
	if err != nil {
		c.disagree("contradiction", "%v", err)
		return
	}
	c.report = rep
	for i := range rep.Outcomes {
		c.outcome(&rep.Outcomes[i])
	}
	if findings {
		c.ambiguous(rep)
		c.neverActive(rep)
		c.neverWins(rep)
		c.hunting(rep)
	}
}

func (c *comparison) hunting(rep *checker.Report) {
	if open(rep, checker.CodeHunting) {
		return
	}
	for id := range c.site.Modes {
		if !rehearse.ReadsSeen(c.site, site.ModeID(id)) {
			continue
		}
		found := slices.ContainsFunc(rep.Findings, func(f checker.Finding) bool {
			return f.Code == checker.CodeHunting && f.Mode == site.ModeID(id)
		})
		c.ask("hunting of "+c.site.Modes[id].Name, found, func(o oracle.Options) (oracle.Result, error) {
			return oracle.CanHunt(c.ctx, c.site, site.ModeID(id), o)
		})
	}
}

// outcome compares one verdict.
func (c *comparison) outcome(o *checker.Outcome) {
	r := &c.site.Requirements[o.Requirement]
	if o.Verdict == checker.Undecided {
		c.count["undecided by the engine"]++
		return
	}
	said := oracle.Holds
	switch o.Verdict {
	case checker.Fails:
		said = oracle.Broken
	case checker.IsPossible:
		said = oracle.Witness
	case checker.Impossible:
		said = oracle.NoWitness
	}
	if r.Form == site.CanReturn {
		c.wayBack(r, said, o)
		return
	}
	res, err := oracle.Compare(c.ctx, c.site, r, said, oracle.Options{MaxStates: c.states})
	if errors.Is(err, oracle.ErrUnseen) {
		res, err = c.finer(r, res)
	}
	kind := fmt.Sprintf("%v of form %d", o.Verdict, r.Form)
	switch {
	case c.late(err):
		return
	case err != nil:
		c.disagree(kind, "%s: engine %v: %v (%d ticks, %d states, %+v)", r.Name, o.Verdict, err, res.Ticks, res.States, res.Run)
		return
	case res.Verdict == oracle.TooBig:
		c.count["too big for the oracle"]++
		return
	}
	c.count[o.Verdict.String()]++
	if res.Ticks > 8 || res.Ticks > 2 && r.Form != site.AtMostTimes {
		c.count["with finer ticks"]++
	}
	if o.Counterexample != nil && r.Form != site.Energy {
		c.shortest(r, o, res)
	}
	if o.Verdict == checker.Vacuous {
		res, err := oracle.CanTrigger(c.ctx, c.site, r, oracle.Options{MaxStates: c.states})
		if c.late(err) {
			return
		}
		if err != nil || res.Verdict == oracle.Witness {
			c.disagree(kind, "%s: vacuous, but the oracle makes it rise: %v, %v", r.Name, err, res.Run)
		}
	}
}

// wayBack compares the verdict on a "can always return": with finer ticks there are more moments to return from, and more
// ways back, so that the oracle may change its mind either way.
func (c *comparison) wayBack(r *site.Requirement, said oracle.Verdict, o *checker.Outcome) {
	for ticks := 2; ; ticks *= 2 {
		res, err := oracle.Check(c.ctx, c.site, r, oracle.Options{MaxStates: ticks * c.states, TicksPerUnit: ticks})
		kind := fmt.Sprintf("%v of form %d", o.Verdict, r.Form)
		switch {
		case c.late(err):
		case err != nil:
			c.disagree(kind, "%s: %v", r.Name, err)
		case res.Verdict == oracle.TooBig:
			c.count["too big for the oracle"]++
		case res.Verdict == said:
			c.count["ways back: "+o.Verdict.String()]++
		case ticks < 16:
			continue
		default:
			c.disagree(kind, "%s: engine %v, oracle %v with %d ticks: %+v", r.Name, o.Verdict, res.Verdict, ticks, res.Run)
		}
		return
	}
}

// finer looks once more for a run that the oracle did not see, with as many ticks and states as a test can afford.
func (c *comparison) finer(r *site.Requirement, res oracle.Result) (oracle.Result, error) {
	for ticks := 2 * res.Ticks; ticks <= 64; ticks *= 2 {
		finer, err := oracle.Check(c.ctx, c.site, r, oracle.Options{MaxStates: 50 * c.states, TicksPerUnit: ticks})
		if err != nil || finer.Verdict == oracle.Broken || finer.Verdict == oracle.Witness || finer.Verdict == oracle.TooBig {
			return finer, err
		}
	}
	return res, oracle.ErrUnseen
}

// shortest checks that no run of the oracle needs fewer departures than the engine's. An input away from rest at
// start-up counts one and a half. Of a site with dates the engine shows a run of the first date that has one, and the
// oracle may see, with its ticks, only one of a later date; such runs are not compared.
func (c *comparison) shortest(r *site.Requirement, o *checker.Outcome, res oracle.Result) {
	sc, run, theirs := o.Counterexample.Script, res.Run, 0
	if len(c.site.Dates) > 0 && o.Counterexample.Timeline.Site.Date != c.site.Dates[res.Date].Name {
		c.count["runs of other dates"]++
		return
	}
	for _, st := range run {
		theirs += 3 * len(st.Initial)
		if st.Kind == oracle.Change {
			theirs += 2
		}
		if st.Jump != 0 {
			theirs += 2
		}
	}
	c.count["runs compared"]++
	if ours := 2*len(sc.Events) + 2*len(sc.Jumps) + 3*len(sc.Initial); ours > theirs {
		c.disagree("length of a run", "%s: the engine's run is not the shortest: %+v, oracle %+v", r.Name, sc, run)
	} else if ours < theirs {
		c.count["runs shorter than the oracle's"]++
	}
}

// ask asks the oracle whether something can be reached, with finer ticks if the engine says so and they do not show it.
func (c *comparison) ask(what string, engine bool, ask func(oracle.Options) (oracle.Result, error)) {
	opt, kind := oracle.Options{MaxStates: c.states}, "finding: "+strings.Fields(what)[0]
	for opt.TicksPerUnit = 2; opt.TicksPerUnit <= 16; opt.TicksPerUnit *= 2 {
		res, err := ask(opt)
		switch {
		case c.late(err):
			return
		case err != nil:
			c.disagree(kind, "%s: %v", what, err)
			return
		case res.Verdict == oracle.TooBig:
			c.count["findings too big for the oracle"]++
			return
		case engine == (res.Verdict == oracle.Witness):
			c.count["findings"]++
			if opt.TicksPerUnit > 2 {
				c.count["findings with finer ticks"]++
			}
			return
		case !engine:
			c.disagree(kind, "%s: excluded by the engine, but reached by the oracle: %+v", what, res.Run)
			return
		}
		opt.MaxStates = 8 * c.states
	}
	c.disagree(kind, "%s: reached by the engine, but not by the oracle", what)
}

// open tells whether the engine left a finding of a code undecided; the others are then not compared.
func open(rep *checker.Report, code string) bool {
	return slices.ContainsFunc(rep.Findings, func(f checker.Finding) bool { return f.Code == code && f.Undecided })
}

func (c *comparison) ambiguous(rep *checker.Report) {
	if open(rep, checker.CodeAmbiguous) {
		return
	}
	for id := range c.site.Circuits {
		found := slices.ContainsFunc(rep.Findings, func(f checker.Finding) bool {
			return f.Code == checker.CodeAmbiguous && slices.Equal(f.Counterexample.Focus, []site.CircuitID{site.CircuitID(id)})
		})
		c.ask("ambiguous "+c.site.Circuits[id].Name, found, func(o oracle.Options) (oracle.Result, error) {
			return oracle.CanBeAmbiguous(c.ctx, c.site, site.CircuitID(id), o)
		})
	}
}

func (c *comparison) neverActive(rep *checker.Report) {
	if open(rep, checker.CodeNeverActive) {
		return
	}
	for id := range c.site.Modes {
		if c.site.Modes[id].Plant {
			continue
		}
		name := c.site.Modes[id].Name
		dead := slices.ContainsFunc(rep.Findings, func(f checker.Finding) bool {
			return f.Code == checker.CodeNeverActive && strings.HasPrefix(f.Message, "mode "+name+" can never")
		})
		c.ask("active "+name, !dead, func(o oracle.Options) (oracle.Result, error) {
			return oracle.CanBeActive(c.ctx, c.site, site.ModeID(id), o)
		})
	}
}

// eachSetting calls f for every setting of the site.
func eachSetting(s *site.Site, f func(m, state, stage, setting int, set *site.Setting)) {
	for m := range s.Modes {
		for i := range s.Modes[m].States {
			for j := range s.Modes[m].States[i].Stages {
				for k := range s.Modes[m].States[i].Stages[j].Settings {
					f(m, i, j, k, &s.Modes[m].States[i].Stages[j].Settings[k])
				}
			}
		}
	}
}

// numberSettings gives each setting a place of its own, by which a finding names it.
func numberSettings(s *site.Site) {
	n := int32(0)
	eachSetting(s, func(_, _, _, _ int, set *site.Setting) {
		n++
		set.Span = source.Span{File: 1, Start: n, End: n}
	})
}

func (c *comparison) neverWins(rep *checker.Report) {
	if open(rep, checker.CodeNeverWins) {
		return
	}
	eachSetting(c.site, func(m, i, j, k int, set *site.Setting) {
		if len(set.Circuits) == 0 {
			return
		}
		never := slices.ContainsFunc(rep.Findings, func(f checker.Finding) bool {
			return f.Code == checker.CodeNeverWins && f.Span == set.Span
		})
		c.ask(fmt.Sprintf("setting %d of stage %d of state %d of %s wins", k, j, i, c.site.Modes[m].Name), !never,
			func(o oracle.Options) (oracle.Result, error) {
				return oracle.CanWin(c.ctx, c.site, site.ModeID(m), i, j, k, o)
			})
	})
}

// TestDisputeIsSettledByFinerTicks: within one pulse any number of taps may come. With two ticks a unit the oracle has
// room for one, and with four for three.
func TestDisputeIsSettledByFinerTicks(t *testing.T) {
	s := load(t, `
		switch go
		button key
		mode pulse { while go, pulse 1 s }
		mode counter {
			states none, one, two, three
			on tap key if pulse: none -> one -> two -> three
			on not pulse: -> none
		}
		require "three" { counter in three is possible }`)
	r, ctx := &s.Requirements[0], context.Background()
	for ticks, want := range map[int]oracle.Verdict{2: oracle.NoWitness, 4: oracle.Witness} {
		if res, err := oracle.Check(ctx, s, r, oracle.Options{TicksPerUnit: ticks}); err != nil || res.Verdict != want {
			t.Errorf("%d ticks: %v, %v", ticks, res.Verdict, err)
		}
	}
	if v := prove(t, s, checker.Options{}).Outcomes[0].Verdict; v != checker.IsPossible {
		t.Fatalf("engine: %v", v)
	}
	if res, err := oracle.Compare(ctx, s, r, oracle.Witness, oracle.Options{}); err != nil || res.Ticks != 4 {
		t.Errorf("compared: %v with %d ticks, %v", res.Verdict, res.Ticks, err)
	}
	var d *oracle.Disagreement
	if _, err := oracle.Compare(ctx, s, r, oracle.NoWitness, oracle.Options{TicksPerUnit: 4}); !errors.As(err, &d) {
		t.Errorf("a wrong verdict passes: %v", err)
	}
}
