// Who wins a circuit, and sequences (lang/SEMANTICS.md section 2, steps 2 and 3).

package rehearse

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/lang/site"
)

// follow makes a mode that is active while the input is true and asks for a level.
func follow(b *builder, in site.InputID, l site.Level, cs ...site.CircuitID) site.ModeID {
	return b.mode(site.Mode{Kind: site.While, Cond: isIn(in), States: asks(l, cs...)})
}

// panel is a site with a circuit and two or three switches whose modes ask for 50 %, 75 % and 60 %.
func panel(n int) (b *builder, c site.CircuitID, ins []site.InputID, ms []site.ModeID) {
	b = newBuilder()
	c = b.circuit("lamp")
	for i, l := range []site.Level{5000, 7500, 6000}[:n] {
		ins = append(ins, b.input(string(rune('a'+i)), site.Switch))
		ms = append(ms, follow(b, ins[i], l, c))
	}
	return b, c, ins, ms
}

// levels plays the switches in order, a second apart, and lists the circuit's level after each.
func levelsAfter(t *testing.T, s *site.Site, c site.CircuitID, events ...Event) []site.Level {
	t.Helper()
	for i := range events {
		events[i].At = Nanos(i+1) * sec
	}
	tl := mustRun(t, s, Script{Events: events, End: Nanos(len(events)+1) * sec})
	var out []site.Level
	for _, ev := range events {
		out = append(out, levelAt(tl, c, ev.At))
	}
	return out
}

func TestPrecedence(t *testing.T) {
	b, c, in, m := panel(3)
	b.over(m[0], m[1], m[2]) // 50 % over 75 % over 60 %, so 50 % over 60 % by two pairs
	s := b.done()
	got := levelsAfter(t, s, c, turn(0, in[2], true), turn(0, in[1], true), turn(0, in[0], true),
		turn(0, in[1], false), turn(0, in[0], false), turn(0, in[2], false))
	if d := cmp.Diff([]site.Level{6000, 7500, 5000, 5000, 6000, 0}, got); d != "" {
		t.Error(d)
	}
	tl := mustRun(t, s, Script{Initial: []site.InputID{in[0], in[2]}})
	r := tl.Reason(0, c)
	if len(r.Winners) != 1 || r.Winners[0].Mode != m[0] || len(r.Losers) != 1 {
		t.Fatalf("reason %+v", r)
	}
	want := Loss{Ask: r.Losers[0].Ask, Why: Outranked, By: m[0], Pairs: []site.PrecedencePair{
		{Over: m[0], Under: m[1]}, {Over: m[1], Under: m[2]}}}
	if d := cmp.Diff(want, r.Losers[0]); d != "" || r.Losers[0].Ask.Mode != m[2] {
		t.Error(d)
	}
}

// Source: the trade's rule "highest takes precedence": of {50, 75} the result is 75; drop the 75 and 50 shows, not 0.
// A cue that holds 60 against a fader: fader at 50 gives 60, at 70 (here 75) gives the fader. Common practice.
func TestHighest(t *testing.T) {
	b, c, in, m := panel(3)
	b.equals(site.Highest, m...)
	s := b.done()
	got := levelsAfter(t, s, c, turn(0, in[0], true), turn(0, in[1], true), turn(0, in[1], false), turn(0, in[2], true),
		turn(0, in[1], true))
	if d := cmp.Diff([]site.Level{5000, 7500, 5000, 6000, 7500}, got); d != "" {
		t.Error(d)
	}
	got = levelsAfter(t, s, c, turn(0, in[1], true), turn(0, in[0], true)) // order-free
	if d := cmp.Diff([]site.Level{7500, 7500}, got); d != "" {
		t.Error(d)
	}
	tl := mustRun(t, s, Script{Initial: in})
	r := tl.Reason(0, c)
	if r.Rule != site.Highest || len(r.Winners) != 1 || r.Winners[0].Mode != m[1] || len(r.Losers) != 2 ||
		r.Losers[0].Why != Lower || r.Losers[0].By != m[1] || len(r.Losers[0].Pairs) != 1 {
		t.Errorf("reason %+v", r)
	}
}

