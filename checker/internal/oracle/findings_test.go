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
// the first circuit and the first win of some setting. A witness must be one for
// the interpreter; where there is none no random rehearsal may have one.
func TestFindingsAgainstInterpreter(t *testing.T) {
	so, oo := options()
	so.Requirements = -1
	ctx := context.Background()
	found := map[string]int{}
	for seed := *firstSeed; seed < *firstSeed+*seeds; seed++ {
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
	if *seeds >= 300 && len(found) < 2 {
		t.Errorf("only %v came up", found)
	}
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
		tl, err := rehearse.Run(s, script(res))
		if err != nil || !seen(tl) {
			t.Errorf("%s: the interpreter does not see it: %v\n%s", what, err, describe(s, res))
		}
	case oracle.NoWitness:
		for n := range uint64(4) {
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
