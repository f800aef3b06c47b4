// Requests: which of the asks for a circuit counts (lang/SEMANTICS.md, section 2, step 3).

package certify

import (
	"slices"

	"lampwarden/lang/site"
)

// request is a circuit whose request is kept.
type request struct {
	circuit site.CircuitID
	askers  []asker     // in order of their ids
	free    []freeAsker // modes that are not looked at
	lamp    int         // place among the lamps, -1
	sight   int         // and among the circuits that sensors see
}

// ask is what a mode asks for.
type ask struct {
	at    int // place of the mode
	id    site.ModeID
	level site.Level
	over  site.Millis
}

// want is what a circuit is asked for after a reaction.
type want struct {
	kind  wantKind
	level site.Level  // of asks
	over  site.Millis // of asks: of the ramp, 0 for none
	mask  uint64      // of openly: the regions of the lamp in which the level may be
	pick  site.Level  // chosen at an ambiguous circuit, else noPick
}

type wantKind uint8

const (
	asks    wantKind = iota
	openly           // it is not known
	nothing          // of a colour: it stays as it is
)

// ruleFor gives the rule between two equals on a circuit.
func (m *model) ruleFor(c site.CircuitID, a, b site.ModeID) site.Rule {
	r := m.site.Precedence.RuleFor(a, b)
	if r == site.Highest && m.site.Circuits[c].Colour {
		return site.Latest
	}
	return r
}

// asksOf gives what a mode asks for in a state.
func (m *model) asksOf(a *asker, s *state) (ask, bool) {
	d, p := &m.modes[a.at], s.modes[a.at]
	if !d.playing(p) {
		return ask{}, false
	}
	g := d.group(p)
	if g.stage == site.None {
		return ask{}, false
	}
	for _, set := range a.sets[d.state(p)][g.stage] {
		for _, cs := range set.cases {
			if cs.when != nil && !cs.when.holds(m, moment{s, s, -1}) {
				continue
			}
			if set.flashing && g.dark {
				return ask{a.at, d.id, 0, cs.over}, true
			}
			return ask{a.at, d.id, cs.level, cs.over}, true
		}
	}
	return ask{}, false
}

// foremost appends to all the asks that no other one outranks, in order of the modes' ids.
func (m *model) foremost(all []ask, r *request, s *state) (top []ask) {
	if s.down {
		return nil
	}
	for i := range r.askers {
		if a, ok := m.asksOf(&r.askers[i], s); ok {
			all = append(all, a)
		}
	}
	n := len(all)
	outranked := func(a ask) bool {
		return slices.ContainsFunc(all[:n], func(b ask) bool { return m.site.Precedence.Outranks(b.id, a.id) })
	}
	if !slices.ContainsFunc(all, outranked) {
		return all
	}
	for _, a := range all[:n] {
		if !outranked(a) {
			all = append(all, a)
		}
	}
	return all[n:]
}

// wants gives what a circuit may be asked for in the state after a reaction: more than one want where the environment chooses. The
// list holds until the next call.
func (m *model) wants(r *request, before, s *state) []want {
	m.room.wants = m.choices(m.room.wants[:0], r, before, s)
	return m.room.wants
}

// choices appends the wants.
func (m *model) choices(out []want, r *request, before, s *state) []want {
	colour := m.site.Circuits[r.circuit].Colour
	if s.down {
		if colour {
			return append(out, want{kind: nothing, pick: noPick})
		}
		return append(out, want{kind: asks, pick: noPick})
	}
	var few [16]ask
	top := m.foremost(few[:0], r, s)
	if mask, open := m.open(r, top); open {
		return append(out, want{kind: openly, mask: mask, pick: noPick})
	}
	if len(top) == 0 && colour {
		return append(out, want{kind: nothing, pick: noPick})
	}
	level, decided := m.decide(r, s, top)
	if decided {
		return append(out, want{kind: asks, level: level, over: over(top, level), pick: noPick})
	}
	if was := m.foremost(nil, r, before); before.picks[m.requestAt(r)] != noPick && sameAsks(was, top) {
		level = before.picks[m.requestAt(r)]
		return append(out, want{kind: asks, level: level, over: over(top, level), pick: level})
	}
	for i, a := range top {
		if !slices.ContainsFunc(top[:i], func(b ask) bool { return b.level == a.level }) {
			out = append(out, want{kind: asks, level: a.level, over: over(top, a.level), pick: a.level})
		}
	}
	return out
}

func (m *model) requestAt(r *request) int { return slices.Index(m.c.requests, r.circuit) }

// open tells whether a free mode may decide, and the regions that the level is then in.
func (m *model) open(r *request, top []ask) (mask uint64, open bool) {
	for _, f := range r.free {
		if !slices.ContainsFunc(top, func(a ask) bool { return m.site.Precedence.Outranks(a.id, f.id) }) {
			open = true
			mask |= f.mask
		}
	}
	if !open || r.lamp < 0 {
		return 0, open
	}
	l := &m.lamps[r.lamp]
	if len(top) == 0 && l.colour {
		return l.all(), true
	}
	if len(top) == 0 {
		mask |= 1 << l.regionOf(0)
	}
	for _, a := range top {
		mask |= 1 << l.regionOf(a.level)
	}
	return mask, true
}

// decide finds the level that is asked for; not decided: the circuit is ambiguous.
func (m *model) decide(r *request, s *state, top []ask) (level site.Level, decided bool) {
	if len(top) == 0 {
		return 0, true
	}
	same, highest, latest := true, true, true
	for i, a := range top {
		same = same && a.level == top[0].level
		for _, b := range top[i+1:] {
			rule := m.ruleFor(r.circuit, a.id, b.id)
			highest = highest && rule == site.Highest
			latest = latest && rule == site.Latest
		}
	}
	switch {
	case same:
		return top[0].level, true
	case highest:
		for _, a := range top {
			level = max(level, a.level)
		}
		return level, true
	case latest:
		for _, at := range s.recent {
			for _, a := range top {
				if a.at == at {
					return a.level, true
				}
			}
		}
		// States modes that never entered anything are equally old.
		return top[len(top)-1].level, true
	}
	return 0, false
}

// over gives the time of the ramp of the last written ask for a level.
func over(top []ask, level site.Level) (t site.Millis) {
	for _, a := range top {
		if a.level == level {
			t = a.over
		}
	}
	return t
}

// sameAsks tells whether the same modes ask for the same levels.
func sameAsks(a, b []ask) bool {
	return slices.EqualFunc(a, b, func(x, y ask) bool { return x.at == y.at && x.level == y.level })
}
