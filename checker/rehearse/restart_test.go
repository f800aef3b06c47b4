// A controller that goes down and wakes up (lang/SEMANTICS.md section 2, step 2).

package rehearse

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/lang/site"
)

// restartable is a site whose controller is down while its first input is true.
func restartable(keeps bool) (b *builder, down, in, key site.InputID) {
	b = newBuilder()
	down, in, key = b.input("controller down", site.Failure), b.input("in", site.Switch), b.input("key", site.Button)
	b.s.Controller.Down, b.s.Controller.Keeps = isIn(down), keeps
	return b, down, in, key
}

// outage is down from, up until.
func outage(down site.InputID, from, to Nanos, more ...Event) []Event {
	return append([]Event{turn(from, down, true), turn(to, down, false)}, more...)
}

// Every timer that belongs to a present place starts from zero at the wake-up of a keeping controller; a forgetting one
// starts from rest.
func TestTimersAtWakeUp(t *testing.T) {
	always := []site.InputID{1}
	for _, tt := range []struct {
		name          string
		mode          func(in, key site.InputID) site.Mode
		initial       []site.InputID
		events        []Event // beside the outage from 4 s to 10 s
		keeps, forget []edge
	}{
		{"on delay of 5 s", func(in, _ site.InputID) site.Mode {
			return site.Mode{Kind: site.While, Cond: isIn(in), OnDelay: 5 * ssec}
		}, always, nil, q(15), q(15)},
		{"off delay of 5 s", func(in, _ site.InputID) site.Mode {
			return site.Mode{Kind: site.While, Cond: isIn(in), OffDelay: 5 * ssec}
		}, always, []Event{turn(3*sec, 1, false)}, q(0, 15), q(0, 4)},
		{"pulse of 5 s", func(in, _ site.InputID) site.Mode {
			return site.Mode{Kind: site.While, Cond: isIn(in), Pulse: 5 * ssec}
		}, always, nil, q(0, 15), q(0, 4, 10, 15)},
		{"for 5 s", func(in, _ site.InputID) site.Mode {
			return site.Mode{Kind: site.Latch, Starts: []site.Trigger{on(isIn(in))}, For: 5 * ssec}
		}, always, nil, q(0, 15), q(0, 4, 10, 15)},
		{"the condition falls while down", func(in, _ site.InputID) site.Mode {
			return site.Mode{Kind: site.While, Cond: isIn(in)}
		}, always, []Event{turn(5*sec, 1, false)}, q(0, 10), q(0, 4)},
		{"it falls with the outage", func(in, _ site.InputID) site.Mode {
			return site.Mode{Kind: site.While, Cond: isIn(in), OnDelay: 4 * ssec}
		}, always, nil, q(14), q(14)},
		{"a trigger that comes while down is missed by one that keeps alone: its state before is the latest", func(in, _ site.InputID) site.Mode {
			return site.Mode{Kind: site.Latch, Starts: []site.Trigger{on(isIn(in))}}
		}, nil, []Event{turn(5*sec, 1, true)}, nil, q(10)},
		{"a tap while down is lost", func(_, key site.InputID) site.Mode {
			return site.Mode{Kind: site.Latch, Starts: []site.Trigger{on(tapped(key, site.Tap))}}
		}, nil, []Event{tap(5*sec, 2)}, nil, nil},
		{"was reads before start-up", func(in, _ site.InputID) site.Mode {
			return site.Mode{Kind: site.Latch, Starts: []site.Trigger{{On: isIn(in), If: not(was(isIn(in)))}}}
		}, always, nil, q(0), q(0, 4, 10)},
	} {
		for keeps, want := range map[bool][]edge{true: tt.keeps, false: tt.forget} {
			b, down, in, key := restartable(keeps)
			m := b.mode(tt.mode(in, key))
			events := append(outage(down, 4*sec, 10*sec), tt.events...)
			tl := mustRun(t, b.done(), Script{Initial: tt.initial, Events: inOrder(events), End: 30 * sec})
			if d := cmp.Diff(want, edges(tl, isOn(m)), cmp.AllowUnexported(edge{})); d != "" {
				t.Errorf("%s, keeps %t (-want +got): %s", tt.name, keeps, d)
			}
		}
	}
}

// After, stages and flashes start from zero as well; a sequence that is over stays over.
func TestStatesAndStagesAtWakeUp(t *testing.T) {
	for _, keeps := range []bool{true, false} {
		b, down, in, _ := restartable(keeps)
		c := b.circuit("lamp")
		m := b.mode(site.Mode{Kind: site.States, States: []site.State{{}, {Stages: []site.Stage{
			stage(3*ssec, 1000, c),
			{For: 6 * ssec, Flash: &site.Flash{Times: 3, On: ssec, Off: ssec}, Settings: []site.Setting{
				{Circuits: []site.CircuitID{c}, Flashing: true, Cases: []site.Case{{Level: 5000}}}}},
		}}}, Transitions: []site.Transition{{Trigger: on(isIn(in)), To: 1}, {After: 20 * ssec, From: 1, To: 0}}})
		run := func(from, to Nanos) *Timeline {
			return mustRun(t, b.s, Script{Initial: []site.InputID{in}, Events: outage(down, from, to), End: 60 * sec})
		}
		b.done()
		tl := run(4500*Milli, 10*sec) // in the off part of the flash
		back := edge{10 * sec, true}
		if keeps {
			wantEdges(t, "flash", tl, light(c, 5000, 5000), edge{3 * sec, true}, edge{4 * sec, false}, back, edge{11 * sec, false},
				edge{12 * sec, true}, edge{13 * sec, false}, edge{14 * sec, true}, edge{15 * sec, false})
			wantEdges(t, "state", tl, inState(m, 1), edge{0, true}, edge{30 * sec, false})
			wantEdges(t, "over stays over", run(9*sec, 10*sec), light(c, 1000, 1000), edge{0, true}, edge{3 * sec, false})
		} else {
			wantEdges(t, "first stage", tl, light(c, 1000, 1000), edge{0, true}, edge{3 * sec, false}, back, edge{13 * sec, false})
			wantEdges(t, "state", tl, inState(m, 1), edge{0, true}, edge{4500 * Milli, false}, back, edge{30 * sec, false})
		}
	}
}

