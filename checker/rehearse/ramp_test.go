// Ramps and outputs (lang/SEMANTICS.md section 2 step 4).

package rehearse

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/lang/site"
)

// ramped lets the mode ask with a ramp.
func ramped(b *builder, m site.ModeID, over site.Millis) {
	b.s.Modes[m].States[0].Stages[0].Settings[0].Cases[0].Over = over
}

// stairs is a lamp of three modes in order of precedence, each on a switch: 100 % by ramp, 60 % by the circuit's own fade,
// 20 % by another ramp.
func stairs(reacts, fade, over, other site.Millis) (*site.Site, site.CircuitID, []site.InputID) {
	b, c, ins, ms := panel(3)
	b.s.Controller.ReactsWithin, b.s.Circuits[c].Fade = reacts, fade
	for i, l := range []site.Level{site.Full, 6000, 2000} {
		b.s.Modes[ms[i]].States = asks(l, c)
	}
	ramped(b, ms[0], over)
	ramped(b, ms[2], other)
	b.over(ms...)
	return b.done(), c, ins
}

// wantDue holds aim and due time of a moving lamp against those expected.
func wantDue(t *testing.T, tl *Timeline, c site.CircuitID, at Nanos, aim site.Level, due Nanos) {
	t.Helper()
	if l := lampAt(tl, c, at); !l.Moving || l.Aim != aim || l.Due != due {
		t.Errorf("at %s: %+v, want aim %d due %s", at, l, aim, due)
	}
}

// wantStill holds the level of a lamp that does not move against the one expected.
func wantStill(t *testing.T, tl *Timeline, c site.CircuitID, at Nanos, level site.Level) {
	t.Helper()
	if l := lampAt(tl, c, at); l.Moving || l.Level != level {
		t.Errorf("at %s: %+v, want still at %d", at, l, level)
	}
}

// TestRampAndReactionTime: T is ReactsWithin + Over instead of ReactsWithin + Fade; exact at its end.
func TestRampAndReactionTime(t *testing.T) {
	for _, tt := range []struct{ reacts, fade, over site.Millis }{{300, 0, 5000}, {300, 700, 5000}, {0, 700, 5000}, {0, 9000, 5000}, {0, 0, 5000}} {
		s, c, ins := stairs(tt.reacts, tt.fade, tt.over, 0)
		arrives := sec + FromMillis(tt.reacts+tt.over)
		tl := mustRun(t, s, Script{End: 20 * sec, Events: []Event{turn(sec, ins[0], true)}})
		wantDue(t, tl, c, sec, site.Full, arrives)
		wantDue(t, tl, c, arrives-1, site.Full, arrives)
		wantStill(t, tl, c, arrives, site.Full)
		var kinds []CauseKind
		for _, st := range tl.Steps {
			kinds = append(kinds, st.Causes[0].Kind)
		}
		if d := cmp.Diff([]CauseKind{StartUp, InputChange, LampArrives}, kinds); d != "" {
			t.Error(d)
		}
	}
}

// TestRampInterrupted: a new request during a ramp starts anew, with its own T from now, also with no fade of its own.
func TestRampInterrupted(t *testing.T) {
	s, c, ins := stairs(300, 0, 5000, 2000)
	off := Script{End: 20 * sec, Initial: []site.InputID{ins[1]}, Moves: []Move{{1500 * Milli, c, 8000}}, Events: []Event{turn(sec, ins[0], true), turn(2*sec, ins[0], false)}}
	tl := mustRun(t, s, off)
	wantDue(t, tl, c, sec, site.Full, sec+5300*Milli)
	wantDue(t, tl, c, 2*sec, 6000, 2*sec+300*Milli)
	// The quick movement that runs now has neither a ramp nor a fade: the next quick one keeps its due time ...
	off.Events = append(off.Events, turn(2*sec+100*Milli, ins[1], false))
	tl = mustRun(t, s, off)
	wantDue(t, tl, c, 2*sec+100*Milli, 0, 2*sec+300*Milli)
	// ... and a ramp starts anew.
	off.Events[2] = turn(2*sec+100*Milli, ins[0], true)
	tl = mustRun(t, s, off)
	wantDue(t, tl, c, 2*sec+100*Milli, site.Full, 7*sec+400*Milli)
	// A ramp after a ramp starts anew, from wherever the level is.
	tl = mustRun(t, s, Script{End: 20 * sec, Moves: []Move{{1500 * Milli, c, 4000}},
		Events: []Event{turn(500*Milli, ins[2], true), turn(sec, ins[0], true), turn(2*sec, ins[0], false)}})
	wantDue(t, tl, c, sec, site.Full, 6300*Milli)
	wantDue(t, tl, c, 2*sec, 2000, 4300*Milli)
	if l := lampAt(tl, c, 2*sec); l.Level != 4000 {
		t.Errorf("the ramp down starts from %d", l.Level)
	}
}

