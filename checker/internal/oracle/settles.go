// Causes, and the monitors that watch for what comes without one.

package oracle

import (
	"slices"

	"lampwarden/lang/site"
)

// causes are what a question takes for a cause; all: every change of an input,
// end of a band and clock-time trigger that is kept.
type causes struct {
	site.Causes
	all bool
}

func has[T comparable](ids []T, id T) bool { return slices.Contains(ids, id) }

// settleMonitor: P settles within D. Memory: the age of the last cause, counted
// to one past D, and whether P was true at the last moment.
type settleMonitor struct {
	p *site.Expr
	d int
}

func (m *settleMonitor) size() int          { return 2 }
func (m *settleMonitor) cause(mem []uint16) { mem[0] = 0 }
func (m *settleMonitor) moment(mem []uint16, holds func(*site.Expr) bool) bool {
	p := bit(holds(m.p))
	changes := p != mem[1]
	mem[1] = p
	return changes && int(mem[0]) > m.d
}
func (m *settleMonitor) tick(mem, _ []uint16) bool {
	if int(mem[0]) <= m.d {
		mem[0]++
	}
	return false
}

// huntMonitor: a mode becomes active twice without a cause. Memory: whether it
// has become active, without one, since the last cause.
type huntMonitor struct{ mode site.ModeID }

func (m *huntMonitor) size() int                                   { return 1 }
func (m *huntMonitor) tick(_, _ []uint16) bool                     { return false }
func (m *huntMonitor) moment([]uint16, func(*site.Expr) bool) bool { return false }
func (m *huntMonitor) cause(mem []uint16)                          { mem[0] = 0 }

// rouse tells that the mode becomes active in a reaction that is a cause or not,
// and returns true if it did so before with no cause since.
func (m *huntMonitor) rouse(mem []uint16, caused bool) bool {
	again := mem[0] == 1
	mem[0] = bit(!caused)
	return again
}
