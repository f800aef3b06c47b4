// Random times: of the start-up, of events, of the change of the clock.

package rehearse

import (
	"slices"

	"lampwarden/lang/site"
)

// near gives a nanosecond before, at, or after; now and then a millisecond.
func (d *dice) near(at Nanos) Nanos {
	return at + [...]Nanos{0, 0, -1, 1, -Milli, Milli}[d.rng.IntN(6)]
}

// gap is a time between a nanosecond and some hours, each order of magnitude as likely.
func (d *dice) gap(low, high int) Nanos {
	g := Nanos(1)
	for range low + d.rng.IntN(high-low) {
		g *= 10
	}
	return g + Nanos(d.rng.Int64N(9*int64(g)))
}

// startTime is any time of the week, half the times near a clock time that the site names, on one of its days or
// another one.
func (d *dice) startTime(s *site.Site) Nanos {
	at := Nanos(d.rng.Int64N(int64(Week)))
	if p, err := newPlan(s); err == nil && d.chance(2) {
		var named []Nanos
		p.dues(rest(s), clock{}, func(t Nanos, c Cause) {
			if c.Kind == ClockDue || c.Kind == BandBegins || c.Kind == BandEnds {
				named = append(named, t)
			}
		})
		for _, j := range s.Jumps {
			named = append(named, FromMillis(j.At), FromMillis(j.At)-d.gap(6, 13))
		}
		if len(named) > 0 {
			at = d.near(named[d.rng.IntN(len(named))])
			if d.chance(2) {
				at += Day * Nanos(d.rng.IntN(7))
			}
		}
	}
	return (at%Week + Week) % Week
}

// drawJump decides on the change of the clock in every second run of a site that has some: soon, or on a later day.
func (d *dice) drawJump() {
	if len(d.s.Jumps) == 0 || d.chance(2) {
		return
	}
	j := d.s.Jumps[d.rng.IntN(len(d.s.Jumps))]
	at := d.next(0, j.At, 0)
	if d.chance(3) {
		at += Day * Nanos(d.rng.IntN(7))
	}
	d.jump = &Jump{at, j.By}
}

// window is the time in which the input may change next, ok is false if it may not for now.
func (d *dice) window(in site.InputID) (w window, ok bool) {
	w = anyTime()
	w.from = d.last() + 1
	for i := range d.s.Assumptions {
		v, why := d.env.window(i, in)
		if why != "" {
			return w, false
		}
		w.from, w.before = max(w.from, v.from), min(w.before, v.before)
	}
	fails := !d.s.Inputs[in].Kind.IsEvent() && !d.env.values[in] && d.faults.refuses(in) != ""
	return w, w.from < w.before && !fails
}

// time draws a time for the input in the window.
func (d *dice) time(in site.InputID, w window) Nanos {
	if d.s.Inputs[in].Kind == site.Calendar {
		return d.next(w.from-1, 0, 0)
	}
	return min(d.anyTime(in, w.from), w.before-1)
}

// anyTime draws a time not before first.
func (d *dice) anyTime(in site.InputID, first Nanos) Nanos {
	switch d.rng.IntN(8) {
	case 0:
		return first
	case 1, 2: // a quick cluster
		return first + d.gap(0, 9)
	case 3: // at large, on the grid of seconds or off it
		at := first + d.gap(8, 13)
		if d.chance(2) {
			at += 1000*Milli - d.timeOfWeek(at)%(1000*Milli)
		}
		return at
	}
	var dues []Nanos // near one of the next dues, sooner ones more likely
	d.dues(d.now, d.clock, func(at Nanos, _ Cause) { dues = append(dues, at) })
	for i, b := range d.env.charge {
		if d.s.Assumptions[i].Inputs[1] == in {
			dues = append(dues, b.fullAt)
		}
	}
	slices.Sort(dues)
	for _, at := range slices.Compact(dues) {
		if at >= first && d.chance(2) {
			return max(first, d.near(at))
		}
	}
	return first + d.gap(3, 12)
}
