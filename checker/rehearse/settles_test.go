// "Settles", "hunting", "energy" and ways back, at their exact boundaries (lang/SEMANTICS.md sections 5 and 6).

package rehearse

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/lang/site"
)

func TestSettles(t *testing.T) {
	x := newBench()
	r := site.Requirement{Form: site.Settles, P: x.B, D: 5, Causes: site.Causes{Inputs: []site.InputID{x.a, x.key}}}
	x.want(t, "start-up is a cause", r, kept, 20*ms, 5*ms, "+b")
	x.want(t, "exactly D is in time, one nanosecond later is not", r, verdict{true, 5*Milli + 1, 0, Unsettled}, 20*ms, 5*ms, "+b", 5*ms+1, "-b")
	x.want(t, "a change of a cause", r, kept, 20*ms, 9*ms, "+a", 14*ms, "+b")
	x.want(t, "later than D after it", r, verdict{true, 14*Milli + 1, 9 * Milli, Unsettled}, 20*ms, 9*ms, "+a", 14*ms+1, "+b")
	x.want(t, "back to rest is a change, too", r, kept, 20*ms, 1*ms, "+a", 9*ms, "-a", 14*ms, "+b")
	x.want(t, "an event", r, kept, 20*ms, 9*ms, "+k", 14*ms, "+b")
	x.want(t, "not one", r, verdict{true, 14 * Milli, 0, Unsettled}, 20*ms, 9*ms, "+c", 14*ms, "+b")
	r.P = x.A
	x.want(t, "a cause at the moment itself", r, kept, 20*ms, 9*ms, "+a")
	r.P = x.K
	x.want(t, "the instant and the moment after it", r, kept, 20*ms, 9*ms, "+k")
	r.Causes.Inputs = nil
	x.want(t, "an event that is no cause", r, verdict{true, 9 * Milli, 0, Unsettled}, 20*ms, 9*ms, "+k")
	if j := x.judge(t, r, 20*ms, nil, 9*ms, "+k"); j.Deadline != 5*Milli || len(j.False) != 1 {
		t.Errorf("%+v", j)
	}
}

// Bands, clock times and changes of the clock as causes; moves of lamps as moments.
func TestCausesByTheClock(t *testing.T) {
	b := newBuilder()
	b.s.Jumps = []site.Jump{{At: 4 * ssec, By: 60 * ssec}}
	c, sw := b.circuit("lamp"), b.input("sw", site.Switch)
	down := b.input("down", site.Switch)
	b.s.Circuits[c].Fade = 10 * ssec
	follow(b, sw, site.Full, c)
	band := b.band("b", 2*ssec, 6*ssec)
	m := b.mode(site.Mode{Kind: site.Latch, Starts: []site.Trigger{{At: 5 * ssec, If: isIn(sw)}, {At: 7 * ssec, Void: true}}})
	b.s.Controller.Down, b.s.Controller.Keeps = isIn(down), true
	s := b.done()
	for _, tt := range []struct {
		name string
		of   site.Causes
		jump bool
		move Nanos
		ok   bool
	}{
		{"nothing since start-up", site.Causes{}, false, 3 * sec, true},
		{"later", site.Causes{}, false, 3*sec + 1, false},
		{"the band begins", site.Causes{Bands: []site.BandID{band}}, false, 5 * sec, true},
		{"later", site.Causes{Bands: []site.BandID{band}}, false, 5*sec + 1, false},
		{"the band ends", site.Causes{Bands: []site.BandID{band}}, false, 9 * sec, true},
		{"later", site.Causes{Bands: []site.BandID{band}}, false, 9*sec + 1, false},
		{"a trigger is due, whatever its guard", site.Causes{Modes: []site.ModeID{m}}, false, 8 * sec, true},
		{"a void one never is", site.Causes{Modes: []site.ModeID{m}}, false, 8*sec + 1, false},
		{"the clock is changed", site.Causes{}, true, 7 * sec, true},
		{"later", site.Causes{}, true, 7*sec + 1, false},
		{"and the band has not ended by itself", site.Causes{Bands: []site.BandID{band}}, true, 7*sec + 1, false},
	} {
		for _, outage := range []bool{false, true} {
			// The lamp is on its way from start-up on, and moves once; while the controller is down, the clock is a cause still.
			sc := Script{Initial: []site.InputID{sw}, Moves: []Move{{tt.move, c, 5000}}, End: 9*sec + 1}
			if tt.jump {
				sc.Jumps = []Jump{{4 * sec, 60 * ssec}}
			}
			if outage {
				sc.Events = []Event{turn(1, down, true)}
			}
			j := mustJudge(t, mustRun(t, s, sc), &site.Requirement{Form: site.Settles, P: lit(c), D: 3000, Causes: tt.of})
			if j.Broken == tt.ok || j.Broken && j.At != tt.move {
				t.Errorf("%s (at %s, outage %t): %+v", tt.name, tt.move, outage, j)
			}
		}
	}
}