// What is due by the clock while down is lost, also at the very instants of going down and waking up.
func TestClockTimesWhileDown(t *testing.T) {
	for _, keeps := range []bool{true, false} {
		for name, tt := range map[string]struct {
			at   site.Millis
			want []edge
		}{
			"with going down": {4 * ssec, nil}, "while down": {7 * ssec, nil}, "with waking up": {10 * ssec, nil},
			"after": {11 * ssec, q(11)},
		} {
			b, down, _, _ := restartable(keeps)
			m := b.mode(site.Mode{Kind: site.Latch, Starts: []site.Trigger{clockAt(tt.at)}})
			plant := b.mode(site.Mode{Kind: site.Latch, Plant: true, Starts: []site.Trigger{clockAt(tt.at)}})
			tl := mustRun(t, b.done(), Script{Events: outage(down, 4*sec, 10*sec), End: 30 * sec})
			wantEdges(t, name, tl, isOn(m), tt.want...)
			wantEdges(t, name+", plant", tl, isOn(plant), edge{FromMillis(tt.at), true})
			for _, st := range tl.Steps {
				for _, c := range st.Causes {
					if c.Kind == ClockDue && c.Lost != (c.Mode == m && tt.want == nil) {
						t.Errorf("%s: cause %+v", name, c)
					}
				}
			}
		}
	}
}

// A timer that is due exactly as the controller goes down does nothing.
func TestTimerDueWithTheOutage(t *testing.T) {
	b, down, in, _ := restartable(true)
	m := b.mode(site.Mode{Kind: site.While, Cond: isIn(in), OnDelay: 4 * ssec})
	tl := mustRun(t, b.done(), Script{Initial: []site.InputID{in}, Events: outage(down, 4*sec, 10*sec), End: 30 * sec})
	wantEdges(t, "mode", tl, isOn(m), edge{14 * sec, true})
	if c := tl.Steps[1].Causes; len(c) != 2 || !c[1].Lost || tl.Steps[1].Controller != GoesDown {
		t.Errorf("going down: %+v", tl.Steps[1])
	}
}

// While down every circuit is cut and nothing is asked; a choice made before is forgotten.
func TestRequestsWhileDown(t *testing.T) {
	b, c, ins, _ := panel(2)
	down := b.input("down", site.Failure)
	b.s.Controller.Down, b.s.Controller.Keeps = isIn(down), true
	other := b.circuit("fails safe")
	b.s.Circuits[other].Fail = level(7000)
	s := b.done()
	tl := mustRun(t, s, Script{Initial: ins, Events: outage(down, 4*sec, 10*sec), End: 30 * sec,
		Choices: []Choice{{0, c, 5000}, {10 * sec, c, 7500}}})
	cut := Lamp{Level: 5000, Aim: 5000, Cut: true}
	wantLamps(t, "lamp", tl, c, at{sec, standing(5000, 5000)}, at{4 * sec, cut}, at{10*sec - 1, cut}, at{10 * sec, standing(7500, 7500)})
	wantLamps(t, "other", tl, other, at{4 * sec, Lamp{Level: 7000, Aim: 7000, Cut: true}}, at{10 * sec, standing(0, 0)})
	if tl.Ambiguous(1, c) || !tl.Ambiguous(0, c) || !tl.Down(1) || tl.Down(2) || tl.Steps[2].Controller != WakesUp {
		t.Error("the steps do not tell the outage")
	}
	if r := tl.Reason(1, c); len(r.Winners)+len(r.Losers) > 0 {
		t.Errorf("somebody asks while down: %+v", r)
	}
}

// The controller may be down at start-up; plant modes run meanwhile, and a boot time is one of them.
func TestBoot(t *testing.T) {
	b := newBuilder()
	lost, in := b.input("mains", site.SupplyHealth), b.input("in", site.Switch)
	boot := b.mode(site.Mode{Name: "boot", Plant: true, Kind: site.While, Cond: isIn(lost), OffDelay: 20 * ssec})
	m := b.mode(site.Mode{Kind: site.Latch, Starts: []site.Trigger{on(isIn(in))}})
	b.s.Controller.Down = isOn(boot)
	s := b.done()
	s.StepOrder = []site.ModeID{m, boot} // plant modes step first all the same
	tl := mustRun(t, s, Script{Initial: []site.InputID{lost, in}, Events: []Event{turn(sec, lost, false)}, End: 60 * sec})
	wantEdges(t, "mode", tl, isOn(m), edge{21 * sec, true})
	if tl.Steps[0].Controller != GoesDown {
		t.Errorf("start-up: %+v", tl.Steps[0])
	}
	// Recency is forgotten too: before start-up nothing happened to the mode.
	if got := tl.Steps[1].state.modes[m].recency; got != beforeStartUp {
		t.Errorf("recency %d", got)
	}
}
