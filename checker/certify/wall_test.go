package certify

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"lampwarden/lang/site"
)

const minute = site.Millis(60_000)

// anyClock is a site with little but bands, clock-time triggers and changes of the clock, on a grid of minutes.
func anyClock(r *rand.Rand) (*site.Site, wallKept) {
	at := func() site.Millis { return site.Millis(r.IntN(24*60)) * minute }
	days := func() site.Days {
		if r.IntN(3) == 0 {
			return site.Days(1 + r.IntN(127))
		}
		return 0
	}
	s, kept := &site.Site{}, wallKept{calendar: r.IntN(3) == 0}
	for i := range r.IntN(4) {
		b := site.Band{From: at(), Days: days(), Void: r.IntN(8) == 0}
		b.To = round(b.From+site.Millis(1+r.IntN(24*60-1))*minute, site.Day)
		s.Bands = append(s.Bands, b)
		kept.bands = append(kept.bands, site.BandID(i))
	}
	m := site.Mode{Kind: site.Latch}
	for range 1 + r.IntN(2) {
		m.Starts = append(m.Starts, site.Trigger{At: at(), Days: days(), Void: r.IntN(8) == 0})
		m.Ends = append(m.Ends, site.Trigger{On: &site.Expr{}})
	}
	s.Modes, kept.modes = []site.Mode{m}, []site.ModeID{0}
	for range r.IntN(2) {
		s.Jumps = append(s.Jumps, site.Jump{At: at(), By: site.Millis(r.IntN(2)*120-60) * minute})
	}
	for k := range s.Jumps {
		if r.IntN(2) == 0 {
			kept.jumps = append(kept.jumps, k)
		}
	}
	if r.IntN(2) == 0 {
		kept.causes = &site.Causes{Modes: []site.ModeID{0}, Bands: slices.Clone(kept.bands[:len(kept.bands)/2])}
	}
	return s, kept
}

// derived cuts the clock where something happens.
func derived(s *site.Site, kept wallKept, cycle site.Millis) *wall {
	w := &wall{s: s, kept: kept, cycle: cycle, watches: kept.bands}
	w.starts, _ = w.boundaries(w.kept.jumps)
	w.period = max(1, len(w.starts))
	return w
}

// What the segments say of each minute of the week is what the site's own bands and triggers say of it.
func TestWallMinuteByMinute(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	weeks, dues := 0, 0
	for range 60 {
		s, kept := anyClock(r)
		w := derived(s, kept, site.Week)
		if day := derived(s, kept, site.Day); r.IntN(2) == 0 {
			if _, byDay := day.boundaries(day.kept.jumps); !byDay {
				w = day
			}
		}
		if w.cycle == site.Week {
			weeks++
		}
		if len(w.starts) == 0 {
			continue
		}
		for now := site.Millis(0); now < site.Week; now += minute {
			seg := -1 // the last that has begun, by the clock that goes round
			for i := range w.starts {
				if w.starts[i] <= now%w.cycle {
					seg = i
				}
			}
			starts := seg >= 0 && w.starts[seg] == now%w.cycle
			seg = (seg + len(w.starts)) % len(w.starts)
			begins := false
			for _, b := range kept.bands {
				band := &s.Bands[b]
				if w.holds(b, seg) != band.Holds(now) {
					t.Fatalf("%+v at %s: the segment from %s says %t", band, now.WeekClock(), w.clock(w.starts[seg]), w.holds(b, seg))
				}
				if kept.causes != nil && slices.Contains(kept.causes.Bands, b) {
					begins = begins || band.Holds(now) != band.Holds(round(now-minute, site.Week))
				}
			}
			for i := range s.Modes[0].Starts {
				tr := &s.Modes[0].Starts[i]
				want := !tr.Void && tr.At == now%site.Day && tr.Days.Has(int(now/site.Day))
				if got := starts && w.due(tr, seg); got != want {
					t.Fatalf("%+v at %s: due %t", tr, now.WeekClock(), got)
				}
				begins = begins || kept.causes != nil && want
				if want {
					dues++
				}
			}
			if got := starts && w.caused(seg); got != begins {
				t.Fatalf("%s: a cause %t, want %t", now.WeekClock(), got, begins)
			}
			if got := starts && w.midnight(seg); kept.calendar && got != (now%site.Day == 0) {
				t.Fatalf("%s: midnight %t", now.WeekClock(), got)
			}
		}
	}
	if weeks < 20 || dues < 100 {
		t.Errorf("%d weeks, %d times a trigger was due", weeks, dues)
	}
}

