// Monitors of the form Whenever.

package oracle

import "lampwarden/lang/site"

// withinMonitor: whenever A then within D B. Memory: whether A is true, and the
// age of the oldest rise of A that has not been answered, plus one. Younger
// ones need no memory: what answers the oldest answers them all, and the oldest
// is late first.
type withinMonitor struct {
	a, b *site.Expr
	d    int
}

func (m *withinMonitor) size() int { return 2 }
func (m *withinMonitor) moment(mem []uint16, holds func(*site.Expr) bool) bool {
	a := holds(m.a)
	if a && mem[0] == 0 && mem[1] == 0 {
		mem[1] = 1
	}
	mem[0] = bit(a)
	if mem[1] > 0 && holds(m.b) {
		mem[1] = 0
	}
	return false
}
func (m *withinMonitor) tick(mem, _ []uint16) bool {
	if mem[1] == 0 {
		return false
	}
	if int(mem[1])-1 >= m.d {
		return true
	}
	mem[1]++
	return false
}

// untilMonitor: whenever A then within D B until C. Memory: whether A is true,
// the age of the oldest rise since the last C plus one (counted to one past D),
// and whether B was true at the last moment. C ends all obligations, and the
// oldest is the first to demand B and demands it for good, so younger ones add
// nothing.
//
// From a+D on B is demanded. At a+D itself the state counts in which time goes
// on (tick); later each moment counts. Between moments nothing changes, so B,
// if false when time goes on, is false at all times until the next moment: this
// too breaks the requirement, as a reaction that changes nothing must not
// matter.
type untilMonitor struct {
	a, b, c *site.Expr
	d       int
}

func (m *untilMonitor) size() int { return 3 }
func (m *untilMonitor) moment(mem []uint16, holds func(*site.Expr) bool) bool {
	a := holds(m.a)
	if a && mem[0] == 0 && mem[1] == 0 {
		mem[1] = 1
	}
	mem[0] = bit(a)
	if mem[1] > 0 && holds(m.c) {
		mem[1] = 0
	}
	if mem[1] == 0 {
		mem[2] = 0
		return false
	}
	b := holds(m.b)
	mem[2] = bit(b)
	return !b && int(mem[1])-1 > m.d
}
func (m *untilMonitor) tick(mem, _ []uint16) bool {
	if mem[1] == 0 {
		return false
	}
	if int(mem[1])-1 >= m.d && mem[2] == 0 {
		return true
	}
	if int(mem[1])-1 <= m.d {
		mem[1]++
	}
	return false
}

// lastingMonitor: whenever A then within D B for E, with or without until C.
// Memory: whether A is true; the age of the present stretch of B plus one,
// counted to E, 0 while B is false; and the set of the ages of the rises of A
// that are not yet satisfied, one bit for each age up to D+E.
//
// A rise of age x is satisfied when B has been true for E within its own time:
// when min(x, stretch) reaches E; that the stretch began in time is sure, for
// otherwise the rise was late before. It is late when B is false at an age of D
// as time goes on, or at any moment at a greater age. While B is false only
// the oldest rise needs memory: any stretch that satisfies it begins now or
// later and satisfies the others at the same time.
type lastingMonitor struct {
	a, b, c *site.Expr
	d, e    int
}

func (m *lastingMonitor) size() int { return 2 + (m.d+m.e)/16 + 1 }
func (m *lastingMonitor) moment(mem []uint16, holds func(*site.Expr) bool) bool {
	a, ages := holds(m.a), bits(mem[2:])
	if a && mem[0] == 0 {
		ages.set(0)
	}
	mem[0] = bit(a)
	if m.c != nil && holds(m.c) {
		clear(ages)
	}
	if holds(m.b) {
		mem[1] = max(mem[1], 1)
		return false
	}
	mem[1] = 0
	oldest := ages.greatest()
	if oldest >= 0 {
		clear(ages)
		ages.set(oldest)
	}
	return oldest > m.d
}
func (m *lastingMonitor) tick(mem, _ []uint16) bool {
	ages := bits(mem[2:])
	if mem[1] == 0 && ages.greatest() >= m.d {
		return true
	}
	ages.shift()
	if mem[1] == 0 {
		return false
	}
	if int(mem[1])-1 < m.e {
		mem[1]++
	}
	if int(mem[1])-1 >= m.e {
		ages.drop(m.e)
	}
	return false
}

// bits is a set of small numbers.
type bits []uint16

func (b bits) set(i int) { b[i/16] |= 1 << (i % 16) }

// greatest gives the greatest number of the set, or -1.
func (b bits) greatest() int {
	for i := len(b)*16 - 1; i >= 0; i-- {
		if b[i/16]>>(i%16)&1 == 1 {
			return i
		}
	}
	return -1
}

// shift adds one to each number; the greatest possible one is lost.
func (b bits) shift() {
	carry := uint16(0)
	for i := range b {
		b[i], carry = b[i]<<1|carry, b[i]>>15
	}
}

// drop takes out all numbers from least on.
func (b bits) drop(least int) {
	for i := least; i < len(b)*16; i++ {
		b[i/16] &^= 1 << (i % 16)
	}
}
