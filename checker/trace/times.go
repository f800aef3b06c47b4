// Concrete times for a path: difference constraints, solved towards nice times.

package trace

import (
	"errors"

	"lampwarden/checker/machine"
	"lampwarden/checker/rehearse"
)

// errNoTimes means that a path's constraints have no solution: an engine bug.
var errNoTimes = errors.New("trace: the steps of the path can not be timed")

// edge says that t_to - t_from <= w. clock is the clock behind it, or -1.
type edge struct {
	from, to int
	w        rehearse.Nanos
	clock    int
}

// edges lists a path's constraints. Variable 0 is the origin: the last boundary
// of the day before start-up if the time of day matters, else the start-up itself;
// variable k+1 is the time of step k. Times are whole nanoseconds; all constants
// are whole milliseconds, so a strict bound tightened by one nanosecond keeps
// every path of fewer than a million steps solvable.
func edges(p *machine.Path) (out []edge) {
	out = append(out, edge{1, 0, 0, -1})
	if !p.Clocked {
		out = append(out, edge{0, 1, 0, -1})
	}
	for k, st := range p.Steps {
		if k > 0 {
			out = append(out, edge{k + 1, k, -1, -1}) // each step is later than the one before
		}
		for _, t := range st.Timers {
			i, j, c := k+1, t.Since+1, rehearse.FromMillis(t.D)
			switch {
			case t.AtLeast:
				out = append(out, edge{i, j, -c, t.Clock})
			case t.Exact:
				out = append(out, edge{j, i, c, t.Clock}, edge{i, j, -c, t.Clock})
			default:
				out = append(out, edge{j, i, c - 1, t.Clock})
			}
		}
	}
	return out
}

// Conflict returns the clocks of a set of constraints that can not be met
// together (a negative cycle, found as Bellman and Ford do), or 0 if the path can
// be timed.
func Conflict(p *machine.Path) (clocks uint64) {
	es, n := edges(p), len(p.Steps)+1
	dist, by := make([]rehearse.Nanos, n), make([]int, n)
	last := -1
	for range n {
		last = -1
		for i, e := range es {
			if d := dist[e.from] + e.w; d < dist[e.to] {
				dist[e.to], by[e.to], last = d, i, e.to
			}
		}
		if last < 0 {
			return 0
		}
	}
	start := last
	for range n { // walk back into the cycle
		start = es[by[start]].from
	}
	for v := start; ; {
		e := es[by[v]]
		if e.clock >= 0 {
			clocks |= 1 << e.clock
		}
		if v = e.from; v == start {
			return clocks
		}
	}
}

const infinite = rehearse.Nanos(1) << 60

// system is a closed table of differences: d[i][j] bounds t_i - t_j from above.
type system [][]rehearse.Nanos

func newSystem(n int) system {
	d := make(system, n)
	for i := range d {
		d[i] = make([]rehearse.Nanos, n)
		for j := range d[i] {
			if i != j {
				d[i][j] = infinite
			}
		}
	}
	return d
}

// close computes all shortest paths (Floyd, Warshall) and reports whether the
// constraints can be met.
func (d system) close() bool {
	for k := range d {
		for i := range d {
			if d[i][k] == infinite {
				continue
			}
			for j := range d {
				if d[k][j] != infinite {
					d[i][j] = min(d[i][j], d[i][k]+d[k][j])
				}
			}
		}
	}
	for i := range d {
		if d[i][i] < 0 {
			return false
		}
	}
	return true
}

// fix pins t_i at v after the origin, in closed form.
func (d system) fix(i int, v rehearse.Nanos) {
	d[i][0], d[0][i] = v, -v
	for a := range d {
		for b := range d {
			if d[a][i] != infinite && d[i][b] != infinite {
				d[a][b] = min(d[a][b], d[a][i]+d[i][b])
			}
		}
	}
	for a := range d {
		for b := range d {
			if d[a][0] != infinite && d[0][b] != infinite {
				d[a][b] = min(d[a][b], d[a][0]+d[0][b])
			}
		}
	}
}

// grids are the steps on which times are sought, coarsest first.
var grids = [...]rehearse.Nanos{
	60_000 * rehearse.Milli, 10_000 * rehearse.Milli, 1_000 * rehearse.Milli, 500 * rehearse.Milli, 100 * rehearse.Milli,
	10 * rehearse.Milli, rehearse.Milli, rehearse.Milli / 10, rehearse.Milli / 1000, 1,
}

// nice picks the first time in [lo, hi] on the coarsest grid that has one; times
// are counted from the origin, which is at tod on the clock.
func nice(lo, hi, tod rehearse.Nanos) rehearse.Nanos {
	for _, g := range grids {
		t := (lo + tod + g - 1) / g * g
		if t -= tod; t <= hi {
			return t
		}
	}
	return lo
}

// noon is the time shown when the time of day plays no part: noon on Monday.
const noon = 12 * 3600 * 1000 * rehearse.Milli

// times solves a path: the time of the week at start-up and every step's time since.
func times(p *machine.Path) (start rehearse.Nanos, at []rehearse.Nanos, err error) {
	d := newSystem(len(p.Steps) + 1)
	for _, e := range edges(p) {
		d[e.to][e.from] = min(d[e.to][e.from], e.w)
	}
	tod := noon
	if p.Clocked {
		tod = rehearse.FromMillis(p.From)
	}
	if !d.close() {
		return 0, nil, errNoTimes
	}
	for k := range p.Steps {
		lo, hi := -d[0][k+1], d[k+1][0]
		if k == 0 && p.Clocked && lo < hi {
			lo = max(lo+1, d.startLate(hi)) // rather some time after the boundary than at it
		}
		d.fix(k+1, nice(lo, hi, tod))
		at = append(at, d[k+1][0])
	}
	first := at[0]
	for k := range at {
		at[k] -= first
	}
	return (tod + first) % (7 * rehearse.Day), at, nil
}

// startLate gives a minute at which to start so that the story is short: a minute
// for each step before the first time at which its last step can be. It matters when
// a step waits for a time of the day, or of the week. hi is the latest start.
func (d system) startLate(hi rehearse.Nanos) rehearse.Nanos {
	const minute = 60_000 * rehearse.Milli
	last := len(d) - 1
	latest := min(hi, -d[0][last]+d[1][last]) // if the last step is as early as can be
	return (latest - rehearse.Nanos(last)*minute) / minute * minute
}
