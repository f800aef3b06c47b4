// Times of a path: conflicts, nice times, on paths made by hand and at random.

package trace

import (
	"math/rand/v2"
	"testing"

	"lampwarden/checker/machine"
	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

const sec = site.Millis(1000)

// path makes a path of steps with the given timings. With from >= 0 it starts within len of that time of day.
func path(from, length site.Millis, steps ...[]machine.Timing) *machine.Path {
	p := &machine.Path{Clocked: from >= 0, From: from, Len: length}
	for k, ts := range steps {
		if k == 0 && p.Clocked {
			ts = append(ts, machine.Timing{Since: -1, D: length})
		}
		p.Steps = append(p.Steps, machine.Step{Timers: ts})
	}
	return p
}

func exact(clock, since int, d site.Millis) machine.Timing {
	return machine.Timing{Clock: clock, Since: since, D: d, Exact: true}
}

func less(clock, since int, d site.Millis) machine.Timing {
	return machine.Timing{Clock: clock, Since: since, D: d}
}

func atLeast(clock, since int, d site.Millis) machine.Timing {
	return machine.Timing{Clock: clock, Since: since, D: d, AtLeast: true}
}

type timings = []machine.Timing

// TestConflict: the clocks of a contradiction, and only those.
func TestConflict(t *testing.T) {
	for _, c := range []struct {
		name string
		p    *machine.Path
		want uint64
	}{
		{"nothing to contradict", path(-1, 0, nil, nil, nil), 0},
		{"due exactly when spacing ends", path(-1, 0, nil, timings{atLeast(0, 0, 2*sec), exact(1, 0, 2*sec)}), 0},
		{"due before spacing ends", path(-1, 0, nil, timings{atLeast(0, 0, 2*sec), exact(1, 0, sec)}), 1<<0 | 1<<1},
		{"not yet due when it must be over", path(-1, 0, nil, timings{less(3, 0, sec), atLeast(5, 0, sec)}), 1<<3 | 1<<5},
		{"two timers of one start, the longer due first",
			path(-1, 0, nil, timings{exact(0, 0, 3*sec)}, timings{exact(1, 0, 2*sec)}), 1<<0 | 1<<1},
		{"a chain of two seconds within one of two", path(-1, 0, nil, timings{exact(0, 0, sec)}, timings{exact(1, 1, sec), less(2, 0, 2*sec)}),
			1<<0 | 1<<1 | 1<<2},
		{"a chain of two seconds within one just longer",
			path(-1, 0, nil, timings{exact(0, 0, sec)}, timings{exact(1, 1, sec), less(2, 0, 2*sec+1)}), 0},
		{"a clock apart plays no part", path(-1, 0, nil, timings{exact(7, 0, 9*sec)}, timings{exact(0, 1, sec), less(1, 1, sec)}), 1<<0 | 1<<1},
		{"some time passes between two steps", path(-1, 0, nil, timings{exact(0, 0, sec)}, timings{exact(1, 0, sec)}), 1<<0 | 1<<1},
		{"two boundaries of a day nearer than a timer", path(sec, 5*sec, nil, timings{atLeast(1, 0, 5*sec), exact(0, -1, 5*sec)}), 0},
		{"the start is at the boundary or later", path(sec, 5*sec, nil, timings{atLeast(1, 0, 6*sec), exact(0, -1, 5*sec)}), 1<<0 | 1<<1},
	} {
		if got := Conflict(c.p); got != c.want {
			t.Errorf("%s: clocks %b, want %b", c.name, got, c.want)
		}
	}
}

// randomPath makes a path with random constraints between its steps, one clock for each.
func randomPath(rng *rand.Rand) *machine.Path {
	steps := make([][]machine.Timing, 2+rng.IntN(7))
	for clock := range 1 + rng.IntN(12) {
		k := 1 + rng.IntN(len(steps)-1)
		tm := machine.Timing{Clock: clock, Since: rng.IntN(k), D: site.Millis(1+rng.IntN(6)) * sec}
		switch rng.IntN(3) {
		case 0:
			tm.Exact = true
		case 1:
			tm.AtLeast = true
		}
		steps[k] = append(steps[k], tm)
	}
	if rng.IntN(2) == 0 {
		return path(-1, 0, steps...)
	}
	return path(7*3600*sec, site.Millis(1+rng.IntN(4))*sec, steps...)
}

// only keeps the constraints of some clocks.
func only(p *machine.Path, clocks uint64) *machine.Path {
	q := *p
	q.Steps = nil
	for k, st := range p.Steps {
		var kept []machine.Timing
		for _, tm := range st.Timers {
			if tm.Since < 0 && k == 0 || clocks>>tm.Clock&1 == 1 {
				kept = append(kept, tm)
			}
		}
		q.Steps = append(q.Steps, machine.Step{Timers: kept})
	}
	return &q
}

// solvable closes the table of differences (Floyd, Warshall).
func solvable(p *machine.Path) bool {
	d := newSystem(len(p.Steps) + 1)
	for _, e := range edges(p) {
		d[e.to][e.from] = min(d[e.to][e.from], e.w)
	}
	return d.close()
}

// TestConflictAgreesWithClosure: a conflict is found exactly if the closure finds one; its clocks contradict each other by
// themselves; without one, the times meet every constraint.
func TestConflictAgreesWithClosure(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	found := [2]int{}
	for i := range 20_000 {
		p := randomPath(rng)
		clash := Conflict(p)
		if (clash == 0) != solvable(p) {
			t.Fatalf("path %d: conflict %b, but solvable %v: %+v", i, clash, clash != 0, p)
		}
		if clash != 0 {
			found[0]++
			if solvable(only(p, clash)) {
				t.Fatalf("path %d: the clocks %b alone do not contradict each other: %+v", i, clash, p)
			}
			if _, _, err := times(p); err == nil {
				t.Fatalf("path %d is timed in spite of a conflict", i)
			}
			continue
		}
		found[1]++
		start, at, err := times(p)
		if err != nil {
			t.Fatal(err)
		}
		checkTimes(t, p, start, at)
	}
	if found[0] < 2000 || found[1] < 2000 {
		t.Errorf("with and without a conflict: %v", found)
	}
}

// checkTimes holds solved times against each constraint as it is written.
func checkTimes(t *testing.T, p *machine.Path, start rehearse.Nanos, at []rehearse.Nanos) {
	t.Helper()
	if at[0] != 0 || start < 0 || start >= rehearse.Day {
		t.Fatalf("start %d, first step at %d", start, at[0])
	}
	for k, st := range p.Steps {
		if k > 0 && at[k] <= at[k-1] {
			t.Fatalf("step %d is not after the one before: %v", k, at)
		}
		for _, tm := range st.Timers {
			since := rehearse.FromMillis(p.From) - start // the boundary, seen from start-up
			if tm.Since >= 0 {
				since = at[tm.Since]
			}
			d := at[k] - since - rehearse.FromMillis(tm.D)
			if tm.Exact && d != 0 || tm.AtLeast && d < 0 || !tm.Exact && !tm.AtLeast && d >= 0 {
				t.Fatalf("step %d breaks %+v: %v from %d", k, tm, at, start)
			}
		}
	}
}

// TestNice: whole minutes before ten seconds, those before seconds, and so on; on the clock, not since the origin.
func TestNice(t *testing.T) {
	ms := rehearse.Milli
	s := 1000 * ms
	for _, c := range []struct {
		name             string
		lo, hi, tod, got rehearse.Nanos
	}{
		{"a whole minute", 10 * s, 200 * s, 0, 60 * s},
		{"the first of them, even at the end", 10 * s, 60 * s, 0, 60 * s},
		{"none fits: ten seconds", 11 * s, 59 * s, 0, 20 * s},
		{"seconds", 11*s + 1, 19 * s, 0, 12 * s},
		{"half a second", 11*s + 1, 11*s + 900*ms, 0, 11*s + 500*ms},
		{"a tenth", 11*s + 1, 11*s + 200*ms, 0, 11*s + 100*ms},
		{"a millisecond", ms + 1, 3*ms - 1, 0, 2 * ms},
		{"a nanosecond", ms + 1, ms + 1, 0, ms + 1},
		{"whole minutes of the clock", 10 * s, 200 * s, 30 * s, 30 * s},
		{"nothing but the lower bound", 5 * s, 5 * s, 0, 5 * s},
		{"zero is whole", 0, 10 * s, 0, 0},
	} {
		if got := nice(c.lo, c.hi, c.tod); got != c.got {
			t.Errorf("%s: %d, want %d", c.name, got, c.got)
		}
	}
}

// TestTimes solves small paths to the times that a person would choose.
func TestTimes(t *testing.T) {
	ms := rehearse.Milli
	s := 1000 * ms
	minute := 60 * s
	for _, c := range []struct {
		name  string
		p     *machine.Path
		start rehearse.Nanos
		at    []rehearse.Nanos
	}{
		{"any time of day: noon, and each minute", path(-1, 0, nil, nil, nil), 720 * minute, []rehearse.Nanos{0, minute, 2 * minute}},
		{"a timer of five seconds", path(-1, 0, nil, nil, timings{exact(0, 1, 5*sec)}), 720 * minute, []rehearse.Nanos{0, minute, minute + 5*s}},
		{"within less than a second", path(-1, 0, nil, nil, timings{less(0, 1, sec)}), 720 * minute, []rehearse.Nanos{0, minute, minute + 500*ms}},
		{"rather a minute after the boundary than at it", path(7*3600*sec, 3600*sec, nil, nil), 421 * minute, []rehearse.Nanos{0, minute}},
		{"rather shortly before a boundary that is waited for", path(7*3600*sec, 3600*sec, nil, timings{exact(0, -1, 3600*sec)}), 477 * minute,
			[]rehearse.Nanos{0, 3 * minute}},
		{"at the boundary where nothing else is left", path(7*3600*sec, 3600*sec, nil, timings{exact(0, -1, 3600*sec), atLeast(1, 0, 3600*sec)}),
			420 * minute, []rehearse.Nanos{0, 60 * minute}},
	} {
		start, at, err := times(c.p)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if start != c.start {
			t.Errorf("%s: starts at %d, want %d", c.name, start, c.start)
		}
		for k := range at {
			if at[k] != c.at[k] {
				t.Errorf("%s: step %d at %d, want %d", c.name, k, at[k], c.at[k])
			}
		}
	}
	if _, _, err := times(path(-1, 0, nil, timings{exact(0, 0, sec), less(1, 0, sec)})); err == nil {
		t.Error("a contradiction is timed")
	}
}
