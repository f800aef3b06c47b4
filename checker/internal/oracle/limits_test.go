// Limits, errors, and the parts that are left out.

package oracle_test

import (
	"context"
	"errors"
	"testing"

	"lampwarden/checker/internal/oracle"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/lang/site"
)

func TestTooBigIsHonoured(t *testing.T) {
	hold := while(input(sw))
	hold.OffDelay = 9 * second
	s := build(hold)
	r := atLeast(mode(0), 4*second)
	small, err := oracle.Check(t.Context(), s, &r, oracle.Options{MaxStates: 10})
	if err != nil || small.Verdict != oracle.TooBig || small.States > 10 {
		t.Errorf("%v with %d states (%v), want too big", small.Verdict, small.States, err)
	}
	whole, err := oracle.Check(t.Context(), s, &r, oracle.Options{MaxStates: 1000})
	if err != nil || whole.Verdict != oracle.Holds || whole.States <= 10 {
		t.Errorf("%v with %d states (%v), want holds", whole.Verdict, whole.States, err)
	}
	exact, err := oracle.Check(t.Context(), s, &r, oracle.Options{MaxStates: whole.States})
	if err != nil || exact.Verdict != oracle.Holds {
		t.Errorf("%v with exactly the states it needs (%v)", exact.Verdict, err)
	}
}

func TestStopsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	m := latch(tap())
	m.For = 100 * second
	s := build(m, while(input(sw)))
	s.Modes[1].OffDelay = 101 * second
	r := never(and(mode(0), not(mode(0)), mode(1)))
	if res, err := oracle.Check(ctx, s, &r, oracle.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("%v, %v: want the context's error", res.Verdict, err)
	}
}

func TestBadDataIsAnError(t *testing.T) {
	r := never(mode(0))
	bad := map[string]func(*site.Site, *site.Requirement){
		"no condition":            func(_ *site.Site, r *site.Requirement) { r.P = nil },
		"unknown form":            func(_ *site.Site, r *site.Requirement) { r.Form = 99 },
		"negative duration":       func(_ *site.Site, r *site.Requirement) { r.D = -1 },
		"mode out of range":       func(_ *site.Site, r *site.Requirement) { r.P = mode(7) },
		"input out of range":      func(s *site.Site, _ *site.Requirement) { s.Modes[0].Cond = input(9) },
		"no step order":           func(s *site.Site, _ *site.Requirement) { s.StepOrder = nil },
		"no precedence":           func(s *site.Site, _ *site.Requirement) { s.Precedence.Above = nil },
		"feed out of range":       func(s *site.Site, _ *site.Requirement) { s.Circuits[0].FedBy = 5 },
		"state before a reaction": func(_ *site.Site, r *site.Requirement) { r.P = &site.Expr{Op: site.OpWas, Kids: []*site.Expr{mode(0)}} },
		"an eighth day":           func(s *site.Site, _ *site.Requirement) { s.Bands = []site.Band{{To: hour, Days: 1 << 7}} },
		"a ramp in a flash": func(s *site.Site, _ *site.Requirement) {
			st := flash(1, second, second)
			st.Settings[0].Cases[0].Over = second
			s.Modes[0].States[0].Stages = []site.Stage{st}
		},
		"jump by nothing": func(s *site.Site, _ *site.Requirement) { s.Jumps = []site.Jump{{At: hour}} },
		"charge of one input": func(s *site.Site, _ *site.Requirement) {
			s.Assumptions = []site.Assumption{{Kind: site.Charge, Inputs: []site.InputID{mains}}}
		},
		"colour of nothing":  func(s *site.Site, _ *site.Requirement) { s.Circuits[0].Colour, s.Circuits[0].Light = true, 7 },
		"fault out of range": func(_ *site.Site, r *site.Requirement) { r.Faults = []site.InputID{9} },
		"sum out of range": func(_ *site.Site, r *site.Requirement) {
			r.P = &site.Expr{Op: site.OpSum, Terms: []site.Term{{Circuit: 5}}}
		},
		"draw out of range": func(_ *site.Site, r *site.Requirement) {
			*r = energy(1, second, nil)
			r.Draws[0].Circuit = 5
		},
		"cause out of range": func(_ *site.Site, r *site.Requirement) {
			*r = settles(mode(0), second, site.Causes{Bands: []site.BandID{3}})
		},
		"a day of too many ticks": func(s *site.Site, r *site.Requirement) {
			s.Bands = []site.Band{{From: 1, To: 2}}
			r.P = &site.Expr{Op: site.OpBand}
		},
		"a delay of too many ticks": func(s *site.Site, _ *site.Requirement) { s.Modes[0].OnDelay, s.Modes[0].OffDelay = 1, 100_000 },
		"assumption on nothing": func(s *site.Site, _ *site.Requirement) {
			s.Assumptions = []site.Assumption{{Kind: site.Dwell, D: second}}
		},
	}
	for name, spoil := range bad {
		s, r := build(while(input(sw))), r
		spoil(s, &r)
		if res, err := oracle.Check(t.Context(), s, &r, oracle.Options{}); err == nil {
			t.Errorf("%s: %v and no error", name, res.Verdict)
		}
	}
	if _, err := oracle.Check(t.Context(), nil, nil, oracle.Options{}); err == nil {
		t.Error("nothing: no error")
	}
	if _, err := oracle.CanWin(t.Context(), build(while(input(sw))), 0, 0, 3, 0, oracle.Options{}); err == nil {
		t.Error("a setting that is not there: no error")
	}
}