// Source: the trade's rule "latest takes precedence": the last change wins whatever the level; swap the events and the
// result differs. Common practice.
func TestLatest(t *testing.T) {
	b, c, in, m := panel(2)
	b.equals(site.Latest, m...)
	s := b.done()
	for _, tt := range []struct {
		first, second int
		want          []site.Level
	}{{0, 1, []site.Level{5000, 7500, 5000}}, {1, 0, []site.Level{7500, 5000, 7500}}} {
		got := levelsAfter(t, s, c, turn(0, in[tt.first], true), turn(0, in[tt.second], true), turn(0, in[tt.second], false))
		if d := cmp.Diff(tt.want, got); d != "" {
			t.Error(d)
		}
	}
	// Equal recencies: the one written last.
	tl := mustRun(t, s, Script{Initial: in})
	if got := tl.Level(0, c); got != 7500 {
		t.Errorf("both at start-up: %d", got)
	}
	if r := tl.Reason(0, c); r.Rule != site.Latest || r.Losers[0].Why != Earlier || r.Losers[0].By != m[1] {
		t.Errorf("reason %+v", r)
	}
}

// A mode that enters a stage is the latest again; a change of a flash part or of a case is not an entry.
func TestLatestByStage(t *testing.T) {
	b := newBuilder()
	c, key, dark := b.circuit("lamp"), b.input("key", site.Switch), b.input("dark", site.Switch)
	tour := b.mode(site.Mode{Kind: site.While, Cond: isIn(key), States: []site.State{{Stages: []site.Stage{
		stage(10*ssec, 1000, c), stage(10*ssec, 2000, c),
		{For: 10 * ssec, Flash: &site.Flash{On: ssec, Off: ssec}, Settings: []site.Setting{{Circuits: []site.CircuitID{c},
			Flashing: true, Cases: []site.Case{{When: isIn(dark), Level: 3000}, {Level: 4000}}}}},
	}}}})
	other := b.mode(site.Mode{Kind: site.While, Cond: isIn(b.input("other", site.Switch)), States: asks(9000, c)})
	b.equals(site.Latest, tour, other)
	s := b.done()
	o := site.InputID(2)
	tl := mustRun(t, s, Script{End: 100 * sec, Events: []Event{turn(sec, key, true), turn(5*sec, o, true),
		turn(15*sec, o, false), turn(16*sec, o, true), turn(25*sec, o, false), turn(25*sec+1, o, true), turn(26*sec, dark, true)}})
	for _, w := range []struct {
		at   Nanos
		want site.Level
	}{{1 * sec, 1000}, {5 * sec, 9000}, {11 * sec, 2000}, {16 * sec, 9000}, {21 * sec, 4000}, {22 * sec, 0},
		{23 * sec, 4000}, {25*sec + 1, 9000}, {26 * sec, 9000}, {31 * sec, 9000}, {99 * sec, 9000}} {
		if got := levelAt(tl, c, w.at); got != w.want {
			t.Errorf("at %s: %d, want %d", w.at, got, w.want)
		}
	}
}

// Ambiguity: a choice is kept until the set M or one of its levels changes; the first asked level without a choice.
func TestAmbiguity(t *testing.T) {
	b, c, in, _ := panel(3)
	other := b.input("other", site.Switch)
	s := b.done()
	events := []Event{turn(2*sec, other, true), turn(3*sec, in[2], true), turn(4*sec, in[2], false), turn(5*sec, in[0], false)}
	tl := mustRun(t, s, Script{Initial: in[:2], Events: events, End: 9 * sec,
		Choices: []Choice{{0, c, 7500}, {3 * sec, c, 6000}}})
	var got []site.Level
	for i := range tl.Steps {
		got = append(got, tl.Level(i, c))
	}
	// chosen, kept, chosen anew as M grew, anew as it shrank (first asked), decided.
	if d := cmp.Diff([]site.Level{7500, 7500, 6000, 5000, 7500}, got); d != "" {
		t.Error(d)
	}
	if !tl.Ambiguous(0, c) || tl.Ambiguous(4, c) {
		t.Error("ambiguous from the start until one mode is left")
	}
	r := tl.Reason(0, c)
	if d := cmp.Diff([]site.Level{5000, 7500}, r.Candidates); d != "" || r.Kept || r.Losers[0].Why != NotChosen {
		t.Errorf("reason at start-up: %+v", r)
	}
	if r := tl.Reason(1, c); !r.Kept || len(r.Winners) != 1 || r.Winners[0].Level != 7500 {
		t.Errorf("the choice is kept: %+v", r)
	}
	for _, bad := range [][]Choice{
		{{0, c, 6000}},                // not a candidate
		{{2 * sec, c, 5000}},          // kept, nothing to choose
		{{7 * sec, c, 5000}},          // no reaction
		{{0, c, 5000}, {0, c, 7500}},  // twice
		{{-5, c, 5000}}, {{0, 7, 50}}, // before the run; no such circuit
	} {
		var se *ScriptError
		if _, err := Run(s, Script{Initial: in[:2], Events: events, End: 9 * sec, Choices: bad}); !errors.As(err, &se) {
			t.Errorf("choices %v: error %v", bad, err)
		}
	}
}

