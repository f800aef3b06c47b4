// Literals and the constants that may stand for them.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// literalKind is what a literal measures.
type literalKind uint8

const (
	aDuration literalKind = iota
	aPercentage
	aClockTime
	aCount
	anIlluminance
	aColourTemperature
	aPower
)

// String gives the kind with its article.
func (k literalKind) String() string {
	return [...]string{"a duration", "a percentage", "a time of day", "a whole number", "an illuminance",
		"a colour temperature", "a power"}[k]
}

// constant is the value of a name: milliseconds, hundredths of a per cent, lux, kelvin, or a number.
type constant struct {
	kind literalKind
	n    int64
	text string // as written
}

func literalValue(l *syntax.Literal) constant {
	switch {
	case l.Duration != nil:
		return constant{aDuration, l.Duration.Millis, l.Duration.Raw}
	case l.Percent != nil:
		return constant{aPercentage, int64(l.Percent.Hundredths), l.Percent.Raw}
	case l.Lux != nil:
		return constant{anIlluminance, l.Lux.Value, l.Lux.Raw}
	case l.Kelvin != nil:
		return constant{aColourTemperature, l.Kelvin.Value, l.Kelvin.Raw}
	case l.Clock != nil:
		return constant{aClockTime, l.Clock.Millis, l.Clock.Raw}
	}
	return constant{aCount, int64(l.Int.Value), l.Int.Raw}
}

// newConstant keeps a value and gives its index for a symbol.
func (r *resolver) newConstant(c constant) int {
	r.constants = append(r.constants, c)
	return len(r.constants) - 1
}

// constantNamed gives the value of a constant of the wanted kind; ok is false if there is none, which has been
// reported.
func (r *resolver) constantNamed(name string, sp source.Span, want literalKind) (n int64, ok bool) {
	s := r.find(&syntax.Ident{Node: syntax.Node{Span: sp}, Name: name}, kindConstant)
	if s == nil {
		return 0, false
	}
	c := r.constants[s.id]
	if c.kind != want {
		d := r.errorf(source.WrongUnit, sp, "`%s` is %s, which is %s; %s is wanted here", name, c.text, c.kind, want)
		relate(d, s.span, "declared here")
		return 0, false
	}
	return c.n, true
}

// duration takes a length of time, which is never 0.
func (r *resolver) duration(d *syntax.Duration) site.Millis {
	n := d.Millis
	if d.Name != "" {
		var ok bool
		if n, ok = r.constantNamed(d.Name, d.Span, aDuration); !ok {
			return 1 // a value that causes no further report
		}
	}
	if n <= 0 {
		r.errorf(source.ZeroDuration, d.Span, "a duration is longer than 0")
	}
	return site.Millis(n)
}

// percent takes a level; ok is false if it was reported.
func (r *resolver) percent(p *syntax.Percent) (l site.Level, ok bool) {
	if p.Name == "" {
		return site.Level(p.Hundredths), true
	}
	n, ok := r.constantNamed(p.Name, p.Span, aPercentage)
	return site.Level(n), ok
}

// clock takes a time of day.
func (r *resolver) clock(c *syntax.Clock) (t site.Millis, ok bool) {
	if c.Name == "" {
		return site.Millis(c.Millis), true
	}
	if syntax.IsSunWord(c.Name) {
		d := r.errorf(source.SunNotHere, c.Span, "`%s` cannot stand here: only bands and the triggers of modes go by the sun", c.Name)
		d.Suggestion = "write a clock time (in a scenario, `on 21 June` says whose sun it is)"
		return 0, false
	}
	n, ok := r.constantNamed(c.Name, c.Span, aClockTime)
	return site.Millis(n), ok
}

// count takes a whole number; ok is false if it was reported.
func (r *resolver) count(n *syntax.Int) (v int, ok bool) {
	if n.Name == "" {
		return n.Value, true
	}
	c, ok := r.constantNamed(n.Name, n.Span, aCount)
	return int(c), ok
}

// level gives a level as it is asked for, before a circuit clamps it. `on` is full.
func (r *resolver) level(l *syntax.Level) site.Level {
	switch {
	case l.Percent != nil:
		p, _ := r.percent(l.Percent)
		return p
	case l.Word == "full" || l.Word == "on":
		return site.Full
	}
	return 0
}