// TestRampAtOnce: without a reaction time, a request with no ramp is followed at once, even in the middle of a ramp.
func TestRampAtOnce(t *testing.T) {
	s, c, ins := stairs(0, 0, 5000, 0)
	sc := Script{End: 20 * sec, Initial: []site.InputID{ins[1]}, Events: []Event{turn(sec, ins[0], true), turn(2*sec, ins[0], false)}}
	for _, lazy := range []bool{false, true} {
		tl, err := play(s, sc, lazy)
		if err != nil {
			t.Fatal(err)
		}
		wantStill(t, tl, c, 0, 6000)
		wantDue(t, tl, c, sec, site.Full, 6*sec)
		wantStill(t, tl, c, 2*sec, 6000)
		if last := tl.Steps[len(tl.Steps)-1]; last.At != 2*sec {
			t.Errorf("the ramp that was left still arrives: %+v", last)
		}
	}
}

// TestRampAfterFade: on a circuit with a fade every movement starts anew; a ramp is followed by a fade of the fade's length.
func TestRampAfterFade(t *testing.T) {
	s, c, ins := stairs(300, 700, 5000, 0)
	tl := mustRun(t, s, Script{End: 20 * sec, Moves: []Move{{1200 * Milli, c, 3000}}, Events: []Event{
		turn(sec, ins[1], true), turn(1500*Milli, ins[0], true), turn(2*sec, ins[0], false), turn(2500*Milli, ins[1], false)}})
	wantDue(t, tl, c, sec, 6000, 2*sec)
	wantDue(t, tl, c, 1500*Milli, site.Full, 6800*Milli)
	wantDue(t, tl, c, 2*sec, 6000, 3*sec)
	wantDue(t, tl, c, 2500*Milli, 0, 3500*Milli)
	wantStill(t, tl, c, 3500*Milli, 0)
}

// TestSameLevelStartsNothing: a request whose level does not change starts nothing, even if a setting with another
// ramp, or with none, decides it now.
func TestSameLevelStartsNothing(t *testing.T) {
	b, c, ins, ms := panel(2)
	b.s.Controller.ReactsWithin = 300
	for i, over := range []site.Millis{5000, 0} {
		b.s.Modes[ms[i]].States = asks(site.Full, c)
		ramped(b, ms[i], over)
	}
	b.over(ms...)
	s := b.done()
	tl := mustRun(t, s, Script{End: 20 * sec, Events: []Event{
		turn(sec, ins[0], true), turn(2*sec, ins[1], true), turn(3*sec, ins[0], false), turn(8*sec, ins[0], true)}})
	wantDue(t, tl, c, 2*sec, site.Full, 6300*Milli)
	wantDue(t, tl, c, 3*sec, site.Full, 6300*Milli)
	wantStill(t, tl, c, 8*sec, site.Full)
}

