// The wall clock: the day, or the week, cut at the times that a slice reads.

package machine

import (
	"fmt"
	"slices"
	"strings"

	"lampwarden/lang/site"
)

// segment is a stretch between two boundaries that the slice needs. Nothing that
// it reads changes by the clock within it.
type segment struct {
	from site.Millis // time of the week; in a cycle of one day, of Monday
	len  site.Millis
}

// wall collects the boundaries of a cycle.
type wall struct {
	weekly bool
	at     []site.Millis
}

// add notes a time of day on the given days, so many days later.
func (w *wall) add(t site.Millis, days site.Days, later int) {
	if !w.weekly {
		w.at = append(w.at, t)
		return
	}
	for d := range 7 {
		if days.Has(d) {
			w.at = append(w.at, (site.Millis(d+later)*site.Day+t)%site.Week)
		}
	}
}

// keepSegments cuts the day, or if anything of the slice is not the same every day
// the week, at every time that the slice reads.
func (s *System) keepSegments() {
	var w wall
	for b, kept := range s.sl.Bands {
		w.weekly = w.weekly || kept && s.site.Bands[b].Days != 0
	}
	for m, kept := range s.sl.Modes {
		if kept {
			w.weekly = w.weekly || slices.ContainsFunc(clockTriggers(&s.site.Modes[m]), func(t site.Trigger) bool { return t.Days != 0 })
		}
	}
	for b, kept := range s.sl.Bands {
		if bd := &s.site.Bands[b]; kept && !bd.Void {
			w.add(bd.From, bd.Days, 0)
			if bd.To < bd.From {
				w.add(bd.To, bd.Days, 1)
			} else {
				w.add(bd.To, bd.Days, 0)
			}
		}
	}
	for m, kept := range s.sl.Modes {
		if kept {
			for _, t := range clockTriggers(&s.site.Modes[m]) {
				w.add(t.At, t.Days, 0)
			}
		}
	}
	for i, kept := range s.sl.Inputs {
		if kept && s.site.Inputs[i].Kind == site.Calendar {
			w.add(0, 0, 0)
		}
	}
	s.keepJumps(&w)
	s.weekly, s.segs = w.weekly, w.segments()
	s.clocked = len(s.segs) > 0
}

func (w *wall) segments() (out []segment) {
	slices.Sort(w.at)
	at := slices.Compact(w.at)
	cycle := site.Day
	if w.weekly {
		cycle = site.Week
	}
	for i, t := range at {
		end := at[(i+1)%len(at)]
		if end <= t {
			end += cycle
		}
		out = append(out, segment{t, end - t})
	}
	return out
}

// keepJumps cuts the day where the local clock may jump. A jump over no boundary of the slice changes nothing but the length
// of the stretch that it is in; it is left out, unless all are asked for, and WantsJumps says when that was too simple.
func (s *System) keepJumps(w *wall) {
	if len(w.at) == 0 {
		return
	}
	own := slices.Clone(w.at)
	s.jumps = make([]bool, len(s.site.Jumps))
	for i, j := range s.site.Jumps {
		over := slices.ContainsFunc(own, func(t site.Millis) bool { return passes(j, t%site.Day) })
		if s.jumps[i] = over || s.sl.jumps || s.obs.Causes != nil; s.jumps[i] {
			w.add(j.At, 0, 0)
			w.add(((j.At+j.By)%site.Day+site.Day)%site.Day, 0, 0)
		} else {
			s.shorter = max(s.shorter, j.By, -j.By)
		}
	}
}

// passes tells whether the time of day lies between the two that the clock shows at a jump, both included.
func passes(j site.Jump, t site.Millis) bool {
	from, to := min(j.At, j.At+j.By), max(j.At, j.At+j.By)
	for _, u := range []site.Millis{t - site.Day, t, t + site.Day} {
		if from <= u && u <= to {
			return true
		}
	}
	return false
}

// WantsJumps tells whether the changes of the clock that were left out matter with clocks relaxed and cooling as
// given: they do where the lengths of the stretches between times of day are read.
func (s *System) WantsJumps(relaxed, cooling uint64) bool {
	if s.shorter == 0 || !s.clocked || relaxed&1 == 1 {
		return false
	}
	if cooling&1 == 0 {
		return true
	}
	return slices.ContainsFunc(s.segs, func(g segment) bool { return g.len-s.shorter < s.horizon })
}

