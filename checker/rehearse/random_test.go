// Random scripts: they keep the rules, reach the corners, and repeat; and what must hold of every run.

package rehearse

import (
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"lampwarden/lang/site"
)

// house is a site with every kind of mode, timer, rule, lamp and assumption.
func house() *site.Site {
	b := newBuilder()
	b.s.Controller.ReactsWithin = 300
	supply, _ := b.mains("mains")
	hall, bed, yard := b.circuit("hall"), b.circuit("bed"), b.circuit("yard")
	b.s.Circuits[hall].Fade, b.s.Circuits[hall].Min = 700, 100
	b.s.Circuits[yard].Switched = true
	b.feed(bed, supply)
	b.feed(yard, supply)
	fire, key, bell := b.input("fire", site.Alarm), b.input("key", site.Button), b.input("bell", site.Bell)
	pir, room := b.input("pir", site.Presence), b.input("room", site.Presence)
	evening, late := b.band("evening", 17*shour, 22*shour), b.band("late", 22*shour, 5*shour+30*smin)
	b.s.Bands[evening].Days, b.s.Bands[late].Days = 0x3f, 0x30
	all := []site.CircuitID{hall, bed, yard}

	alarm := b.mode(site.Mode{Name: "alarm", Kind: site.While, Cond: isIn(fire), States: []site.State{{Stages: []site.Stage{
		{For: 3000, Flash: &site.Flash{Times: 3, On: 500, Off: 500}, Settings: []site.Setting{
			{Circuits: all, Flashing: true, Cases: []site.Case{{Level: site.Full}}}}},
		stage(0, site.Full, all...)}}}})
	nightMode := night(b, key)
	b.s.Modes[nightMode].States = asks(0, all...)
	visit := b.mode(site.Mode{Name: "visit", Kind: site.While, Cond: and(isOn(nightMode), isIn(pir)), OffDelay: 90 * ssec,
		States: asks(500, hall)})
	b.s.Modes[visit].States[0].Stages[0].Settings[0].Cases[0].Over = 3000
	pad := keypad(b, key, room)
	b.s.Modes[pad].States[1].Stages = []site.Stage{stage(0, site.Full, bed)}
	b.s.Modes[pad].States[2].Stages = []site.Stage{stage(10*smin, 1000, bed), stage(10*smin, 3000, bed)}
	welcome := b.mode(site.Mode{Name: "welcome", Kind: site.While, Cond: isIn(pir), OnDelay: 2 * ssec, OffDelay: 5 * smin,
		States: []site.State{{Stages: []site.Stage{{Settings: []site.Setting{{Circuits: []site.CircuitID{hall, bed}, Cases: []site.Case{
			{When: isBand(evening), Level: 8000}, {When: isBand(late), Level: 2000, Over: 10_000}, {Level: 4000}}}}}}}}})
	ring := b.mode(site.Mode{Name: "ring", Kind: site.Latch, Starts: []site.Trigger{{On: tapped(bell, site.Tap), If: not(isOn(nightMode))}},
		For: 2 * ssec, States: []site.State{{Stages: []site.Stage{{Flash: &site.Flash{On: 400, Off: 600}, Settings: []site.Setting{
			{Circuits: []site.CircuitID{bed, yard}, Flashing: true, Cases: []site.Case{{Level: 5000}}}}}}}}})
	test := b.mode(site.Mode{Name: "test", Kind: site.While, Cond: isIn(room), Pulse: 30 * ssec, States: asks(6000, bed, yard)})
	b.over(alarm, visit, nightMode, welcome)
	b.over(nightMode, pad)
	b.equals(site.Latest, pad, welcome)
	b.equals(site.Highest, ring, test)
	b.assume(site.Assumption{Kind: site.Spacing, Inputs: []site.InputID{key, bell}, D: 500})
	b.assume(site.Assumption{Kind: site.Dwell, Inputs: []site.InputID{pir}, Value: true, D: 2000})
	b.assume(site.Assumption{Kind: site.AtMost, Inputs: []site.InputID{fire, 0}, N: 1})
	return b.done()
}

// seen gathers what happened over many runs, to make sure that the corners are reached.
type seen struct {
	events, steps, moves, choices int
	atDue, justBefore, justAfter  int
	causes                        map[CauseKind]int
	timers                        map[Timer]int
}

func (n *seen) add(tl *Timeline) {
	n.events += len(tl.Script.Events)
	n.steps += len(tl.Steps)
	n.moves += len(tl.Script.Moves)
	n.choices += len(tl.Script.Choices)
	for i := range tl.Steps {
		st := &tl.Steps[i]
		for _, c := range st.Causes {
			n.causes[c.Kind]++
			if c.Kind == TimerDue {
				n.timers[c.Timer]++
			}
		}
		if st.Event != nil && len(st.Causes) > 1 {
			n.atDue++
		}
		if i > 0 && st.At == tl.Steps[i-1].At+1 {
			if st.Event == nil {
				n.justBefore++
			} else if tl.Steps[i-1].Event == nil {
				n.justAfter++
			}
		}
	}
}

