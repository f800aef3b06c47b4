// Feeds, reach and restarts (lang/SEMANTICS.md section 2, steps 2 to 4).

package rehearse

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/lang/site"
)

// level makes a pointer for Fail and PowerOn.
func level(l site.Level) *site.Level { return &l }

// at lists what the lamps of one circuit are at some times.
type at struct {
	when Nanos
	want Lamp
}

func wantLamps(t *testing.T, name string, tl *Timeline, c site.CircuitID, want ...at) {
	t.Helper()
	for _, w := range want {
		if d := cmp.Diff(w.want, lampAt(tl, c, w.when)); d != "" {
			t.Errorf("%s, at %s (-want +got): %s", name, w.when, d)
		}
	}
}

// standing is a lamp at rest.
func standing(request, l site.Level) Lamp { return Lamp{Request: request, Level: l, Aim: l} }

// reach is a lamp with a fade (300 ms + 700 ms) that follows a switch; its bus and its mains may be lost.
func reach() (b *builder, c site.CircuitID, full, bus, lost site.InputID) {
	b = newBuilder()
	b.s.Controller.ReactsWithin = 300
	c = b.circuit("lamp")
	supply, lost := b.mains("mains")
	b.s.Circuits[c].Fade = 700
	b.feed(c, supply)
	full, bus = b.input("full", site.Switch), b.input("bus", site.Failure)
	b.s.Circuits[c].Cut = isIn(bus)
	follow(b, full, site.Full, c)
	return b, c, full, bus, lost
}

// What a lamp does when it is cut: as it was, the movement going on; or its failure level at once.
func TestCut(t *testing.T) {
	b, c, full, bus, _ := reach()
	s := b.done()
	half := 500 * Milli
	events := []Event{turn(sec, full, true), turn(sec+half, bus, true), turn(3*sec, full, false), turn(4*sec, bus, false)}
	cut := func(l Lamp) Lamp { l.Cut = true; return l }
	tl := mustRun(t, s, Script{End: 9 * sec, Events: events})
	wantLamps(t, "no failure level", tl, c,
		at{sec + half, cut(Lamp{Request: site.Full, Aim: site.Full, Moving: true, Due: 2 * sec})},
		at{2 * sec, cut(standing(site.Full, site.Full))},
		at{3 * sec, cut(standing(0, site.Full))},
		at{4 * sec, Lamp{Level: site.Full, Moving: true, Due: 5 * sec}})
	s.Circuits[c].Fail = level(8000)
	tl = mustRun(t, s, Script{End: 9 * sec, Events: events, Moves: []Move{{sec + half, c, 300}}})
	wantLamps(t, "failure level", tl, c,
		at{sec + half - 1, Lamp{Request: site.Full, Aim: site.Full, Moving: true, Due: 2 * sec}},
		at{sec + half, cut(standing(site.Full, 8000))},
		at{3 * sec, cut(standing(0, 8000))},
		at{4 * sec, Lamp{Level: 8000, Moving: true, Due: 5 * sec}})
	// A movement that is due with the cut has arrived, then the failure level counts.
	tl = mustRun(t, s, Script{End: 9 * sec, Events: []Event{turn(sec, full, true), turn(2*sec, bus, true)}})
	wantLamps(t, "due with the cut", tl, c, at{2 * sec, cut(standing(site.Full, 8000))})
	if got := changesOf(tl, c); !cmp.Equal(got, []Took{NoLevel, FailureLevel}) {
		t.Errorf("taken levels %v", got)
	}
}

// changesOf lists what the circuit took at each of its changes.
func changesOf(tl *Timeline, c site.CircuitID) (out []Took) {
	for _, st := range tl.Steps {
		for _, ch := range st.Circuits {
			if ch.Circuit == c {
				out = append(out, ch.Took)
			}
		}
	}
	return out
}

