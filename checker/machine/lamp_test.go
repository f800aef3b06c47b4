// Regions of light against direct comparison.

package machine

import (
	"math/rand/v2"
	"slices"
	"testing"

	"lampwarden/lang/site"
)

// randomLight makes a comparison of circuit 0 or, now and then, of another.
func randomLight(rng *rand.Rand) *site.Expr {
	a, b := site.Level(rng.IntN(10_001)), site.Level(rng.IntN(10_001))
	switch rng.IntN(5) {
	case 0:
		a = 0
	case 1:
		b = site.Full
	case 2:
		b = a
	}
	c := site.CircuitID(0)
	if rng.IntN(5) == 0 {
		c = 1
	}
	return &site.Expr{Op: site.OpLight, Circuit: c, Lo: min(a, b), Hi: max(a, b)}
}

// levelsNear lists the levels at which something may change, and some others.
func levelsNear(rng *rand.Rand, exprs []*site.Expr) (out []site.Level) {
	add := func(l site.Level) {
		for d := site.Level(-1); d <= 1; d++ {
			if l+d >= 0 && l+d <= site.Full {
				out = append(out, l+d)
			}
		}
	}
	add(0)
	add(site.Full)
	for _, e := range exprs {
		add(e.Lo)
		add(e.Hi)
		add(site.Level(rng.IntN(10_001)))
	}
	return out
}

func TestRegions(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	for range 2000 {
		s := &site.Site{Circuits: []site.Circuit{{Switched: rng.IntN(2) == 0, FedBy: site.None}, {FedBy: site.None}}}
		var exprs []*site.Expr
		for range rng.IntN(5) {
			exprs = append(exprs, randomLight(rng))
		}
		l := newLamp(s, 0, exprs)
		levels := levelsNear(rng, exprs)
		for _, v := range levels {
			r := l.region(v)
			if lo, hi := l.bounds(r); v < lo || v > hi {
				t.Fatalf("level %d is in region %d, which is %d to %d", v, r, lo, hi)
			}
			for _, e := range exprs {
				if e.Circuit == 0 && (l.mask(e.Lo, e.Hi)>>r&1 == 1) != (e.Lo <= v && v <= e.Hi) {
					t.Fatalf("level %d in region %d: %d to %d is seen wrongly", v, r, e.Lo, e.Hi)
				}
			}
			if visits := slices.Contains(l.visited, r); !visits && (!s.Circuits[0].Switched || v == 0 || v == site.Full) {
				t.Fatalf("region %d of level %d is never visited: %v", r, v, l.visited)
			}
		}
		if s.Circuits[0].Switched && len(l.visited) > 2 {
			t.Fatalf("a switched lamp visits %v", l.visited)
		}
		for range 200 { // from v towards a, a lamp is seen at w next exactly if w lies that way
			v, w, a := levels[rng.IntN(len(levels))], levels[rng.IntN(len(levels))], levels[rng.IntN(len(levels))]
			r, x, aim := l.region(v), l.region(w), l.region(a)
			if r == x || x == aim {
				continue
			}
			if got, want := l.passes(r, x, aim), v < w && w < a || a < w && w < v; got != want {
				t.Fatalf("from %d towards %d, at %d: %v, want %v", v, a, w, got, want)
			}
			if !l.passes(r, aim, aim) && r != aim || l.passes(r, r, aim) {
				t.Fatalf("region %d towards %d: the aim is out of reach, or staying is a move", r, aim)
			}
		}
	}
}

