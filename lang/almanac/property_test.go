package almanac

import (
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// All events of a place over some months, unrounded, are one walk between night, twilight and day, without a jump or a step
// out of turn: so in each solar day dawn <= sunrise <= sunset <= dusk, as far as they exist.
func TestSolarDaysAreInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		place := drawPlace(t)
		from := Date{rapid.IntRange(FirstYear, LastYear).Draw(t, "year"), time.Month(rapid.IntRange(1, 12).Draw(t, "month")), 1}.number() * secondsOfDay
		altitude := place.sineOfAltitude()
		points := altitude.samples(hours(from, from+100*secondsOfDay))
		type event struct {
			at   days
			kind Kind
		}
		var all []event
		for _, p := range altitude.passages(points, math.Sin(twilightAltitude)) {
			all = append(all, event{p.at, map[bool]Kind{true: Dawn, false: Dusk}[p.up]})
		}
		for _, p := range altitude.passages(points, math.Sin(horizonAltitude)) {
			all = append(all, event{p.at, map[bool]Kind{true: Sunrise, false: Sunset}[p.up]})
		}
		slices.SortFunc(all, func(a, b event) int {
			if a.at < b.at {
				return -1
			}
			return 1
		})
		for i := 1; i < len(all); i++ {
			was, now := all[i-1].kind, all[i].kind
			ok := map[Kind][]Kind{Dawn: {Sunrise, Dusk}, Sunrise: {Sunset}, Sunset: {Sunrise, Dusk}, Dusk: {Dawn}}[was]
			if !slices.Contains(ok, now) {
				t.Fatalf("at %v: %v comes after %v", place, now, was)
			}
		}
	})
}

// Any place, zone and date gives an answer without contradictions: times, whole minutes of the day, just for what happens, and the two events of one
// altitude agreeing on why not.
func TestAnyDate(t *testing.T) {
	names := Zones()
	rapid.Check(t, func(t *rapid.T) {
		zone, err := Load(rapid.SampledFrom(names).Draw(t, "zone"))
		if err != nil {
			t.Fatal(err)
		}
		first := Date{FirstYear, 1, 1}.number()
		number := rapid.Int64Range(first, Date{LastYear, 12, 31}.number()).Draw(t, "date")
		d, err := On(drawPlace(t), zone, dateOf(number))
		if err != nil {
			t.Fatal(err)
		}
		checkDay(t, d)
	})
}

func drawPlace(t *rapid.T) Place {
	lat := rapid.OneOf(rapid.Float64Range(-90, 90), rapid.Float64Range(60, 75), rapid.Float64Range(-90, -88)).Draw(t, "latitude")
	return Place{lat, rapid.Float64Range(-180, 180).Draw(t, "longitude")}
}

func checkDay(t interface{ Fatalf(string, ...any) }, d Day) {
	for k, e := range d.Events {
		if e.Outcome < Happens || e.Outcome > NoSuchDate || (e.Outcome == Happens) != (len(e.Times) > 0) {
			t.Fatalf("%v on %v: %v", Kind(k), d.Date, e)
		}
		if (e.Outcome == NoSuchDate) != (d.Length == 0) {
			t.Fatalf("%v on %v, %v long: %v", Kind(k), d.Date, d.Length, e)
		}
		for _, at := range e.Times {
			if at < 0 || at >= secondsOfDay*1000 || at%60_000 != 0 {
				t.Fatalf("%v on %v at %d ms", Kind(k), d.Date, at)
			}
		}
	}
	for _, pair := range [][2]Kind{{Dawn, Dusk}, {Sunrise, Sunset}} {
		a, b := d.Events[pair[0]].Outcome, d.Events[pair[1]].Outcome
		if a != b && !(a == Happens && b == NotOnDate) && !(a == NotOnDate && b == Happens) {
			t.Fatalf("on %v: %v %v, but %v %v", d.Date, pair[0], a, pair[1], b)
		}
	}
	// Where the sun never is above -6 degrees it cannot rise, and where it never is below the horizon it has no dusk.
	if d.Events[Dawn].Outcome == BelowAllDay && d.Events[Sunrise].Outcome != BelowAllDay ||
		d.Events[Sunrise].Outcome == AboveAllDay && d.Events[Dawn].Outcome != AboveAllDay {
		t.Fatalf("on %v: %v", d.Date, d.Events)
	}
}

