// Values with a unit where one of several kinds may stand.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// measured takes a value of the wanted kind; ok is false if it is of another one, which has been reported.
func (r *resolver) measured(m *syntax.Measure, want literalKind) (n int64, ok bool) {
	var c constant
	switch {
	case m.Name != nil:
		return r.constantNamed(m.Name.Name, m.Name.Span, want)
	case m.Percent != nil:
		if m.Percent.Name != "" {
			return r.constantNamed(m.Percent.Name, m.Percent.Span, want)
		}
		c = constant{aPercentage, int64(m.Percent.Hundredths), m.Percent.Raw}
	case m.Lux != nil:
		c = constant{anIlluminance, m.Lux.Value, m.Lux.Raw}
	case m.Kelvin != nil:
		c = constant{aColourTemperature, m.Kelvin.Value, m.Kelvin.Raw}
	case m.Power != nil:
		c = constant{aPower, m.Power.Milliwatts, m.Power.Raw}
	}
	if c.kind != want {
		r.errorf(source.WrongUnit, m.Span, "`%s` is %s; %s is wanted here", c.text, c.kind, want)
		return 0, false
	}
	return c.n, true
}

// share takes a level.
func (r *resolver) share(m *syntax.Measure) (site.Level, bool) {
	n, ok := r.measured(m, aPercentage)
	return site.Level(n), ok
}

// lux takes an illuminance.
func (r *resolver) lux(l *syntax.Lux) (int64, bool) {
	if l.Name == "" {
		return l.Value, true
	}
	return r.constantNamed(l.Name, l.Span, anIlluminance)
}
