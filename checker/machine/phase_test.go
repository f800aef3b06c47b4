// Unrolled and joined sequences keep the meaning of their stages.

package machine

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"lampwarden/lang/site"
)

// randomStages makes stages over three circuits, in units of one second.
func randomStages(rng *rand.Rand) (out []site.Stage) {
	d := func() site.Millis { return site.Millis(1+rng.IntN(4)) * 1000 }
	for range rng.IntN(5) {
		var st site.Stage
		if rng.IntN(4) > 0 {
			st.For = d()
		}
		if rng.IntN(2) == 0 {
			st.Flash = &site.Flash{On: d(), Off: d()}
			if rng.IntN(2) == 0 {
				st.Flash.Times = 1 + rng.IntN(3)
				st.For = site.Millis(st.Flash.Times) * (st.Flash.On + st.Flash.Off)
			} else if st.For > 0 && rng.IntN(2) == 0 {
				st.For = 2 * (st.Flash.On + st.Flash.Off) // a flash change falls on the stage's end
			}
		}
		for range rng.IntN(3) {
			set := site.Setting{Flashing: st.Flash != nil && rng.IntN(2) == 0, Cases: []site.Case{{Level: site.Full}}}
			for c := range 3 {
				if rng.IntN(2) == 0 {
					set.Circuits = append(set.Circuits, site.CircuitID(c))
				}
			}
			st.Settings = append(st.Settings, set)
		}
		out = append(out, st)
	}
	return out
}

// stageAt gives the stage at a time after the start and the time in it (lang/SEMANTICS.md, section 2), None when over.
func stageAt(stages []site.Stage, t site.Millis) (stage int, in site.Millis) {
	for i, st := range stages {
		if st.For == 0 || t < st.For {
			return i, t
		}
		t -= st.For
	}
	return site.None, 0
}

// askedAt tells what the stage asks the tracked circuits for: each setting on them, and whether it is in its off part.
func askedAt(stages []site.Stage, tracked []site.CircuitID, stage int, off bool) (out string) {
	if stage == site.None {
		return ""
	}
	for k, set := range stages[stage].Settings {
		for _, c := range set.Circuits {
			for _, tr := range tracked {
				if c == tr {
					out += fmt.Sprint(stage, k, c, set.Flashing && off, " ")
				}
			}
		}
	}
	return out
}

// phaseAt walks a sequence from its start.
func phaseAt(q sequence, t site.Millis) phase {
	i := 0
	for q[i].dur > 0 && t >= q[i].dur {
		t -= q[i].dur
		i = q[i].next
	}
	return q[i]
}

// TestJoinedSequencesAskTheSame compares the levels asked over time before and after unrolling, signing and joining.
func TestJoinedSequencesAskTheSame(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	joined, loops := 0, 0
	for n := range 20_000 {
		stages := randomStages(rng)
		var tracked []site.CircuitID
		for c := range 3 {
			if rng.IntN(2) == 0 {
				tracked = append(tracked, site.CircuitID(c))
			}
		}
		exact := rng.IntN(2) == 0
		whole := unroll(stages)
		q := unroll(stages)
		q.sign(stages, tracked, exact)
		q = q.join()
		if len(q) < len(whole) {
			joined++
		}
		if last := q[len(q)-1]; last.dur > 0 {
			loops++
			if last.next < 0 || last.next >= len(q) {
				t.Fatalf("sequence %d loops to %d of %d", n, last.next, len(q))
			}
		}
		for at := site.Millis(0); at < 60_000; at += 500 {
			stage, in := stageAt(stages, at)
			off := false
			if stage != site.None && stages[stage].Flash != nil {
				f := stages[stage].Flash
				off = in%(f.On+f.Off) >= f.On
			}
			if p := phaseAt(whole, at); p.stage != stage || p.off != off {
				t.Fatalf("sequence %d of %+v at %d: phase %+v, want stage %d, off %v", n, stages, at, p, stage, off)
			}
			p := phaseAt(q, at)
			if got, want := askedAt(stages, tracked, p.stage, p.off), askedAt(stages, tracked, stage, off); got != want {
				t.Fatalf("sequence %d of %+v, tracked %v, at %d: asks %q, want %q\n%+v", n, stages, tracked, at, got, want, q)
			}
			if exact && p.stage != stage {
				t.Fatalf("sequence %d of %+v at %d: stage %d, want %d", n, stages, at, p.stage, stage)
			}
		}
	}
	if joined < 1000 || loops < 300 {
		t.Errorf("%d sequences were joined, %d loop", joined, loops)
	}
}

// TestFlashOfOthersCostsNoTimer: of a flash on lamps outside the slice nothing is left.
func TestFlashOfOthersCostsNoTimer(t *testing.T) {
	flashing := func(c site.CircuitID) []site.Setting {
		return []site.Setting{{Circuits: []site.CircuitID{c}, Flashing: true, Cases: []site.Case{{Level: site.Full}}}}
	}
	for _, c := range []struct {
		name   string
		stages []site.Stage
		phases int // with circuit 0 tracked
	}{
		{"an endless flash of another", []site.Stage{{Flash: &site.Flash{On: 1, Off: 1}, Settings: flashing(1)}}, 1},
		{"an endless flash of its own", []site.Stage{{Flash: &site.Flash{On: 1, Off: 1}, Settings: flashing(0)}}, 2},
		{"three flashes of another", []site.Stage{{For: 6, Flash: &site.Flash{Times: 3, On: 1, Off: 1}, Settings: flashing(1)}}, 1},
		{"three flashes of its own, then over", []site.Stage{{For: 6, Flash: &site.Flash{Times: 3, On: 1, Off: 1}, Settings: flashing(0)}}, 7},
		{"no stages", nil, 1},
	} {
		q := unroll(c.stages)
		q.sign(c.stages, []site.CircuitID{0}, false)
		if q = q.join(); len(q) != c.phases {
			t.Errorf("%s: %d phases, want %d: %+v", c.name, len(q), c.phases, q)
		}
	}
}
