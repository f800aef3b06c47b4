// The monitor of the form Energy (lang/SEMANTICS.md section 5).

package oracle

import (
	"math/big"

	"lampwarden/lang/site"
)

// energyMonitor: no more than a limit within D. Memory: the time since the
// counting began, plus one (0: not counting), whether During was true at the last
// moment, and the energy since, in quanta.
//
// With During the counting begins with its rise. Without, it begins at a tick that
// the environment chooses, once in a run: the power changes only at ticks, so of all
// stretches of D one that begins or ends with a change has the most, and D is whole
// ticks. A stretch that the run cuts short counts with what it has: more can not
// make it less.
//
// A quantum is a tick of the greatest power that divides all powers there can be.
// Of the energy nothing matters but whether it has passed the limit, so a sum that
// has done so ends the search, and all sums fit the few numbers that the limit needs.
type energyMonitor struct {
	m      *model
	r      *site.Requirement
	d      int
	quanta int64 // the most that is allowed
	unit   int64 // milliwatts, times hundredths of a per cent, of a quantum
	words  int   // numbers for the energy
}

func newEnergyMonitor(m *model, r *site.Requirement) *energyMonitor {
	e := &energyMonitor{m: m, r: r, d: m.ticks(r.D)}
	unit := site.Millis(r.Standing * int64(site.Full))
	for _, t := range r.Draws {
		for _, l := range m.circuitOf(t.Circuit).aims {
			unit = gcd(unit, site.Millis(t.Weight*int64(l)))
		}
	}
	e.unit = max(int64(unit), 1)
	// A limit of mWh holds 3,600,000 mW ms; a quantum is unit/Full mW for grain/per ms.
	most := big.NewInt(r.Limit)
	for _, f := range []int64{3_600_000, int64(site.Full), int64(m.per)} {
		most.Mul(most, big.NewInt(f))
	}
	most.Quo(most, new(big.Int).Mul(big.NewInt(e.unit), big.NewInt(int64(m.grain))))
	e.quanta = 1 << 40
	if most.IsInt64() {
		e.quanta = min(e.quanta, most.Int64())
	}
	for q := e.quanta; q > 0; q >>= 16 {
		e.words++
	}
	return e
}

func (e *energyMonitor) size() int { return 2 + e.words }

func (e *energyMonitor) moment(mem []uint16, holds func(*site.Expr) bool) bool {
	if e.r.During == nil {
		return false
	}
	during := holds(e.r.During)
	switch {
	case !during:
		e.stop(mem)
	case mem[1] == 0:
		mem[0] = 1
	}
	mem[1] = bit(during)
	return false
}

func (e *energyMonitor) tick(mem, v []uint16) bool {
	if mem[0] == 0 || e.over(mem) {
		return false
	}
	power := e.r.Standing*int64(site.Full) + e.m.sum(e.r.Draws, false, true, v)
	used := power / e.unit
	for i := e.words - 1; i >= 0; i-- {
		used += int64(mem[2+i]) << (16 * i)
	}
	if used > e.quanta {
		return true
	}
	for i := range e.words {
		mem[2+i] = uint16(used >> (16 * i))
	}
	mem[0]++
	if e.r.During != nil && e.over(mem) {
		e.stop(mem)
	}
	return false
}

// stop ends the counting.
func (e *energyMonitor) stop(mem []uint16) {
	mem[0] = 0
	clear(mem[2 : 2+e.words])
}

func (e *energyMonitor) guess(mem []uint16) bool { return e.r.During == nil && mem[0] == 0 }
func (e *energyMonitor) begin(mem []uint16)      { mem[0] = 1 }
func (e *energyMonitor) over(mem []uint16) bool  { return int(mem[0])-1 >= e.d }
