// A site with what the house lacks: supplies that come back, restarts, daylight, colours, faults, changes of the clock.

package rehearse

import (
	"math/rand/v2"
	"testing"

	"lampwarden/lang/site"
)

// place is a site to be played at random, with requirements of all forms that random runs break now and keep now.
type randomPlace struct {
	name string
	site func() *site.Site
	rs   []site.Requirement
}

func places() []randomPlace {
	return []randomPlace{
		{"house", house, houseRequirements()},
		{"annex that forgets", func() *site.Site { return annex(false) }, annexRequirements()},
		{"annex that keeps", func() *site.Site { return annex(true) }, annexRequirements()},
	}
}

// Ids of the annex.
const (
	annexMains site.InputID = iota
	annexFlat
	annexDim    // at least 300 lux
	annexBright // at least 500 lux
	annexHoliday
	annexBus  // a fault
	annexDown // a fault
	annexSwitch
	annexKey
)

const (
	annexHall site.CircuitID = iota
	annexHallColour
	annexYard
	annexStair
)

const (
	annexEnough site.ModeID = iota
	annexDiesel
	annexReturn
	annexBoot
	annexWork
	annexScene
	annexGuard
	annexDawn
)

func annex(keeps bool) *site.Site {
	b := newBuilder()
	mains, lost := b.mains("mains")
	for _, in := range []site.Input{{Name: "ups", Kind: site.Flatness}, {Name: "lux_300", Kind: site.Daylight}, {Name: "lux_500", Kind: site.Daylight},
		{Name: "holiday", Kind: site.Calendar}, {Name: "bus lost", Kind: site.Failure, Fault: true}, {Name: "down", Kind: site.Failure, Fault: true},
		{Name: "sw", Kind: site.Switch}, {Name: "key", Kind: site.Button}} {
		b.s.Inputs[b.input(in.Name, in.Kind)].Fault = in.Fault
	}
	b.s.Supplies = append(b.s.Supplies, site.Supply{Name: "ups", Battery: true, Health: site.None, ChargedBy: mains, Capacity: 5, Flat: annexFlat})
	for _, name := range []string{"hall", "hall colour", "yard", "stair"} {
		b.circuit(name)
	}
	b.s.Controller.ReactsWithin, b.s.Controller.Keeps = 300, keeps
	b.s.Jumps = []site.Jump{{At: 2 * shour, By: shour}, {At: 3 * shour, By: -shour}}
	late := b.band("late", 22*shour, 2*shour+30*smin)

	lit, dark := or(isIn(annexBright), and(isIn(annexDim), seenAtLeast(annexHall, 300, 150))), not(isIn(annexDim))
	b.mode(site.Mode{Name: "enough", Plant: true, Kind: site.Latch, Starts: []site.Trigger{on(lit)}, Ends: []site.Trigger{on(dark), on(not(lit))}})
	b.mode(site.Mode{Name: "diesel", Plant: true, Kind: site.While, Cond: isIn(lost), OnDelay: 15 * ssec})
	b.s.Supplies[mains].Dead = and(isIn(lost), not(isOn(annexDiesel)))
	b.mode(site.Mode{Name: "yard returns", Plant: true, Kind: site.While, Cond: b.s.FeedDead(mains), OffDelay: 5 * ssec})
	b.mode(site.Mode{Name: "boot", Plant: true, Kind: site.While, Cond: or(isIn(annexDown), b.s.FeedDead(1)), OffDelay: 20 * ssec})
	b.s.Controller.Down = isOn(annexBoot)

	hall, yard, stair := &b.s.Circuits[annexHall], &b.s.Circuits[annexYard], &b.s.Circuits[annexStair]
	hall.Fade, hall.SeenAfter, hall.Dead, hall.Cut, hall.PowerOn = 700, 2*ssec, b.s.FeedDead(1), isIn(annexBus), level(2000)
	colour := &b.s.Circuits[annexHallColour]
	colour.Colour, colour.Light, colour.Dead, colour.Cut = true, annexHall, b.s.FeedDead(1), isIn(annexBus)
	yard.Switched, yard.Dead, yard.Fail = true, isOn(annexReturn), level(site.Full)
	stair.Dead, stair.Cut, stair.Fail, stair.PowerOn = b.s.FeedDead(mains), isIn(annexBus), level(8000), level(site.Full)

	b.mode(site.Mode{Name: "work", Kind: site.While, Cond: and(isIn(annexSwitch), not(isOn(annexEnough)), not(isIn(annexHoliday))),
		OffDelay: 3 * ssec, States: asks(6000, annexHall, annexStair)})
	b.mode(site.Mode{Name: "scene", Kind: site.States, States: []site.State{{}, {Stages: []site.Stage{stage(0, 2700, annexHallColour)}},
		{Stages: []site.Stage{stage(30*ssec, 1, annexHallColour), stage(0, 6500, annexHallColour)}}}, Transitions: []site.Transition{
		{Trigger: on(tapped(annexKey, site.Tap)), To: 1}, {Trigger: on(tapped(annexKey, site.Tap)), From: 1, To: 2},
		{Trigger: on(tapped(annexKey, site.Tap)), From: 2, To: 0}, {After: smin, From: site.None, To: 0}}})
	b.mode(site.Mode{Name: "guard", Kind: site.While, Cond: isBand(late), States: []site.State{{Stages: []site.Stage{
		{Flash: &site.Flash{On: 40 * ssec, Off: 20 * ssec}, Settings: []site.Setting{{Circuits: []site.CircuitID{annexYard, annexHallColour},
			Flashing: true, Cases: []site.Case{{Level: 3000}}}}}}}}})
	b.mode(site.Mode{Name: "dawn", Kind: site.Latch, Starts: []site.Trigger{{At: 2*shour + 30*smin, If: not(was(isIn(annexHoliday)))}, on(isIn(annexSwitch))},
		For: 10 * smin, States: asks(1000, annexHall, annexYard)})
	b.over(annexWork, annexDawn)
	b.equals(site.Highest, annexScene, annexGuard)
	b.assume(site.Assumption{Kind: site.Ladder, Inputs: []site.InputID{annexDim, annexBright}})
	b.assume(site.Assumption{Kind: site.Charge, Inputs: []site.InputID{annexFlat, lost}, D: 10 * ssec, Recharge: 30 * ssec})
	return b.done()
}

