// The timers of IEC 61131-3 and the other steps of modes (lang/SEMANTICS.md section 2, step 2).

package rehearse

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/lang/site"
)

// pulses makes the events of an input that is true in each [from, to), in seconds.
func pulses(in site.InputID, spans ...[2]Nanos) []Event {
	var out []Event
	for _, s := range spans {
		out = append(out, turn(s[0]*sec, in, true), turn(s[1]*sec, in, false))
	}
	return out
}

// inSeconds turns edge times into seconds: q(5, 10) is on at 5, off at 10.
func q(times ...Nanos) []edge {
	var out []edge
	for i, t := range times {
		out = append(out, edge{t * sec, i%2 == 0})
	}
	return out
}

// Source of every trace here: the timing diagrams of IEC 61131-3 (2nd edition, timer function blocks TON, TOF, TP,
// tables 37 and 38), and the ties as lang/SEMANTICS.md fixes them. PT is 5 s throughout. Inputs start 1 s late, as a
// change is after start-up; the traces are shifted back.
func TestTimersOfIEC61131(t *testing.T) {
	ton := site.Mode{Kind: site.While, OnDelay: 5 * ssec}
	tof := site.Mode{Kind: site.While, OffDelay: 5 * ssec}
	tp := site.Mode{Kind: site.While, Pulse: 5 * ssec}
	tests := []struct {
		name string
		mode site.Mode
		in   [][2]Nanos
		want []edge
	}{
		{"TON", ton, [][2]Nanos{{0, 10}, {20, 23}, {30, 35}}, q(5, 10)},
		{"TON fall at exactly PT: fall wins", ton, [][2]Nanos{{30, 35}}, nil},
		{"TOF", tof, [][2]Nanos{{0, 10}, {20, 22}, {25, 30}}, q(0, 15, 20, 35)},
		{"TOF tie: rise at expiry leaves no gap", tof, [][2]Nanos{{0, 10}, {15, 17}}, q(0, 22)},
		{"TP", tp, [][2]Nanos{{0, 10}, {20, 21}, {22, 23}, {40, 43}, {44, 60}}, q(0, 5, 20, 25, 40, 45)},
		{"TP edge at expiry is lost", tp, [][2]Nanos{{0, 2}, {5, 9}, {20, 21}}, q(0, 5, 20, 25)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := newBuilder()
			in := b.input("in", site.Switch)
			tt.mode.Cond = isIn(in)
			m := b.mode(tt.mode)
			sc := Script{Events: pulses(in, tt.in...), End: 200 * sec}
			for i := range sc.Events {
				sc.Events[i].At += sec
			}
			got := edges(mustRun(t, b.done(), sc), isOn(m))
			for i := range got {
				got[i].at -= sec
			}
			if d := cmp.Diff(tt.want, got, cmp.AllowUnexported(edge{})); d != "" {
				t.Errorf("Q edges (-want +got):\n%s", d)
			}
		})
	}
}

// Presence hold is TOF on the sensor (IEC 61131-3): the three cases of a re-trigger around the end of the hold.
func TestPresenceHoldRetrigger(t *testing.T) {
	const hold = 90 * sec
	tests := []struct {
		name  string
		again Nanos // after the fall
		want  []edge
	}{
		{"one nanosecond before", hold - 1, []edge{{sec, true}}},
		{"exactly at the hold", hold, []edge{{sec, true}}},
		{"one nanosecond after", hold + 1, []edge{{sec, true}, {2*sec + hold, false}, {2*sec + hold + 1, true}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := newBuilder()
			in := b.input("pir", site.Presence)
			m := b.mode(site.Mode{Kind: site.While, Cond: isIn(in), OffDelay: 90 * ssec})
			tl := mustRun(t, b.done(), Script{End: 2*sec + tt.again, Events: []Event{
				turn(sec, in, true), turn(2*sec, in, false), turn(2*sec+tt.again, in, true)}})
			if d := cmp.Diff(tt.want, edges(tl, isOn(m)), cmp.AllowUnexported(edge{})); d != "" {
				t.Errorf("edges (-want +got):\n%s", d)
			}
		})
	}
}

