// Paths of abstract systems against the exact one: what can be timed can be followed, and the reverse.

package machine_test

import (
	"bytes"
	"math/rand/v2"
	"testing"

	"lampwarden/checker/explore"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/checker/machine"
	"lampwarden/checker/observe"
	"lampwarden/checker/trace"
	"lampwarden/checker/zone"
)

// state is a state of a walk.
type state struct {
	key   []byte
	zone  *zone.DBM
	label uint64
	bad   bool
}

// nexts lists the successors of a state, or with nil the initial states.
func nexts(s *machine.System, from *state) (out []state) {
	add := func(x explore.Succ) bool {
		z := zone.Universe(1)
		z.CopyFrom(x.Zone)
		out = append(out, state{bytes.Clone(x.Key), z, x.Label, x.Bad})
		return true
	}
	if from == nil {
		s.Initial(add)
	} else {
		s.Successors(from.key, from.zone, add)
	}
	return out
}

// randomWalk gives the labels of a walk of at most n steps.
func randomWalk(s *machine.System, rng *rand.Rand, n int) (labels []uint64) {
	var cur *state
	for range n {
		out := nexts(s, cur)
		if len(out) == 0 {
			break
		}
		cur = &out[rng.IntN(len(out))]
		if labels = append(labels, cur.label); cur.bad {
			break
		}
	}
	return labels
}

// follow tells how many of the labels the system can follow.
func follow(s *machine.System, labels []uint64) int {
	var cur *state
	for k, l := range labels {
		var next *state
		for _, x := range nexts(s, cur) {
			if x.label == l {
				next = &x
				break
			}
		}
		if next == nil {
			return k
		}
		cur = next
	}
	return len(labels)
}

// TestTimedPathsAreExact: a path of a system with relaxed or cooling clocks can be timed exactly if the exact system can
// follow its labels; and the abstract system can follow every path of the exact one.
func TestTimedPathsAreExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(6, 6))
	timed, not, covered := 0, 0, 0
	for seed := range uint64(200) {
		s := sitegen.Generate(seed, sitegen.Options{})
		for i := range s.Requirements {
			pc := observe.Pieces(&s.Requirements[i])[0]
			sys, err := machine.New(machine.NewSlice(s, machine.Setters(s), machine.Question{Exprs: pc.Observer.Exprs}), pc.Observer, machine.NoGoal())
			if err != nil {
				t.Fatal(err)
			}
			for n := range 6 {
				relaxed, cooling := sys.Coarsest()&rng.Uint64(), uint64(0)
				if n%2 == 1 {
					cooling = sys.Coolable() &^ relaxed
				}
				sys.Abstract(relaxed, cooling)
				labels := randomWalk(sys, rng, 8)
				if len(labels) == 0 {
					continue
				}
				sys.Abstract(0, 0)
				k := follow(sys, labels)
				path, err := sys.Replay(labels)
				if err != nil {
					t.Fatalf("seed %d: %v", seed, err)
				}
				clash := trace.Conflict(path)
				if (clash == 0) != (k == len(labels)) {
					t.Fatalf("seed %d, piece of %s: conflict of %b, but the exact system follows %d of %d labels %x\n%s", seed,
						s.Requirements[i].Name, clash, k, len(labels), labels, sitegen.Print(s))
				}
				if clash == 0 {
					timed++
				} else if not++; clash&(relaxed|cooling) == 0 {
					t.Fatalf("seed %d: exact clocks %b contradict each other", seed, clash)
				}
				labels = randomWalk(sys, rng, 8)
				sys.Abstract(relaxed, cooling)
				labels = sys.Stand(labels)
				if k := follow(sys, labels); k < len(labels) {
					t.Fatalf("seed %d, piece of %s: with %b relaxed and %b cooling only %d of %d labels %x\n%s", seed, s.Requirements[i].Name,
						relaxed, cooling, k, len(labels), labels, sitegen.Print(s))
				}
				covered++
			}
		}
	}
	if timed < 300 || not < 300 || covered < 300 {
		t.Errorf("%d paths timed, %d not, %d covered", timed, not, covered)
	}
}