// TestFollow: what a lamp does after a reaction (lang/SEMANTICS.md, section 2, step 4), with thresholds at 30 % and 60 %.
func TestFollow(t *testing.T) {
	light := func(lo, hi site.Level) *site.Expr { return &site.Expr{Op: site.OpLight, Lo: lo, Hi: hi} }
	exprs := []*site.Expr{light(0, 2999), light(3000, 5999), light(6000, site.Full)}
	const dark, mid, bright = 0, 1, 2
	for _, c := range []struct {
		name    string
		fade    site.Millis
		reacts  site.Millis
		reg     uint8
		aim     int16
		want    int16
		arrives bool
		dead    bool
		toReg   uint8
		toAim   int16
		starts  bool
	}{
		{"at once without a time", 0, 0, dark, settled, 10000, false, false, bright, settled, false},
		{"a movement starts", 2000, 0, dark, settled, 10000, false, false, dark, 10000, true},
		{"no movement within the region", 2000, 0, bright, settled, 7000, false, false, bright, settled, false},
		{"a new aim starts a fade anew", 2000, 0, dark, 10000, 4000, false, false, dark, 4000, true},
		{"the same aim does not", 2000, 0, dark, 10000, 10000, false, false, dark, 10000, false},
		{"a new aim keeps the due time without a fade", 0, 300, dark, 6000, 4000, false, false, dark, 4000, false},
		{"back where it is", 2000, 0, dark, 10000, 1000, false, false, dark, settled, false},
		{"it arrives", 2000, 0, dark, 4000, 4000, true, false, mid, settled, false},
		{"it arrives and goes on", 2000, 0, dark, 4000, 10000, true, false, mid, 10000, true},
		{"the feed dies", 2000, 300, bright, 4000, 10000, false, true, dark, settled, false},
		{"a free mode may ask", 2000, 0, dark, settled, anyAim, false, false, dark, anyAim, false},
	} {
		s := &site.Site{Controller: site.Controller{ReactsWithin: c.reacts}, Inputs: make([]site.Input, 1),
			Supplies: []site.Supply{{Health: 0}}, Circuits: []site.Circuit{{Fade: c.fade, FedBy: 0}}}
		l := newLamp(s, 0, exprs)
		f := &frame{in: []bool{c.dead}, reg: []uint8{c.reg}, aim: []int16{c.aim}, may: []uint64{0}, pace: []uint8{0}}
		starts := l.follow(f, 0, c.want, 1<<len(l.cuts)-1, 0, hold{dead: c.dead}, c.arrives, false)
		if f.reg[0] != c.toReg || f.aim[0] != c.toAim || starts != c.starts {
			t.Errorf("%s: region %d, aim %d, starts %v; want %d, %d, %v", c.name, f.reg[0], f.aim[0], starts, c.toReg, c.toAim, c.starts)
		}
	}
}

// TestRampsFollow: a ramp gives a movement its own time, restarts what runs, and is
// restarted; the same level by another setting starts nothing.
func TestRampsFollow(t *testing.T) {
	const ramp = 3 * 60_000
	s := &site.Site{Controller: site.Controller{ReactsWithin: 300}, Circuits: []site.Circuit{{FedBy: site.None}},
		Modes: []site.Mode{{States: []site.State{{Stages: []site.Stage{{Settings: []site.Setting{
			{Circuits: []site.CircuitID{0}, Cases: []site.Case{{Level: 8000, Over: ramp}}}}}}}}}}}
	l := newLamp(s, 0, []*site.Expr{{Op: site.OpLight, Circuit: 0, Lo: 8000, Hi: 10000}})
	f := &frame{reg: []uint8{0}, aim: []int16{settled}, may: []uint64{0}, pace: []uint8{0}}
	for _, c := range []struct {
		name   string
		want   int16
		over   site.Millis
		starts bool
		t      site.Millis
	}{
		{"the ramp starts", 8000, ramp, true, 300 + ramp},
		{"the same level without a ramp starts nothing", 8000, 0, false, 300 + ramp},
		{"a new level without a ramp starts anew, as a ramp runs", 9000, 0, true, 300},
		{"another one keeps the due time", 8500, 0, false, 300},
		{"a ramp starts anew", 9000, ramp, true, 300 + ramp},
	} {
		starts := l.follow(f, 0, c.want, 0, c.over, hold{}, false, false)
		if got := l.paces[f.pace[0]].t; starts != c.starts || got != c.t || f.aim[0] != c.want {
			t.Errorf("%s: starts %v, takes %v, aim %d; want %v, %v, %d", c.name, starts, got, f.aim[0], c.starts, c.t, c.want)
		}
	}
}