// The hold restarts in full at the next fall (TOF), and an on delay with an off delay chains both.
func TestOnAndOffDelayTogether(t *testing.T) {
	b := newBuilder()
	in := b.input("pir", site.Presence)
	m := b.mode(site.Mode{Kind: site.While, Cond: isIn(in), OnDelay: 2 * ssec, OffDelay: 5 * ssec})
	tl := mustRun(t, b.done(), Script{End: 100 * sec, Events: pulses(in, [2]Nanos{10, 11}, [2]Nanos{20, 23}, [2]Nanos{27, 28})})
	if d := cmp.Diff(q(22, 33), edges(tl, isOn(m)), cmp.AllowUnexported(edge{})); d != "" {
		t.Error(d)
	}
}

// night is ended by the clock at 07:00 and toggled by a tap.
func night(b *builder, key site.InputID) site.ModeID {
	return b.mode(site.Mode{Kind: site.Latch,
		Starts: []site.Trigger{on(tapped(key, site.Tap))},
		Ends:   []site.Trigger{on(tapped(key, site.Tap)), clockAt(7 * shour)}})
}

// Section 2: "with `ends at 07:00` and the toggling tap at 07:00:00.000 the night ends and the tap starts it again."
func TestTapAtSeven(t *testing.T) {
	b := newBuilder()
	key := b.input("key", site.Button)
	m := night(b, key)
	b.s.Modes[m].States = []site.State{{Stages: []site.Stage{stage(2*smin, 100), stage(0, 200)}}}
	s := b.done()
	start := 6*3600*sec + 50*60*sec
	seven := 10 * 60 * sec
	for _, tt := range []struct {
		name  string
		tap   Nanos
		want  bool
		stage int
	}{
		{"before: the tap ends it, the clock finds it ended", seven - 1, false, Over},
		{"at 07:00: ended and started again", seven, true, 0},
		{"after: the clock ended it, the tap starts it", seven + 1, true, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tl := mustRun(t, s, Script{Start: start, End: seven + 1, Events: []Event{tap(sec, key), tap(tt.tap, key)}})
			got := tl.Mode(len(tl.Steps)-1, m)
			if got.Active != tt.want || got.Stage != tt.stage {
				t.Errorf("after the taps: %+v", got)
			}
		})
	}
	tl := mustRun(t, s, Script{Start: start, End: seven, Events: []Event{tap(sec, key), tap(seven, key)}})
	last := tl.Steps[len(tl.Steps)-1]
	if len(last.Modes) != 1 || !last.Modes[0].Restarted || len(last.Modes[0].By) != 2 {
		t.Errorf("the restart at 07:00 is not told: %+v", last.Modes)
	}
	var kinds []CauseKind
	for _, c := range last.Causes {
		kinds = append(kinds, c.Kind)
	}
	if d := cmp.Diff([]CauseKind{InputChange, ClockDue}, kinds); d != "" {
		t.Error(d)
	}
}

// Section 1: a start-up at exactly a clock time counts as just after it.
func TestStartUpAtClockTime(t *testing.T) {
	b := newBuilder()
	day := b.band("day", 7*shour, 22*shour)
	late := b.band("late", 22*shour, 7*shour)
	m := b.mode(site.Mode{Kind: site.Latch, Starts: []site.Trigger{clockAt(7 * shour)}, For: smin})
	s := b.done()
	at := 7 * 3600 * sec
	tl := mustRun(t, s, Script{Start: at, End: sec})
	if !tl.Band(0, day) || tl.Band(0, late) || tl.Mode(0, m).Active {
		t.Error("start-up at 07:00: the day band holds, the trigger has passed")
	}
	tl = mustRun(t, s, Script{Start: at - 1, End: 2*sec + 24*3600*sec})
	if tl.Band(0, day) || !tl.Band(1, day) {
		t.Error("the band begins at 07:00 inclusive")
	}
	want := []edge{{1, true}, {1 + 60*sec, false}, {1 + Day, true}}
	if d := cmp.Diff(want, edges(tl, isOn(m)), cmp.AllowUnexported(edge{})); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]edge{{0, true}, {1, false}, {1 + 15*3600*sec, true}, {1 + Day, false}},
		edges(tl, isBand(late)), cmp.AllowUnexported(edge{})); d != "" {
		t.Errorf("a band past midnight: %s", d)
	}
}