func TestRandomScripts(t *testing.T) {
	s := house()
	n := seen{causes: map[CauseKind]int{}, timers: map[Timer]int{}}
	for seed := range uint64(20) {
		sc, err := RandomScript(s, rand.New(rand.NewPCG(seed, 7)), 1000)
		if err != nil {
			t.Fatal(err)
		}
		if len(sc.Events) != 1000 {
			t.Fatalf("seed %d: %d events", seed, len(sc.Events))
		}
		n.add(mustRun(t, s, sc)) // Run checks every rule of a script by itself
	}
	t.Logf("%+v", n)
	if n.atDue < 100 || n.justBefore < 100 || n.justAfter < 100 || n.moves < 100 || n.choices < 20 {
		t.Errorf("too few corners: %+v", n)
	}
	for k := StartUp; k <= LampMoves; k++ {
		if n.causes[k] == 0 {
			t.Errorf("cause %d never happened", k)
		}
	}
	for k := OnDelayTimer; k <= FlashTimer; k++ {
		if n.timers[k] == 0 {
			t.Errorf("timer %d was never due", k)
		}
	}
}

func TestRandomScriptsRepeat(t *testing.T) {
	s := house()
	a, _ := RandomScript(s, rand.New(rand.NewPCG(3, 4)), 200)
	b, _ := RandomScript(s, rand.New(rand.NewPCG(3, 4)), 200)
	if d := cmp.Diff(a, b); d != "" {
		t.Error(d)
	}
	none := newBuilder().done()
	if sc, err := RandomScript(none, rand.New(rand.NewPCG(1, 1)), 10); err != nil || len(sc.Events) != 0 {
		t.Errorf("a site without inputs: %v, %v", sc, err)
	}
	none.StepOrder = []site.ModeID{4}
	if _, err := RandomScript(none, rand.New(rand.NewPCG(1, 1)), 10); err == nil {
		t.Error("a site that cannot be played gives a script")
	}
}

// requirements over the house that random runs break now and keep now, one of each form and more.
func houseRequirements() []site.Requirement {
	lamp := func(c site.CircuitID) *site.Expr { return lit(c) }
	fire, pir := isIn(1), isIn(4)
	return []site.Requirement{
		{Form: site.Never, P: and(isOn(1), lamp(2))},
		{Form: site.Always, P: or(not(fire), isOn(0))},
		{Form: site.Whenever, A: fire, B: light(0, site.Full, site.Full), Until: not(fire), D: 4000},
		{Form: site.Whenever, A: fire, B: light(0, site.Full, site.Full), Until: not(fire), D: 3500},
		{Form: site.Whenever, A: pir, B: lamp(0), D: 3000},
		{Form: site.Whenever, A: pir, B: lamp(0), E: 1000, D: 3000},
		{Form: site.Whenever, A: pir, B: lamp(0), E: 1000, Until: not(pir), D: 3000},
		{Form: site.LastsAtMost, P: inState(3, 1), D: 2 * shour},
		{Form: site.LastsAtMost, P: lamp(1), D: 10 * smin},
		{Form: site.LastsAtLeast, P: lamp(2), D: 300},
		{Form: site.AtMostTimes, P: lamp(1), N: 3, D: 1000},
		{Form: site.AtMostTimes, P: tapped(2, site.Tap), N: 2, D: 1000},
		{Form: site.OnlyAfter, P: isOn(2), Q: isOn(1), Since: isBand(0)},
		{Form: site.Possible, P: and(isOn(0), isOn(5))},
	}
}

// Section 1: "A reaction that changes nothing has no meaning of its own: no verdict may depend on it." Bands that
// nobody reads add reactions at all times of day; every judgement must stay the same.
func TestReactionsWithoutChangeHaveNoMeaning(t *testing.T) {
	for _, place := range places() {
		plain, busy := place.site(), place.site()
		for i := range site.Millis(100) {
			from := (i * 7919 * 73) % site.Day
			busy.Bands = append(busy.Bands, site.Band{From: from, To: (from + i*7 + 1) % site.Day})
		}
		rs := place.rs
		broken, more := make([]int, len(rs)), 0
		for seed := range uint64(20) {
			sc, err := RandomScriptFor(plain, &rs[0], rand.New(rand.NewPCG(seed, 1)), 60)
			if err != nil {
				t.Fatal(err)
			}
			one, other := mustRun(t, plain, sc), mustRun(t, busy, sc)
			more += len(other.Steps) - len(one.Steps)
			for i := range rs {
				a, b := mustJudge(t, one, &rs[i]), mustJudge(t, other, &rs[i])
				if rs[i].Form == site.OnlyAfter {
					a.Since, b.Since = 0, 0 // the last moment with R true is a moment
				}
				if d := cmp.Diff(a, b, cmpopts.IgnoreFields(Judgement{}, "False")); d != "" {
					t.Fatalf("%s, seed %d, requirement %d: %s", place.name, seed, i, d)
				}
				if a.Broken {
					broken[i]++
				}
			}
		}
		t.Logf("%s: broken %v, %d more reactions", place.name, broken, more)
		if more < 1000 {
			t.Errorf("%s: only %d more reactions", place.name, more)
		}
	}
}

