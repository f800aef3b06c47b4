// Light comparisons as inclusive ranges of hundredths of a per cent.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// lightRange is a comparison before it is applied to a circuit: `at full`
// depends on the circuit.
type lightRange struct {
	lo, hi site.Level
	full   bool
}

// on gives the comparison for one circuit.
func (lr lightRange) on(s *site.Site, id site.CircuitID, sp source.Span) *site.Expr {
	lo, hi := lr.lo, lr.hi
	if lr.full {
		lo = s.Circuits[id].Top()
		hi = lo
	}
	return &site.Expr{Op: site.OpLight, Circuit: id, Lo: lo, Hi: hi, Span: sp}
}

func lit() lightRange  { return lightRange{lo: 1, hi: site.Full} }
func dark() lightRange { return lightRange{} }

// lightRange resolves a comparison; ok is false if it was reported.
func (r *resolver) lightRange(l *syntax.LightState) (lr lightRange, ok bool) {
	if l.Between != nil {
		lo, okLo := r.share(l.Between.Lo)
		hi, okHi := r.share(l.Between.Hi)
		if !okLo || !okHi {
			return lr, false
		}
		if lo > hi {
			d := r.errorf(source.BadRange, l.Between.Span, "the range runs from more to less")
			d.Suggestion = "write `between " + hi.String() + " and " + lo.String() + "`"
			return lr, false
		}
		return lightRange{lo: lo, hi: hi}, true
	}
	level := site.Level(0)
	if l.Level != nil {
		if level, ok = r.share(l.Level); !ok {
			return lr, false
		}
	}
	if l.Hysteresis != nil {
		d := r.errorf(source.WrongWord, l.Hysteresis.Span, "only a sensor of daylight has a hysteresis")
		d.Suggestion = "leave it out"
		return lr, false
	}
	switch l.Word {
	case "lit":
		return lit(), true
	case "off":
		return dark(), true
	case "full":
		return lightRange{full: true}, true
	case "at":
		return lightRange{lo: level, hi: level}, true
	case "least":
		return lightRange{lo: level, hi: site.Full}, true
	case "most":
		return lightRange{hi: level}, true
	case "above":
		if level >= site.Full {
			r.errorf(source.BadRange, l.Span, "no light is above 100 %%")
			return lr, false
		}
		return lightRange{lo: level + 1, hi: site.Full}, true
	case "below":
		if level <= 0 {
			r.errorf(source.BadRange, l.Span, "no light is below 0 %%")
			return lr, false
		}
		return lightRange{hi: level - 1}, true
	}
	return lr, false
}

// overCircuits applies a comparison to each circuit.
func (r *resolver) overCircuits(op site.Op, ids []site.CircuitID, lr lightRange, sp source.Span) *site.Expr {
	if !r.spend(len(ids), sp) {
		return poison(sp)
	}
	kids := make([]*site.Expr, len(ids))
	for i, id := range ids {
		kids[i] = lr.on(r.site, id, sp)
	}
	return &site.Expr{Op: op, Kids: kids, Span: sp}
}

// seesArea reports whether the area has what its state is read from.
func (r *resolver) seesArea(a site.AreaID, state string) bool {
	if state == "lit" || state == "dark" {
		return len(r.circuitsIn(a)) > 0 || r.unsure[kindCircuit]
	}
	return r.sensed(a) || r.unsure[kindInput]
}

// areaState is `area hall lit`.
func (r *resolver) areaState(sc scope, a *syntax.AreaAtom) *site.Expr {
	if (a.State == "lit" || a.State == "dark") && !r.lightAllowed(sc, a.Span) {
		return poison(a.Span)
	}
	area := r.areaNamed(sc, a.Area)
	if area == poisonArea {
		return poison(a.Span)
	}
	if !r.seesArea(area, a.State) {
		if a.State == "lit" || a.State == "dark" {
			d := r.errorf(source.EmptySelection, a.Area.Span, "the area `%s` has no circuit", r.site.Areas[area].Name)
			relate(d, r.site.Areas[area].Span, "declared here")
		} else {
			r.noPresence(sc, a.Area, area)
		}
		return poison(a.Span)
	}
	return r.areaIs(sc, area, a.State, false, a.Span)
}