// TestWhatIsLeftOutDoesNotMatter compares the answers with and without the
// parts that nothing in the question reads.
func TestWhatIsLeftOutDoesNotMatter(t *testing.T) {
	so := sitegen.Options{MaxModes: 2, MaxInputs: 2, MaxUnits: 2}
	everything := sitegen.Everything()
	everything.MaxModes = 2
	compared, smaller := 0, 0
	for seed := range uint64(200) {
		s := sitegen.Generate(seed, so)
		if seed >= 150 {
			s = sitegen.Generate(seed, everything)
		}
		for i := range s.Requirements {
			r := &s.Requirements[i]
			a, err := oracle.Check(t.Context(), s, r, oracle.Options{TicksPerUnit: 2})
			if err != nil {
				t.Fatal(err)
			}
			b, err := oracle.Check(t.Context(), s, r, oracle.Options{TicksPerUnit: 2, Whole: true, MaxStates: 30_000})
			if err != nil {
				t.Fatal(err)
			}
			if a.Verdict == oracle.TooBig || b.Verdict == oracle.TooBig || a.Grain != b.Grain {
				continue
			}
			compared++
			if a.States < b.States {
				smaller++
			}
			if a.Verdict != b.Verdict { // the runs may differ by reactions that change nothing
				t.Errorf("seed %d, %s: %v, with the whole site %v\n%s", seed, r.Name, a.Verdict, b.Verdict, sitegen.Print(s))
			}
		}
	}
	if compared < 100 || smaller < 20 {
		t.Errorf("%d questions compared, %d of them smaller: too few to tell", compared, smaller)
	}
}

// TestFinerTicksSeeMore has a run that needs three changes within one second:
// with two ticks per second they do not fit.
func TestFinerTicksSeeMore(t *testing.T) {
	s := build()
	r := times(3, tap(), second)
	coarse, err := oracle.Check(t.Context(), s, &r, oracle.Options{TicksPerUnit: 2})
	if err != nil || coarse.Verdict != oracle.Holds {
		t.Errorf("two ticks: %v (%v)", coarse.Verdict, err)
	}
	finer, err := oracle.CheckFiner(t.Context(), s, &r, oracle.Options{TicksPerUnit: 2}, 8)
	if err != nil || finer.Verdict != oracle.Broken || finer.Ticks != 4 {
		t.Errorf("%v with %d ticks (%v), want broken with 4", finer.Verdict, finer.Ticks, err)
	}
}

func TestCompare(t *testing.T) {
	s := build()
	r := times(3, tap(), second)
	o := oracle.Options{TicksPerUnit: 2}
	if res, err := oracle.Compare(t.Context(), s, &r, oracle.Broken, o); err != nil || res.Verdict != oracle.Broken {
		t.Errorf("a break that finer ticks see: %v, %v", res.Verdict, err)
	}
	never := never(and(tap(), not(tap())))
	if _, err := oracle.Compare(t.Context(), s, &never, oracle.Broken, o); !errors.Is(err, oracle.ErrUnseen) {
		t.Errorf("a break that is none: %v", err)
	}
	var d *oracle.Disagreement
	r.N = 1
	if _, err := oracle.Compare(t.Context(), s, &r, oracle.Holds, o); !errors.As(err, &d) || d.Result.Verdict != oracle.Broken {
		t.Errorf("a wrong proof: %v", err)
	}
}
