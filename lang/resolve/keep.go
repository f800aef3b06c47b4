// Light that is kept: `keep hall at 300 lux`.
//
// The lamps make up for the daylight that is missing. It is told in steps: with daylight between two steps the lamps give what
// is missing at the lower one. So there is always enough, and at most a step too much. The regulator is taken to allow for the
// lamps' own light: only daylight moves it.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// The steps of a regulator that does not say, and the most that one may have.
const (
	defaultKeepSteps = 10
	maxKeepSteps     = 50
)

// keep gives the circuits of the setting, which are those of the area that add to its illuminance, and its cases.
func (r *resolver) keep(sc scope, n *syntax.Keep) (ids []site.CircuitID, cases []site.Case) {
	k, ok := r.areaSensor(sc, n.Area)
	lux, okLux := r.lux(n.Lux)
	steps, okSteps := r.keepSteps(n)
	if !ok || !okLux || !okSteps {
		return nil, nil
	}
	adds := int64(0)
	area := r.areaNamed(sc, n.Area)
	for _, t := range r.addedIn(area) {
		ids = append(ids, t.Circuit)
		adds += t.Weight
	}
	if len(ids) == 0 {
		if !r.unsure[kindCircuit] {
			d := r.errorf(source.EmptySelection, n.Area.Span, "the area `%s` has no circuit that tells what light it adds", r.site.Areas[area].Name)
			relate(d, r.site.Areas[area].Span, "declared here")
			d.Suggestion = "write, in the braces of a circuit, `adds 180 lux`"
		}
		return nil, nil
	}
	if lux == 0 {
		r.errorf(source.BadRange, n.Lux.Span, "there is nothing to keep at 0 lux")
		return nil, nil
	}
	if !r.spend(len(ids), n.Span) {
		return nil, nil
	}
	cases = append(cases, site.Case{When: r.rungExpr(k, lux, n.Span), Span: n.Span})
	for i := steps - 1; i >= 0; i-- {
		from := int64(i) * lux / int64(steps)
		level := missing(lux-from, adds)
		if from == 0 {
			return ids, append(cases, site.Case{Level: level, Span: n.Span})
		}
		if level < missing(lux-int64(i-1)*lux/int64(steps), adds) {
			cases = append(cases, site.Case{When: r.rungExpr(k, from, n.Span), Level: level, Span: n.Span})
		}
	}
	return ids, cases
}

// missing is the level, in whole per cents, at which lamps that add so much give the light that is missing; full if they
// cannot.
func missing(lux, adds int64) site.Level {
	return site.Level(min((lux*100+adds-1)/adds, 100)) * 100
}

func (r *resolver) keepSteps(n *syntax.Keep) (int, bool) {
	if n.Steps == nil {
		return defaultKeepSteps, true
	}
	steps, ok := r.count(n.Steps)
	if ok && (steps < 1 || steps > maxKeepSteps) {
		r.errorf(source.BadCount, n.Steps.Span, "a regulator has 1 to %d steps here", maxKeepSteps)
		return 0, false
	}
	return steps, ok
}
