// Energy over one run, exactly (lang/SEMANTICS.md section 5): between two steps every level stands still for the sum, so
// the power is constant and its integral piecewise linear.

package rehearse

import (
	"math/big"
	"slices"
	"sort"

	"lampwarden/lang/site"
)

// meter is the integral of the power over a run. Energies are counted in milliwatts times hundredths of a per cent times
// nanoseconds, so that all are whole; that of a large site over a week is beyond 64 bits.
type meter struct {
	at    []Nanos    // when each stretch of constant power begins
	power []*big.Int // in it
	used  []*big.Int // before it, since start-up
}

// unitsPerMilliwattHour is a mWh as the meter counts.
func unitsPerMilliwattHour() *big.Int {
	hour := FromMillis(60 * 60 * 1000)
	return new(big.Int).Mul(big.NewInt(int64(hour)), big.NewInt(int64(site.Full)))
}

// newMeter goes through the run: Standing plus, of each of Draws, weight times the level, rounded up to a resting level.
func newMeter(tl *Timeline, r *site.Requirement) *meter {
	m := &meter{}
	used := new(big.Int)
	standing := new(big.Int).Mul(big.NewInt(r.Standing), big.NewInt(int64(site.Full)))
	for i := range tl.Steps {
		at := tl.Steps[i].At
		if i > 0 {
			used = m.add(i-1, at)
		}
		power := new(big.Int).Set(standing)
		for _, t := range r.Draws {
			l := tl.plan.rounded(t.Circuit, tl.Level(i, t.Circuit), true)
			power.Add(power, new(big.Int).Mul(big.NewInt(t.Weight), big.NewInt(int64(l))))
		}
		m.at, m.power, m.used = append(m.at, at), append(m.power, power), append(m.used, used)
	}
	return m
}

// add is the integral from start-up to a time in stretch k or at its end.
func (m *meter) add(k int, to Nanos) *big.Int {
	e := new(big.Int).Mul(m.power[k], big.NewInt(int64(to-m.at[k])))
	return e.Add(e, m.used[k])
}

// until is the integral from start-up to a time.
func (m *meter) until(at Nanos) *big.Int {
	return m.add(sort.Search(len(m.at), func(i int) bool { return m.at[i] > at })-1, at)
}

// exceeds tells whether more than the limit was used from one time to another.
func (m *meter) exceeds(from, to Nanos, limit *big.Int) bool {
	e := m.until(to)
	return e.Sub(e, m.until(from)).Cmp(limit) > 0
}

// energy judges the form. More than Limit within less than D is too much as well: the power is never negative.
func (j *judge) energy() Judgement {
	m := newMeter(j.tl, j.r)
	limit := new(big.Int).Mul(big.NewInt(j.r.Limit), unitsPerMilliwattHour())
	if j.r.During == nil {
		return j.anyStretch(m, limit)
	}
	return j.during(m, limit)
}

// anyStretch: "in no run does the integral of the power over a stretch of D within the run exceed Limit". What the last D
// took goes straight from one to the next of the times at which the power changes at either end of the stretch; so the
// first of them with too much is found, then the nanosecond.
func (j *judge) anyStretch(m *meter, limit *big.Int) Judgement {
	times := []Nanos{j.end}
	for _, at := range m.at {
		times = append(times, at, at+j.d)
	}
	slices.Sort(times)
	last := Nanos(0)
	tooMuch := func(at Nanos) bool { return m.exceeds(max(0, at-j.d), at, limit) }
	for _, at := range slices.Compact(times) {
		if at > j.end {
			break
		}
		if tooMuch(at) {
			at = first(last, at, tooMuch)
			return tooMuchAt(max(0, at-j.d), at, j.d)
		}
		last = at
	}
	return Judgement{}
}

// during: "for each rise of During at time a the integral from a on does not exceed Limit before During becomes false or D
// has passed".
func (j *judge) during(m *meter, limit *big.Int) (best Judgement) {
	while := j.truth(j.r.During)
	for _, i := range rises(while) {
		from := j.moments[i].at
		to := min(from+j.d, j.end)
		if k, ended := falls(while, i); ended {
			to = min(to, j.moments[k].at)
		}
		if !m.exceeds(from, to, limit) {
			continue
		}
		at := first(from, to, func(at Nanos) bool { return m.exceeds(from, at, limit) })
		if !best.Broken || at < best.At {
			best = tooMuchAt(from, at, j.d)
		}
	}
	return best
}

// first is the least time after last, at most at, from which on the condition holds; it holds at at.
func first(last, at Nanos, holds func(Nanos) bool) Nanos {
	return last + 1 + Nanos(sort.Search(int(at-last-1), func(i int) bool { return holds(last + 1 + Nanos(i)) }))
}

func tooMuchAt(since, at, d Nanos) Judgement {
	return Judgement{Broken: true, At: at, Since: since, Deadline: since + d, Part: TooMuch}
}
