// Lamps, feeds and scripts that break rules (lang/SEMANTICS.md section 2 step 4, section 3).

package rehearse

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/lang/site"
)

// dimmer is a lamp on mains that follows two switches, full over 30 %; its movement takes 300 ms + 700 ms.
func dimmer() (s *site.Site, c site.CircuitID, full, dim, lost site.InputID) {
	b := newBuilder()
	b.s.Controller.ReactsWithin = 300
	c = b.circuit("lamp")
	supply, lost := b.mains("mains")
	b.s.Circuits[c].Fade = 700
	b.feed(c, supply)
	full, dim = b.input("full", site.Switch), b.input("dim", site.Switch)
	b.over(follow(b, full, site.Full, c), follow(b, dim, 3000, c))
	return b.done(), c, full, dim, lost
}

// lampAt is the lamp at a time.
func lampAt(tl *Timeline, c site.CircuitID, at Nanos) Lamp { return tl.Lamp(tl.stepAt(at), c) }

func TestFadeArrivesExactlyWhenDue(t *testing.T) {
	s, c, full, _, _ := dimmer()
	tl := mustRun(t, s, Script{End: 5 * sec, Events: []Event{turn(sec, full, true)}})
	moving := Lamp{Request: site.Full, Level: 0, Aim: site.Full, Moving: true, Due: 2 * sec}
	if d := cmp.Diff(moving, lampAt(tl, c, 2*sec-1)); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff(Lamp{Request: site.Full, Level: site.Full, Aim: site.Full}, lampAt(tl, c, 2*sec)); d != "" {
		t.Error(d)
	}
	if last := tl.Steps[len(tl.Steps)-1]; len(last.Causes) != 1 || last.Causes[0].Kind != LampArrives || last.At != 2*sec {
		t.Errorf("arrival: %+v", last.Causes)
	}
}

// A new movement starts from wherever the level is, and takes its full time; with moves, monotonic either way.
func TestFadeInterrupted(t *testing.T) {
	s, c, full, dim, _ := dimmer()
	events := []Event{turn(sec, full, true), turn(sec+500*Milli, dim, true), turn(sec+600*Milli, full, false)}
	tl := mustRun(t, s, Script{End: 5 * sec, Events: events, Moves: []Move{
		{sec + 550*Milli, c, 8000}, {sec + 1, c, 1000}, {sec + 700*Milli, c, 3001}}})
	for _, w := range []struct {
		at   Nanos
		want Lamp
	}{
		{sec + 1, Lamp{site.Full, 1000, site.Full, true, 2 * sec, false, false}},
		{sec + 500*Milli, Lamp{site.Full, 1000, site.Full, true, 2 * sec, false, false}},
		{sec + 550*Milli, Lamp{site.Full, 8000, site.Full, true, 2 * sec, false, false}},
		{sec + 600*Milli, Lamp{3000, 8000, 3000, true, 2*sec + 600*Milli, false, false}},
		{sec + 700*Milli, Lamp{3000, 3001, 3000, true, 2*sec + 600*Milli, false, false}},
		{2*sec + 600*Milli, Lamp{3000, 3000, 3000, false, 0, false, false}},
	} {
		if d := cmp.Diff(w.want, lampAt(tl, c, w.at)); d != "" {
			t.Errorf("at %s: %s", w.at, d)
		}
	}
	for _, bad := range []Move{
		{sec, c, 500},              // at the reaction that starts it: not moving before
		{sec + 550*Milli, c, 0},    // not a change
		{sec + 610*Milli, c, 1},    // against the aim: from 0 up to 3000 is fine, see below
		{3 * sec, c, 2000},         // not moving
		{6 * sec, c, 2000},         // after the end
		{0, c, 1}, {sec + 1, 9, 1}, // before the run; no such circuit
	} {
		_, err := Run(s, Script{End: 5 * sec, Events: events, Moves: []Move{bad}})
		var se *ScriptError
		if bad.At == sec+610*Milli {
			if err != nil {
				t.Errorf("a lamp that never left 0 rises to 30 %%: %v", err)
			}
		} else if !errors.As(err, &se) || se.At != bad.At {
			t.Errorf("move %+v: error %v", bad, err)
		}
	}
	// Past the aim, and back again, are refused.
	for _, bad := range [][]Move{
		{{sec + 1, c, 8000}, {sec + 610*Milli, c, 2999}},
		{{sec + 1, c, 8000}, {sec + 610*Milli, c, 8001}},
		{{sec + 1, c, 8000}, {sec + 2, c, 7999}},
	} {
		if _, err := Run(s, Script{End: 5 * sec, Events: events, Moves: bad}); err == nil {
			t.Errorf("moves %+v are taken", bad)
		}
	}
}

