// The local clock: bands, clock times, its changes, and what of it is a cause
// (lang/SEMANTICS.md sections 1 and 5).

package oracle

import (
	"fmt"

	"lampwarden/lang/site"
)

// jump is a change of the clock in ticks.
type jump struct{ at, by int }

// placeClock gives the clock its place, if anything that is kept reads it. A
// clock that may jump has one more for whether it has.
func (m *model) placeClock() error {
	m.tod, m.jumped = absent, absent
	if !m.k.clock {
		return nil
	}
	m.tod, m.day = m.place(), m.ticks(site.Day)
	if m.round = m.day; m.k.weekly {
		m.round = 7 * m.day
	}
	if m.round >= beforeStart {
		return fmt.Errorf("oracle: a day or week of %d ticks is too long", m.round)
	}
	for _, j := range m.s.Jumps {
		m.jumps = append(m.jumps, jump{m.ticks(j.At), m.ticks(j.By)})
	}
	if len(m.jumps) > 0 {
		m.jumped = m.place()
	}
	m.dueClocks()
	return nil
}

// dueClocks marks the ticks of the clock of clock-time triggers and band ends,
// and those at which a clock-time trigger counts as a cause.
func (m *model) dueClocks() {
	m.clocks, m.strokes = make([]bool, m.round), make([]bool, m.round)
	for id := range m.s.Modes {
		eachClock(&m.s.Modes[id], func(t *site.Trigger) {
			if m.k.modes[id] {
				m.mark(m.clocks, t.At, t.Days, 0)
			}
			if m.q.causes.hasMode(m.k, site.ModeID(id)) {
				m.mark(m.clocks, t.At, t.Days, 0)
				m.mark(m.strokes, t.At, t.Days, 0)
			}
		})
	}
	for b := range m.s.Bands {
		if x := &m.s.Bands[b]; m.k.bands[b] && !x.Void {
			m.mark(m.clocks, x.From, x.Days, 0)
			if x.From < x.To {
				m.mark(m.clocks, x.To, x.Days, 0)
			} else {
				m.mark(m.clocks, x.To, x.Days, 1)
			}
		}
	}
}

// mark marks a time of day, some days (0 or 1) after each day of the set.
func (m *model) mark(clocks []bool, t site.Millis, on site.Days, later int) {
	for day := range m.round / m.day {
		if m.onDay(on, day) {
			clocks[((day+later)*m.day+m.ticks(t%site.Day))%m.round] = true
		}
	}
}

// inBand compares ticks; the ends of a band are whole units. How long ago did it
// begin last, today or yesterday? It holds if that was less than its length ago.
func (m *model) inBand(b *site.Band, tod uint16) bool {
	if tod == beforeStart || b.Void {
		return false
	}
	length := (m.ticks(b.To) - m.ticks(b.From) + m.day) % m.day
	day, since := int(tod)/m.day, int(tod)%m.day-m.ticks(b.From)
	if since < 0 {
		day, since = day+6, since+m.day
	}
	return since < length && m.onDay(b.Days, day)
}

// onDay tells whether a day, counted from a Monday, is in a set. Where the clock
// goes round in a day there are none but sets of all days.
func (m *model) onDay(on site.Days, day int) bool {
	return on == 0 || !m.k.weekly || on&(1<<(day%7)) != 0
}

// leaps gives the times that the clock may show instead of the one it would
// show now.
func (m *model) leaps(v []uint16) (out []leap) {
	if m.jumped == absent || v[m.jumped] == 1 {
		return nil
	}
	for i, j := range m.jumps {
		if int(v[m.tod])%m.day == j.at {
			to := ((int(v[m.tod])+j.by)%m.round + m.round) % m.round
			out = append(out, leap{uint16(to), m.s.Jumps[i].By})
		}
	}
	return out
}

// leap is a jump that is possible now: the tick to which it leads.
type leap struct {
	to uint16
	by site.Millis
}

// hasMode tells whether clock-time triggers of the mode are causes.
func (c *causes) hasMode(k *kept, id site.ModeID) bool {
	return c != nil && (c.all && k.modes[id] || has(c.Modes, id))
}

// isCause tells whether a reaction is a cause.
func (x *explorer) isCause(before, v []uint16, e *edge, startUp bool) bool {
	c := x.q.causes
	if startUp || e.jump != 0 || e.input != absent && (c.all || has(c.Inputs, x.changes[e.input].input)) {
		return true
	}
	if x.tod == absent {
		return false
	}
	for b := range x.s.Bands {
		if c.all && x.k.bands[b] || has(c.Bands, site.BandID(b)) {
			if band := &x.s.Bands[b]; x.inBand(band, before[x.tod]) != x.inBand(band, v[x.tod]) {
				return true
			}
		}
	}
	return x.strokes[v[x.tod]]
}
