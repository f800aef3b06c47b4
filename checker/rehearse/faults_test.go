// Which runs count for a requirement, and what faults do (lang/SEMANTICS.md section 3).

package rehearse

import (
	"errors"
	"math/rand/v2"
	"testing"

	"lampwarden/lang/site"
)

// faulty is a site with two faults, a mains supply and a switch.
func faulty() (s *site.Site, stuck, bus, lost, in site.InputID) {
	b := newBuilder()
	stuck, bus = b.input("pir stuck on", site.Failure), b.input("control bus lost", site.Failure)
	b.s.Inputs[stuck].Fault, b.s.Inputs[bus].Fault = true, true
	_, lost = b.mains("mains")
	return b.done(), stuck, bus, lost, b.input("in", site.Switch)
}

func TestFaultsCount(t *testing.T) {
	s, stuck, bus, lost, in := faulty()
	always := func(n int, faults ...site.InputID) *site.Requirement {
		return &site.Requirement{Form: site.Always, P: &site.Expr{Op: site.OpTrue}, Faults: faults, AtMost: n}
	}
	for _, tt := range []struct {
		name    string
		r       *site.Requirement
		initial []site.InputID
		events  []Event
		bad     Nanos // when it stops counting, -1: it counts
	}{
		{"no fault", always(0), []site.InputID{lost, in}, nil, -1},
		{"a fault not listed", always(0), nil, []Event{turn(5, stuck, true)}, 5},
		{"at start-up", always(1, bus), []site.InputID{stuck}, nil, 0},
		{"listed", always(1, stuck), []site.InputID{stuck}, []Event{turn(5, stuck, false), turn(6, stuck, true)}, -1},
		{"another one", always(1, stuck), nil, []Event{turn(5, stuck, true), turn(6, bus, true)}, 6},
		{"one at a time", always(1, stuck, bus), nil, []Event{turn(5, stuck, true), turn(6, stuck, false), turn(7, bus, true)}, -1},
		{"two at a time", always(1, stuck, bus), nil, []Event{turn(5, stuck, true), turn(7, bus, true)}, 7},
		{"two of two", always(2, stuck, bus), nil, []Event{turn(5, stuck, true), turn(7, bus, true)}, -1},
		{"listed ordinary inputs count too", always(1, stuck, lost), []site.InputID{lost}, []Event{turn(5, stuck, true)}, 5},
		{"others do not", always(1, stuck), []site.InputID{lost}, []Event{turn(5, stuck, true)}, -1},
		{"listed, but none at a time", always(0, lost), nil, []Event{turn(5, lost, true)}, 5},
		{"a finding", nil, nil, []Event{turn(5, stuck, true)}, 5},
		{"a finding without", nil, []site.InputID{lost}, nil, -1},
	} {
		sc := Script{Initial: tt.initial, Events: tt.events, End: 9}
		err := sc.CheckFaults(s, tt.r)
		var fe *FaultError
		if tt.bad < 0 && err != nil || tt.bad >= 0 && (!errors.As(err, &fe) || fe.At != tt.bad || fe.Error() == "") {
			t.Errorf("%s: %v", tt.name, err)
		}
		if tt.r == nil {
			continue
		}
		if _, judged := Judge(s, mustRun(t, s, sc), tt.r); (judged == nil) != (err == nil) {
			t.Errorf("%s: Judge says %v", tt.name, judged)
		}
	}
}

// Random scripts keep the rule, and use what it allows.
func TestRandomFaults(t *testing.T) {
	s, stuck, bus, lost, _ := faulty()
	for _, tt := range []struct {
		r    *site.Requirement
		most int // faults at a time that are reached
	}{
		{nil, 0}, {&site.Requirement{Faults: []site.InputID{stuck}, AtMost: 1}, 1},
		{&site.Requirement{Faults: []site.InputID{stuck, bus, lost}, AtMost: 2}, 2}, {&site.Requirement{Faults: []site.InputID{lost}}, 0},
	} {
		most, struck := 0, 0
		for seed := range uint64(20) {
			sc, err := RandomScriptFor(s, tt.r, rand.New(rand.NewPCG(seed, 5)), 40)
			if err != nil || len(sc.Events) != 40 {
				t.Fatalf("%d events, %v", len(sc.Events), err)
			}
			if err := sc.CheckFaults(s, tt.r); err != nil {
				t.Fatal(err)
			}
			tl := mustRun(t, s, sc)
			for i := range tl.Steps {
				n := 0
				for _, in := range []site.InputID{stuck, bus} {
					if tl.Input(i, in) {
						n++
					}
				}
				most, struck = max(most, n), struck+n
			}
		}
		if most != tt.most || (struck > 0) != (tt.most > 0) {
			t.Errorf("%+v: at most %d faults at a time", tt.r, most)
		}
	}
}

// A scenario may use any fault.
func TestScenarioWithFaults(t *testing.T) {
	s, stuck, bus, _, _ := faulty()
	if got := met(t, s, site.ScenarioStep{After: 5, Input: stuck, Value: true}, site.ScenarioStep{After: 6, Input: bus, Value: true},
		site.ScenarioStep{After: 6, Expect: and(isIn(stuck), isIn(bus))}); len(got) != 1 || got[0] != 6*Milli {
		t.Errorf("%v", got)
	}
}
