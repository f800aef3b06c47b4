// Traces, and the truth of a formula on one.

package formula

import (
	"cmp"
	"slices"
)

// Moment is a time with the atoms that are true then.
type Moment struct {
	At   int64
	True map[string]bool
}

// Trace is a run up to End: moments in order of time, the first at 0, those of one time one after the other.
type Trace struct {
	Moments []Moment
	End     int64
}

// View tells what is thought of what follows the end of a trace.
type View uint8

// The views.
const (
	Weak    View = iota // whatever is needed may follow
	Strong              // nothing that is needed may be counted on
	Neutral             // nothing follows
)

// swapped is the view under a negation.
func (v View) swapped() View {
	switch v {
	case Weak:
		return Strong
	case Strong:
		return Weak
	}
	return Neutral
}

// Holds tells whether the formula is true at the first moment of the trace.
func (f *Formula) Holds(tr Trace, v View) bool { return f.eval(tr, v)[0] }

// eval gives the truth at each moment.
func (f *Formula) eval(tr Trace, v View) []bool {
	n := len(tr.Moments)
	out := make([]bool, n)
	var kids [][]bool
	under := v
	if f.op == not {
		under = v.swapped()
	}
	for _, k := range f.kids {
		kids = append(kids, k.eval(tr, under))
	}
	for i := range out {
		switch f.op {
		case constant:
			out[i] = f.atom == "true"
		case atom:
			out[i] = tr.Moments[i].True[f.atom]
		case last:
			out[i] = i+1 == n || tr.Moments[i+1].At > tr.Moments[i].At
		case not:
			out[i] = !kids[0][i]
		case and:
			out[i] = kids[0][i] && kids[1][i]
		case or:
			out[i] = kids[0][i] || kids[1][i]
		case yesterday:
			out[i] = i > 0 && kids[0][i-1]
		case until:
			out[i] = tr.until(f.in, kids[0], kids[1], i, v)
		case since:
			out[i] = tr.since(f.in, kids[0], kids[1], i)
		case count:
			out[i] = tr.count(f.in, f.n, kids[0], i, v)
		}
	}
	return out
}

func (tr Trace) until(in Bound, a, b []bool, i int, v View) bool {
	for j := i; j < len(tr.Moments); j++ {
		if b[j] && in.has(tr.Moments[j].At-tr.Moments[i].At) {
			return true
		}
		if !a[j] {
			return false
		}
	}
	return v == Weak && !in.over(tr.End-tr.Moments[i].At)
}

func (tr Trace) since(in Bound, a, b []bool, i int) bool {
	for j := i; j >= 0; j-- {
		if b[j] && in.has(tr.Moments[i].At-tr.Moments[j].At) {
			return true
		}
		if !a[j] {
			return false
		}
	}
	return false
}

func (tr Trace) count(in Bound, n int, a []bool, i int, v View) bool {
	for j := i; j < len(tr.Moments); j++ {
		if a[j] && in.has(tr.Moments[j].At-tr.Moments[i].At) {
			n--
		}
	}
	return n <= 0 || v == Weak && !in.over(tr.End-tr.Moments[i].At)
}

// Dense adds moments at which nothing changes: at each of the given distances before and after every moment, and at the
// grain before and after that. With the distances of a formula's bounds, asking at these moments is as good as asking at
// every time, as long as no two moments are nearer than two grains; what holds in between holds at one of them. So an atom
// that is true at an instant only needs a moment of its own, with one without it after it at the same time.
func (tr Trace) Dense(grain int64, distances ...int64) Trace {
	times := map[int64]bool{}
	for _, m := range tr.Moments {
		for _, d := range append([]int64{0}, distances...) {
			for _, x := range []int64{-d - grain, -d, -d + grain, d - grain, d, d + grain} {
				if at := m.At + x; at > 0 && at <= tr.End {
					times[at] = true
				}
			}
		}
	}
	out := Trace{Moments: slices.Clone(tr.Moments), End: tr.End}
	for at := range times {
		i, _ := slices.BinarySearchFunc(tr.Moments, at+1, func(m Moment, at int64) int { return cmp.Compare(m.At, at) })
		out.Moments = append(out.Moments, Moment{At: at, True: tr.Moments[i-1].True})
	}
	slices.SortStableFunc(out.Moments, func(a, b Moment) int { return cmp.Compare(a.At, b.At) })
	return out
}
