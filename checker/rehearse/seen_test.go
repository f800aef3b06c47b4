// What sensors see, sums of levels, and the daylight ladder (lang/SEMANTICS.md section 2 step 5, sections 3 and 4).

package rehearse

import (
	"errors"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/lang/site"
)

// seenAtLeast is an OpSum over what is seen of one circuit, in lux times hundredths of a per cent.
func seenAtLeast(c site.CircuitID, lux, need int64) *site.Expr {
	return &site.Expr{Op: site.OpSum, Terms: []site.Term{{Circuit: c, Weight: lux}}, Need: need * int64(site.Full), Seen: true}
}

// sensed is a lamp of 100 lux at full that follows two switches, full over 30 %, and that is seen after 5 s.
func sensed() (b *builder, c site.CircuitID, full, dim site.InputID) {
	b = newBuilder()
	c = b.circuit("lamp")
	b.s.Circuits[c].SeenAfter, b.s.Circuits[c].Adds = 5*ssec, 100
	full, dim = b.input("full", site.Switch), b.input("dim", site.Switch)
	b.over(follow(b, full, site.Full, c), follow(b, dim, 3000, c))
	return b, c, full, dim
}

func TestSeen(t *testing.T) {
	b, c, full, dim := sensed()
	b.s.Circuits[c].Fade = 60 * ssec // what is seen goes by the aim
	bright := b.mode(site.Mode{Plant: true, Kind: site.While, Cond: seenAtLeast(c, 100, 30)})
	wasBright := b.mode(site.Mode{Plant: true, Kind: site.Latch, Starts: []site.Trigger{{On: isIn(dim), If: was(seenAtLeast(c, 100, 30))}}})
	s := b.done()
	type seen struct {
		at    Nanos
		level site.Level
	}
	for _, tt := range []struct {
		name   string
		events []Event
		want   []seen
	}{
		{"after exactly 5 s", []Event{turn(sec, full, true)}, []seen{{6 * sec, site.Full}}},
		{"starts anew with each target", []Event{turn(sec, full, true), turn(5*sec, dim, true), turn(5*sec+1, full, false)}, []seen{{10*sec + 1, 3000}}},
		{"from level to level", []Event{turn(sec, dim, true), turn(8*sec, full, true)}, []seen{{6 * sec, 3000}, {13 * sec, site.Full}}},
		{"back before it is seen: nothing", []Event{turn(sec, full, true), turn(6*sec-1, full, false)}, nil},
		{"a change exactly when due: seen first, then again", []Event{turn(sec, full, true), turn(6*sec, full, false)},
			[]seen{{6 * sec, site.Full}, {11 * sec, 0}}},
		{"a request that does not change the target", []Event{turn(sec, full, true), turn(2*sec, dim, true)}, []seen{{6 * sec, site.Full}}},
	} {
		tl := mustRun(t, s, Script{Events: tt.events, End: 20 * sec})
		var got []seen
		last := site.Level(0)
		for i := range tl.Steps {
			if l := tl.Seen(i, c); l != last {
				got, last = append(got, seen{tl.Steps[i].At, l}), l
			}
			if tl.Mode(i, bright).Active != (last >= 3000) {
				t.Errorf("%s: step %d: a mode that reads it does not follow", tt.name, i)
			}
		}
		if d := cmp.Diff(tt.want, got, cmp.AllowUnexported(seen{})); d != "" {
			t.Errorf("%s: %s", tt.name, d)
		}
	}
	// Was reads what was seen before.
	tl := mustRun(t, s, Script{Events: []Event{turn(sec, full, true), turn(6*sec, dim, true), turn(7*sec, dim, false), turn(8*sec, dim, true)}, End: 20 * sec})
	wantEdges(t, "was", tl, isOn(wasBright), edge{8 * sec, true})
	// A dead lamp is seen dark.
	supply, lost := b.mains("mains")
	b.feed(c, supply)
	tl = mustRun(t, s, Script{Initial: []site.InputID{full}, Events: []Event{turn(10*sec, lost, true)}, End: 20 * sec})
	wantEdges(t, "dead", tl, isOn(bright), edge{5 * sec, true}, edge{15 * sec, false})
	if last := tl.Steps[len(tl.Steps)-1]; last.Causes[0].Kind != LightSeen || last.Causes[0].Level != 0 {
		t.Errorf("cause %+v", last.Causes)
	}
}

// A sum of present levels takes each as the next resting level, up or down.
func TestSum(t *testing.T) {
	b, c, full, dim := sensed()
	b.s.Circuits[c].Fade = 1000
	b.s.Circuits[c].Fail = level(8000)
	s := b.done()
	tl := mustRun(t, s, Script{End: 9 * sec, Initial: []site.InputID{full}, Events: []Event{turn(5*sec, full, false), turn(5*sec+9, dim, true)},
		Moves: []Move{{1, c, 1}, {2, c, 3000}, {3, c, 3001}, {4, c, 8001}}})
	for i, want := range [][2]site.Level{{0, 0}, {0, 3000}, {3000, 3000}, {3000, 8000}, {8000, site.Full}, {site.Full, site.Full}} {
		for up, w := range map[bool]site.Level{false: want[0], true: want[1]} {
			sum := &site.Expr{Op: site.OpSum, Terms: []site.Term{{Circuit: c, Weight: 7}}, Up: up}
			v := tl.after(i)
			sum.Need = 7 * int64(w)
			not := *sum
			not.Need++
			if !v.holds(sum) || v.holds(&not) {
				t.Errorf("step %d, level %d, up %t: not counted as %d", i, tl.Level(i, c), up, w)
			}
		}
	}
}

