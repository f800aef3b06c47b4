// How the daylight sensors see the lamps (lang/SEMANTICS.md, section 2, step 5).

package machine

import "lampwarden/lang/site"

// sight is a circuit whose light the sensors see: its target is followed exactly, its level in between plays no part.
type sight struct {
	id    site.CircuitID
	reach reach
	req   int // index in System.reqs
	ck    int // its clock
}

// target gives the level that the circuit is to go to after a reaction; tgt is the one before.
func (s *System) target(v *sight, f *frame, tgt int16, start bool) int16 {
	level, at, closed := v.reach.imposed(s.holds(&v.reach, f, s.before, start))
	if at {
		tgt = int16(level)
	}
	if want := s.want[v.req]; !closed && want != noAsk {
		tgt = want
	}
	return tgt
}