// When the feed comes back: from dark, or from the power on level to the request; cut meanwhile, only the level.
func TestPowerOn(t *testing.T) {
	back := []Event{turn(sec, 0, false)}
	for _, tt := range []struct {
		name     string
		on, fail *site.Level
		initial  []string
		want     Lamp
		took     Took
	}{
		{"none, nobody asks", nil, nil, nil, standing(0, 0), NoLevel},
		{"none, then the request", nil, nil, []string{"full"}, Lamp{Request: site.Full, Aim: site.Full, Moving: true, Due: 2 * sec}, NoLevel},
		{"level, then off", level(6000), nil, nil, Lamp{Level: 6000, Moving: true, Due: 2 * sec}, PowerOnLevel},
		{"level, then the request", level(6000), nil, []string{"full"},
			Lamp{Request: site.Full, Level: 6000, Aim: site.Full, Moving: true, Due: 2 * sec}, PowerOnLevel},
		{"the request is the level", level(site.Full), nil, []string{"full"}, standing(site.Full, site.Full), PowerOnLevel},
		{"cut", level(6000), nil, []string{"full", "bus"},
			Lamp{Request: site.Full, Level: 6000, Aim: 6000, Cut: true}, PowerOnLevel},
		{"cut with a failure level", level(6000), level(100), []string{"full", "bus"},
			Lamp{Request: site.Full, Level: 100, Aim: 100, Cut: true}, FailureLevel},
		{"cut, neither", nil, nil, []string{"full", "bus"}, Lamp{Request: site.Full, Cut: true}, NoLevel},
	} {
		b, c, full, bus, lost := reach()
		b.s.Circuits[c].PowerOn, b.s.Circuits[c].Fail = tt.on, tt.fail
		sc := Script{End: 5 * sec, Initial: []site.InputID{lost}, Events: back}
		for _, in := range tt.initial {
			sc.Initial = append(sc.Initial, map[string]site.InputID{"full": full, "bus": bus}[in])
		}
		tl := mustRun(t, b.done(), sc)
		wantLamps(t, tt.name, tl, c, at{sec, tt.want})
		if st := tl.Steps[1]; st.Circuits[0].Took != tt.took {
			t.Errorf("%s: took %d", tt.name, st.Circuits[0].Took)
		}
	}
	// With no time to react the lamp is at the request at once.
	b, c, _, _, lost := reach()
	b.s.Circuits[c].PowerOn, b.s.Circuits[c].Fade, b.s.Controller.ReactsWithin = level(6000), 0, 0
	tl := mustRun(t, b.done(), Script{End: 5 * sec, Initial: []site.InputID{lost}, Events: back})
	wantLamps(t, "at once", tl, c, at{sec, standing(0, 0)})
}

// Before start-up nothing is dead: a live feed at start-up is no return.
func TestStartUpIsNoReturn(t *testing.T) {
	b, c, _, _, _ := reach()
	b.s.Circuits[c].PowerOn = level(6000)
	wantLamps(t, "start-up", mustRun(t, b.done(), Script{End: sec}), c, at{0, standing(0, 0)})
}

// A generator and a staged return are plant modes in Dead.
func TestDeadByPlantModes(t *testing.T) {
	b := newBuilder()
	mains, lost := b.mains("mains")
	on := b.input("on", site.Switch)
	runs := b.mode(site.Mode{Name: "diesel running", Plant: true, Kind: site.While, Cond: isIn(lost), OnDelay: 15 * ssec})
	b.s.Supplies[mains].Dead = and(isIn(lost), not(isOn(runs)))
	hall, yard := b.circuit("hall"), b.circuit("yard")
	b.feed(hall, mains)
	wait := b.mode(site.Mode{Name: "yard returns", Plant: true, Kind: site.While, Cond: b.s.FeedDead(mains), OffDelay: 5 * ssec})
	b.s.Circuits[yard].Dead = isOn(wait)
	follow(b, on, site.Full, hall, yard)
	tl := mustRun(t, b.done(), Script{End: 60 * sec, Initial: []site.InputID{on},
		Events: []Event{turn(sec, lost, true), turn(30*sec, lost, false)}})
	wantEdges(t, "hall", tl, lit(hall), edge{0, true}, edge{sec, false}, edge{16 * sec, true})
	wantEdges(t, "yard", tl, lit(yard), edge{0, true}, edge{sec, false}, edge{21 * sec, true})
}

// A battery is dead while it is flat and its charger is dead.
func TestBatteryGoesFlat(t *testing.T) {
	b := newBuilder()
	mains, lost := b.mains("mains")
	flat, on := b.input("ups", site.Flatness), b.input("on", site.Switch)
	b.s.Supplies = append(b.s.Supplies, site.Supply{Name: "ups", Battery: true, Health: site.None, ChargedBy: mains, Capacity: 1, Flat: flat})
	c := b.circuit("lamp")
	b.feed(c, 1)
	follow(b, on, site.Full, c)
	tl := mustRun(t, b.done(), Script{End: 60 * sec, Initial: []site.InputID{on},
		Events: []Event{turn(sec, lost, true), turn(30*sec, flat, true), turn(40*sec, lost, false), turn(41*sec, flat, false)}})
	wantEdges(t, "lamp", tl, lit(c), edge{0, true}, edge{30 * sec, false}, edge{40 * sec, true})
}
