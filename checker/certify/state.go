// Discrete states, their tokens and their keys. The package comment says what each token means.

package certify

import (
	"encoding/binary"
	"fmt"
	"strings"

	"lampwarden/lang/site"
)

// state is a discrete state. Its tables go by the place among what is kept: inputs, modes, lamps and so on.
type state struct {
	inputs []bool
	// segment is -1 before start-up, and if there are none.
	segment int
	modes   []place
	recent  []int // places of modes, latest first
	lamps   []lamp
	picks   []site.Level // by request: chosen if it is ambiguous, else noPick
	sights  []sight
	runs    []bool // by assumption: its clock runs
	full    []bool // of a Charge
	down    bool
	leapt   bool
	young   uint64 // cooling timers that can not be due yet, by clock
	watch   obsState
	room    *room // for copies
}

// noPick is the pick of a circuit that is not ambiguous.
const noPick site.Level = -1

// place is where a mode is. What the numbers mean stands in the package comment.
type place struct {
	at    uint8
	group uint16 // of its sequence
	after uint8
}

// Places of a While mode.
const (
	off = iota
	on
	waiting
	holding
	pulsing
	spent
)

// lamp is where a lamp is and what it does.
type lamp struct {
	region uint8
	doing  doing
	aim    site.Level // of moving
	pace   uint8      // of moving
	mask   uint64     // of unknown: the regions that its request may be in
}

// doing tells what a lamp does.
type doing uint8

const (
	rests   doing = iota
	moving        // to its aim
	unknown       // what it is asked for is not known
)

// sight is how the sensors see a circuit.
type sight struct{ target, seen site.Level }

// blank is the state before start-up: everything at rest.
func (m *model) blank() *state {
	s := &state{
		room: &m.room, inputs: make([]bool, len(m.c.inputs)), segment: -1, modes: make([]place, len(m.modes)), lamps: make([]lamp, len(m.lamps)),
		picks: make([]site.Level, len(m.requests)), sights: make([]sight, len(m.sights)), runs: make([]bool, len(m.assumed)), full: make([]bool, len(m.assumed)),
	}
	for i := range s.picks {
		s.picks[i] = noPick
	}
	return s
}

func (s *state) clone() *state {
	r := s.room
	t := &r.states.take(1)[0]
	*t = *s
	t.inputs, t.runs, t.full = r.flags.copied(s.inputs), r.flags.copied(s.runs), r.flags.copied(s.full)
	t.modes, t.lamps, t.recent = r.places.copied(s.modes), r.lamps.copied(s.lamps), r.order.copied(s.recent)
	t.picks, t.sights = r.levels.copied(s.picks), r.sights.copied(s.sights)
	return t
}

// key appends bytes that are equal for equal states of a model.
func (s *state) key(b []byte) []byte {
	flags := func(fs []bool) {
		for _, f := range fs {
			v := byte(0)
			if f {
				v = 1
			}
			b = append(b, v)
		}
	}
	num := func(n int64) { b = binary.AppendVarint(b, n) }
	flags(s.inputs)
	flags(s.runs)
	flags(s.full)
	few := [...]bool{s.down, s.leapt, s.watch.prev}
	flags(few[:])
	num(int64(s.segment))
	for _, p := range s.modes {
		b = append(b, p.at, byte(p.group), byte(p.group>>8), p.after)
	}
	for _, l := range s.lamps {
		b = append(b, l.region, byte(l.doing), l.pace)
		num(int64(l.aim))
		b = binary.AppendUvarint(b, l.mask)
	}
	for _, p := range s.picks {
		num(int64(p))
	}
	for _, v := range s.sights {
		num(int64(v.target))
		num(int64(v.seen))
	}
	b = binary.AppendUvarint(b, s.young)
	b = append(b, s.watch.place)
	num(int64(s.watch.count))
	for _, r := range s.recent {
		num(int64(r))
	}
	return b
}

// text writes the tokens of a state.
func (m *model) text(s *state) string {
	var out []string
	add := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	for i, v := range s.inputs {
		if v {
			add("i%d", m.c.inputs[i])
		}
	}
	if s.segment >= 0 {
		add("g%d", s.segment)
	}
	for i, p := range s.modes {
		if p != (place{}) {
			add("m%d=%s", m.modes[i].id, points(int(p.at), int(p.group), int(p.after)))
		}
	}
	if len(s.recent) > 0 {
		var ids []string
		for _, r := range s.recent {
			ids = append(ids, fmt.Sprint(m.modes[r].id))
		}
		add("r%s", strings.Join(ids, ","))
	}
	for i, l := range s.lamps {
		id := m.lamps[i].id
		switch {
		case l.doing == unknown:
			add("c%d=%d?%d", id, l.region, l.mask)
		case l.doing == moving && l.pace > 0:
			add("c%d=%d>%d@%d", id, l.region, l.aim, l.pace)
		case l.doing == moving:
			add("c%d=%d>%d", id, l.region, l.aim)
		case l.region > 0:
			add("c%d=%d", id, l.region)
		}
	}
	for i, p := range s.picks {
		if p != noPick {
			add("p%d=%d", m.c.requests[i], p)
		}
	}
	for i, v := range s.sights {
		if v != (sight{}) {
			add("s%d=%d/%d", m.c.seen[i], v.target, v.seen)
		}
	}
	for i, r := range s.runs {
		if r {
			add("a%d", m.assumed[i].index)
		}
	}
	for i, f := range s.full {
		if f {
			add("f%d", m.assumed[i].index)
		}
	}
	if s.down {
		add("down")
	}
	if s.leapt {
		add("leapt")
	}
	for ck := range m.clocks {
		if s.young>>ck&1 == 1 {
			add("k%d", ck)
		}
	}
	prev := 0
	if s.watch.prev {
		prev = 1
	}
	if o := points(int(s.watch.place), int(s.watch.count), prev); o != "0" {
		add("o%s", o)
	}
	return strings.Join(out, " ")
}

// points writes numbers with points between, zeros at the end left out but for the first.
func points(ns ...int) string {
	for len(ns) > 1 && ns[len(ns)-1] == 0 {
		ns = ns[:len(ns)-1]
	}
	return strings.ReplaceAll(strings.Trim(fmt.Sprint(ns), "[]"), " ", ".")
}
