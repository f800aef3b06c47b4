// Random walks through the systems of random sites: keys, and replays of paths.

package machine

import (
	"bytes"
	"math/rand/v2"
	"testing"

	"lampwarden/checker/explore"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/checker/observe"
	"lampwarden/checker/zone"
	"lampwarden/lang/site"
)

// eachSystem makes the systems of random sites: every piece of every requirement, on its structural slice and, if there
// is one, on its conditional slice.
func eachSystem(t *testing.T, seeds uint64, f func(seed uint64, s *System)) {
	t.Helper()
	n, conditional := 0, 0
	for seed := range seeds {
		s := sitegen.Generate(seed, sitegen.Options{})
		setters := Setters(s)
		for i := range s.Requirements {
			for _, pc := range observe.Pieces(&s.Requirements[i]) {
				slices := []*Slice{NewSlice(s, setters, Question{Exprs: pc.Observer.Exprs})}
				if free := Conditional(s, setters, pc.Given); free != nil {
					slices = append(slices, NewSlice(s, setters, Question{Exprs: pc.Observer.Exprs, Free: free}))
					conditional++
				}
				for _, sl := range slices {
					sys, err := New(sl, pc.Observer, NoGoal())
					if err != nil {
						t.Fatalf("seed %d: %v", seed, err)
					}
					n++
					f(seed, sys)
				}
			}
		}
	}
	if n < int(seeds) || conditional == 0 {
		t.Errorf("only %d systems, %d of them conditional", n, conditional)
	}
}

// visit is one state of a walk.
type visit struct {
	key   []byte
	label uint64
	bad   bool
}

// walk goes through a system at random, at most n steps, until a bad state.
func walk(s *System, rng *rand.Rand, n int) (out []visit) {
	var zones []*zone.DBM
	var next []visit
	collect := func(x explore.Succ) bool {
		z := zone.Universe(1)
		z.CopyFrom(x.Zone)
		zones, next = append(zones, z), append(next, visit{bytes.Clone(x.Key), x.Label, x.Bad})
		return true
	}
	s.Initial(collect)
	for len(next) > 0 {
		k := rng.IntN(len(next))
		v, z := next[k], zones[k]
		out = append(out, v)
		if v.bad || len(out) > n {
			break
		}
		zones, next = nil, nil
		s.Successors(v.key, z, collect)
	}
	return out
}

// TestKeysKeepEverything: a key unpacks to a frame that packs to the same key, whatever was in the frame before.
func TestKeysKeepEverything(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	keys := 0
	eachSystem(t, 150, func(seed uint64, s *System) {
		f, g := s.newFrame(), s.newFrame()
		all := uint64(1)<<len(s.clocks) - 1
		for _, abstract := range [][2]uint64{{0, 0}, {s.Coarsest(), 0}, {0, s.Coolable()}, {rng.Uint64() & all, rng.Uint64() & s.Coolable()}} {
			s.Abstract(abstract[0], abstract[1])
			for _, v := range walk(s, rng, 30) {
				keys++
				s.unpack(f, v.key)
				if got := s.pack(nil, f); !bytes.Equal(got, v.key) {
					t.Fatalf("seed %d: key %x becomes %x", seed, v.key, got)
				}
				s.unpack(g, v.key)
				if !sameFrame(f, g) {
					t.Fatalf("seed %d: key %x unpacks to %+v and to %+v", seed, v.key, f, g)
				}
				l, u := s.Bounds(v.key)
				if runs := s.clocksOf(f, nil); len(l) != len(runs)+1 || len(u) != len(l) {
					t.Fatalf("seed %d: %d bounds for %d clocks", seed, len(l), len(runs))
				}
			}
		}
	})
	t.Logf("%d keys", keys)
}

// TestAnyFramePacks: a frame with any values that its fields can have comes back from its key.
func TestAnyFramePacks(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	eachSystem(t, 150, func(seed uint64, s *System) {
		s.Abstract(0, s.Coolable())
		for range 20 {
			f, g := s.newFrame(), s.newFrame()
			s.scramble(f, rng)
			s.scramble(g, rng)
			key := s.pack(nil, f)
			s.unpack(g, key)
			if !sameFrame(f, g) || !bytes.Equal(s.pack(nil, g), key) {
				t.Fatalf("seed %d: %+v becomes %+v", seed, f, g)
			}
		}
	})
}

// scramble fills the fields of a frame that the system uses with random values.
func (s *System) scramble(f *frame, rng *rand.Rand) {
	for _, i := range s.levels {
		f.in[i] = rng.IntN(2) == 0
	}
	f.seg = noSeg
	if s.clocked {
		f.seg = rng.IntN(len(s.segs)+1) - 1
	}
	for i := range s.modes {
		m := &s.modes[i]
		f.loc[m.id] = uint8(rng.IntN(6))
		if m.phased {
			f.ph[m.id] = uint16(rng.IntN(1 << 12))
		}
		if m.hasAfter {
			f.aft[m.id] = uint8(rng.IntN(3))
		}
	}
	f.rec = append(f.rec[:0], s.latest[:rng.IntN(len(s.latest)+1)]...)
	rng.Shuffle(len(f.rec), func(a, b int) { f.rec[a], f.rec[b] = f.rec[b], f.rec[a] })
	for i := range s.lamps {
		f.reg[i], f.aim[i] = uint8(rng.IntN(5)), settled
		if s.lamps[i].moves() || s.lamps[i].free {
			f.aim[i] = int16(rng.IntN(10_003) - 2)
		}
		if n := len(s.lamps[i].paces); n > 1 {
			f.pace[i] = uint8(rng.IntN(n))
		}
	}
	for i := range s.reqs {
		if f.pick[i] = -1; s.reqs[i].ambiguous {
			f.pick[i] = int16(rng.IntN(10_002) - 1)
		}
	}
	for i := range f.since {
		f.since[i] = rng.IntN(2) == 0
	}
	f.cool = s.cooling & rng.Uint64()
	f.obs = observe.State{Loc: uint8(rng.IntN(5)), Count: rng.Uint32(), Prev: rng.IntN(2) == 0}
}