// visited lists the starts of segments that the clock comes to show in the next week and a half from the middle of a day on, a jump
// happening the first time that it would show At.
func visited(w *wall, from site.Millis, j *site.Jump) []site.Millis {
	var out []site.Millis
	now, jumped := from, j == nil
	for range 11 * 24 * 60 {
		now = round(now+minute, site.Week)
		if !jumped && now%site.Day == j.At {
			now, jumped = round(now+j.By, site.Week), true
		}
		if _, ok := slices.BinarySearch(w.starts, now%w.cycle); ok {
			out = append(out, now%w.cycle)
		}
	}
	return out
}

// A change of the clock may be left out just if the same things happen in the same order, and no segment gets too short; one that
// is kept goes where the clock would.
func TestJumpsMinuteByMinute(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	left, concerned := 0, 0
	for range 500 {
		s, kept := anyClock(r)
		if len(s.Jumps) == 0 {
			continue
		}
		j := &s.Jumps[0]
		if r.IntN(2) == 0 { // near something
			j.At = round(s.Modes[0].Starts[0].At+site.Millis(r.IntN(180)-90)*minute, site.Day)
		}
		w := derived(s, kept, site.Week)
		if len(w.starts) == 0 {
			continue
		}
		if len(kept.jumps) > 0 {
			for seg := range w.starts {
				to, ok := w.next(seg, 0)
				end := w.starts[(seg+1)%len(w.starts)]
				if ok != (end%site.Day == j.At) || ok && w.starts[to] != round(end+j.By, site.Week) {
					t.Fatalf("%+v at %s goes to segment %d, %t", j, end.WeekClock(), to, ok)
				}
			}
			continue
		}
		same := true
		for day := range site.Millis(7) {
			from := day*site.Day + round(j.At-2*60*minute, site.Day) // two hours before, so that a jump comes first
			a, b := visited(w, from, nil), visited(w, from, j)
			n := min(len(a), len(b))
			same = same && slices.Equal(a[:n], b[:n])
		}
		if got := w.leavesOut(dayClock{}) == nil; got != same {
			t.Fatalf("%+v, starts %v: left out %t, the same happens %t", j, w.starts, got, same)
		}
		if same {
			left++
			if w.leavesOut(dayClock{exact: true, counts: site.Week}) == nil {
				t.Fatalf("%+v is left out of an exact clock", j)
			}
		} else {
			concerned++
		}
	}
	if left < 20 || concerned < 20 {
		t.Errorf("%d could be left out, %d not", left, concerned)
	}
}

