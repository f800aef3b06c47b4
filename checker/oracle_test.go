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
		c := &comparison{seed: seed, opt: opt, count: map[string]int{}}
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
		c := &comparison{seed: seed, count: map[string]int{}}
		c.run(true)
		for _, w := range c.wrong {
			t.Errorf("seed %d: %s\n%s", seed, w, sitegen.Print(c.site))
		}
	}
}

// TestOnceWrongWithEverything: that a battery is full again was told by a clock that the search had dropped.
func TestOnceWrongWithEverything(t *testing.T) {
	for _, seed := range []uint64{3364} {
		c := &comparison{seed: seed, opt: sitegen.Everything(), count: map[string]int{}}
		c.run(true)
		for _, w := range c.wrong {
			t.Errorf("seed %d: %s\n%s", seed, w, sitegen.Print(c.site))
		}
	}
}

// comparison is one site in both hands.
type comparison struct {
	seed  uint64
	opt   sitegen.Options
	site  *site.Site
	count map[string]int
	wrong []string
}

func (c *comparison) errorf(format string, args ...any) {
	c.wrong = append(c.wrong, fmt.Sprintf(format, args...))
}

func (c *comparison) run(findings bool) {
	c.site = sitegen.Generate(c.seed, c.opt)
	numberSettings(c.site)
	rep, err := checker.Prove(context.Background(), c.site, checker.Options{NoFindings: !findings, Limits: bounds, Workers: 1})
	if err != nil {
		c.errorf("%v", err)
		return
	}
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
			return oracle.CanHunt(context.Background(), c.site, site.ModeID(id), o)
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
	res, err := oracle.Compare(context.Background(), c.site, r, said, oracle.Options{MaxStates: oracleStates})
	if errors.Is(err, oracle.ErrUnseen) {
		res, err = c.finer(r, res)
	}
	switch {
	case err != nil:
		c.errorf("%s: engine %v: %v (%d ticks, %d states, %+v)", r.Name, o.Verdict, err, res.Ticks, res.States, res.Run)
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
		c.shortest(r, o, res.Run)
	}
	if o.Verdict == checker.Vacuous {
		res, err := oracle.CanTrigger(context.Background(), c.site, r, oracle.Options{MaxStates: oracleStates})
		if err != nil || res.Verdict == oracle.Witness {
			c.errorf("%s: vacuous, but the oracle makes it rise: %v, %v", r.Name, err, res.Run)
		}
	}
}

// wayBack compares the verdict on a "can always return": with finer ticks there are more moments to return from, and more
// ways back, so that the oracle may change its mind either way.
func (c *comparison) wayBack(r *site.Requirement, said oracle.Verdict, o *checker.Outcome) {
	for ticks := 2; ; ticks *= 2 {
		res, err := oracle.Check(context.Background(), c.site, r, oracle.Options{MaxStates: ticks * oracleStates, TicksPerUnit: ticks})
		switch {
		case err != nil:
			c.errorf("%s: %v", r.Name, err)
		case res.Verdict == oracle.TooBig:
			c.count["too big for the oracle"]++
		case res.Verdict == said:
			c.count["ways back: "+o.Verdict.String()]++
		case ticks < 16:
			continue
		default:
			c.errorf("%s: engine %v, oracle %v with %d ticks: %+v", r.Name, o.Verdict, res.Verdict, ticks, res.Run)
		}
		return
	}
}

// finer looks once more for a run that the oracle did not see, with as many ticks and states as a test can afford.
func (c *comparison) finer(r *site.Requirement, res oracle.Result) (oracle.Result, error) {
	for ticks := 2 * res.Ticks; ticks <= 64; ticks *= 2 {
		finer, err := oracle.Check(context.Background(), c.site, r, oracle.Options{MaxStates: 50 * oracleStates, TicksPerUnit: ticks})
		if err != nil || finer.Verdict == oracle.Broken || finer.Verdict == oracle.Witness || finer.Verdict == oracle.TooBig {
			return finer, err
		}
	}
	return res, oracle.ErrUnseen
}

// shortest checks that no run of the oracle needs fewer departures than the engine's. An input away from rest at
// start-up counts one and a half.
func (c *comparison) shortest(r *site.Requirement, o *checker.Outcome, run []oracle.Step) {
	sc, theirs := o.Counterexample.Script, 0
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
		c.errorf("%s: the engine's run is not the shortest: %+v, oracle %+v", r.Name, sc, run)
	} else if ours < theirs {
		c.count["runs shorter than the oracle's"]++
	}
}

// ask asks the oracle whether something can be reached, with finer ticks if the engine says so and they do not show it.
func (c *comparison) ask(what string, engine bool, ask func(oracle.Options) (oracle.Result, error)) {
	opt := oracle.Options{MaxStates: oracleStates}
	for opt.TicksPerUnit = 2; opt.TicksPerUnit <= 16; opt.TicksPerUnit *= 2 {
		res, err := ask(opt)
		switch {
		case err != nil:
			c.errorf("%s: %v", what, err)
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
			c.errorf("%s: excluded by the engine, but reached by the oracle: %+v", what, res.Run)
			return
		}
		opt.MaxStates = 8 * oracleStates
	}
	c.errorf("%s: reached by the engine, but not by the oracle", what)
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
			return oracle.CanBeAmbiguous(context.Background(), c.site, site.CircuitID(id), o)
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
			return oracle.CanBeActive(context.Background(), c.site, site.ModeID(id), o)
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
				return oracle.CanWin(context.Background(), c.site, site.ModeID(m), i, j, k, o)
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
