// Whether what comes of a step is in the set.

package certify

import (
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// arrival is a successor with what it means for zones.
type arrival struct {
	successor
	in   []running // the clocks of its zones
	from []int     // where in the zone before the step each of them comes from, 0: it starts from zero
	to   *stored   // the state in the set, nil if it is not there
	lost bool      // one of the clocks comes from nowhere
}

// stored finds a state in the set, nil if it is not there.
func (k *closure) stored(s *state) *stored {
	k.key = s.key(k.key[:0])
	return k.byKey[string(k.key)]
}

// arrivals works out successors of a state whose zones have the given clocks; start tells that they come of a start-up.
func (k *closure) arrivals(in []running, all []successor, start bool) []arrival {
	out := k.m.room.arrivals.take(len(all))[:0]
	for _, x := range all {
		x.state = k.younger(x, start)
		a := arrival{successor: x, to: k.stored(x.state)}
		if slices.ContainsFunc(out, func(b arrival) bool {
			return b.to != nil && b.to == a.to && b.fresh == a.fresh && !b.broken && !a.broken
		}) {
			continue
		}
		a.in = k.m.zoneClocks(x.state)
		a.from = k.m.room.order.take(len(a.in) + 1)
		for i, r := range a.in {
			if x.fresh>>r.ck&1 == 0 {
				a.from[i+1] = 1 + slices.IndexFunc(in, func(o running) bool { return o.ck == r.ck })
				a.lost = a.lost || a.from[i+1] == 0 && !start
			}
		}
		out = append(out, a)
	}
	return out
}

// arrive checks that a successor, with all that may become of its clocks, is in the set. z is the zone before the step, nil at start-up.
func (k *closure) arrive(z *zone, x *arrival) error {
	m := k.m
	k.steps++
	if x.lost {
		return fmt.Errorf("a clock runs in the state %q that did not start", m.text(x.state))
	}
	var next *zone
	if z != nil {
		next = z.pick(x.from)
	} else {
		next = universe(len(x.in) + 1)
		for i, r := range x.in {
			if m.clocks[r.ck].kind == ofDay {
				next.constrain(i+1, 0, lt(r.d))
			} else {
				next.constrain(i+1, 0, le(0))
			}
		}
	}
	next.later()
	for i, r := range x.in {
		if r.due && !next.constrain(i+1, 0, le(r.d)) {
			return fmt.Errorf("time is stopped in the state %q", m.text(x.state))
		}
	}
	s, next := k.ended(x.state, x.in, next)
	e := x.to
	if s != x.state || e == nil {
		e = k.stored(s)
	}
	if e != nil && slices.ContainsFunc(e.zones, next.within) {
		return nil
	}
	switch {
	case k.missing != nil:
		k.missing(s, next)
		return nil
	case e == nil:
		return fmt.Errorf("the state %q is missing", m.text(s))
	}
	return fmt.Errorf("the zone %s of the state %q of line %d is missing", next, m.text(s), e.line)
}

// younger gives the state with those cooling timers that can not be due yet: those that start in this step, and those that
// ran so before.
func (k *closure) younger(x successor, start bool) *state {
	m, s := k.m, x.state
	young := uint64(0)
	for ck, c := range m.clocks {
		if c.treat != cooling || c.kind == ofAssumption || m.length(s, ck) == 0 {
			continue
		}
		starts := x.fresh>>ck&1 == 1
		if start {
			starts = c.kind != ofDay // the time of day is anywhere in its segment
		}
		if starts || s.young>>ck&1 == 1 { // as it was copied from the state before
			young |= 1 << ck
		}
	}
	if young == s.young {
		return s
	}
	s = s.clone()
	s.young = young
	return s
}

// ended forgets the clocks that can not be less any more than what they are compared with, of assumptions and cooling timers.
func (k *closure) ended(s *state, in []running, z *zone) (*state, *zone) {
	m := k.m
	from := []int{0}
	changed := false
	for i, r := range in {
		assumes := m.clocks[r.ck].kind == ofAssumption
		if (assumes || r.ready) && z.lower(i+1) <= le(-r.d) {
			if !changed {
				s, changed = s.clone(), true
			}
			s.young &^= 1 << r.ck
			if assumes {
				m.endAssumption(s, m.clocks[r.ck].at)
			}
			continue
		}
		from = append(from, i+1)
	}
	if !changed {
		return s, z
	}
	return s, z.pick(from)
}

// endAssumption lets the clock of an assumption end. A battery that has been charging long enough is full.
func (m *model) endAssumption(s *state, i int) {
	a := &m.assumed[i]
	s.runs[i] = false
	if a.def.Kind == site.Charge && !m.input(s, a.def.Inputs[1]) && m.clocks[a.clock].treat == exact {
		s.full[i] = true
	}
}