// hunter is a lamp that goes out when the sensor sees it: the daylight of 100 lux does not reach the threshold of 150 by
// itself, that of the lamp does. auto lets the lamp be.
func hunter() (s *site.Site, enough site.ModeID, auto, other site.InputID, c site.CircuitID) {
	b := newBuilder()
	c = b.circuit("lamp")
	b.s.Circuits[c].SeenAfter = 2 * ssec
	auto, other = b.input("auto", site.Switch), b.input("other", site.Switch)
	enough = b.mode(site.Mode{Name: "enough", Plant: true, Kind: site.While, Cond: seenAtLeast(c, 100, 50)})
	b.mode(site.Mode{Kind: site.While, Cond: and(isIn(auto), not(isOn(enough))), States: asks(site.Full, c)})
	unrelated := b.circuit("unrelated")
	b.mode(site.Mode{Kind: site.While, Cond: isIn(other), States: asks(site.Full, unrelated)})
	return b.done(), enough, auto, other, c
}

func TestHunting(t *testing.T) {
	s, enough, auto, other, _ := hunter()
	if d := cmp.Diff(site.Causes{Inputs: []site.InputID{auto}, Modes: []site.ModeID{0, 1}}, CausesOf(s, enough)); d != "" {
		t.Errorf("causes: %s", d)
	}
	if !ReadsSeen(s, enough) || ReadsSeen(s, 1) {
		t.Error("who reads seen light")
	}
	// Seen at 3 s, out at once, seen dark at 5 s, on again, seen at 7 s.
	for _, tt := range []struct {
		name   string
		events []Event
		want   *Hunt
	}{
		{"twice with no cause", []Event{turn(sec, auto, true)}, &Hunt{enough, 3 * sec, 7 * sec}},
		{"what cannot influence it is no cause", []Event{turn(sec, auto, true), turn(5*sec, other, true)}, &Hunt{enough, 3 * sec, 7 * sec}},
		{"a cause at the first time", []Event{turn(sec, auto, true), turn(3*sec, auto, false), turn(3*sec+1, auto, true)}, &Hunt{enough, 7 * sec, 11 * sec}},
		{"a cause between", []Event{turn(sec, auto, true), turn(4*sec, auto, false), turn(4*sec+1, auto, true)}, &Hunt{enough, 7 * sec, 11 * sec}},
		{"a cause at the second time", []Event{turn(sec, auto, true), turn(7*sec, auto, false), turn(7*sec+1, auto, true)}, nil},
		{"never lit", nil, nil},
	} {
		tl := mustRun(t, s, Script{Events: tt.events, End: 11 * sec})
		h, ok, err := Hunts(s, tl, enough)
		if err != nil || ok != (tt.want != nil) || ok && h != *tt.want {
			t.Errorf("%s: %+v, %t, %v", tt.name, h, ok, err)
		}
	}
	s.Inputs[other].Fault = true
	if _, _, err := Hunts(s, mustRun(t, s, Script{Initial: []site.InputID{other}}), enough); err == nil {
		t.Error("a run with a fault is judged for a finding")
	}
}