// An expectation of a sum is met where it surely holds.
func TestSumInScenarios(t *testing.T) {
	s, c, full, dim, _ := dimmer()
	power := func(need int64) *site.Expr {
		return &site.Expr{Op: site.OpSum, Terms: []site.Term{{Circuit: c, Weight: 1}}, Need: need, Up: true}
	}
	up := site.ScenarioStep{After: 1000, Input: full, Value: true}
	for _, tt := range []struct {
		e    *site.Expr
		want Nanos
	}{{power(1), -2}, {not(power(1)), -2}, {power(0), 1500 * Milli}, {not(power(10001)), 1500 * Milli}} {
		if d := cmp.Diff([]Nanos{tt.want}, met(t, s, up, site.ScenarioStep{After: 1500, Within: 100, Expect: tt.e})); d != "" {
			t.Errorf("%s", d)
		}
	}
	if d := cmp.Diff([]Nanos{2 * sec}, met(t, s, up, site.ScenarioStep{After: 1500, Within: 500, Expect: power(10000)})); d != "" {
		t.Error(d)
	}
	_ = dim
}

func TestLadder(t *testing.T) {
	b := newBuilder()
	low, mid, high := b.input("low", site.Daylight), b.input("mid", site.Daylight), b.input("high", site.Daylight)
	b.assume(site.Assumption{Kind: site.Ladder, Inputs: []site.InputID{low, mid, high}})
	s := b.done()
	for _, tt := range []struct {
		name    string
		initial []site.InputID
		events  []Event
		ok      bool
	}{
		{"up and down", nil, []Event{turn(1, low, true), turn(2, mid, true), turn(3, high, true), turn(4, high, false), turn(5, mid, false)}, true},
		{"a rung left out", nil, []Event{turn(1, low, true), turn(2, high, true)}, false},
		{"the first rung missing", nil, []Event{turn(1, mid, true)}, false},
		{"a rung pulled away", []site.InputID{low, mid}, []Event{turn(1, low, false)}, false},
		{"all at start-up", []site.InputID{high, low, mid}, []Event{turn(1, high, false)}, true},
		{"start-up with a gap", []site.InputID{low, high}, nil, false},
	} {
		checkAssumption(t, tt.name, s, Script{Initial: tt.initial, Events: tt.events, End: sec}, tt.ok)
	}
}

// checkAssumption plays the script, which keeps the site's only assumption or breaks it with its last event.
func checkAssumption(t *testing.T, name string, s *site.Site, sc Script, ok bool) {
	t.Helper()
	_, err := Run(s, sc)
	if ok {
		if err != nil {
			t.Errorf("%s: refused: %v", name, err)
		}
		return
	}
	var ae *AssumptionError
	want := Nanos(0)
	if n := len(sc.Events); n > 0 {
		want = sc.Events[n-1].At
	}
	if !errors.As(err, &ae) || ae.At != want || ae.Error() == "" || ae.Assumption != 0 {
		t.Errorf("%s: error %v, want one at %s", name, err, want)
	}
}

func TestCharge(t *testing.T) {
	b := newBuilder()
	flat, lost := b.input("ups", site.Flatness), b.input("mains", site.SupplyHealth)
	b.assume(site.Assumption{Kind: site.Charge, Inputs: []site.InputID{flat, lost}, D: 60 * ssec, Recharge: 600 * ssec})
	s := b.done()
	cut, back := func(at Nanos) Event { return turn(at*sec, lost, true) }, func(at Nanos) Event { return turn(at*sec, lost, false) }
	empty, again := func(at Nanos) Event { return turn(at*sec, flat, true) }, func(at Nanos) Event { return turn(at*sec, flat, false) }
	just := func(e Event, by Nanos) Event { e.At += by; return e }
	for _, tt := range []struct {
		name    string
		initial []site.InputID
		events  []Event
		ok      bool
	}{
		{"flat at start-up", []site.InputID{flat, lost}, nil, false},
		{"flat with mains", nil, []Event{empty(100)}, false},
		{"exactly D", nil, []Event{cut(100), empty(160)}, true},
		{"a nanosecond less", nil, []Event{cut(100), just(empty(160), -1)}, false},
		{"lost at start-up: exactly D", []site.InputID{lost}, []Event{empty(60)}, true},
		{"lost at start-up: less", []site.InputID{lost}, []Event{just(empty(60), -1)}, false},
		{"charged again while lost", nil, []Event{cut(100), empty(160), again(170)}, false},
		{"charged again", nil, []Event{cut(100), empty(160), back(170), again(171)}, true},
		{"after a short outage it may be flat at once", nil, []Event{cut(100), back(101), cut(102), just(empty(102), 1)}, true},
		{"one short of a recharge", nil, []Event{cut(100), back(101), just(cut(701), -1), just(empty(701), 1)}, true},
		{"exactly a recharge: full", nil, []Event{cut(100), back(101), cut(701), just(empty(761), -1)}, false},
		{"exactly a recharge, then D", nil, []Event{cut(100), back(101), cut(701), empty(761)}, true},
		{"a recharge with a break does not count", nil, []Event{cut(100), back(101), cut(400), back(401), cut(701), empty(702)}, true},
		{"flat and lost again before a recharge", nil, []Event{cut(100), empty(160), back(161), just(cut(761), -1)}, true},
		{"a full battery is not flat when mains is lost", nil, []Event{cut(100), empty(160), back(161), cut(761)}, false},
		{"full again", nil, []Event{cut(100), empty(160), back(161), again(700), cut(761), just(empty(821), -1)}, false},
	} {
		checkAssumption(t, tt.name, s, Script{Initial: tt.initial, Events: tt.events, End: 2000 * sec}, tt.ok)
	}
	s.Assumptions[0].Inputs = slices.Clone(s.Assumptions[0].Inputs[:1])
	if _, err := Run(s, Script{}); err == nil {
		t.Error("a battery without a charger is played")
	}
}