// Section 2 step 4: dark at once when the feed dies, aim 0; a full movement from there when it returns.
func TestFeedLossAndReturn(t *testing.T) {
	s, c, full, _, lost := dimmer()
	tl := mustRun(t, s, Script{End: 20 * sec, Events: []Event{turn(sec, full, true), turn(3*sec, lost, true),
		turn(4*sec, full, false), turn(5*sec, full, true), turn(6*sec, lost, false)}})
	for _, w := range []struct {
		at   Nanos
		want Lamp
	}{
		{3*sec - 1, Lamp{site.Full, site.Full, site.Full, false, 0, false, false}},
		{3 * sec, Lamp{site.Full, 0, 0, false, 0, true, false}},
		{5 * sec, Lamp{site.Full, 0, 0, false, 0, true, false}},
		{6 * sec, Lamp{site.Full, 0, site.Full, true, 7 * sec, false, false}},
		{7 * sec, Lamp{site.Full, site.Full, site.Full, false, 0, false, false}},
	} {
		if d := cmp.Diff(w.want, lampAt(tl, c, w.at)); d != "" {
			t.Errorf("at %s: %s", w.at, d)
		}
	}
	// Lost while moving, exactly when due: dark.
	tl = mustRun(t, s, Script{End: 20 * sec, Events: []Event{turn(sec, full, true), turn(2*sec, lost, true)}})
	if d := cmp.Diff(Lamp{site.Full, 0, 0, false, 0, true, false}, lampAt(tl, c, 2*sec)); d != "" {
		t.Error(d)
	}
	if n := len(tl.Steps); tl.Steps[n-1].At != 2*sec {
		t.Errorf("a movement goes on in the dark: step at %s", tl.Steps[n-1].At)
	}
}

// A circuit on a battery, and one with no feed, are always live.
func TestBatteryIsLive(t *testing.T) {
	s, c, full, _, lost := dimmer()
	s.Supplies = append(s.Supplies, site.Supply{Name: "ups", Battery: true, Health: site.None, ChargedBy: 0})
	s.Circuits[c].FedBy, s.Circuits[c].Dead = 1, s.FeedDead(1)
	tl := mustRun(t, s, Script{Initial: []site.InputID{full, lost}, End: 9 * sec})
	if got := levelAt(tl, c, sec); got != site.Full {
		t.Errorf("on the battery: %d", got)
	}
}

// A switched circuit is only ever off or full.
func TestSwitchedLamp(t *testing.T) {
	s, c, _, dim, _ := dimmer()
	s.Circuits[c].Switched, s.Circuits[c].Fade = true, 0
	events := []Event{turn(sec, dim, true)}
	tl := mustRun(t, s, Script{End: 5 * sec, Events: events, Moves: []Move{{sec + 5*Milli, c, site.Full}}})
	if levelAt(tl, c, sec+4*Milli) != 0 || levelAt(tl, c, sec+5*Milli) != site.Full {
		t.Error("a switched lamp comes on at the environment's moment")
	}
	if !lampAt(tl, c, sec+4*Milli).Moving || lampAt(tl, c, sec+5*Milli).Moving {
		t.Error("and has arrived then")
	}
	tl = mustRun(t, s, Script{End: 5 * sec, Events: events})
	if levelAt(tl, c, sec+299*Milli) != 0 || levelAt(tl, c, sec+300*Milli) != site.Full {
		t.Error("or when due")
	}
	if _, err := Run(s, Script{End: 5 * sec, Events: events, Moves: []Move{{sec + 5*Milli, c, 5000}}}); err == nil {
		t.Error("a switched lamp at half")
	}
	s.Controller.ReactsWithin = 0
	tl = mustRun(t, s, Script{End: 5 * sec, Events: events})
	if levelAt(tl, c, sec) != site.Full || len(tl.Steps) != 2 {
		t.Error("with no time to react it is on at once")
	}
}

// assumptions: two buttons that are 500 ms apart, a sensor that dwells 2 s on true, two alarms of which one at a time.
func assumptions() (s *site.Site, k1, k2, pir, a1, a2 site.InputID) {
	b := newBuilder()
	k1, k2 = b.input("k1", site.Button), b.input("k2", site.Button)
	pir, a1, a2 = b.input("pir", site.Presence), b.input("a1", site.Alarm), b.input("a2", site.Alarm)
	b.assume(site.Assumption{Kind: site.Spacing, Inputs: []site.InputID{k1, k2}, D: 500})
	b.assume(site.Assumption{Kind: site.Dwell, Inputs: []site.InputID{pir}, Value: true, D: 2000})
	b.assume(site.Assumption{Kind: site.AtMost, Inputs: []site.InputID{a1, a2}, N: 1})
	b.assume(site.Assumption{Kind: site.Dwell, Inputs: []site.InputID{a2}, Value: false, D: 10_000})
	return b.done(), k1, k2, pir, a1, a2
}

