// Monitors: one per form of requirement (lang/SEMANTICS.md section 5).

package oracle

import (
	"fmt"

	"lampwarden/lang/site"
)

// monitor watches a run. Its memory is a part of the state; the memory before
// the first moment is all zero.
type monitor interface {
	size() int
	// moment tells of one moment, by the truth of the requirement's conditions. It
	// returns true if the requirement is broken (or, Possible: reached) at it.
	moment(mem []uint16, holds func(*site.Expr) bool) bool
	// tick tells that a tick of time passes from the last moment told of, in the state v, and
	// returns true if the requirement is broken as soon as any (or all) of it has passed.
	tick(mem, v []uint16) bool
}

// causeMonitor is a monitor that is told of causes, each before the moments of its reaction.
type causeMonitor interface{ cause(mem []uint16) }

// guesser is a monitor that begins to watch at a time of the environment's choosing.
type guesser interface {
	guess(mem []uint16) bool // it may begin now
	begin(mem []uint16)
	over(mem []uint16) bool // it has watched to the end and seen nothing
}

// monitorMaker makes a monitor for a compiled question.
type monitorMaker func(m *model) monitor

func monitorOf(r *site.Requirement) (monitorMaker, error) {
	var mk func(d, e int) monitor
	switch r.Form {
	case site.Never, site.Possible:
		mk = func(int, int) monitor { return &stateMonitor{p: r.P, bad: true} }
	case site.Always:
		mk = func(int, int) monitor { return &stateMonitor{p: r.P, bad: false} }
	case site.Whenever:
		mk = func(d, e int) monitor {
			switch {
			case e > 0:
				return &lastingMonitor{a: r.A, b: r.B, c: r.Until, d: d, e: e}
			case r.Until != nil:
				return &untilMonitor{a: r.A, b: r.B, c: r.Until, d: d}
			}
			return &withinMonitor{a: r.A, b: r.B, d: d}
		}
	case site.LastsAtMost:
		mk = func(d, _ int) monitor { return &atMostMonitor{p: r.P, d: d} }
	case site.LastsAtLeast:
		mk = func(d, _ int) monitor { return &atLeastMonitor{p: r.P, d: d} }
	case site.AtMostTimes:
		mk = func(d, _ int) monitor { return &timesMonitor{p: r.P, d: d, n: r.N} }
	case site.OnlyAfter:
		mk = func(int, int) monitor { return &afterMonitor{p: r.P, q: r.Q, since: r.Since} }
	case site.Settles:
		mk = func(d, _ int) monitor { return &settleMonitor{p: r.P, d: d} }
	case site.CanReturn:
		return func(m *model) monitor { return newReturnMonitor(m, r.P) }, nil
	case site.Energy:
		return func(m *model) monitor { return newEnergyMonitor(m, r) }, nil
	default:
		return nil, fmt.Errorf("oracle: form %d unknown", r.Form)
	}
	return func(m *model) monitor { return mk(m.ticks(r.D), m.ticks(r.E)) }, nil
}

// stateMonitor: never, always, possible. It has no memory.
type stateMonitor struct {
	p   *site.Expr
	bad bool
}

func (m *stateMonitor) size() int               { return 0 }
func (m *stateMonitor) tick(_, _ []uint16) bool { return false }
func (m *stateMonitor) moment(_ []uint16, holds func(*site.Expr) bool) bool {
	return holds(m.p) == m.bad
}

// atMostMonitor: P lasts at most D. Memory: the age of the stretch of P, plus
// one; 0 while P is false. The stretch is too long as soon as any time passes
// after it has reached D.
type atMostMonitor struct {
	p *site.Expr
	d int
}

func (m *atMostMonitor) size() int { return 1 }
func (m *atMostMonitor) moment(mem []uint16, holds func(*site.Expr) bool) bool {
	if !holds(m.p) {
		mem[0] = 0
	} else if mem[0] == 0 {
		mem[0] = 1
	}
	return false
}
func (m *atMostMonitor) tick(mem, _ []uint16) bool {
	if mem[0] == 0 {
		return false
	}
	if int(mem[0])-1 >= m.d {
		return true
	}
	mem[0]++
	return false
}

// atLeastMonitor: P lasts at least D. Memory: the age of the stretch of P, plus
// one, counted up to D; 0 while P is false.
type atLeastMonitor struct {
	p *site.Expr
	d int
}

func (m *atLeastMonitor) size() int { return 1 }
func (m *atLeastMonitor) moment(mem []uint16, holds func(*site.Expr) bool) bool {
	if holds(m.p) {
		mem[0] = max(mem[0], 1)
		return false
	}
	short := mem[0] > 0 && int(mem[0])-1 < m.d
	mem[0] = 0
	return short
}
func (m *atLeastMonitor) tick(mem, _ []uint16) bool {
	if mem[0] > 0 && int(mem[0])-1 < m.d {
		mem[0]++
	}
	return false
}

// timesMonitor: at most N times P within D. Memory: whether P is true, and for
// each of the last N risings its age plus one; 0 if it is D or more in the past
// (or has not been). A rising is one too many if the Nth before it is younger
// than D.
type timesMonitor struct {
	p    *site.Expr
	d, n int
}

func (m *timesMonitor) size() int { return 1 + m.n }
func (m *timesMonitor) moment(mem []uint16, holds func(*site.Expr) bool) bool {
	p := holds(m.p)
	rises := p && mem[0] == 0
	mem[0] = bit(p)
	if !rises || m.d == 0 {
		return false
	}
	if m.n == 0 || mem[m.n] != 0 {
		return true
	}
	copy(mem[2:], mem[1:m.n])
	mem[1] = 1
	return false
}
func (m *timesMonitor) tick(mem, _ []uint16) bool {
	for i := 1; i <= m.n; i++ {
		if mem[i] == 0 {
			break
		}
		mem[i]++
		if int(mem[i])-1 >= m.d {
			mem[i] = 0
		}
	}
	return false
}

// afterMonitor: P only after Q since R. Memory: whether Q has been true since
// the last R. At one moment R counts before Q, and Q before P.
type afterMonitor struct{ p, q, since *site.Expr }

func (m *afterMonitor) size() int               { return 1 }
func (m *afterMonitor) tick(_, _ []uint16) bool { return false }
func (m *afterMonitor) moment(mem []uint16, holds func(*site.Expr) bool) bool {
	if m.since != nil && holds(m.since) {
		mem[0] = 0
	}
	if holds(m.q) {
		mem[0] = 1
	}
	return mem[0] == 0 && holds(m.p)
}

func bit(b bool) uint16 {
	if b {
		return 1
	}
	return 0
}
