// The clock on the wall: the day, or the week, in segments.

package certify

import (
	"fmt"
	"slices"
	"strings"

	"lampwarden/lang/site"
)

// wallKept is what a certificate keeps of all that the local clock drives.
type wallKept struct {
	bands    []site.BandID
	modes    []site.ModeID // their clock-time triggers
	calendar bool          // an input that changes at 00:00
	jumps    []int
	causes   *site.Causes // of a Settles, else nil
}

// wall is the clock, cut into segments at whose start alone something of what is kept can happen. Segments that are a period
// apart are one; they are told by the number of the first.
type wall struct {
	s       *site.Site
	kept    wallKept
	cycle   site.Millis   // site.Day or site.Week
	starts  []site.Millis // ascending, times of the day or week; a segment includes its start
	period  int
	watches []site.BandID // the bands that are kept, and those that are causes
}

// dayClock is how the clock of the day is kept. Of a segment's length only the part up to counts matters: all of it (counts is a
// week) if the clock is exact, the first part, the horizon, if it is cooling, nothing (0) if it is relaxed.
type dayClock struct {
	exact  bool
	counts site.Millis
}

// newWall cuts the clock at the given starts and checks that nothing of what is kept happens elsewhere, that segments that
// are taken for one are alike, and that the changes of the clock that are not kept do not matter.
func newWall(s *site.Site, kept wallKept, cycle site.Millis, starts []site.Millis, period int, clock dayClock) (*wall, error) {
	w := &wall{s: s, kept: kept, cycle: cycle, starts: starts, period: period, watches: slices.Clone(kept.bands)}
	if kept.causes != nil {
		w.watches = append(w.watches, kept.causes.Bands...)
	}
	if cycle != site.Day && cycle != site.Week {
		return nil, fmt.Errorf("the clock goes round in a day or in a week")
	}
	for i, t := range starts {
		if t < 0 || t >= cycle || i > 0 && t <= starts[i-1] {
			return nil, fmt.Errorf("the starts of segments must ascend within what the clock goes round in")
		}
	}
	needed, byDay := w.boundaries(w.kept.jumps)
	if byDay && cycle == site.Day {
		return nil, fmt.Errorf("something happens on some days of the week only, so the clock must go round in a week")
	}
	for _, t := range needed {
		if _, ok := slices.BinarySearch(starts, t); !ok {
			return nil, fmt.Errorf("something happens at %s, where no segment starts", w.clock(t))
		}
	}
	if len(starts) == 0 {
		return w, nil
	}
	if period < 1 || len(starts)%period != 0 {
		return nil, fmt.Errorf("%d segments do not repeat after %d", len(starts), period)
	}
	for i := period; i < len(starts); i++ {
		if err := w.alike(i%period, w, i, 0, clock); err != nil {
			return nil, err
		}
	}
	return w, w.leavesOut(clock)
}

// alike checks that segment k of another wall means what segment i of this one does. The other wall is turned by so many segments.
func (w *wall) alike(i int, other *wall, k, turn int, clock dayClock) error {
	switch {
	case w.meaning(i, 0) != other.meaning(k, turn):
		return fmt.Errorf("the segments from %s and from %s are not alike", w.clock(w.starts[i]), other.clock(other.starts[k]))
	case min(w.length(i), clock.counts) != min(other.length(k), clock.counts):
		return fmt.Errorf("the segments from %s and from %s have different lengths, which matter", w.clock(w.starts[i]),
			other.clock(other.starts[k]))
	}
	return nil
}

// boundaries lists the times at which something of what is kept happens, the given changes of the clock among it, ascending;
// byDay tells that something of it does not happen on every day alike.
func (w *wall) boundaries(jumps []int) (times []site.Millis, byDay bool) {
	add := func(t site.Millis, days site.Days, later bool) {
		for day := range 7 {
			if !days.Has(day) {
				byDay = true
				continue
			}
			if later {
				day++
			}
			times = append(times, (site.Millis(day)*site.Day+t)%w.cycle)
		}
	}
	for _, b := range w.watches {
		if band := &w.s.Bands[b]; !band.Void {
			add(band.From, band.Days, false)
			add(band.To, band.Days, band.To < band.From)
		}
	}
	for _, t := range w.triggers() {
		if !t.Void {
			add(t.At, t.Days, false)
		}
	}
	if w.kept.calendar {
		add(0, 0, false)
	}
	for _, k := range jumps {
		j := &w.s.Jumps[k]
		add(j.At, 0, false)
		add(round(j.At+j.By, site.Day), 0, false)
	}
	slices.Sort(times)
	return slices.Compact(times), byDay
}

