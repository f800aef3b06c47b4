// The compiled question: the layout of a state, and all durations in ticks.

package oracle

import (
	"errors"
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// A state is a vector of small numbers, all that is to be known after a
// reaction or a tick. Its layout: the kept inputs, the numbers of the assumptions,
// the clock, the controller, the modes, the circuits (the choice where one is ambiguous, the
// lamp, what is seen of it), the monitor. absent is the place of what is not kept.
const absent = -1

// beforeStart is the time of the clock before start-up, at which no band holds.
const beforeStart = 0xffff

type model struct {
	s     *site.Site
	q     question
	k     *kept
	grain site.Millis
	per   int  // ticks per unit
	day   int  // ticks per day
	round int  // ticks after which the clock comes round: a week, or a day if nothing kept tells the days apart
	long  bool // some duration has more ticks than a state can hold

	size     int
	initial  []uint16 // the state before start-up
	input    []int    // place of an input's value
	spaced   []spaced
	dwells   []dwell
	charges  []charge
	counts   []counted
	ladders  [][]site.InputID
	changes  []event // possible changes: level inputs with gesture 0, and the events that matter
	tod      int
	jumped   int // place of: the clock has jumped
	jumps    []jump
	clocks   []bool // by tick of the clock: something is due
	strokes  []bool // by tick of the clock: a clock-time trigger is due that is a cause
	down     int    // place of: the controller is down
	modes    []modePlace
	order    []site.ModeID // kept modes in the order of their steps: plant modes, then the controller's
	circuits []circuitPlace
	monAt    int
	mon      monitor
}

// modePlace is where a mode's numbers stand: its phase (While: phase; Latch: 1
// if active; States: the state), the age of its timer, its stage, the age of
// the stage, and the rank of its recency among the modes that need one.
type modePlace struct {
	phase, age, stage, stageAge, rank int

	on, off, pulse, latch int     // durations in ticks
	after                 [][]int // States: the After times of the transitions that leave each state
}

// ticks turns a duration into ticks.
func (m *model) ticks(d site.Millis) int {
	t := d / m.grain * site.Millis(m.per)
	m.long = m.long || t >= beforeStart
	return int(t)
}

func compile(s *site.Site, q question, o Options) (*model, error) {
	if err := readable(s, &q); err != nil {
		return nil, err
	}
	m := &model{s: s, q: q, k: trim(s, &q, o.Whole), per: o.TicksPerUnit, down: absent}
	m.grain = grainOf(s, m.k, &q)
	if site.Millis(m.per) > m.grain*1000 {
		return nil, fmt.Errorf("oracle: %d ticks in %d ms are too fine", m.per, m.grain)
	}
	m.placeInputs()
	if err := m.placeClock(); err != nil {
		return nil, err
	}
	if m.k.down {
		m.down = m.place()
	}
	for id := range s.Modes {
		m.modes = append(m.modes, m.modePlace(site.ModeID(id)))
	}
	for _, plant := range []bool{true, false} {
		for _, id := range s.StepOrder {
			if m.k.modes[id] && s.Modes[id].Plant == plant {
				m.order = append(m.order, id)
			}
		}
	}
	for c := range s.Circuits {
		if m.k.requests[c] {
			m.circuits = append(m.circuits, m.circuitPlace(site.CircuitID(c)))
		}
	}
	m.monAt = m.size
	if q.monitor != nil {
		m.mon = q.monitor(m)
		m.size += m.mon.size()
	}
	if m.long {
		return nil, errors.New("oracle: a duration has too many ticks")
	}
	m.initial = make([]uint16, m.size)
	if m.tod != absent {
		m.initial[m.tod] = beforeStart
	}
	return m, nil
}

func (m *model) place() int {
	m.size++
	return m.size - 1
}

func (m *model) modePlace(id site.ModeID) modePlace {
	x := &m.s.Modes[id]
	p := modePlace{phase: absent, age: absent, stage: absent, stageAge: absent, rank: absent}
	if !m.k.modes[id] {
		return p
	}
	p.on, p.off, p.pulse, p.latch = m.ticks(x.OnDelay), m.ticks(x.OffDelay), m.ticks(x.Pulse), m.ticks(x.For)
	p.phase, p.age = m.place(), m.place()
	if m.k.sequences[id] {
		p.stage, p.stageAge = m.place(), m.place()
	}
	if m.k.sequences[id] && m.ranked(id) {
		p.rank = m.place()
	}
	if x.Kind == site.States {
		p.after = make([][]int, len(x.States))
		for i := range x.States {
			for _, t := range x.Transitions {
				if t.After > 0 && leaves(&t, i) {
					p.after[i] = append(p.after[i], m.ticks(t.After))
				}
			}
		}
	}
	return p
}

// ranked tells whether a mode's recency can decide a request: by the rule Latest,
// or by the rule Highest, where a colour is asked for.
func (m *model) ranked(id site.ModeID) bool {
	equal := m.s.Precedence.Equal[id]
	return slices.Contains(equal, site.Latest) ||
		slices.Contains(equal, site.Highest) && slices.ContainsFunc(m.s.Circuits, func(c site.Circuit) bool { return c.Colour })
}

// leaves tells whether a transition applies in the state.
func leaves(t *site.Transition, state int) bool {
	if t.From == site.None {
		return t.To != state
	}
	return t.From == state
}
