// The oracle against the interpreter, on random sites: what the oracle breaks
// the interpreter must judge broken, and no random rehearsal may break what the
// oracle says holds.

package oracle_test

import (
	"context"
	"flag"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"lampwarden/checker/internal/oracle"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

var (
	firstSeed = flag.Uint64("first", 1, "first seed of the differential tests")
	seeds     = flag.Uint64("seeds", 300, "number of seeds of the differential tests")
)

// options of the differential tests: typical state spaces of some thousands.
func options() (sitegen.Options, oracle.Options) {
	return sitegen.Options{}, oracle.Options{MaxStates: 30_000}
}

// script turns a run of the oracle into a script of the interpreter.
func script(r oracle.Result) rehearse.Script {
	nanos := func(m oracle.Micros) rehearse.Nanos { return rehearse.Nanos(m) * 1000 }
	sc := rehearse.Script{End: nanos(r.End)}
	for _, st := range r.Run {
		if st.Jump != 0 {
			sc.Jumps = append(sc.Jumps, rehearse.Jump{At: nanos(st.At), By: st.Jump})
		}
		switch st.Kind {
		case oracle.StartUp:
			sc.Start, sc.Initial = nanos(max(st.Clock, 0)), st.Initial
		case oracle.Change:
			sc.Events = append(sc.Events, rehearse.Event{At: nanos(st.At), Input: st.Input, Value: st.Value, Gesture: st.Gesture})
		case oracle.Move:
			sc.Moves = append(sc.Moves, rehearse.Move{At: nanos(st.At), Circuit: st.Circuit, Level: st.Level})
		}
		for _, c := range st.Choices {
			sc.Choices = append(sc.Choices, rehearse.Choice{At: nanos(st.At), Circuit: c.Circuit, Level: c.Level})
		}
	}
	return sc
}

func describe(s *site.Site, r oracle.Result) string {
	out := fmt.Sprintf("%s\n%v after %v us (%d states, %d ticks of %d ms)\n", sitegen.Print(s), r.Verdict, r.End, r.States, r.Ticks, r.Grain)
	for _, st := range r.Run {
		out += fmt.Sprintf("  %+v\n", st)
	}
	return out
}

// dated gives the site as it is on the date of a run.
func dated(s *site.Site, date int) *site.Site {
	if len(s.Dates) == 0 {
		return s
	}
	return s.OnDate(date)
}

// confirm runs a Broken or Witness run in the interpreter. Of the form CanReturn it can only
// play it: no run shows that others do not return.
func confirm(s *site.Site, r *site.Requirement, res oracle.Result) error {
	s = dated(s, res.Date)
	tl, err := rehearse.Run(s, script(res))
	if err != nil {
		return fmt.Errorf("the interpreter refuses the run: %w", err)
	}
	j, err := rehearse.Judge(s, tl, r)
	if err != nil {
		return fmt.Errorf("the run does not count in the interpreter: %w", err)
	}
	if r.Form == site.CanReturn {
		return nil
	}
	if res.Verdict == oracle.Broken && !j.Broken || res.Verdict == oracle.Witness && !j.Witness {
		return fmt.Errorf("the interpreter does not judge the run so: %+v", j)
	}
	return nil
}

func TestOracleAgainstInterpreter(t *testing.T) {
	so, oo := options()
	againstInterpreter(t, *seeds, so, oo, 5)
}

// TestWideSites takes fewer but larger sites, half of them with clock times.
func TestWideSites(t *testing.T) {
	_, oo := options()
	so := sitegen.Options{MaxModes: 4, MaxCircuits: 3, MaxInputs: 4, MaxUnits: 4, Requirements: 3, ClockPercent: 50}
	againstInterpreter(t, *seeds/6, so, oo, 5)
}

// TestDaysRampsOutputs takes sites full of days of the week, ramps and outputs.
func TestDaysRampsOutputs(t *testing.T) {
	_, oo := options()
	n := *seeds / 2
	againstInterpreter(t, n, sitegen.Options{ClockPercent: 50, WeekPercent: 80, RampPercent: 70, OutputPercent: 40}, oo, 5)
	againstInterpreter(t, n/4, sitegen.Options{ClockPercent: 100, WeekPercent: 100, RampPercent: -1, OutputPercent: -1}, oo, 5)
	// Ramps and mere reaction times one after the other, on circuits without a fade.
	againstInterpreter(t, n/2, sitegen.Options{ClockPercent: -1, RampPercent: 50, MaxCircuits: 1, OutputPercent: -1,
		ReactsPercent: 100, FadePercent: -1}, oo, 5)
}

// againstInterpreter compares n sites; what holds is rehearsed so many times.
func againstInterpreter(t *testing.T, n uint64, so sitegen.Options, oo oracle.Options, times int) {
	count := map[oracle.Verdict]int{}
	states := 0
	for seed := *firstSeed; seed < *firstSeed+n; seed++ {
		s := sitegen.Generate(seed, so)
		if err := sitegen.Check(s); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for i := range s.Requirements {
			r := &s.Requirements[i]
			res, err := oracle.Check(context.Background(), s, r, oo)
			if err != nil {
				t.Fatalf("seed %d, %s: %v", seed, r.Name, err)
			}
			count[res.Verdict]++
			states += res.States
			switch res.Verdict {
			case oracle.Broken, oracle.Witness:
				if err := confirm(s, r, res); err != nil {
					t.Errorf("seed %d, %s: %v\n%s", seed, r.Name, err, describe(s, res))
				}
			case oracle.Holds, oracle.NoWitness:
				rehearsals(t, seed, s, r, times)
			}
		}
	}
	t.Logf("verdicts %v, %d states", count, states)
}

// rehearsals plays random scripts of a requirement that the oracle says holds.
// One that breaks it must do so by more changes than the ticks have room for:
// with more ticks the oracle then has to find a break, too.
func rehearsals(t *testing.T, seed uint64, s *site.Site, r *site.Requirement, times int) {
	rng := rand.New(rand.NewPCG(seed, 7))
	for n := range times {
		s := dated(s, n%max(len(s.Dates), 1))
		sc, err := rehearse.RandomScriptFor(s, r, rng, 8+times)
		if err != nil {
			t.Fatalf("seed %d: no random script: %v", seed, err)
		}
		tl, err := rehearse.Run(s, sc)
		if err != nil {
			t.Fatalf("seed %d: the interpreter refuses its own script: %v\n%s", seed, err, sitegen.Print(s))
		}
		j, err := rehearse.Judge(s, tl, r)
		if err != nil {
			t.Fatalf("seed %d: a script made for the requirement does not count for it: %v", seed, err)
		}
		if !j.Broken && !j.Witness {
			continue
		}
		ticks := 16
		if r.Form == site.Energy { // little energy is used in the time that many changes take
			ticks = 64
		}
		finer, err := oracle.CheckFiner(context.Background(), s, r, oracle.Options{MaxStates: 2_000_000}, ticks)
		if err != nil || finer.Verdict != oracle.Broken && finer.Verdict != oracle.Witness {
			t.Errorf("seed %d, %s: broken by a rehearsal, but the oracle says %v (%d ticks, %v)\n%s%+v\n%+v",
				seed, r.Name, finer.Verdict, finer.Ticks, err, sitegen.Print(s), sc, j)
		}
		return
	}
}

// features are groups of features, each by itself.
func features() map[string]sitegen.Options {
	small := func(f sitegen.Features) sitegen.Options { return sitegen.Options{MaxUnits: 2, Features: f} }
	clocks := small(sitegen.Features{JumpPercent: 80, CalendarPercent: 50, SunPercent: 50})
	asleep := small(sitegen.Features{DownPercent: 100, PlantPercent: 60, JumpPercent: 60})
	clocks.ClockPercent, asleep.ClockPercent = 100, 100
	colours := small(sitegen.Features{ColourPercent: 100, LevelsPercent: 40, SumPercent: 20})
	colours.ReactsPercent = 60
	later := small(sitegen.Features{SumPercent: 20})
	later.Forms, later.ClockPercent, later.ReactsPercent = []site.Form{site.Settles, site.Energy}, 40, 40
	return map[string]sitegen.Options{
		"everything": sitegen.Everything(),
		"daylight":   small(sitegen.Features{DaylightPercent: 100, SightPercent: 80}),
		"power":      small(sitegen.Features{GeneratorPercent: 50, ReturnPercent: 50, BatteryPercent: 50, LevelsPercent: 50}),
		"down":       small(sitegen.Features{DownPercent: 100, CutPercent: 40, LevelsPercent: 60, FailurePercent: 60, FaultPercent: 60}),
		"colours":    colours, "clocks": clocks, "down with clocks": asleep, "later forms": later,
	}
}

// TestFeatures takes sites with all features, and with each group of them alone.
func TestFeatures(t *testing.T) {
	_, oo := options()
	groups := features()
	for _, name := range slices.Sorted(maps.Keys(groups)) {
		t.Run(name, func(t *testing.T) { againstInterpreter(t, *seeds/10, groups[name], oo, 16) })
	}
}