// The short series of NOAA's solar calculator (general solar position calculations, Global Monitoring Division; coefficients from memory) is a theory of its
// own, rougher than ours: up to 60 degrees of latitude it is within 3.7 min of the Naval Observatory's table, on the table's dates. Up to 50 degrees 4 min do for any date, our rounding included.
func TestAgreesWithNOAASeries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		place := Place{rapid.Float64Range(-50, 50).Draw(t, "latitude"), rapid.Float64Range(-180, 180).Draw(t, "longitude")}
		number := rapid.Int64Range(Date{2010, 1, 1}.number(), Date{2040, 12, 31}.number()).Draw(t, "date")
		date := dateOf(number)
		d, err := On(place, time.FixedZone("", int(math.Round(place.Longitude/15))*3600), date)
		if err != nil {
			t.Fatal(err)
		}
		rise, set := noaa(place, date)
		offset := math.Round(place.Longitude/15) * 60
		for k, want := range map[Kind]float64{Sunrise: rise + offset, Sunset: set + offset} {
			e := d.Events[k]
			if len(e.Times) != 1 || math.Abs(float64(e.Times[0])/60_000-want) > 4 {
				t.Fatalf("%v of %v at %v: %v, want %.1f min", k, date, place, e, want)
			}
		}
	})
}

// noaa gives sunrise and sunset in minutes after 00:00 UTC of a date, by the short series.
func noaa(p Place, d Date) (rise, set float64) {
	yearDay := time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC).YearDay()
	event := func(sign, hour float64) float64 {
		length := 365.0
		if d.Year%4 == 0 {
			length = 366
		}
		g := 2 * math.Pi / length * (float64(yearDay-1) + (hour-12)/24)
		equation := 229.18 * (0.000075 + 0.001868*math.Cos(g) - 0.032077*math.Sin(g) - 0.014615*math.Cos(2*g) - 0.040849*math.Sin(2*g))
		dec := 0.006918 - 0.399912*math.Cos(g) + 0.070257*math.Sin(g) - 0.006758*math.Cos(2*g) + 0.000907*math.Sin(2*g) -
			0.002697*math.Cos(3*g) + 0.00148*math.Sin(3*g)
		lat := p.Latitude * degree
		angle := math.Acos(math.Cos(90.833*degree)/(math.Cos(lat)*math.Cos(dec)) - math.Tan(lat)*math.Tan(dec))
		return 720 - 4*(p.Longitude+sign*angle/degree) - equation
	}
	noon := 12 - p.Longitude/15
	return event(1, noon-6), event(-1, noon+6)
}

// FuzzOn: no input makes a panic, and what is accepted is consistent.
func FuzzOn(f *testing.F) {
	f.Add(64.1, -21.9, uint16(0), int64(20624))
	f.Add(90.0, 180.0, uint16(597), int64(-30000))
	f.Add(math.NaN(), math.Inf(-1), uint16(9), int64(math.MinInt32))
	names := Zones()
	f.Fuzz(func(t *testing.T, lat, lon float64, zone uint16, number int64) {
		z, err := Load(names[int(zone)%len(names)])
		if err != nil {
			t.Fatal(err)
		}
		const bound = 1 << 32
		date := dateOf(number % bound)
		place := Place{lat, lon}
		d, err := On(place, z, date)
		if valid := place.Check() == nil && date.Check() == nil; valid != (err == nil) {
			t.Fatalf("On(%v, %v, %v): %v", place, z, date, err)
		}
		if err == nil {
			checkDay(t, d)
		}
	})
}
