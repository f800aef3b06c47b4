// Reading the tokens of a state.

package certify

import (
	"fmt"
	"slices"
	"strings"

	"lampwarden/lang/site"
)

// stateOf reads a state's tokens. Its text must be the same again, so that a state is written in one way only.
func (m *model) stateOf(tokens []string) (*state, error) {
	s := m.blank()
	for _, t := range tokens {
		if !m.token(s, t) {
			return nil, fmt.Errorf("the token %q means nothing here", t)
		}
	}
	if err := m.sane(s); err != nil {
		return nil, err
	}
	if want := m.text(s); want != strings.Join(tokens, " ") {
		return nil, fmt.Errorf("expected the tokens in this form and order: %s", want)
	}
	return s, nil
}

// token takes in one token.
func (m *model) token(s *state, t string) (ok bool) {
	switch t {
	case "down":
		s.down = true
		return m.down != nil
	case "leapt":
		s.leapt = true
		return len(m.c.jumps) > 0
	}
	if len(t) < 2 {
		return false
	}
	kind, rest := t[0], t[1:]
	left, right, hasRight := strings.Cut(rest, "=")
	if kind == 'r' {
		return m.recency(s, rest)
	}
	if kind == 'o' {
		ns, ok := numbers(rest, ".", 3)
		if !ok || ns[0] > 255 || ns[1] >= 1<<32 || ns[2] > 1 {
			return false
		}
		s.watch = obsState{uint8(ns[0]), uint32(ns[1]), ns[2] == 1}
		return true
	}
	id, ok := number(left)
	if !ok || hasRight != (kind == 'm' || kind == 'c' || kind == 'p' || kind == 's') {
		return false
	}
	switch kind {
	case 'i':
		return set(s.inputs, index(m.inputAt, id))
	case 'g':
		s.segment = id
		return id < m.segments()
	case 'k':
		if id >= len(m.clocks) {
			return false
		}
		s.young |= 1 << id
		return true
	case 'a', 'f':
		at := slices.IndexFunc(m.assumed, func(a assumption) bool { return a.index == id })
		if kind == 'a' {
			return set(s.runs, at)
		}
		return set(s.full, at)
	case 'm':
		at := index(m.modeAt, id)
		ns, ok := numbers(right, ".", 3)
		if !ok || at < 0 || ns[0] > 255 || ns[1] >= 1<<16 || ns[2] > 255 {
			return false
		}
		s.modes[at] = place{uint8(ns[0]), uint16(ns[1]), uint8(ns[2])}
		return true
	case 'c':
		at := m.lampAt(site.CircuitID(id))
		return at >= 0 && m.lampToken(&s.lamps[at], at, right)
	case 'p':
		at := slices.Index(m.c.requests, site.CircuitID(id))
		n, ok := number(right)
		if !ok || at < 0 || n > maxLevel {
			return false
		}
		s.picks[at] = site.Level(n)
		return true
	case 's':
		at := slices.Index(m.c.seen, site.CircuitID(id))
		ns, ok := numbers(right, "/", 2)
		if !ok || at < 0 || ns[0] > maxLevel || ns[1] > maxLevel {
			return false
		}
		s.sights[at] = sight{site.Level(ns[0]), site.Level(ns[1])}
		return true
	}
	return false
}

// maxLevel bounds the levels, codes of colours among them, that a token may name.
const maxLevel = 1 << 30

// lampToken reads where a lamp is: <region>, <region>><aim>[@<pace>] or <region>?<mask>.
func (m *model) lampToken(l *lamp, at int, text string) bool {
	region, rest, cut := text, "", byte(0)
	if i := strings.IndexAny(text, ">?"); i >= 0 {
		region, rest, cut = text[:i], text[i+1:], text[i]
	}
	r, ok := number(region)
	if !ok || r >= len(m.lamps[at].cuts) {
		return false
	}
	l.region = uint8(r)
	switch cut {
	case '>':
		aim, pace, hasPace := strings.Cut(rest, "@")
		n, ok := number(aim)
		p := 0
		if hasPace {
			var good bool
			p, good = number(pace)
			ok = ok && good
		}
		if !ok || n > maxLevel || p >= len(m.lamps[at].paces) {
			return false
		}
		l.doing, l.aim, l.pace = moving, site.Level(n), uint8(p)
	case '?':
		l.doing = unknown
		for _, d := range []byte(rest) { // up to 64 bits
			if d < '0' || d > '9' || l.mask > (1<<64-10)/10 {
				return false
			}
			l.mask = l.mask*10 + uint64(d-'0')
		}
		return l.mask != 0 && l.mask&^m.lamps[at].all() == 0
	}
	return true
}

// recency reads modes, latest first.
func (m *model) recency(s *state, text string) bool {
	for _, f := range strings.Split(text, ",") {
		id, ok := number(f)
		at := index(m.modeAt, id)
		if !ok || at < 0 || !m.modes[at].latest || slices.Contains(s.recent, at) {
			return false
		}
		s.recent = append(s.recent, at)
	}
	return true
}

// sane checks what the reactions take for granted of a state.
func (m *model) sane(s *state) error {
	if (s.segment >= 0) != (m.segments() > 0) {
		return fmt.Errorf("the present segment is missing")
	}
	for i, p := range s.modes {
		d := &m.modes[i]
		if int(p.at) >= d.places() || int(p.group) >= len(d.sequence(p)) || int(p.after) > len(d.afters(p)) {
			return fmt.Errorf("the mode %s has no such place", d.def.Name)
		}
	}
	for ck := range m.clocks {
		if s.young>>ck&1 == 1 && (m.clocks[ck].treat != cooling || m.clocks[ck].kind == ofAssumption || m.length(s, ck) == 0) {
			return fmt.Errorf("clock %d is no cooling timer that runs", ck)
		}
	}
	for i, runs := range s.runs {
		if a := &m.assumed[i]; runs && (m.clocks[a.clock].treat == relaxed || m.length(s, a.clock) == 0) {
			return fmt.Errorf("the clock of assumption %d does not run", a.index)
		}
	}
	return nil
}

// set sets an entry if there is such a place.
func set(table []bool, at int) bool {
	if at < 0 || at >= len(table) {
		return false
	}
	table[at] = true
	return true
}

// numbers reads up to most numbers between separators; the others are 0.
func numbers(text, sep string, most int) (out []int, ok bool) {
	fields := strings.Split(text, sep)
	out = make([]int, most)
	for i, f := range fields {
		if i >= most {
			return nil, false
		}
		if out[i], ok = number(f); !ok {
			return nil, false
		}
	}
	return out, true
}