func sameFrame(f, g *frame) bool {
	eq := f.seg == g.seg && f.cool == g.cool && f.obs == g.obs && len(f.rec) == len(g.rec)
	for i := range f.rec {
		eq = eq && f.rec[i] == g.rec[i]
	}
	for i := range f.in {
		eq = eq && f.in[i] == g.in[i]
	}
	for i := range f.loc {
		eq = eq && f.loc[i] == g.loc[i] && f.ph[i] == g.ph[i] && f.aft[i] == g.aft[i]
	}
	for i := range f.reg {
		eq = eq && f.reg[i] == g.reg[i] && f.aim[i] == g.aim[i]
	}
	for i := range f.pick {
		eq = eq && f.pick[i] == g.pick[i]
	}
	for i := range f.since {
		eq = eq && f.since[i] == g.since[i]
	}
	return eq
}

// timeless packs a frame without what only the zones decide: which clocks are past what they are compared with.
func (s *System) timeless(f *frame) []byte {
	g := s.newFrame()
	g.copyFrom(f)
	clear(g.since)
	g.cool = 0
	return s.pack(nil, g)
}

// TestReplayFollowsKeys: the labels of a walk lead through the discrete states of its keys, and the path tells its events
// and its start-up as the keys have them.
func TestReplayFollowsKeys(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	steps, events, moves := 0, 0, 0
	eachSystem(t, 200, func(seed uint64, s *System) {
		for range 3 {
			s.Abstract(0, 0)
			visits := walk(s, rng, 25)
			if len(visits) == 0 {
				continue // the assumptions allow no start-up
			}
			var labels []uint64
			for _, v := range visits {
				labels = append(labels, v.label)
			}
			p, err := s.Replay(labels)
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			if len(p.Steps) != len(visits) {
				t.Fatalf("seed %d: %d steps of %d", seed, len(p.Steps), len(visits))
			}
			s.followKeys(t, seed, visits)
			cur, before := s.newFrame(), s.newFrame()
			for k, v := range visits {
				steps++
				before.copyFrom(cur)
				s.unpack(cur, v.key)
				if e := p.Steps[k].Event; e != nil && e.Level {
					events++
					if cur.in[e.Input] != e.Value || before.in[e.Input] == e.Value {
						t.Fatalf("seed %d: step %d says that input %d becomes %v", seed, k, e.Input, e.Value)
					}
				}
				if p.Steps[k].Move != nil {
					moves++
				}
			}
			s.unpack(cur, visits[0].key)
			for _, in := range s.levels {
				if cur.in[in] != contains(p.Initial, in) {
					t.Fatalf("seed %d: start-up with %v, key %x", seed, p.Initial, visits[0].key)
				}
			}
		}
	})
	if steps < 5000 || events < 1000 || moves < 100 {
		t.Errorf("%d steps, %d changes, %d moves", steps, events, moves)
	}
}

func contains(ids []site.InputID, id site.InputID) bool {
	for _, x := range ids {
		if x == id {
			return true
		}
	}
	return false
}

// followKeys decodes the labels one after the other, as Replay does, and compares every frame with its key.
func (s *System) followKeys(t *testing.T, seed uint64, visits []visit) {
	t.Helper()
	reset := make([]int, len(s.clocks))
	cur := s.newFrame()
	for k, v := range visits {
		if k > 0 {
			s.before.copyFrom(cur)
		}
		e, _, err := s.decode(v.label, k, &Path{}, reset)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		next, _ := s.pick(e, v.label)
		if next == nil {
			t.Fatalf("seed %d: step %d has no such branch", seed, k)
		}
		s.unpack(cur, v.key)
		if got, want := s.timeless(next), s.timeless(cur); !bytes.Equal(got, want) {
			t.Fatalf("seed %d: step %d leads to %x, its key is %x", seed, k, got, want)
		}
		cur.copyFrom(next)
	}
}

// TestReplayRefusesNonsense: labels that name no step are an error.
func TestReplayRefusesNonsense(t *testing.T) {
	eachSystem(t, 20, func(seed uint64, s *System) {
		for _, labels := range [][]uint64{nil, {reactionLabel(cause{})}, {startLabel(0, 0), 3}, {startLabel(0, 0) | 4095<<2}} {
			if p, err := s.Replay(labels); err == nil {
				t.Fatalf("seed %d: labels %x give %+v", seed, labels, p)
			}
		}
	})
}
