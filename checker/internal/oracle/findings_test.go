// Findings: known ones, and random ones against the interpreter.

package oracle_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"lampwarden/checker/internal/oracle"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

func answer(t *testing.T, want oracle.Verdict) func(oracle.Result, error) {
	return func(r oracle.Result, err error) {
		t.Helper()
		if err != nil || r.Verdict != want {
			t.Errorf("%v (%v), want %v", r.Verdict, err, want)
		}
	}
}

func TestKnownFindings(t *testing.T) {
	ctx, o := t.Context(), oracle.Options{}
	a, b := asks(while(input(sw)), level(3000)), asks(while(input(sw2)), level(6000))
	answer(t, witness)(oracle.CanBeAmbiguous(ctx, build(a, b), lamp, o))
	answer(t, noWitness)(oracle.CanBeAmbiguous(ctx, rule(build(a, b), site.Highest), lamp, o))
	same := asks(while(input(sw2)), level(3000))
	answer(t, noWitness)(oracle.CanBeAmbiguous(ctx, build(a, same), lamp, o))
	one := assuming(build(a, b), site.Assumption{Kind: site.AtMost, Inputs: []site.InputID{sw, sw2}, N: 1})
	answer(t, noWitness)(oracle.CanBeAmbiguous(ctx, one, lamp, o))

	hidden := build(a, asks(while(and(input(sw), input(sw2))), level(6000)))
	hidden.Precedence.Above[0][1] = true
	answer(t, witness)(oracle.CanBeActive(ctx, hidden, 1, o))
	answer(t, noWitness)(oracle.CanWin(ctx, hidden, 1, 0, 0, 0, o))
	answer(t, witness)(oracle.CanWin(ctx, hidden, 0, 0, 0, 0, o))
	answer(t, witness)(oracle.CanWin(ctx, build(a, same), 1, 0, 0, 0, o))
	answer(t, noWitness)(oracle.CanBeActive(ctx, build(while(and(input(sw), not(input(sw))))), 0, o))
	answer(t, witness)(oracle.CanRise(ctx, build(), tap(), o))
	answer(t, noWitness)(oracle.CanRise(ctx, build(), and(tap(), not(tap())), o))
}

// wins tells whether the setting decides a request after some step.
func wins(tl *rehearse.Timeline, at place) bool {
	for i, st := range tl.Steps {
		for c := range tl.Site.Circuits {
			for _, w := range tl.Reason(i, site.CircuitID(c)).Winners {
				if st.Reaction && (place{w.Mode, w.State, w.Stage, w.Setting}) == at {
					return true
				}
			}
		}
	}
	return false
}

// place is where a setting stands.
type place struct {
	mode                  site.ModeID
	state, stage, setting int
}

// TestFindingsAgainstInterpreter asks, for random sites, for the ambiguity of
// the first circuit, the first win of some setting, and hunting. A witness must be one for
// the interpreter; where there is none no random rehearsal may have one.
func TestFindingsAgainstInterpreter(t *testing.T) {
	so, _ := options()
	found := findings(t, *seeds, so)
	if *seeds >= 300 && len(found) < 2 {
		t.Errorf("only %v came up", found)
	}
	findings(t, *seeds/10, sitegen.Everything())
}

// TestHuntingAgainstInterpreter takes sites with daylight only.
func TestHuntingAgainstInterpreter(t *testing.T) {
	so, oo := options()
	so.DaylightPercent, so.SightPercent, so.ClockPercent, so.MaxModes = 100, 100, 10, 2
	found := map[string]int{}
	for seed := *firstSeed; seed < *firstSeed+*seeds/2; seed++ {
		hunts(t, sitegen.Generate(seed, so), seed, oo, found)
	}
	t.Log(found)
	if *seeds >= 300 && found["witness"] < 5 {
		t.Errorf("only %v came up", found)
	}
}

// hunts compares the finding for each mode that sees light.
func hunts(t *testing.T, s *site.Site, seed uint64, oo oracle.Options, found map[string]int) {
	t.Helper()
	for m := range s.Modes {
		id := site.ModeID(m)
		if rehearse.ReadsSeen(s, id) {
			against(t, s, fmt.Sprintf("seed %d, %s hunts", seed, s.Modes[m].Name), func(o oracle.Options) (oracle.Result, error) {
				return oracle.CanHunt(context.Background(), s, id, o)
			}, oo, found, func(tl *rehearse.Timeline) bool {
				_, ok, err := rehearse.Hunts(tl.Site, tl, id)
				return ok && err == nil
			})
		}
	}
}

func findings(t *testing.T, n uint64, so sitegen.Options) map[string]int {
	t.Helper()
	_, oo := options()
	so.Requirements = -1
	ctx := context.Background()
	found := map[string]int{}
	for seed := *firstSeed; seed < *firstSeed+n; seed++ {
		s := sitegen.Generate(seed, so)
		ambiguous := func(o oracle.Options) (oracle.Result, error) { return oracle.CanBeAmbiguous(ctx, s, 0, o) }
		against(t, s, fmt.Sprintf("seed %d, ambiguous", seed), ambiguous, oo, found, func(tl *rehearse.Timeline) bool {
			for i := range tl.Steps {
				if tl.Ambiguous(i, 0) {
					return true
				}
			}
			return false
		})
		hunts(t, s, seed, oo, found)
		rng := rand.New(rand.NewPCG(seed, 9))
		m := site.ModeID(rng.IntN(len(s.Modes)))
		st := rng.IntN(len(s.Modes[m].States))
		for sg := range s.Modes[m].States[st].Stages {
			at := place{m, st, sg, rng.IntN(len(s.Modes[m].States[st].Stages[sg].Settings))}
			win := func(o oracle.Options) (oracle.Result, error) {
				return oracle.CanWin(ctx, s, at.mode, at.state, at.stage, at.setting, o)
			}
			against(t, s, fmt.Sprintf("seed %d, %+v wins", seed, at), win, oo, found,
				func(tl *rehearse.Timeline) bool { return wins(tl, at) })
		}
	}
	t.Log(found)
	return found
}

// against compares one finding. What a rehearsal has and the oracle does not
// may need more changes within a unit than two ticks have room for: the oracle
// then has to find it with eight.
func against(t *testing.T, s *site.Site, what string, ask func(oracle.Options) (oracle.Result, error), o oracle.Options,
	found map[string]int, seen func(*rehearse.Timeline) bool) {
	t.Helper()
	res, err := ask(o)
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	found[res.Verdict.String()]++
	switch res.Verdict {
	case oracle.Witness:
		tl, err := rehearse.Run(dated(s, res.Date), script(res))
		if err != nil || !seen(tl) {
			t.Errorf("%s: the interpreter does not see it: %v\n%s", what, err, describe(s, res))
		}
	case oracle.NoWitness:
		for n := range uint64(4) {
			s := dated(s, int(n)%max(len(s.Dates), 1))
			sc, err := rehearse.RandomScript(s, rand.New(rand.NewPCG(n, 1)), 12)
			if err != nil {
				t.Fatalf("%s: %v", what, err)
			}
			tl, err := rehearse.Run(s, sc)
			if err != nil {
				t.Fatalf("%s: %v", what, err)
			}
			if !seen(tl) {
				continue
			}
			res, err := ask(oracle.Options{TicksPerUnit: 8, MaxStates: 2_000_000})
			if err != nil || res.Verdict != oracle.Witness {
				t.Errorf("%s: seen in a rehearsal, but the oracle says %v (%v)\n%s%+v", what, res.Verdict, err, sitegen.Print(s), sc)
			}
			return
		}
	}
}