// The closure takes what a mode reads through others, and what kills, cuts and asks for the lamps that it sees.
func TestCausesOf(t *testing.T) {
	b := newBuilder()
	c := b.circuit("lamp")
	var in []site.InputID
	for _, name := range []string{"rung", "dead", "cut", "down", "ask", "case", "trigger", "guard", "unread"} {
		in = append(in, b.input(name, site.Switch))
	}
	key := b.input("key", site.Button)
	b.s.Circuits[c].Dead, b.s.Circuits[c].Cut, b.s.Controller.Down = isIn(in[1]), isIn(in[2]), isIn(in[3])
	day, noon, idle := b.band("day", 1, 2), b.band("noon", 2, 3), b.band("idle", 3, 4)
	bright := b.mode(site.Mode{Plant: true, Kind: site.While, Cond: or(isIn(in[0]), seenAtLeast(c, 1, 1))})
	ask := follow(b, in[4], 100, c)
	b.s.Modes[ask].States[0].Stages[0].Settings[0].Cases[0].When = and(isIn(in[5]), isBand(day))
	states := b.mode(site.Mode{Kind: site.States, States: []site.State{{}, {}}, Transitions: []site.Transition{
		{Trigger: on(was(isIn(in[6]))), To: 1}, {Trigger: site.Trigger{At: 5, If: isIn(in[7])}, From: 1}}})
	b.s.Modes[ask].Cond = and(isIn(in[4]), inState(states, 1))
	start := b.mode(site.Mode{Kind: site.Latch, Starts: []site.Trigger{on(tapped(key, site.Tap))}, Ends: []site.Trigger{on(isBand(noon))}, States: asks(1, c)})
	b.mode(site.Mode{Kind: site.While, Cond: and(isIn(in[8]), isBand(idle), isOn(bright))})
	want := site.Causes{Inputs: append(in[:8:8], key), Bands: []site.BandID{day, noon}, Modes: []site.ModeID{bright, ask, states, start}}
	if d := cmp.Diff(want, CausesOf(b.done(), bright)); d != "" {
		t.Error(d)
	}
}

// meterSite is a lamp of 36 W, dimmed by two switches, beside a standing load of 4 W, so that full is 40 mW*s = 1/90 mWh a
// millisecond.
func meterSite() (s *site.Site, full, dim, trip site.InputID, r site.Requirement) {
	b := newBuilder()
	c := b.circuit("lamp")
	full, dim, trip = b.input("full", site.Switch), b.input("dim", site.Switch), b.input("trip", site.Switch)
	b.over(follow(b, full, site.Full, c), follow(b, dim, 5000, c))
	r = site.Requirement{Form: site.Energy, Draws: []site.Term{{Circuit: c, Weight: 36_000}}, Standing: 4000, D: 90_000, Limit: 500}
	return b.done(), full, dim, trip, r
}

func TestEnergy(t *testing.T) {
	s, full, dim, trip, r := meterSite()
	// 500 mWh are 45 s at 40 W, or 81 s and 81/99 at 22 W, or 450 s at 4 W. In 90 s of 4 W there are 100 mWh, so 40 s at 36 W more.
	for _, tt := range []struct {
		name    string
		initial []site.InputID
		events  []Event
		during  *site.Expr
		end     Nanos
		want    verdict
	}{
		{"exactly the limit", nil, []Event{turn(200*sec, full, true), turn(240*sec, full, false)}, nil, 600 * sec, kept},
		{"a nanosecond more", nil, []Event{turn(200*sec, full, true), turn(240*sec+1, full, false)}, nil, 600 * sec,
			verdict{true, 240*sec + 1, 150*sec + 1, TooMuch}},
		{"two pieces in one stretch", nil, []Event{turn(200*sec, full, true), turn(220*sec, full, false), turn(270*sec, full, true), turn(290*sec+1, full, false)}, nil,
			600 * sec, verdict{}},
		{"two pieces a little closer", nil, []Event{turn(200*sec, full, true), turn(220*sec, full, false), turn(269*sec, full, true), turn(289*sec, full, false)}, nil,
			600 * sec, verdict{}},
		{"two pieces with more", nil, []Event{turn(200*sec, full, true), turn(221*sec, full, false), turn(269*sec, full, true), turn(289*sec, full, false)}, nil,
			600 * sec, verdict{true, 288*sec + 1, 198*sec + 1, TooMuch}},
		{"shorter than D from start-up", []site.InputID{full}, nil, nil, 46 * sec, verdict{true, 45*sec + 1, 0, TooMuch}},
		{"known at the nanosecond", []site.InputID{full}, nil, nil, 45 * sec, kept},
		{"half level", []site.InputID{dim}, nil, nil, 90 * sec, verdict{true, 81_818_181_819, 0, TooMuch}},
		{"counted from a rise", []site.InputID{full}, []Event{turn(30*sec, trip, true)}, isIn(trip), 600 * sec, verdict{true, 75*sec + 1, 30 * sec, TooMuch}},
		{"over before it is too much", []site.InputID{full}, []Event{turn(30*sec, trip, true), turn(75*sec, trip, false)}, isIn(trip), 600 * sec, kept},
		{"over as it is too much", []site.InputID{full}, []Event{turn(30*sec, trip, true), turn(75*sec+1, trip, false)}, isIn(trip), 600 * sec,
			verdict{true, 75*sec + 1, 30 * sec, TooMuch}},
		{"each rise counts from nothing", []site.InputID{full}, []Event{turn(30*sec, trip, true), turn(60*sec, trip, false), turn(61*sec, trip, true)}, isIn(trip), 105 * sec, kept},
		{"D has passed", nil, []Event{turn(1, trip, true), turn(90*sec-40*sec+1, full, true)}, isIn(trip), 600 * sec, kept},
		{"D has just not", nil, []Event{turn(2, trip, true), turn(90*sec-40*sec+1, full, true)}, isIn(trip), 600 * sec, verdict{true, 90*sec + 2, 2, TooMuch}},
	} {
		r.During = tt.during
		j := mustJudge(t, mustRun(t, s, Script{Initial: tt.initial, Events: tt.events, End: tt.end}), &r)
		if d := cmp.Diff(tt.want, verdict{j.Broken, j.At, j.Since, j.Part}); d != "" {
			t.Errorf("%s (-want +got): %s", tt.name, d)
		}
		if j.Broken && j.Deadline != j.Since+90*sec {
			t.Errorf("%s: deadline %s", tt.name, j.Deadline)
		}
	}
}

