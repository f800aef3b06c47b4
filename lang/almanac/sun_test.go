package almanac

import (
	"math"
	"testing"
)

// near fails unless got is within tol of want.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.6f, want %.6f ± %g", what, got, want, tol)
	}
}

func julian(jd float64) days { return days(jd - 2451545) }

// rightAscension and declination in degrees.
func (s sky) rightAscension() float64 {
	return math.Mod(math.Atan2(s.y, s.x)/degree+360, 360)
}
func (s sky) declination() float64 { return math.Asin(s.z) / degree }

// Meeus, Astronomical Algorithms, 2nd ed., example 25.a: the sun on 1992-10-13 at 0 h TD (JDE 2448908.5).
func TestMeeusSunPosition(t *testing.T) {
	td := julian(2448908.5)
	near(t, "T", float64(td)/36525, -0.072183436, 5e-10)
	s := skyAt(td, td)
	near(t, "apparent longitude", math.Mod(s.longitude/degree+3600, 360), 199+54.0/60+32.0/3600, 0.5/3600)
	near(t, "right ascension", s.rightAscension(), (13+13.0/60+31.4/3600)*15, 0.05/3600*15)
	near(t, "declination", s.declination(), -(7 + 47.0/60 + 6.0/3600), 0.5/3600)
}

// Meeus, example 28.b: the equation of time at the same moment is +13 m 42.7 s, by the full theory; formula 28.1 with the
// low-accuracy position. (0.01 degree is 2.4 s.)
func TestMeeusEquationOfTime(t *testing.T) {
	td := julian(2448908.5)
	s := skyAt(td, td)
	mean := 280.46646 + 36000.76983*float64(td)/36525
	minutes := math.Remainder(mean-0.0057183-s.rightAscension(), 360) * 4
	near(t, "equation of time", minutes, 13+42.7/60, 2.4/60)
}

// Meeus, example 12.a: apparent sidereal time at Greenwich on 1987-04-10 at 0 h UT is 13 h 10 m 46.1351 s (from memory).
func TestMeeusSiderealTime(t *testing.T) {
	ut := julian(2446895.5)
	hours := math.Mod(skyAt(ut, ut).sidereal/degree/15+2400_000, 24)
	near(t, "sidereal time", hours, 13+10.0/60+46.1351/3600, 0.1/3600)
}

// Meeus, chapter 27: solstices, when the apparent longitude is 90 or 270 degrees. 1962: example 27.a, 2000: table 27.E.
func TestMeeusSolstices(t *testing.T) {
	for _, c := range []struct {
		name      string
		td        days
		longitude float64
	}{
		{"June 1962", julian(2437837.39245), 90},
		{"2000-06-21 01:48:46", julian(2451716.5) + (1+48.0/60+46.0/3600)/24, 90},
		{"2000-12-21 13:38:30", julian(2451899.5) + (13+38.0/60+30.0/3600)/24, 270},
	} {
		got := skyAt(c.td, c.td).longitude / degree
		near(t, c.name, math.Remainder(got-c.longitude, 360), 0, 0.01)
	}
}

// NREL TP-560-34302 (Reda and Andreas), table A5.1: topocentric zenith angle 50.111622 degrees at 39.742476 N, 105.1786 W, 2003-10-17
// 12:30:30 UT-7. That is a refracted angle for 820 mbar and 11 degrees Celsius seen from the surface (inputs and refraction
// formula from memory), so both are put on ours.
func TestNRELZenith(t *testing.T) {
	ut := julian(2452930.312847)
	sine := Place{39.742476, -105.1786}.sineOfAltitude()(ut)
	e := math.Asin(sine) / degree
	e -= 8.794 / 3600 * math.Cos(e*degree)
	e += 820.0 / 1010 * 283 / (273 + 11) * 1.02 / (60 * math.Tan((e+10.3/(e+5.11))*degree))
	near(t, "zenith angle", 90-e, 50.111622, 0.01)
}