// What is broken in a run is broken in every longer one: a verdict on a part is never taken back.
func TestBrokenStaysBroken(t *testing.T) {
	for _, place := range places() {
		s, rs := place.site(), place.rs
		rng := rand.New(rand.NewPCG(5, 5))
		for seed := range uint64(30) {
			sc, err := RandomScriptFor(s, &rs[0], rand.New(rand.NewPCG(seed, 2)), 60)
			if err != nil {
				t.Fatal(err)
			}
			tl := mustRun(t, s, sc)
			short := *tl
			short.Script.End = Nanos(rng.Int64N(int64(sc.End)))
			short.Steps = tl.Steps[:tl.stepAt(short.Script.End)+1]
			for i := range rs {
				part, whole := mustJudge(t, &short, &rs[i]), mustJudge(t, tl, &rs[i])
				if part.Broken && (!whole.Broken || whole.At > part.At) {
					t.Errorf("%s, seed %d, requirement %d: broken at %s of a part, whole %+v", place.name, seed, i, part.At, whole)
				}
				if whole.Broken && whole.At <= short.Script.End-1 && !part.Broken {
					t.Errorf("%s, seed %d, requirement %d: broken at %s, but not in the part until %s", place.name, seed, i, whole.At, short.Script.End)
				}
			}
		}
	}
}

// The records of each step agree with the states: what is not recorded did not change.
func TestRecordsAreComplete(t *testing.T) {
	for _, place := range places() {
		s := place.site()
		sc, err := RandomScriptFor(s, &place.rs[0], rand.New(rand.NewPCG(8, 8)), 300)
		if err != nil {
			t.Fatal(err)
		}
		recordsAreComplete(t, s, mustRun(t, s, sc))
	}
}

func recordsAreComplete(t *testing.T, s *site.Site, tl *Timeline) {
	t.Helper()
	for i := 1; i < len(tl.Steps); i++ {
		st := &tl.Steps[i]
		modes, circuits := map[site.ModeID]bool{}, map[site.CircuitID]bool{}
		for _, m := range st.Modes {
			modes[m.Mode] = true
			if m.To != tl.Mode(i, m.Mode) || m.From != tl.Mode(i-1, m.Mode) {
				t.Fatalf("step %d: %+v", i, m)
			}
		}
		for _, c := range st.Circuits {
			circuits[c.Circuit] = true
			if c.To != tl.Lamp(i, c.Circuit) || c.From != tl.Lamp(i-1, c.Circuit) {
				t.Fatalf("step %d: %+v", i, c)
			}
			if d := cmp.Diff(c.Reason, tl.Reason(i, c.Circuit)); d != "" {
				t.Fatalf("step %d: %s", i, d)
			}
			for _, w := range c.Reason.Winners {
				if w.Level != c.To.Request {
					t.Fatalf("step %d: winner %+v of request %d", i, w, c.To.Request)
				}
			}
		}
		for m := range s.Modes {
			if id := site.ModeID(m); !modes[id] && tl.Mode(i, id) != tl.Mode(i-1, id) {
				t.Fatalf("step %d: mode %d changed unrecorded", i, m)
			}
		}
		for c := range s.Circuits {
			if id := site.CircuitID(c); !circuits[id] && tl.Lamp(i, id) != tl.Lamp(i-1, id) {
				t.Fatalf("step %d: circuit %d changed unrecorded", i, c)
			}
		}
		if len(st.Causes) == 0 {
			t.Fatalf("step %d has no cause", i)
		}
	}
}

func BenchmarkThousandEvents(b *testing.B) {
	s, rs := house(), houseRequirements()
	for i := range b.N {
		sc, err := RandomScript(s, rand.New(rand.NewPCG(uint64(i), 9)), 1000)
		if err != nil {
			b.Fatal(err)
		}
		tl, err := Run(s, sc)
		if err != nil {
			b.Fatal(err)
		}
		for k := range rs {
			mustJudge(b, tl, &rs[k])
		}
	}
}
