// The compiled question: the layout of a state, and all durations in ticks.

package oracle

import (
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// A state is a vector of small numbers, all that is to be known after a
// reaction or a tick. Its layout: the kept inputs, the ages of the assumptions,
// the clock, the modes, the choices of ambiguous circuits, the lamps, the
// monitor. absent is the place of what is not kept.
const absent = -1

// beforeStart is the time of the clock before start-up, at which no band holds.
const beforeStart = 0xffff

type model struct {
	s     *site.Site
	q     question
	k     *kept
	grain site.Millis
	per   int // ticks per unit
	day   int // ticks per day
	round int // ticks after which the clock comes round: a week, or a day if nothing kept tells the days apart

	size     int
	input    []int // place of an input's value
	spaced   []spaced
	dwells   []dwell
	atMosts  []*site.Assumption
	changes  []event // possible changes: level inputs with gesture 0, and the events that matter
	tod      int
	modes    []modePlace
	order    []site.ModeID // kept modes in step order
	clocks   []bool        // by tick of the clock: something is due
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

// spaced is a Spacing assumption: its age is the time since the last change of
// its inputs, no more than d.
type spaced struct {
	at, d int
	has   []bool // by input
}

// dwell is a Dwell assumption: its age is the time since the input took the
// value, no more than d, and d while nothing hinders it.
type dwell struct {
	at, d int
	input site.InputID
	value bool
}

// circuitPlace is a circuit whose request is resolved.
type circuitPlace struct {
	id          site.CircuitID
	sig, choice int // the ambiguity and what was chosen, plus one; 0: not ambiguous
	lamp        bool
	level       int // place of the level's region
	aim         int // place of the aim's index
	left        int // place of the ticks until the movement is due
	slow        int // place of: the running movement is a ramp; absent if that needs no telling
	aims        []site.Level
	regions     []site.Level // lower ends, ascending
	looks       []int        // by region: regions that no comparison tells apart have the same number
}

// ticks turns a duration into ticks.
func (m *model) ticks(d site.Millis) int { return int(d / m.grain * site.Millis(m.per)) }

func compile(s *site.Site, q question, o Options) (*model, error) {
	if err := readable(s, &q); err != nil {
		return nil, err
	}
	m := &model{s: s, q: q, k: trim(s, &q, o.Whole), per: o.TicksPerUnit}
	m.grain = grainOf(s, m.k, q.spans)
	if site.Millis(m.per) > m.grain*1000 {
		return nil, fmt.Errorf("oracle: %d ticks in %d ms are too fine", m.per, m.grain)
	}
	m.inputs()
	m.tod = absent
	if m.k.clock {
		m.tod, m.day = m.place(), m.ticks(site.Day)
		if m.round = m.day; m.k.weekly {
			m.round = 7 * m.day
		}
		if m.round >= beforeStart {
			return nil, fmt.Errorf("oracle: a day or week of %d ticks is too long", m.round)
		}
		m.dueClocks()
	}
	for id := range s.Modes {
		m.modes = append(m.modes, m.modePlace(site.ModeID(id)))
	}
	for _, id := range s.StepOrder {
		if m.k.modes[id] {
			m.order = append(m.order, id)
		}
	}
	for c := range s.Circuits {
		if m.k.requests[c] {
			m.circuits = append(m.circuits, m.circuitPlace(site.CircuitID(c)))
		}
	}
	m.monAt = m.size
	if q.monitor != nil {
		m.mon = q.monitor(m.ticks)
		m.size += m.mon.size()
	}
	return m, nil
}

func (m *model) place() int {
	m.size++
	return m.size - 1
}

func (m *model) inputs() {
	m.input = make([]int, len(m.s.Inputs))
	for i := range m.s.Inputs {
		m.input[i] = absent
		if !m.k.inputs[i] {
			continue
		}
		if m.s.Inputs[i].Kind.IsEvent() {
			for g := site.Tap; g <= site.LongPress; g++ {
				if e := (event{site.InputID(i), g}); m.k.events[e] {
					m.changes = append(m.changes, e)
				}
			}
			continue
		}
		m.input[i] = m.place()
		m.changes = append(m.changes, event{input: site.InputID(i)})
	}
	for i := range m.s.Assumptions {
		a := &m.s.Assumptions[i]
		if !m.k.anyInput(a.Inputs) {
			continue
		}
		switch a.Kind {
		case site.Spacing:
			sp := spaced{at: m.place(), d: m.ticks(a.D), has: make([]bool, len(m.s.Inputs))}
			for _, in := range a.Inputs {
				sp.has[in] = true
			}
			m.spaced = append(m.spaced, sp)
		case site.Dwell:
			m.dwells = append(m.dwells, dwell{at: m.place(), d: m.ticks(a.D), input: a.Inputs[0], value: a.Value})
		case site.AtMost:
			m.atMosts = append(m.atMosts, a)
		}
	}
}

// dueClocks marks the ticks of the clock of clock-time triggers and band ends.
func (m *model) dueClocks() {
	m.clocks = make([]bool, m.round)
	// add marks a time of day, some days (0 or 1) after each day of the set.
	add := func(t site.Millis, on site.Days, later int) {
		for day := range m.round / m.day {
			if m.onDay(on, day) {
				m.clocks[((day+later)*m.day+m.ticks(t%site.Day))%m.round] = true
			}
		}
	}
	for id := range m.s.Modes {
		if !m.k.modes[id] {
			continue
		}
		x := &m.s.Modes[id]
		for _, ts := range [][]site.Trigger{x.Starts, x.Ends} {
			for _, t := range ts {
				if t.On == nil {
					add(t.At, t.Days, 0)
				}
			}
		}
		for _, t := range x.Transitions {
			if t.After == 0 && t.Trigger.On == nil {
				add(t.Trigger.At, t.Trigger.Days, 0)
			}
		}
	}
	for b := range m.s.Bands {
		if m.k.bands[b] {
			x := &m.s.Bands[b]
			add(x.From, x.Days, 0)
			if x.From < x.To {
				add(x.To, x.Days, 0)
			} else {
				add(x.To, x.Days, 1)
			}
		}
	}
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
	if m.k.sequences[id] && slices.Contains(m.s.Precedence.Equal[id], site.Latest) {
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

// leaves tells whether a transition applies in the state.
func leaves(t *site.Transition, state int) bool {
	if t.From == site.None {
		return t.To != state
	}
	return t.From == state
}

func (m *model) circuitPlace(id site.CircuitID) circuitPlace {
	c := &m.s.Circuits[id]
	p := circuitPlace{id: id, sig: m.place(), choice: m.place(), lamp: m.k.lamps[id], slow: absent}
	p.aims = []site.Level{0}
	ramps := false
	for i := range m.s.Modes {
		for _, st := range m.s.Modes[i].States {
			for _, g := range st.Stages {
				for _, set := range g.Settings {
					for _, ca := range set.Cases {
						if slices.Contains(set.Circuits, id) {
							p.aims = append(p.aims, c.Clamp(ca.Level))
							ramps = ramps || ca.Over > 0
						}
					}
				}
			}
		}
	}
	slices.Sort(p.aims)
	p.aims = slices.Compact(p.aims)
	if !p.lamp {
		return p
	}
	p.level, p.aim, p.left = m.place(), m.place(), m.place()
	if ramps && c.Fade == 0 {
		p.slow = m.place()
	}
	p.regions = []site.Level{0}
	for _, e := range m.q.exprs {
		e.Walk(func(x *site.Expr) {
			if x.Op == site.OpLight && x.Circuit == id {
				p.regions = append(p.regions, x.Lo, x.Hi+1)
			}
		})
	}
	slices.Sort(p.regions)
	seen := slices.Compact(p.regions)
	p.regions = slices.Clone(seen)
	if c.Fade == 0 && m.s.Controller.ReactsWithin > 0 {
		// Whether a movement (with no ramp) has ended, its level being exactly at the aim, decides the
		// due time of the next one: each aim is a region of its own.
		for _, l := range p.aims {
			p.regions = append(p.regions, l, l+1)
		}
		slices.Sort(p.regions)
		p.regions = slices.Compact(p.regions)
	}
	for _, l := range p.regions {
		i, found := slices.BinarySearch(seen, l)
		if !found {
			i--
		}
		p.looks = append(p.looks, i)
	}
	return p
}

// region gives the index of the region of a level.
func (p *circuitPlace) region(l site.Level) uint16 {
	i, found := slices.BinarySearch(p.regions, l)
	if !found {
		i--
	}
	return uint16(i)
}

// aimIndex gives the index of a level among the aims.
func (p *circuitPlace) aimIndex(l site.Level) uint16 {
	i, _ := slices.BinarySearch(p.aims, l)
	return uint16(i)
}
