// Where the sun stands: its direction among the stars, and its altitude over a place.

package almanac

import "math"

// days counts time from the epoch J2000.0, 2000-01-01 12:00 UT (Julian date 2451545), in days.
type days float64

const (
	// epoch is J2000.0 in seconds since 1970.
	epoch = 946_728_000
	// deltaT is dynamical time less universal time, 69 s as measured around 2020. It was 29 s in 1950 and may be some
	// minutes in 2200; in a minute the sun moves among the stars by as much as it moves over the sky in 0.2 s.
	deltaT days = 69.0 / 86400

	degree = math.Pi / 180
)

// Altitudes of the sun's centre at its events.
const (
	horizonAltitude  = -50.0 / 60 * degree
	twilightAltitude = -6 * degree
)

func fromUnix(s int64) days { return days(float64(s-epoch) / 86400) }

// unix gives whole seconds since 1970, rounded.
func (t days) unix() int64 { return epoch + int64(math.Round(float64(t)*86400)) }

// sky is what one moment gives for every place: the sun's direction, and how far the earth has turned.
type sky struct {
	// x, y and z are the sun's apparent direction as a unit vector: to the vernal equinox, to right ascension 6 h, to
	// the north pole.
	x, y, z   float64
	longitude float64 // apparent, along the ecliptic; radians
	obliquity float64 // apparent; radians
	sidereal  float64 // apparent, at Greenwich; radians
}

// skyAt is the sky at a moment of dynamical time, with the earth turned as at the moment ut of universal time.
func skyAt(td, ut days) sky {
	c := float64(td) / 36525 // centuries
	// Meeus chapter 25: geometric mean longitude, mean anomaly, equation of the centre.
	mean := 280.46646 + c*(36000.76983+c*0.0003032)
	sin1, cos1 := math.Sincos((357.52911 + c*(35999.05029-c*0.0001537)) * degree)
	sin2 := 2 * sin1 * cos1
	sin3 := sin1 * (3 - 4*sin1*sin1)
	centre := (1.914602-c*(0.004817+c*0.000014))*sin1 + (0.019993-c*0.000101)*sin2 + 0.000289*sin3
	// Aberration, and the greatest term of nutation, which goes with the moon's node.
	sinNode, cosNode := math.Sincos((125.04 - c*1934.136) * degree)
	nutation := -0.00478 * sinNode
	s := sky{longitude: (mean + centre - 0.00569 + nutation) * degree}
	// Formula 22.2, in degrees.
	s.obliquity = (23 + (26+21.448/60)/60 - c*(46.8150+c*(0.00059-c*0.001813))/3600 + 0.00256*cosNode) * degree

	sinE, cosE := math.Sincos(s.obliquity)
	sinL, cosL := math.Sincos(s.longitude)
	s.x, s.y, s.z = cosL, cosE*sinL, sinE*sinL

	// Formula 12.4, and the equation of the equinoxes.
	u := float64(ut) / 36525
	s.sidereal = (280.46061837 + 360.98564736629*float64(ut) + u*u*(0.000387933-u/38_710_000) + nutation*cosE) * degree
	return s
}

// sineOfAltitude is how high the sun stands over a place, not refracted, seen from the earth's centre (its parallax is
// 9 seconds of arc at most).
func (p Place) sineOfAltitude() curve {
	sinP, cosP := math.Sincos(p.Latitude * degree)
	east := p.Longitude * degree
	return func(t days) float64 {
		s := skyAt(t+deltaT, t)
		sinT, cosT := math.Sincos(s.sidereal + east)
		return sinP*s.z + cosP*(cosT*s.x+sinT*s.y)
	}
}
