package almanac

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Meeus, Astronomical Algorithms, example 15.a: Venus rises at Boston on 1988-03-20 at 0.51766 d UT and sets at 0.12130 d.
// The curve has the example's own positions and sidereal time, interpolated as there.
func TestMeeusVenus(t *testing.T) {
	hms := func(h, m, s float64) float64 { return (h + m/60 + s/3600) * 15 }
	dms := func(d, m, s float64) float64 { return d + m/60 + s/3600 }
	ra := [3]float64{hms(2, 42, 43.25), hms(2, 46, 55.51), hms(2, 51, 7.69)}
	dec := [3]float64{dms(18, 2, 51.4), dms(18, 26, 27.3), dms(18, 49, 38.7)}
	interpolate := func(y [3]float64, n float64) float64 {
		a, b := y[1]-y[0], y[2]-y[1]
		return y[1] + n/2*(a+b+n*(b-a))
	}
	sidereal := hms(11, 50, 58.1)
	const latitude, west = 42 + 20.0/60, 71 + 5.0/60
	midnight := math.Round(float64(fromUnix(574819200))*24) / 24 // 1988-03-20 00:00 UT
	altitude := curve(func(at days) float64 {
		m := float64(at) - midnight
		n := m + 56.0/86400
		hour := (sidereal + 360.985647*m - west - interpolate(ra, n)) * degree
		d := interpolate(dec, n) * degree
		return math.Sin(latitude*degree)*math.Sin(d) + math.Cos(latitude*degree)*math.Cos(d)*math.Cos(hour)
	})
	start := int64(math.Round(midnight * 24))
	got := altitude.passages(altitude.samples(start, start+24), math.Sin(-0.5667*degree))
	if len(got) != 2 || got[0].up || !got[1].up {
		t.Fatalf("got %+v, want a set and a rise", got)
	}
	near(t, "set", float64(got[0].at)-midnight, 0.12130, 1e-5)
	near(t, "rise", float64(got[1].at)-midnight, 0.51766, 1e-5)
}

// On a wave with a slope every passage is found where the wave really passes the level, ups and downs take turns, and none is missed,
// however close it is to a turning point.
func TestPassagesOfAWave(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		slope := rapid.Float64Range(-0.5, 0.5).Draw(t, "slope")
		phase := rapid.Float64Range(0, 1).Draw(t, "phase")
		wave := curve(func(at days) float64 {
			return math.Sin(2*math.Pi*(float64(at)+phase)) + slope*float64(at)
		})
		points := wave.samples(0, 3*24)
		// Either any level, or one that a turning point reaches by a millionth.
		level := rapid.Float64Range(-1.5, 1.5).Draw(t, "level")
		if rapid.Bool().Draw(t, "graze") {
			crest := math.Acos(-slope/2/math.Pi) / 2 / math.Pi
			level = wave(days(crest-phase+2)) - 1e-6
		}
		want := 0
		const step = 4.0 / 86400 // a millionth under a crest lasts 39 s
		above := wave(0) >= level
		for s := 1; s <= 3*86400/4; s++ {
			if now := wave(days(float64(s)*step)) >= level; now != above {
				want++
				above = now
			}
		}
		got := wave.passages(points, level)
		if len(got) != want {
			t.Fatalf("%d passages of %g, want %d", len(got), level, want)
		}
		for i, p := range got {
			if i > 0 && (p.up == got[i-1].up || p.at < got[i-1].at) {
				t.Fatalf("passages %+v do not take turns", got)
			}
			const off = days(0.1 / 86400)
			if before, after := wave(p.at-off) >= level, wave(p.at+off) >= level; before == p.up || after != p.up {
				t.Fatalf("no passage at %+v", p)
			}
		}
	})
}