// TestModeWrittenLastCounts: of several settings that decide, that of the mode written last gives T, with a ramp or
// without; one that does not decide gives none.
func TestModeWrittenLastCounts(t *testing.T) {
	for _, tt := range []struct {
		name   string
		overs  [3]site.Millis
		levels [3]site.Level
		rule   site.Rule
		want   site.Millis
	}{
		{"all agree, the last has a ramp", [3]site.Millis{1000, 2000, 4000}, [3]site.Level{5000, 5000, 5000}, site.NoRule, 4000},
		{"all agree, the last has none", [3]site.Millis{1000, 2000, 0}, [3]site.Level{5000, 5000, 5000}, site.NoRule, 700},
		{"the highest decide, the last of them", [3]site.Millis{1000, 2000, 4000}, [3]site.Level{5000, 5000, 3000}, site.Highest, 2000},
		{"the highest decides alone", [3]site.Millis{1000, 2000, 4000}, [3]site.Level{5000, 4000, 3000}, site.Highest, 1000},
		{"the latest, and who agrees", [3]site.Millis{1000, 2000, 4000}, [3]site.Level{3000, 5000, 5000}, site.Latest, 4000},
		{"ambiguous: who asks for the chosen level", [3]site.Millis{1000, 2000, 4000}, [3]site.Level{5000, 3000, 4000}, site.NoRule, 1000},
	} {
		b, c, ins, ms := panel(1)
		b.s.Circuits[c].Fade = 700
		ms = append(ms, b.mode(site.Mode{Kind: site.While, Cond: isIn(ins[0])}), b.mode(site.Mode{Kind: site.While, Cond: isIn(ins[0])}))
		for i := range ms {
			b.s.Modes[ms[i]].States = asks(tt.levels[i], c)
			ramped(b, ms[i], tt.overs[i])
		}
		if tt.rule != site.NoRule {
			b.equals(tt.rule, ms...)
		}
		tl := mustRun(t, b.done(), Script{End: 10 * sec, Events: []Event{turn(sec, ins[0], true)}})
		l := lampAt(tl, c, sec)
		if want := sec + FromMillis(tt.want); !l.Moving || l.Due != want {
			t.Errorf("%s: %+v, want due %s", tt.name, l, want)
		}
	}
}

// TestKeptChoiceKeepsItsRamp: when the feed comes back to an ambiguous circuit, the setting of the kept choice gives T.
func TestKeptChoiceKeepsItsRamp(t *testing.T) {
	b, c, ins, ms := panel(2)
	supply, lost := b.mains("mains")
	b.feed(c, supply)
	for i, over := range []site.Millis{1000, 4000} {
		b.s.Modes[ms[i]].States = asks(site.Level(3000+1000*i), c)
		ramped(b, ms[i], over)
	}
	tl := mustRun(t, b.done(), Script{End: 20 * sec, Initial: ins, Choices: []Choice{{0, c, 4000}},
		Events: []Event{turn(sec, lost, true), turn(2*sec, lost, false)}})
	wantDue(t, tl, c, 0, 4000, 4*sec)
	wantStill(t, tl, c, sec, 0)
	wantDue(t, tl, c, 2*sec, 4000, 6*sec)
	for _, w := range tl.Reason(len(tl.Steps)-1, c).Winners {
		if w.Ramp != 4000 {
			t.Errorf("the winner's ramp is %s", w.Ramp)
		}
	}
}

// TestRampInScenario: an expectation about a lamp on a ramp is met when the ramp must have ended.
func TestRampInScenario(t *testing.T) {
	s, c, ins := stairs(300, 0, 5000, 0)
	sc := &site.Scenario{Steps: []site.ScenarioStep{{After: 1000, Input: ins[0], Value: true},
		{After: 1000, Within: 5300, Expect: light(c, site.Full, site.Full)}, {After: 1000, Within: 5299, Expect: light(c, site.Full, site.Full)}}}
	_, got, err := Rehearse(s, sc)
	if err != nil {
		t.Fatal(err)
	}
	if !got[0].Met || got[0].At != 6300*Milli || got[1].Met || !got[1].Unsure {
		t.Errorf("%+v", got)
	}
}

// TestOutput: an output has no area, feed or fade; it is on or off, within the time to react.
func TestOutput(t *testing.T) {
	b := newBuilder()
	b.s.Circuits = []site.Circuit{{Name: "siren", Area: site.None, FedBy: site.None, Output: true, Switched: true}}
	in := b.input("in", site.Switch)
	follow(b, in, site.Full, 0)
	s := b.done()
	for _, reacts := range []site.Millis{0, 300} {
		s.Controller.ReactsWithin = reacts
		tl := mustRun(t, s, Script{End: 5 * sec, Events: []Event{turn(sec, in, true), turn(3*sec, in, false)}})
		r := FromMillis(reacts)
		wantEdges(t, reacts.String(), tl, light(0, site.Full, site.Full), edge{sec + r, true}, edge{3*sec + r, false})
		if tl.Lamp(len(tl.Steps)-1, 0).FeedOff {
			t.Error("an output has no feed")
		}
	}
}
