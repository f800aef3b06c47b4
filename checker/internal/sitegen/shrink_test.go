// Tests of the reducer: what it keeps is valid and shows what it is to show, and what it can leave out goes.

package sitegen

import (
	"slices"
	"testing"

	"lampwarden/lang/site"

	"github.com/google/go-cmp/cmp"
)

// TestCloneIsApart: a copy is equal, and nothing that is done to it shows in the site.
func TestCloneIsApart(t *testing.T) {
	for seed := range uint64(100) {
		s := Generate(seed, Everything())
		c := Clone(s)
		if d := cmp.Diff(s, c); d != "" {
			t.Fatalf("seed %d: %s", seed, d)
		}
		eachNode(c, func(x *site.Expr) { x.Op, x.Input, x.Kids = site.OpFalse, 99, nil })
		for _, d := range durations(c) {
			*d = 7
		}
		for i := range c.Circuits {
			for _, l := range []*site.Level{c.Circuits[i].Fail, c.Circuits[i].PowerOn} {
				if l != nil {
					*l = 1
				}
			}
		}
		if d := cmp.Diff(s, Generate(seed, Everything())); d != "" {
			t.Fatalf("seed %d: the site changes with its copy: %s", seed, d)
		}
	}
}

// TestShrinkKeepsOneConstruct: for each construct, the first site that has it shrinks to one that still has it, is valid
// at each step, and has nothing left that could go without it.
func TestShrinkKeepsOneConstruct(t *testing.T) {
	waiting := map[string]bool{}
	for _, name := range AllConstructs() {
		waiting[name] = true
	}
	for seed := uint64(0); len(waiting) > 0 && seed < 1500; seed++ {
		s := Generate(seed, Everything())
		for _, name := range Constructs(s) {
			if !waiting[name] {
				continue
			}
			delete(waiting, name)
			small := Shrink(s, func(c *site.Site) bool {
				if err := Check(c); err != nil {
					t.Fatalf("%s: a site that is not valid: %v\n%s", name, err, Print(c))
				}
				_ = Print(c)
				return slices.Contains(Constructs(c), name)
			})
			if !slices.Contains(Constructs(small), name) {
				t.Errorf("seed %d: %s is lost\n%s", seed, name, Print(small))
			}
			if n := len(small.Modes) + len(small.Requirements) + len(small.Assumptions); n > 4 {
				t.Errorf("seed %d: %s needs %d modes, requirements and assumptions\n%s", seed, name, n, Print(small))
			}
		}
		if d := cmp.Diff(s, Generate(seed, Everything())); d != "" {
			t.Fatalf("seed %d: the site itself has changed: %s", seed, d)
		}
	}
	if len(waiting) > 0 {
		t.Errorf("no site for %v", waiting)
	}
}

// TestShrinkToNothing: when nothing matters nothing is left that can go.
func TestShrinkToNothing(t *testing.T) {
	for seed := range uint64(30) {
		s := Shrink(Generate(seed, Everything()), func(*site.Site) bool { return true })
		if len(s.Modes)+len(s.Circuits)+len(s.Inputs)+len(s.Requirements)+len(s.Bands)+len(s.Dates)+len(s.Supplies) > 0 {
			t.Fatalf("seed %d: left:\n%s", seed, Print(s))
		}
	}
}

// TestShrinkRenumbers: what stays means the same things as before, by their names.
func TestShrinkRenumbers(t *testing.T) {
	for seed := range uint64(200) {
		s := Generate(seed, Everything())
		last := len(s.Modes) - 1
		for last > 0 && s.Modes[last].Cond == nil {
			last--
		}
		if last < 1 || s.Modes[last].Cond == nil {
			continue
		}
		text := (&printer{s: s}).expr(s.Modes[last].Cond)
		c := Clone(s)
		for i := 0; i < last; i++ {
			if slices.ContainsFunc(s.Modes[last].Cond.Modes(), func(m site.ModeID) bool { return int(m) == i }) {
				text = ""
			}
		}
		dropMode(c, 0)
		if got := (&printer{s: c}).expr(c.Modes[last-1].Cond); text != "" && got != text {
			t.Fatalf("seed %d: %q has become %q", seed, text, got)
		}
		if err := Check(c); err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
	}
}

// TestShrinkIsTheSameEachTime: the same answers give the same site.
func TestShrinkIsTheSameEachTime(t *testing.T) {
	keep := func(c *site.Site) bool { return len(c.Modes) > 1 && len(c.Inputs) > 0 }
	for seed := range uint64(10) {
		a, b := Shrink(Generate(seed, Everything()), keep), Shrink(Generate(seed, Everything()), keep)
		if d := cmp.Diff(a, b); d != "" {
			t.Fatalf("seed %d: %s", seed, d)
		}
	}
}