// Two of three have a rule: not every pair, so the circuit is ambiguous. Equal clamped levels need no rule.
func TestEveryPairNeedsTheRule(t *testing.T) {
	b, c, in, m := panel(3)
	b.equals(site.Highest, m[0], m[1])
	s := b.done()
	tl := mustRun(t, s, Script{Initial: in})
	if !tl.Ambiguous(0, c) {
		t.Error("three modes, one rule: not ambiguous")
	}
	s.Circuits[c].Switched = true
	tl = mustRun(t, s, Script{Initial: in})
	if tl.Ambiguous(0, c) || tl.Level(0, c) != site.Full || len(tl.Reason(0, c).Winners) != 3 {
		t.Errorf("a switched circuit takes each as full: %+v", tl.Reason(0, c))
	}
}

// The last setting that lists the circuit and has a case that holds counts; its first such case.
func TestSettingsAndCases(t *testing.T) {
	b := newBuilder()
	c, d := b.circuit("c"), b.circuit("d")
	b.s.Circuits[d].Min, b.s.Circuits[d].Max = 1000, 8000
	x, y := b.input("x", site.Switch), b.input("y", site.Switch)
	b.mode(site.Mode{Kind: site.While, Cond: &site.Expr{Op: site.OpTrue}, States: []site.State{{Stages: []site.Stage{{
		Settings: []site.Setting{
			{Circuits: []site.CircuitID{c, d}, Cases: []site.Case{{Level: site.Full}}},
			{Circuits: []site.CircuitID{c}, Cases: []site.Case{{When: isIn(x), Level: 2000}, {When: or(isIn(x), isIn(y)), Level: 3000}}},
		}}}}}})
	tl := mustRun(t, b.done(), Script{End: 10 * sec, Events: []Event{turn(sec, y, true), turn(2*sec, x, true), turn(3*sec, y, false),
		turn(4*sec, x, false)}})
	var got []site.Level
	for i := range tl.Steps {
		got = append(got, tl.Level(i, c))
	}
	if d := cmp.Diff([]site.Level{site.Full, 3000, 2000, 2000, site.Full}, got); d != "" {
		t.Error(d)
	}
	if r := tl.Reason(1, c); r.Winners[0].Setting != 1 || r.Winners[0].Case != 1 {
		t.Errorf("the deciding case: %+v", r.Winners)
	}
	if got := tl.Level(0, d); got != 8000 {
		t.Errorf("clamped: %d", got)
	}
}

// flasher is an alarm: three flashes of 500 ms on, 500 ms off, then full; it is masked by a switch.
func flasher() (s *site.Site, c site.CircuitID, fire, mask site.InputID, m site.ModeID) {
	b := newBuilder()
	c, fire, mask = b.circuit("lamp"), b.input("fire", site.Alarm), b.input("mask", site.Switch)
	over := follow(b, mask, 2000, c)
	m = b.mode(site.Mode{Kind: site.While, Cond: isIn(fire), States: []site.State{{Stages: []site.Stage{
		{For: 3000, Flash: &site.Flash{Times: 3, On: 500, Off: 500}, Settings: []site.Setting{
			{Circuits: []site.CircuitID{c}, Flashing: true, Cases: []site.Case{{Level: site.Full}}}}},
		stage(2*ssec, 6000, c),
	}}}})
	b.over(over, m)
	return b.done(), c, fire, mask, m
}