// On its way a lamp takes as much as at the next higher resting level; and large sites over a week do not overflow.
func TestEnergyOfMovements(t *testing.T) {
	s, full, _, _, r := meterSite()
	s.Circuits[0].Fade, r.Standing = 100*ssec, 0
	// A level of 1 counts as 50 %, 18 W: from 10 s to 60 s that is 250 mWh; then 36 W.
	r.Limit = 250
	sc := Script{Initial: []site.InputID{full}, End: 90 * sec, Moves: []Move{{10 * sec, 0, 1}, {60 * sec, 0, 5001}}}
	j := mustJudge(t, mustRun(t, s, sc), &r)
	if d := cmp.Diff(verdict{true, 60*sec + 1, 0, TooMuch}, verdict{j.Broken, j.At, j.Since, j.Part}); d != "" {
		t.Error(d)
	}
	r.D, r.Limit, r.Draws[0].Weight = 7*24*3600_000, 168_000_000_000, 1_000_000_000
	j = mustJudge(t, mustRun(t, s, Script{Initial: []site.InputID{full}, End: Week}), &r)
	if j.Broken {
		t.Errorf("a megawatt for a week less 100 s: %+v", j)
	}
	r.Limit--
	s.Circuits[0].Fade = 0
	if j = mustJudge(t, mustRun(t, s, Script{Initial: []site.InputID{full}, End: Week}), &r); !j.Broken || j.At != Week-3599 {
		t.Errorf("a megawatt for a week: %+v", j)
	}
}

// "Can always return" is no matter of one run; a run can be a witness.
func TestReaches(t *testing.T) {
	x := newBench()
	r := site.Requirement{Form: site.CanReturn, P: x.A, D: 5}
	if j := x.judge(t, r, 20*ms, nil, 3*ms, "+a"); !j.Branching || j.Broken {
		t.Errorf("%+v", j)
	}
	tl := mustRun(t, x.s, Script{Events: x.events(3*ms, "+a", 4*ms, "-a", 9*ms, "+k"), End: 20 * Milli})
	for _, tt := range []struct {
		p            *site.Expr
		from, within Nanos
		at           Nanos // -1: not reached
	}{
		{x.A, 0, 3 * Milli, 3 * Milli}, {x.A, 0, 3*Milli - 1, -1}, {x.A, 3 * Milli, 0, 3 * Milli}, {x.A, 3*Milli + 1, 0, 3*Milli + 1},
		{x.A, 4 * Milli, 16 * Milli, -1}, {x.K, 4 * Milli, 5 * Milli, 9 * Milli}, {x.K, 9 * Milli, Milli, -1}, {x.A, 21 * Milli, 0, -1}, {x.A, -1, Milli, -1},
	} {
		at, ok := Reaches(tl, tt.p, tt.from, tt.within)
		if ok != (tt.at >= 0) || ok && at != tt.at {
			t.Errorf("%+v: %s, %t", tt, at, ok)
		}
	}
}
