// Abstractions of clocks: systems with more behaviours and fewer or shorter clocks.
//
// What an abstract system can not reach the slice can not reach. What it reaches
// is real if the times of the path can be solved with every clock's own constraints
// (Replay gives them all). The caller starts coarse and refines (checker/decide.go).

package machine

// Abstract sets how clocks are treated. A *relaxed* clock is not kept at all: a
// relaxed timer may be due at any time while it runs, or never, and a relaxed
// assumption forbids nothing. A *cooling* one is kept for the horizon only: a
// cooling timer can not be due sooner than that (nor sooner than its duration) after
// it started, and from then on may be due at any time, or never; a cooling
// assumption holds for the horizon. So long timers beside short ones cost next to
// nothing, as long as only the short ones decide. All other clocks are exact.
func (s *System) Abstract(relaxed, cooling uint64) {
	s.relaxed, s.cooling = relaxed, cooling&^relaxed
}

// Coarsest gives the clocks to relax at first: all but those of the observer and of
// the lamps, on which a verdict nearly always hangs.
func (s *System) Coarsest() (relaxed uint64) {
	for ck, c := range s.clocks {
		if c.kind != obsClock && c.kind != lampClock {
			relaxed |= 1 << ck
		}
	}
	return relaxed
}

// Coolable gives the clocks for which cooling differs from exact: those with a
// duration beyond the horizon.
func (s *System) Coolable() (m uint64) {
	for ck := range s.clocks {
		for _, d := range s.durations(ck) {
			if d > s.horizon && s.horizon > 0 {
				m |= 1 << ck
			}
		}
	}
	return m
}

// findHorizon sets the horizon: twice the longest time of the observer and of the
// lamps' own movements (ramps left out), in which all that a verdict speaks of has its place; 0 if they have none.
func (s *System) findHorizon() {
	for _, d := range s.obs.D {
		s.horizon = max(s.horizon, 2*d)
	}
	for i := range s.lamps {
		s.horizon = max(s.horizon, 2*s.lamps[i].paces[0].t)
	}
}

// looseOf lists the timers that run in f without an exact clock.
func (s *System) looseOf(f *frame, out []int) []int {
	for ck := range s.clocks {
		if (s.relaxed|s.cooling)>>ck&1 == 1 && s.clocks[ck].kind != assumeClock && s.deadline(f, ck) > 0 {
			out = append(out, ck)
		}
	}
	return out
}

// startCooling notes which cooling timers of g have just started, and forgets those
// that do not run. At start-up the time of day is anywhere in its segment.
func (s *System) startCooling(g *frame, fresh uint64, start bool) {
	if s.cooling == 0 {
		return
	}
	for ck := range s.clocks {
		bit := uint64(1) << ck
		switch {
		case s.cooling&bit == 0 || s.clocks[ck].kind == assumeClock:
		case s.deadline(g, ck) == 0:
			g.cool &^= bit
		case fresh&bit != 0 || !start && s.deadline(s.before, ck) == 0 || start && s.clocks[ck].kind != dayClock:
			g.cool |= bit
		}
	}
}
