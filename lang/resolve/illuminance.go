// The illuminance of an area: daylight and lamps.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

func (r *resolver) illuminanceAtom(sc scope, a *syntax.IlluminanceAtom) *site.Expr {
	if sc.use.inMode() || sc.use == useStep {
		d := r.errorf(source.LightNotHere, a.Span, "the illuminance, which lamps make, cannot stand in %s", sc.use)
		d.Suggestion = "ask a daylight sensor: `daylight in " + a.Area.Name + " below 120 lux`"
		return poison(a.Span)
	}
	if !r.lightAllowed(sc, a.Span) {
		return poison(a.Span)
	}
	area := r.areaNamed(sc, a.Area)
	if area == poisonArea {
		return poison(a.Span)
	}
	t := total{terms: r.addedIn(area)}
	t.sensor, t.day = r.sensorFor(area)
	if !t.day && len(t.terms) == 0 {
		if !r.unsure[kindSensor] && !r.unsure[kindCircuit] {
			d := r.errorf(source.NoSensor, a.Area.Span, "nothing tells the illuminance of `%s`: it has no circuit that `adds` light, and no daylight sensor",
				r.site.Areas[area].Name)
			relate(d, r.site.Areas[area].Span, "declared here")
		}
		return poison(a.Span)
	}
	return r.comparison(a.Is, "illuminance of "+r.site.Areas[area].Name, a.Span, func(m *syntax.Measure) (int64, bool) {
		n, ok := r.measured(m, anIlluminance)
		return n * perLux, ok
	}, func(need int64, over bool) *site.Expr { return r.reaches(t, need, over, a.Span) })
}

// comparison resolves what is said of a sum: value gives what it is compared with, in the sum's own unit, and atLeast the
// condition that the sum is not less.
func (r *resolver) comparison(is *syntax.LightState, what string, sp source.Span, value func(*syntax.Measure) (int64, bool),
	atLeast func(need int64, over bool) *site.Expr) *site.Expr {
	least := func(need int64) *site.Expr {
		return r.later(site.Expr{Span: sp}, func(over bool) *site.Expr { return atLeast(need, over) })
	}
	var out *site.Expr
	switch {
	case is.Hysteresis != nil:
		r.errorf(source.WrongWord, is.Hysteresis.Span, "only a sensor of daylight has a hysteresis")
		return poison(sp)
	case is.Between != nil:
		lo, okLo := value(is.Between.Lo)
		hi, okHi := value(is.Between.Hi)
		if okLo && okHi && lo > hi {
			r.errorf(source.BadRange, is.Between.Span, "the range runs from more to less")
		}
		if !okLo || !okHi || lo > hi {
			return poison(sp)
		}
		out = not(least(hi+1), sp)
		if lo > 0 {
			out = join(site.OpAnd, []*site.Expr{least(lo), out}, sp)
		}
	case is.Level == nil || is.Word == "at":
		d := r.errorf(source.WrongWord, is.Span, "this cannot be said of an illuminance or a power")
		d.Notes = append(d.Notes, "it can be `at least`, `at most`, `above`, `below`, or `between` two values")
		return poison(sp)
	default:
		n, ok := value(is.Level)
		if ok && n == 0 && (is.Word == "least" || is.Word == "below") {
			r.errorf(source.BadRange, is.Span, "nothing is less than 0")
			ok = false
		}
		if !ok {
			return poison(sp)
		}
		switch is.Word {
		case "least":
			out = least(n)
		case "above":
			out = least(n + 1)
		case "most":
			out = not(least(n+1), sp)
		default:
			out = not(least(n), sp)
		}
	}
	out.Label = what + " " + is.Text()
	return out
}
