// Passages of a curve through a level.

package almanac

import "math"

// curve is a smooth function of time that turns a few times a day.
type curve func(days) float64

// point is a point of a curve.
type point struct {
	at    days
	value float64
}

// passage is a moment at which a curve reaches a level from below (up) or falls below it.
type passage struct {
	at days
	up bool
}

// samples gives points of f from the hour from to the hour to (hours since J2000.0), close enough that f is monotone
// between neighbours: one each hour, and the turning points. The hours are the same whatever the range, so overlapping
// ranges give the same points.
func (f curve) samples(from, to int64) []point {
	at := func(hour int64) point {
		t := days(hour) / 24
		return point{t, f(t)}
	}
	a, b := at(from-1), at(from)
	var out []point
	for hour := from; hour <= to; hour++ {
		c := at(hour + 1)
		turn, turns := f.turningPoint(a, b, c)
		if turns && turn.at < b.at && hour > from {
			out = append(out, turn)
		}
		out = append(out, b)
		if turns && turn.at > b.at && hour < to {
			out = append(out, turn)
		}
		a, b = b, c
	}
	return out
}

// turningPoint is the greatest or least point of f near b, if b stands above or below both of its equally distant
// neighbours. Two steps of parabolas find it well within a second, and the value, flat there, to the last digits.
func (f curve) turningPoint(a, b, c point) (point, bool) {
	if !(b.value >= a.value && b.value > c.value || b.value <= a.value && b.value < c.value) {
		return point{}, false
	}
	t := vertex(a, b, c)
	const near = days(2.0 / 1440)
	t = vertex(point{t - near, f(t - near)}, point{t, f(t)}, point{t + near, f(t + near)})
	t = min(max(t, a.at), c.at)
	return point{t, f(t)}, true
}

// vertex is where the parabola through three equally distant points turns; the middle one if they are on a line.
func vertex(a, b, c point) days {
	bend := a.value - 2*b.value + c.value
	if bend == 0 {
		return b.at
	}
	return b.at + (c.at-a.at)/4*days((a.value-c.value)/bend)
}

// passages are the moments between neighbouring points at which f passes the level, in order of time.
func (f curve) passages(points []point, level float64) []passage {
	var out []passage
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		up := a.value < level && b.value >= level
		if down := a.value >= level && b.value < level; up || down {
			out = append(out, passage{f.bisect(a.at, b.at, level, up), up})
		}
	}
	return out
}

// bisect finds, to less than 0.05 s, the moment between a and b, at most an hour apart, at which f passes the level.
func (f curve) bisect(a, b days, level float64, up bool) days {
	for range 17 {
		mid := a + (b-a)/2
		if (f(mid) >= level) == up {
			b = mid
		} else {
			a = mid
		}
	}
	return a + (b-a)/2
}

// hours gives the whole hours since J2000.0 around a range of seconds since 1970.
func hours(from, to int64) (first, last int64) {
	return int64(math.Floor(float64(from-epoch) / 3600)), int64(math.Ceil(float64(to-epoch) / 3600))
}