// nextSeg is the segment after seg, or with a jump of the local clock (its index + 1) the one that the clock then shows.
func (s *System) nextSeg(seg, leap int) int {
	next := (seg + 1) % len(s.segs)
	if leap == 0 {
		return next
	}
	cycle := site.Day
	if s.weekly {
		cycle = site.Week
	}
	to := ((s.segs[next].from+s.site.Jumps[leap-1].By)%cycle + cycle) % cycle
	return slices.IndexFunc(s.segs, func(g segment) bool { return g.from == to })
}

// TimesOfDay tells whether the system, with the given clocks relaxed, knows how long its segments are.
func (s *System) TimesOfDay(relaxed uint64) bool { return s.clocked && relaxed&1 == 0 }

// Skeleton writes what each segment means to the system, in order, without its length: two dates of one skeleton differ
// only in the lengths, which Lengths gives.
func (s *System) Skeleton() string {
	var b strings.Builder
	for i := range s.segs {
		b.WriteString("|" + s.meaning(i))
	}
	return b.String()
}

// meaning writes all that a segment means but its length and where in the week it is: which bands hold, what is due as it
// begins, and where the clock may jump to (so many segments on).
func (s *System) meaning(i int) string {
	var b strings.Builder
	g := s.segs[i]
	for k, kept := range s.sl.Bands {
		if kept && s.site.Bands[k].Holds(g.from) {
			fmt.Fprintf(&b, " b%d", k)
		}
	}
	for m, kept := range s.sl.Modes {
		if !kept {
			continue
		}
		for k, t := range clockTriggers(&s.site.Modes[m]) {
			if t.At == g.from%site.Day && t.Days.Has(int(g.from/site.Day)) {
				fmt.Fprintf(&b, " m%d.%d", m, k)
			}
		}
	}
	for k, j := range s.site.Jumps {
		if n := len(s.segs); s.jumps[k] && j.At == g.from%site.Day {
			fmt.Fprintf(&b, " j%d:%d", k, (s.nextSeg((i+n-1)%n, k+1)-i+n)%n)
		}
	}
	if g.from%site.Day == 0 {
		b.WriteString(" 0")
	}
	if s.caused != nil && s.caused.segs[i] {
		b.WriteString(" c")
	}
	return b.String()
}

// keepPeriod finds after how many segments everything repeats but their lengths: a working day has two, be the week as it may. While
// the clock of the day is relaxed, only those are told apart.
func (s *System) keepPeriod() {
	n := len(s.segs)
	all := make([]string, n)
	for i := range all {
		all[i] = s.meaning(i)
	}
	for s.period = 1; s.period < n; s.period++ {
		if n%s.period == 0 && slices.Equal(all[s.period:], all[:n-s.period]) {
			return
		}
	}
}

// cycle is how many segments are told apart.
func (s *System) cycle() int {
	if s.relaxed&1 == 1 && s.clocked {
		return s.period
	}
	return len(s.segs)
}

// Lengths writes the segments' lengths.
func (s *System) Lengths() string {
	var b strings.Builder
	for _, g := range s.segs {
		fmt.Fprintf(&b, " %d", g.len)
	}
	return b.String()
}

// mayLeap tells whether the clock may make a jump (its index + 1; 0: none) at the end of f's segment.
func (s *System) mayLeap(f *frame, leap int) bool {
	if leap == 0 {
		return true
	}
	return s.jumps[leap-1] && !f.leapt && s.segs[(f.seg+1)%len(s.segs)].from%site.Day == s.site.Jumps[leap-1].At
}

// clockTriggers lists the clock-time triggers of a mode.
func clockTriggers(m *site.Mode) (out []site.Trigger) {
	add := func(t site.Trigger) {
		if t.On == nil && !t.Void {
			out = append(out, t)
		}
	}
	for _, t := range m.Starts {
		add(t)
	}
	for _, t := range m.Ends {
		add(t)
	}
	for _, t := range m.Transitions {
		if t.After == 0 {
			add(t.Trigger)
		}
	}
	return out
}