// Latch: a start while active is ignored (the timer does not start again); "for" at its end with a start by cause.
func TestLatchFor(t *testing.T) {
	b := newBuilder()
	key := b.input("key", site.Button)
	m := b.mode(site.Mode{Kind: site.Latch, For: 5 * ssec, Starts: []site.Trigger{on(tapped(key, site.Tap))}})
	s := b.done()
	for _, tt := range []struct {
		name string
		taps []Nanos
		want []edge
	}{
		{"ignored while active", []Nanos{1, 4}, q(1, 6)},
		{"at its end: ends and starts again", []Nanos{1, 6}, q(1, 11)},
		{"after its end", []Nanos{1, 7}, q(1, 6, 7, 12)},
	} {
		sc := Script{End: 30 * sec}
		for _, x := range tt.taps {
			sc.Events = append(sc.Events, tap(x*sec, key))
		}
		if d := cmp.Diff(tt.want, edges(mustRun(t, s, sc), isOn(m)), cmp.AllowUnexported(edge{})); d != "" {
			t.Errorf("%s: %s", tt.name, d)
		}
	}
}

// A trigger fires on a rise, counted from rest at start-up; a guard that fails loses the clock time.
func TestTriggersAndGuards(t *testing.T) {
	b := newBuilder()
	fire, sw := b.input("fire", site.Alarm), b.input("sw", site.Switch)
	m := b.mode(site.Mode{Kind: site.Latch, Starts: []site.Trigger{on(isIn(fire)),
		{At: 3 * shour, If: isIn(sw)}}, Ends: []site.Trigger{on(not(isIn(fire)))}})
	s := b.done()
	tl := mustRun(t, s, Script{Initial: []site.InputID{fire}, End: sec})
	if !tl.Mode(0, m).Active {
		t.Error("an alarm that is raised at start-up comes true there")
	}
	tl = mustRun(t, s, Script{End: sec})
	if tl.Mode(0, m).Active {
		t.Error("active without a cause")
	}
	three := 3 * 3600 * sec
	tl = mustRun(t, s, Script{End: three + sec, Events: []Event{turn(three+1, sw, true)}})
	if len(edges(tl, isOn(m))) != 0 {
		t.Error("a clock time whose guard fails is kept")
	}
	tl = mustRun(t, s, Script{End: three + sec, Events: []Event{turn(three, sw, true)}})
	if d := cmp.Diff([]edge{{three, true}}, edges(tl, isOn(m)), cmp.AllowUnexported(edge{})); d != "" {
		t.Errorf("the guard reads the new input: %s", d)
	}
}

// keypad is the States mode of lang/LANGUAGE.md, by tap round three states, two hours of bright, and out at 03:00.
func keypad(b *builder, key, room site.InputID) site.ModeID {
	tapKey := on(tapped(key, site.Tap))
	return b.mode(site.Mode{Kind: site.States,
		States: []site.State{{Name: "auto"}, {Name: "bright"}, {Name: "film"}},
		Transitions: []site.Transition{
			{Trigger: tapKey, From: 0, To: 1}, {Trigger: tapKey, From: 1, To: 2}, {Trigger: tapKey, From: 2, To: 0},
			{Trigger: on(not(isIn(room))), From: site.None, To: 0},
			{After: 2 * shour, From: 1, To: 0},
			{Trigger: clockAt(3 * shour), From: site.None, To: 0},
		}})
}

