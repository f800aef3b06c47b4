// Expressions with their look-ups done (lang/SEMANTICS.md, section 4).

package certify

import (
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// cond is an expression over the states of a model.
type cond struct {
	op    site.Op
	kids  []*cond
	n     int
	at    int       // place of the input, mode, lamp or event among those that are kept
	state int       // a mode's state, or a stage
	table []bool    // truth of a band in each segment, of a comparison of light in each region
	terms []summand // of a sum
	need  int64     // of a sum
}

// summand is a term of a sum: what each region of a lamp counts, or the weight of the level at which a circuit is seen.
type summand struct {
	at     int
	counts []int64 // nil: seen
	weight int64
}

// moment is what an expression is looked at in: a state, the one before the reaction and the event that is true, -1 for none.
type moment struct {
	now, before *state
	event       int
}

// compile looks up what e names. What is not kept makes the certificate wrong, unless it is an input that may stay at rest.
func (m *model) compile(e *site.Expr) *cond {
	if e == nil {
		return nil
	}
	if c, ok := m.compiled[e]; ok {
		return c
	}
	m.reads = append(m.reads, e)
	c := m.cond(e)
	m.compiled[e] = c
	return c
}

func (m *model) cond(e *site.Expr) *cond {
	c := &cond{op: e.Op, n: e.N, state: e.State, at: -1}
	switch e.Op {
	case site.OpInput:
		if c.at = index(m.inputAt, int(e.Input)); c.at < 0 {
			c.op = site.OpFalse
			m.leftOut[e.Input] = true
		}
	case site.OpEvent:
		c.at = slices.Index(m.events, event{input: e.Input, gesture: e.Gesture})
		m.want(c.at >= 0, "an event of input %s is read, but not kept", m.inputName(e.Input))
	case site.OpBand:
		m.want(slices.Contains(m.c.bands, e.Band), "the band %s is read, but not kept", m.bandName(e.Band))
		for seg := range m.segments() {
			c.table = append(c.table, m.wall.holds(e.Band, seg))
		}
	case site.OpMode, site.OpState, site.OpStage:
		c.at = index(m.modeAt, int(e.Mode))
		m.want(c.at >= 0, "the mode %s is read, but not kept", m.modeName(e.Mode))
		if e.Op == site.OpStage {
			m.stageRead[e.Mode] = true
		}
	case site.OpLight:
		c.at = m.lampAt(e.Circuit)
		if m.want(c.at >= 0, "the light of %s is read, but not kept", m.circuitName(e.Circuit)) {
			c.table = m.regionsWhere(c.at, func(l site.Level) bool { return e.Lo <= l && l <= e.Hi }, e.Lo, e.Hi+1)
		}
	case site.OpSum:
		return m.sum(e, c)
	}
	for _, k := range e.Kids {
		c.kids = append(c.kids, m.cond(k))
	}
	return c
}

// sum looks up a sum. One that has the same truth whatever the lamps do needs none of them.
func (m *model) sum(e *site.Expr, c *cond) *cond {
	c.need = e.Need
	if e.Seen {
		for _, t := range e.Terms {
			at := slices.Index(m.c.seen, t.Circuit)
			m.want(at >= 0, "how the sensors see %s is read, but not kept", m.circuitName(t.Circuit))
			c.terms = append(c.terms, summand{at: at, weight: t.Weight})
		}
		return c
	}
	most := int64(0)
	for _, t := range e.Terms {
		rests := m.site.Rests(t.Circuit)
		most += t.Weight * int64(rests[len(rests)-1])
	}
	switch {
	case e.Need <= 0:
		c.op = site.OpTrue
		return c
	case most < e.Need:
		c.op = site.OpFalse
		return c
	}
	for _, t := range e.Terms {
		at := m.lampAt(t.Circuit)
		if !m.want(at >= 0, "the light of %s is added up, but not kept", m.circuitName(t.Circuit)) {
			return c
		}
		rests := m.site.Rests(t.Circuit)
		count := func(l site.Level) int64 { return t.Weight * int64(site.Round(rests, l, e.Up)) }
		x := summand{at: at}
		l := &m.lamps[at]
		for r := range l.cuts {
			lo, hi := l.bounds(r)
			// The count grows with the level, and of one term only whether it comes up to the need plays a part.
			same := count(lo) == count(hi) || len(e.Terms) == 1 && (count(lo) >= e.Need) == (count(hi) >= e.Need)
			m.want(same, "region %d of circuit %s counts differently from one level to another", r, m.circuitName(t.Circuit))
			x.counts = append(x.counts, count(lo))
		}
		c.terms = append(c.terms, x)
	}
	return c
}

// regionsWhere gives the regions of a lamp in which a comparison is true, which changes its truth at the given levels only.
func (m *model) regionsWhere(at int, is func(site.Level) bool, changes ...site.Level) (table []bool) {
	l := &m.lamps[at]
	for r := range l.cuts {
		lo, hi := l.bounds(r)
		for _, x := range changes {
			m.want(x <= lo || x > hi, "region %d of circuit %s holds levels on both sides of a comparison", r, m.circuitName(l.id))
		}
		table = append(table, is(lo))
	}
	return table
}

// holds evaluates.
func (c *cond) holds(m *model, t moment) bool {
	switch c.op {
	case site.OpTrue:
		return true
	case site.OpFalse:
		return false
	case site.OpNot:
		return !c.kids[0].holds(m, t)
	case site.OpAnd:
		for _, k := range c.kids {
			if !k.holds(m, t) {
				return false
			}
		}
		return true
	case site.OpOr:
		for _, k := range c.kids {
			if k.holds(m, t) {
				return true
			}
		}
		return false
	case site.OpAtMost, site.OpAtLeast:
		n := 0
		for _, k := range c.kids {
			if k.holds(m, t) {
				n++
			}
		}
		return c.op == site.OpAtMost && n <= c.n || c.op == site.OpAtLeast && n >= c.n
	case site.OpInput:
		return t.now.inputs[c.at]
	case site.OpEvent:
		return t.event == c.at
	case site.OpBand:
		return t.now.segment >= 0 && c.table[t.now.segment]
	case site.OpMode:
		return m.modes[c.at].active(t.now.modes[c.at])
	case site.OpState:
		return int(t.now.modes[c.at].at) == c.state
	case site.OpStage:
		d, p := &m.modes[c.at], t.now.modes[c.at]
		return d.active(p) && d.group(p).stage == c.state
	case site.OpWas:
		return c.kids[0].holds(m, moment{t.before, t.before, -1})
	case site.OpLight:
		return c.table[t.now.lamps[c.at].region]
	case site.OpSum:
		sum := int64(0)
		for _, x := range c.terms {
			if x.counts == nil {
				sum += x.weight * int64(t.now.sights[x.at].seen)
			} else {
				sum += x.counts[t.now.lamps[x.at].region]
			}
		}
		return sum >= c.need
	}
	panic(fmt.Sprintf("certify: an expression with the operator %d", c.op))
}

// rises tells whether a trigger's expression is true now and was not before, when no event was true.
func (c *cond) rises(m *model, t moment) bool {
	return c.holds(m, t) && !c.holds(m, moment{t.before, t.before, -1})
}

// index is table[i], -1 beyond it.
func index(table []int, i int) int {
	if i < 0 || i >= len(table) {
		return -1
	}
	return table[i]
}