// triggers lists the clock-time triggers of the modes that are kept or are causes.
func (w *wall) triggers() []*site.Trigger {
	modes := slices.Clone(w.kept.modes)
	if w.kept.causes != nil {
		modes = append(modes, w.kept.causes.Modes...)
	}
	var out []*site.Trigger
	for _, m := range modes {
		out = append(out, clockTriggers(&w.s.Modes[m])...)
	}
	return out
}

// clockTriggers lists a mode's triggers by the clock.
func clockTriggers(m *site.Mode) []*site.Trigger {
	var out []*site.Trigger
	add := func(t *site.Trigger) {
		if t.On == nil {
			out = append(out, t)
		}
	}
	for i := range m.Starts {
		add(&m.Starts[i])
	}
	for i := range m.Ends {
		add(&m.Ends[i])
	}
	for i := range m.Transitions {
		if m.Transitions[i].After == 0 {
			add(&m.Transitions[i].Trigger)
		}
	}
	return out
}

// holds tells whether the band holds during a segment.
func (w *wall) holds(b site.BandID, seg int) bool { return w.s.Bands[b].Holds(w.starts[seg]) }

// due tells whether the clock-time trigger is due at the start of a segment.
func (w *wall) due(t *site.Trigger, seg int) bool {
	at := w.starts[seg]
	return !t.Void && t.At == at%site.Day && t.Days.Has(int(at/site.Day))
}

// midnight tells whether the clock comes to show 00:00 at the start of a segment.
func (w *wall) midnight(seg int) bool { return w.starts[seg]%site.Day == 0 }

// caused tells whether the start of a segment is a cause: a band of Causes begins or ends, or a trigger is due of one of its modes.
// (A jump of the clock is one, too.)
func (w *wall) caused(seg int) bool {
	if w.kept.causes == nil {
		return false
	}
	at := w.starts[seg]
	for _, b := range w.kept.causes.Bands {
		if band := &w.s.Bands[b]; band.Holds(at) != band.Holds(round(at-1, site.Week)) {
			return true
		}
	}
	for _, m := range w.kept.causes.Modes {
		for _, t := range clockTriggers(&w.s.Modes[m]) {
			if w.due(t, seg) {
				return true
			}
		}
	}
	return false
}

// next gives the segment that begins as one ends. jump is an index into Site.Jumps: the one that begins if the clock jumps at
// that instant; ok is false if it can not. With no jump, which is -1, it can always.
func (w *wall) next(seg, jump int) (next int, ok bool) {
	next = (seg + 1) % len(w.starts)
	if jump >= 0 {
		if next, ok = w.landing(next, jump); !ok {
			return 0, false
		}
	}
	return next % w.period, true
}

// landing gives the segment in which the clock lands if it jumps where the segment would begin.
func (w *wall) landing(seg, jump int) (int, bool) {
	j := &w.s.Jumps[jump]
	if !slices.Contains(w.kept.jumps, jump) || j.At != w.starts[seg]%site.Day {
		return 0, false
	}
	to, ok := slices.BinarySearch(w.starts, round(w.starts[seg]+j.By, w.cycle))
	return to, ok
}

// meaning tells all that a segment means, its length apart: equal texts, equal meanings. Segments are counted from the given one.
func (w *wall) meaning(seg, from int) string {
	var out strings.Builder
	fmt.Fprint(&out, w.kept.calendar && w.midnight(seg), w.caused(seg))
	for _, b := range w.kept.bands {
		fmt.Fprint(&out, " ", w.holds(b, seg))
	}
	for _, m := range w.kept.modes {
		for _, t := range clockTriggers(&w.s.Modes[m]) {
			fmt.Fprint(&out, " ", w.due(t, seg))
		}
	}
	for _, k := range w.kept.jumps {
		if to, ok := w.landing(seg, k); ok {
			fmt.Fprintf(&out, " %d>%d", k, (to-from+len(w.starts))%len(w.starts)%w.period)
		}
	}
	return out.String()
}

// length of a segment.
func (w *wall) length(seg int) site.Millis {
	if len(w.starts) == 1 {
		return w.cycle
	}
	return round(w.starts[(seg+1)%len(w.starts)]-w.starts[seg], w.cycle)
}

// clock writes a time of the day or week.
func (w *wall) clock(t site.Millis) string {
	if w.cycle == site.Day {
		return t.Clock()
	}
	return t.WeekClock()
}

// round gives the time in [0, n) that is t round a cycle of length n.
func round(t, n site.Millis) site.Millis { return (t%n + n) % n }