// A false claim about the clock is refused, with a reason.
func TestWallRefuses(t *testing.T) {
	h := 60 * minute
	s := &site.Site{
		Bands: []site.Band{{From: 22 * h, To: 6 * h}, {From: 8 * h, To: 9 * h, Days: 1}, {From: 2*h + h/2, To: 4 * h}},
		Modes: []site.Mode{{Kind: site.Latch, Starts: []site.Trigger{{At: 7 * h}}}},
		Jumps: []site.Jump{{At: 2 * h, By: h}},
	}
	night, monday, early := []site.BandID{0}, []site.BandID{1}, []site.BandID{2}
	relaxed, exact := dayClock{}, dayClock{true, site.Week}
	for _, c := range []struct {
		name   string
		kept   wallKept
		cycle  site.Millis
		starts []site.Millis
		period int
		clock  dayClock
		want   string // part of the reason; "" if there is nothing wrong
	}{
		{"right", wallKept{bands: night}, site.Day, []site.Millis{6 * h, 22 * h}, 2, relaxed, ""},
		{"nothing kept", wallKept{}, site.Day, nil, 0, exact, ""},
		{"more starts than needed", wallKept{bands: night}, site.Day, []site.Millis{1 * h, 6 * h, 22 * h}, 3, relaxed, ""},
		{"a boundary is missing", wallKept{bands: night}, site.Day, []site.Millis{6 * h}, 1, relaxed, "at 22:00"},
		{"a trigger is missing", wallKept{modes: []site.ModeID{0}}, site.Day, nil, 0, relaxed, "at 07:00"},
		{"midnight is missing", wallKept{calendar: true}, site.Day, []site.Millis{h}, 1, relaxed, "at 00:00"},
		{"a cause is missing", wallKept{causes: &site.Causes{Bands: night}}, site.Day, []site.Millis{6 * h}, 1, relaxed, "at 22:00"},
		{"a jump is missing", wallKept{jumps: []int{0}}, site.Day, []site.Millis{2 * h}, 1, relaxed, "at 03:00"},
		{"days of the week", wallKept{bands: monday}, site.Day, []site.Millis{8 * h, 9 * h}, 2, relaxed, "some days of the week"},
		{"not in order", wallKept{}, site.Day, []site.Millis{2 * h, h}, 2, relaxed, "ascend"},
		{"beyond the day", wallKept{}, site.Day, []site.Millis{25 * h}, 1, relaxed, "ascend"},
		{"a month", wallKept{}, 4 * site.Week, []site.Millis{h}, 1, relaxed, "a day or in a week"},
		{"period", wallKept{bands: night}, site.Day, []site.Millis{6 * h, 22 * h}, 1, relaxed, "not alike"},
		{"no period", wallKept{bands: night}, site.Day, []site.Millis{6 * h, 22 * h}, 0, relaxed, "do not repeat"},
		{"lengths that matter", wallKept{}, site.Day, []site.Millis{6 * h, 22 * h}, 1, exact, "different lengths"},
		{"lengths that do not", wallKept{}, site.Day, []site.Millis{6 * h, 22 * h}, 1, relaxed, ""},
		{"lengths beyond the horizon", wallKept{}, site.Day, []site.Millis{6 * h, 22 * h}, 1, dayClock{false, 7 * h}, ""},
		{"exact, but for a jump", wallKept{bands: night}, site.Day, []site.Millis{6 * h, 22 * h}, 2, exact, "02:00 is not kept"},
		{"exact, with it", wallKept{bands: night, jumps: []int{0}}, site.Day, []site.Millis{2 * h, 3 * h, 6 * h, 22 * h}, 4, exact, ""},
		{"a jump over a boundary", wallKept{bands: early}, site.Day, []site.Millis{2*h + h/2, 4 * h}, 2, relaxed, "concerns 02:30"},
		{"a segment that is long enough", wallKept{bands: night}, site.Day, []site.Millis{6 * h, 22 * h}, 2, dayClock{false, 7 * h}, ""},
		{"a segment that is not", wallKept{bands: night}, site.Day, []site.Millis{6 * h, 22 * h}, 2, dayClock{false, 7*h + 1}, "too short"},
	} {
		_, err := newWall(s, c.kept, c.cycle, c.starts, c.period, c.clock)
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// One date stands for another if the same happens in the same order, and at the same distances where they matter.
func TestDatesAlike(t *testing.T) {
	h := 60 * minute
	dated := func(sunset, dusk site.Millis) *site.Site {
		sun := func(at site.Millis) site.Trigger {
			return site.Trigger{At: at, Void: at < 0, Sun: &site.SunTime{Event: site.Sunset}}
		}
		return &site.Site{Bands: []site.Band{{From: 6 * h, To: 18 * h}},
			Modes: []site.Mode{{Kind: site.Latch, Starts: []site.Trigger{sun(sunset)}, Ends: []site.Trigger{sun(dusk)}}}}
	}
	kept := wallKept{bands: []site.BandID{0}, modes: []site.ModeID{0}}
	here := dated(17*h, 20*h)
	for _, c := range []struct {
		name    string
		other   *site.Site
		relaxed bool // counts if relaxed
		exact   bool
	}{
		{"the same", dated(17*h, 20*h), true, true},
		{"other lengths", dated(16*h, 21*h), true, false},
		{"another order with the band", dated(18*h+1, 20*h), false, false},
		{"one thing less", dated(17*h, -1), false, false},
		{"two at once", dated(18*h, 20*h), false, false},
		{"after midnight, the order round the clock is the same", dated(17*h, 1*h), true, false},
		{"the two swapped", dated(20*h, 17*h), false, false},
	} {
		for _, clock := range []dayClock{{}, {true, site.Week}} {
			w, err := newWall(here, kept, site.Day, []site.Millis{6 * h, 17 * h, 18 * h, 20 * h}, 4, clock)
			if err != nil {
				t.Fatal(err)
			}
			want := c.relaxed && !clock.exact || c.exact
			if err := w.countsFor(c.other, clock); (err == nil) != want {
				t.Errorf("%s, exact %t: %v", c.name, clock.exact, err)
			}
		}
	}
	// Of two dates on each of which one trigger is void it is not the same one.
	w, err := newWall(dated(17*h, -1), kept, site.Day, []site.Millis{6 * h, 17 * h, 18 * h}, 3, dayClock{})
	if err != nil {
		t.Fatal(err)
	}
	if w.countsFor(dated(-1, 17*h), dayClock{}) == nil {
		t.Error("one void trigger counts for another one")
	}
}