func annexRequirements() []site.Requirement {
	sum := func(up bool, need int64) *site.Expr {
		return &site.Expr{Op: site.OpSum, Terms: []site.Term{{Circuit: annexHall, Weight: 2}, {Circuit: annexYard, Weight: 1}}, Need: need, Up: up}
	}
	hall := lit(annexHall)
	rs := []site.Requirement{
		{Form: site.Never, P: and(hall, lit(annexYard), isIn(annexBus))},
		{Form: site.Never, P: sum(true, 20_000)},
		{Form: site.LastsAtMost, P: sum(false, 12_000), D: 20 * ssec},
		{Form: site.Whenever, A: isIn(annexSwitch), B: hall, D: 5000},
		{Form: site.LastsAtLeast, P: isOn(annexEnough), D: 1000},
		{Form: site.Settles, P: hall, D: 5000, Causes: site.Causes{Inputs: []site.InputID{annexSwitch, annexMains, annexDim, annexBright}}},
		{Form: site.Settles, P: light(annexHallColour, 2000, 3000), D: 1000, Causes: site.Causes{Inputs: []site.InputID{annexKey},
			Bands: []site.BandID{0}, Modes: []site.ModeID{annexDawn}}},
		{Form: site.Energy, Draws: []site.Term{{Circuit: annexHall, Weight: 40_000}, {Circuit: annexStair, Weight: 10_000}}, Standing: 1000, D: 60_000, Limit: 400},
		{Form: site.Energy, Draws: []site.Term{{Circuit: annexHall, Weight: 40_000}}, D: 60_000, Limit: 5, During: isIn(annexMains)},
		{Form: site.CanReturn, P: not(hall), D: 1000},
		{Form: site.Possible, P: and(isOn(annexEnough), hall)},
	}
	for i := range rs {
		rs[i].Faults, rs[i].AtMost = []site.InputID{annexBus, annexDown}, 1
	}
	return rs
}

// Random runs of the annex reach what it is there for.
func TestRandomScriptsOfTheAnnex(t *testing.T) {
	count := map[string]int{}
	r := annexRequirements()[0]
	for seed := range uint64(30) {
		s := annex(seed%2 == 0)
		sc, err := RandomScriptFor(s, &r, rand.New(rand.NewPCG(seed, 21)), 300)
		if err != nil || len(sc.Events) != 300 {
			t.Fatalf("seed %d: %d events, %v", seed, len(sc.Events), err)
		}
		tl := mustRun(t, s, sc)
		mustJudge(t, tl, &r)
		if _, ok, _ := Hunts(s, mustRun(t, s, withoutFaults(s, sc)), annexEnough); ok {
			count["hunting"]++
		}
		count["jumps"] += len(sc.Jumps)
		for i := range tl.Steps {
			countStep(count, tl, i)
		}
	}
	t.Log(count)
	for what, least := range map[string]int{"jumps": 10, "jumps with an event": 1, "goes down": 50, "wakes up": 50, "seen": 100, "failure level": 100,
		"power on level": 100, "colour at once": 20, "colour on its way": 50, "holiday": 5, "flat": 50, "lost": 1, "bus": 20, "down": 20,
		"bright": 50, "hunting": 1} {
		if count[what] < least {
			t.Errorf("%s: only %d", what, count[what])
		}
	}
}

// withoutFaults leaves the faults out, and all that is after the first of them.
func withoutFaults(s *site.Site, sc Script) Script {
	for _, in := range sc.Initial {
		if s.Inputs[in].Fault {
			return Script{}
		}
	}
	for i, ev := range sc.Events {
		if s.Inputs[ev.Input].Fault {
			sc.Events, sc.End = sc.Events[:i], ev.At-1
			break
		}
	}
	if len(sc.Jumps) > 0 && sc.Jumps[0].At > sc.End {
		sc.Jumps = nil
	}
	out := sc
	out.Moves, out.Choices = nil, nil
	return out
}

func countStep(count map[string]int, tl *Timeline, i int) {
	st := &tl.Steps[i]
	names := map[ControllerChange]string{GoesDown: "goes down", WakesUp: "wakes up", AsBefore: "as before"}
	count[names[st.Controller]]++
	for _, c := range st.Causes {
		switch {
		case c.Lost:
			count["lost"]++
		case c.Kind == LightSeen:
			count["seen"]++
		case c.Kind == ClockJumps && st.Event != nil:
			count["jumps with an event"]++
		case c.Kind == InputChange && c.Value:
			count[map[site.InputID]string{annexHoliday: "holiday", annexFlat: "flat", annexBus: "bus", annexDown: "down", annexBright: "bright"}[c.Input]]++
		}
	}
	for _, c := range st.Circuits {
		count[map[Took]string{FailureLevel: "failure level", PowerOnLevel: "power on level"}[c.Took]]++
		if c.Circuit == annexHallColour && st.Reaction && c.From.Aim != c.To.Aim {
			count[map[bool]string{true: "colour on its way", false: "colour at once"}[c.To.Moving]]++
		}
	}
}