func TestAssumptions(t *testing.T) {
	s, k1, k2, pir, a1, a2 := assumptions()
	half := 500 * Milli
	for _, tt := range []struct {
		name    string
		initial []site.InputID
		events  []Event
		broken  int // assumption, or -1
	}{
		{"spacing exactly", nil, []Event{tap(sec, k1), tap(sec+half, k1)}, -1},
		{"spacing one nanosecond short", nil, []Event{tap(sec, k1), tap(sec+half-1, k1)}, 0},
		{"spacing of two inputs", nil, []Event{tap(sec, k1), tap(sec+half-1, k2)}, 0},
		{"spacing after another gesture", nil, []Event{tap(sec, k1), {At: sec + 1, Input: k1, Gesture: site.LongPress}}, 0},
		{"nothing is a change before the first", nil, []Event{tap(1, k1)}, -1},
		{"other inputs are free", nil, []Event{tap(sec, k1), turn(sec+1, pir, true)}, -1},
		{"dwell exactly", nil, []Event{turn(sec, pir, true), turn(3*sec, pir, false)}, -1},
		{"dwell one nanosecond short", nil, []Event{turn(sec, pir, true), turn(3*sec-1, pir, false)}, 1},
		{"the other value does not dwell", nil, []Event{turn(sec, pir, true), turn(3*sec, pir, false), turn(3*sec+1, pir, true)}, -1},
		{"a value held at start-up may end", []site.InputID{pir}, []Event{turn(1, pir, false)}, -1},
		{"at most one at start-up", []site.InputID{a1, a2}, nil, 2},
		{"at most one later", []site.InputID{a1}, []Event{turn(sec, a2, true)}, 2},
		{"dwell on false exactly", nil, []Event{turn(sec, a2, true), turn(2*sec, a2, false), turn(12*sec, a2, true)}, -1},
		{"dwell on false short", nil, []Event{turn(sec, a2, true), turn(2*sec, a2, false), turn(12*sec-1, a2, true)}, 3},
		{"one after the other", []site.InputID{a1}, []Event{turn(sec, a1, false), turn(sec+1, a2, true)}, -1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Run(s, Script{Initial: tt.initial, Events: tt.events, End: 20 * sec})
			var ae *AssumptionError
			switch {
			case tt.broken < 0 && err != nil:
				t.Errorf("refused: %v", err)
			case tt.broken >= 0 && (!errors.As(err, &ae) || ae.Assumption != tt.broken):
				t.Errorf("error %v, want assumption %d broken", err, tt.broken)
			}
		})
	}
}

func TestScriptErrors(t *testing.T) {
	s, k1, _, pir, _, _ := assumptions()
	for name, sc := range map[string]Script{
		"start of week":      {Start: Week},
		"negative end":       {End: -1},
		"event at start-up":  {End: sec, Events: []Event{tap(0, k1)}},
		"same time":          {End: sec, Events: []Event{tap(1, k1), turn(1, pir, true)}},
		"backwards":          {End: sec, Events: []Event{tap(2, k1), turn(1, pir, true)}},
		"after the end":      {End: sec, Events: []Event{tap(sec+1, k1)}},
		"no change":          {End: sec, Events: []Event{turn(1, pir, false)}},
		"no such input":      {End: sec, Events: []Event{tap(1, 99)}},
		"no such gesture":    {End: sec, Events: []Event{{At: 1, Input: k1, Gesture: 9}}},
		"gesture on a level": {End: sec, Events: []Event{{At: 1, Input: pir, Value: true, Gesture: site.LongPress}}},
		"button at start-up": {Initial: []site.InputID{k1}},
		"twice at start-up":  {Initial: []site.InputID{pir, pir}},
		"unknown at start":   {Initial: []site.InputID{-1}},
	} {
		if tl, err := Run(s, sc); err == nil || tl != nil {
			t.Errorf("%s: no error", name)
		} else if strings.TrimSpace(err.Error()) == "" {
			t.Errorf("%s: an empty message", name)
		}
	}
	s.StepOrder = append(s.StepOrder, 7)
	if _, err := Run(s, Script{}); err == nil {
		t.Error("a site with a wrong step order is played")
	}
}

// A script that would fill the memory is refused.
func TestTooManySteps(t *testing.T) {
	s, _, fire, _, _ := flasher()
	s.Modes[1].States[0].Stages = []site.Stage{{Flash: &site.Flash{On: 1, Off: 1}}}
	p, err := newPlayer(s, 0)
	if err != nil {
		t.Fatal(err)
	}
	sc := Script{Initial: []site.InputID{fire}, End: 3600 * sec}
	r := run{player: p, tl: &Timeline{Site: s, Script: sc, plan: p.plan}, room: 1000 * stepCost}
	var se *ScriptError
	if err := r.play(); !errors.As(err, &se) || len(r.tl.Steps) < 900 {
		t.Errorf("after %d steps: %v", len(r.tl.Steps), err)
	}
}

// A timeline does not change when the script that made it is used again.
func TestScriptIsCopied(t *testing.T) {
	s, _, full, dim, _ := dimmer()
	sc := Script{End: 9 * sec, Events: []Event{turn(sec, full, true)}}
	tl := mustRun(t, s, sc)
	sc.Events[0] = turn(2*sec, dim, true)
	if tl.Script.Events[0].Input != full || tl.Steps[1].Event.Input != full {
		t.Error("the timeline shares the script's events")
	}
}