// A flash starts with its on part; the last stage ends and the mode stays active, asking for nothing.
func TestFlashAndEndOfSequence(t *testing.T) {
	s, c, fire, _, m := flasher()
	tl := mustRun(t, s, Script{End: 20 * sec, Events: []Event{turn(sec, fire, true), turn(10*sec, fire, false)}})
	var got []edge
	for i := range tl.Steps {
		if v := tl.Level(i, c) > 0; len(got) == 0 || got[len(got)-1].on != v {
			got = append(got, edge{tl.Steps[i].At, v})
		}
	}
	want := []edge{{0, false}, {sec, true}, {sec + 500*Milli, false}, {2 * sec, true}, {2*sec + 500*Milli, false},
		{3 * sec, true}, {3*sec + 500*Milli, false}, {4 * sec, true}, {6 * sec, false}}
	if d := cmp.Diff(want, got, cmp.AllowUnexported(edge{})); d != "" {
		t.Error(d)
	}
	for _, w := range []struct {
		at     Nanos
		stage  int
		active bool
	}{{4*sec - 1, 0, true}, {4 * sec, 1, true}, {6*sec - 1, 1, true}, {6 * sec, Over, true}, {10 * sec, Over, false}} {
		if v := tl.Mode(tl.stepAt(w.at), m); v.Stage != w.stage || v.Active != w.active {
			t.Errorf("at %s: %+v", w.at, v)
		}
		if got := Holds(s, tl, inStage(m, max(w.stage, 0)), w.at); got != (w.stage >= 0) {
			t.Errorf("at %s: in stage is %t", w.at, got)
		}
	}
}

// A masked mode keeps its phase: the flash goes on under the mask.
func TestMaskedFlashKeepsPhase(t *testing.T) {
	s, c, fire, mask, m := flasher()
	tl := mustRun(t, s, Script{End: 20 * sec, Events: []Event{turn(sec, fire, true), turn(sec+100*Milli, mask, true),
		turn(sec+700*Milli, mask, false), turn(2*sec+400*Milli, mask, true), turn(2*sec+450*Milli, mask, false)}})
	for _, w := range []struct {
		at   Nanos
		want site.Level
		on   bool
	}{{sec, site.Full, true}, {sec + 100*Milli, 2000, true}, {sec + 500*Milli, 2000, false}, {sec + 700*Milli, 0, false},
		{2*sec - 1, 0, false}, {2 * sec, site.Full, true}, {2*sec + 450*Milli, site.Full, true}, {2*sec + 500*Milli, 0, false}} {
		i := tl.stepAt(w.at)
		if got, v := tl.Level(i, c), tl.Mode(i, m); got != w.want || v.FlashOn != w.on || !v.Flashing {
			t.Errorf("at %s: level %d, %+v", w.at, got, v)
		}
	}
}

// A States mode's first state may ask, though the mode is not active; its stages are not "in stage".
func TestFirstStateAsks(t *testing.T) {
	b := newBuilder()
	c, key := b.circuit("lamp"), b.input("key", site.Button)
	m := b.mode(site.Mode{Kind: site.States, States: []site.State{
		{Name: "idle", Stages: []site.Stage{stage(5*ssec, 3000, c), stage(0, 1000, c)}}, {Name: "busy"}},
		Transitions: []site.Transition{{Trigger: on(tapped(key, site.Tap)), From: 0, To: 1}, {After: ssec, From: 1, To: 0}}})
	s := b.done()
	tl := mustRun(t, s, Script{End: 20 * sec, Events: []Event{tap(10*sec, key)}})
	for _, w := range []struct {
		at   Nanos
		want site.Level
	}{{0, 3000}, {5*sec - 1, 3000}, {5 * sec, 1000}, {10 * sec, 0}, {11 * sec, 3000}, {16 * sec, 1000}} {
		if got := levelAt(tl, c, w.at); got != w.want {
			t.Errorf("at %s: %d, want %d", w.at, got, w.want)
		}
		if Holds(s, tl, inStage(m, 0), w.at) {
			t.Errorf("at %s: in a stage while inactive", w.at)
		}
	}
}