func TestStates(t *testing.T) {
	b := newBuilder()
	key, room := b.input("key", site.Button), b.input("room", site.Presence)
	m := keypad(b, key, room)
	s := b.done()
	states := func(sc Script) (out []int) {
		tl := mustRun(t, s, sc)
		for i := range tl.Steps {
			if v := tl.Mode(i, m); len(out) == 0 || out[len(out)-1] != v.State {
				out = append(out, v.State)
			}
			if v := tl.Mode(i, m); v.Active != (v.State != 0) {
				t.Errorf("active in %d: %t", v.State, v.Active)
			}
		}
		return out
	}
	two := 2 * 3600 * sec
	for _, tt := range []struct {
		name   string
		events []Event
		want   []int
	}{
		{"round", []Event{tap(1*sec, key), tap(2*sec, key), tap(3*sec, key)}, []int{0, 1, 2, 0}},
		{"after two hours", []Event{tap(1*sec, key)}, []int{0, 1, 0}},
		{"time first, then cause from there", []Event{tap(1*sec, key), tap(1*sec+two, key)}, []int{0, 1, 0}},
		{"just before the two hours", []Event{tap(1*sec, key), tap(sec+two-1, key)}, []int{0, 1, 2, 0}},
		{"vacated", []Event{turn(sec, room, true), tap(2*sec, key), turn(3*sec, room, false)}, []int{0, 1, 0}},
	} {
		if d := cmp.Diff(tt.want, states(Script{Events: tt.events, End: sec * 4 * 3600, Start: 0})); d != "" {
			t.Errorf("%s: %s", tt.name, d)
		}
	}
	// At the tie the mode left bright by time and entered it again by the tap: its two hours start anew.
	tl := mustRun(t, s, Script{Start: 4 * 3600 * sec, End: 5 * 3600 * sec, Events: []Event{tap(sec, key), tap(sec+two, key)}})
	if d := cmp.Diff([]edge{{sec, true}, {sec + 2*two, false}}, edges(tl, inState(m, 1)), cmp.AllowUnexported(edge{})); d != "" {
		t.Error(d)
	}
}

// The timers of a first state count from start-up; a written self-transition enters anew.
func TestSelfTransition(t *testing.T) {
	b := newBuilder()
	key := b.input("key", site.Button)
	m := b.mode(site.Mode{Kind: site.States, States: []site.State{{Name: "a"}, {Name: "b"}},
		Transitions: []site.Transition{{After: 10 * ssec, From: 0, To: 1}, {Trigger: on(tapped(key, site.Tap)), From: 0, To: 0}}})
	s := b.done()
	tl := mustRun(t, s, Script{End: 60 * sec})
	if d := cmp.Diff(q(10), edges(tl, isOn(m)), cmp.AllowUnexported(edge{})); d != "" {
		t.Error(d)
	}
	tl = mustRun(t, s, Script{End: 60 * sec, Events: []Event{tap(9*sec, key)}})
	if d := cmp.Diff(q(19), edges(tl, isOn(m)), cmp.AllowUnexported(edge{})); d != "" {
		t.Error(d)
	}
}

// OpWas reads the state before, with no event true.
func TestWas(t *testing.T) {
	b := newBuilder()
	key := b.input("key", site.Button)
	n := night(b, key)
	m := b.mode(site.Mode{Kind: site.Latch, Starts: []site.Trigger{on(and(was(isOn(n)), tapped(key, site.Tap)))}})
	w := b.mode(site.Mode{Kind: site.Latch, Starts: []site.Trigger{on(was(tapped(key, site.Tap)))}})
	tl := mustRun(t, b.done(), Script{End: 10 * sec, Events: []Event{tap(sec, key), tap(2*sec, key)}})
	if d := cmp.Diff(q(2), edges(tl, isOn(m)), cmp.AllowUnexported(edge{})); d != "" {
		t.Error(d)
	}
	if got := edges(tl, isOn(w)); len(got) != 0 {
		t.Errorf("an event was true before the reaction: %v", got)
	}
}
