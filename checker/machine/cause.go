// Causes from outside: what "settles" and the finding of hunting count from.

package machine

import (
	"slices"

	"lampwarden/lang/site"
)

// causeTable tells which events and which boundaries of the clock are causes.
type causeTable struct {
	events []bool // by event index
	segs   []bool // by the segment that begins
}

// keepCauses works out the observer's causes.
func (s *System) keepCauses() {
	c := s.obs.Causes
	if c == nil {
		return
	}
	t := &causeTable{events: make([]bool, len(s.events)+1), segs: make([]bool, len(s.segs))}
	for i, e := range s.events {
		t.events[i+1] = slices.Contains(c.Inputs, e.input)
	}
	for i, g := range s.segs {
		t.segs[i] = s.clockCause(c, g.from)
	}
	s.caused = t
}

// clockCause tells whether anything of the causes happens by the clock at time t of the cycle.
func (s *System) clockCause(c *site.Causes, t site.Millis) bool {
	cycle := site.Day
	if s.weekly {
		cycle = site.Week
	}
	for _, b := range c.Bands {
		if bd := &s.site.Bands[b]; bd.Holds(t) != bd.Holds((t+cycle-1)%cycle) {
			return true
		}
	}
	for _, m := range c.Modes {
		for _, g := range clockTriggers(&s.site.Modes[m]) {
			if g.At == t%site.Day && g.Days.Has(int(t/site.Day)) {
				return true
			}
		}
	}
	return false
}

// causes tells whether a reaction to c that led to f is a cause.
func (s *System) causes(f *frame, c cause) bool {
	switch {
	case s.caused == nil:
		return false
	case c.start || c.leap > 0 || s.caused.events[c.ev]:
		return true
	}
	return s.clocked && c.due&1 == 1 && s.caused.segs[f.seg]
}
