// Conditions on the colour of circuits.

package resolve

import (
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// codes is a range of codes of colours, in a band or always.
type codes struct {
	band   site.BandID // None: always
	lo, hi site.Level
}

// isColour tells that a comparison is one of colours.
func (r *resolver) isColour(l *syntax.LightState) bool {
	if l == nil || slices.Contains(site.Colours[1:], l.Word) {
		return l != nil
	}
	m := l.Level
	if l.Between != nil {
		m = l.Between.Lo
	}
	if m == nil || m.Name == nil {
		return m != nil && m.Kelvin != nil
	}
	s := r.names[m.Name.Name]
	return s != nil && (s.kind == kindCurve || s.kind == kindConstant && r.constants[s.id].kind == aColourTemperature)
}

// codesOf resolves a comparison of colours; named tells that it is with a named colour. ok is false if it was reported.
func (r *resolver) codesOf(l *syntax.LightState) (out []codes, named, ok bool) {
	if l.Hysteresis != nil {
		r.errorf(source.WrongWord, l.Hysteresis.Span, "only a sensor of daylight has a hysteresis")
		return nil, false, false
	}
	if code := slices.Index(site.Colours[1:], l.Word); code >= 0 {
		return []codes{{site.None, site.Level(code + 1), site.Level(code + 1)}}, true, true
	}
	always := func(lo, hi site.Level) ([]codes, bool, bool) {
		if lo > hi {
			r.errorf(source.BadRange, l.Span, "no colour temperature is so")
			return nil, false, false
		}
		return []codes{{site.None, lo, hi}}, false, true
	}
	if l.Between != nil {
		lo, okLo := r.measured(l.Between.Lo, aColourTemperature)
		hi, okHi := r.measured(l.Between.Hi, aColourTemperature)
		if !okLo || !okHi {
			return nil, false, false
		}
		return always(site.Level(lo), site.Level(hi))
	}
	if m := l.Level; m.Name != nil && r.names[m.Name.Name].kind == kindCurve {
		return r.codesOfCurve(l, &r.curves[r.names[m.Name.Name].id])
	}
	n, ok := r.measured(l.Level, aColourTemperature)
	if !ok {
		return nil, false, false
	}
	switch k := site.Level(n); l.Word {
	case "above":
		return always(k+1, site.Full)
	case "below":
		return always(site.LeastKelvin, k-1)
	case "least":
		return always(k, site.Full)
	case "most":
		return always(site.LeastKelvin, k)
	default:
		return always(k, k)
	}
}

// codesOfCurve is `at CURVE`: what the curve says now.
func (r *resolver) codesOfCurve(l *syntax.LightState, c *curve) (out []codes, named, ok bool) {
	if l.Word != "at" {
		d := r.errorf(source.WrongWord, l.Span, "a colour is compared with a curve by `at` only")
		relate(d, c.span, "the curve is declared here")
		return nil, false, false
	}
	if len(c.pieces) == 1 {
		return []codes{{site.None, c.pieces[0].kelvin, c.pieces[0].kelvin}}, false, true
	}
	for _, p := range r.piecesOf(c) {
		out = append(out, codes{p.band, p.kelvin, p.kelvin})
	}
	return out, false, len(out) > 0
}

// hasCodes tells whether a circuit has such colours at all.
func (r *resolver) hasCodes(id site.CircuitID, named bool) bool {
	t := r.tints[id]
	return named && t.colour || !named && t.tunable
}

// shows is the condition that a circuit is lit in one of the colours.
func (r *resolver) shows(id site.CircuitID, list []codes, text string, sp source.Span) *site.Expr {
	if !r.spend(2+len(list), sp) {
		return poison(sp)
	}
	var any []*site.Expr
	for _, x := range list {
		is := &site.Expr{Op: site.OpLight, Circuit: r.tints[id].companion, Lo: x.lo, Hi: x.hi, Span: sp}
		if x.band != site.None {
			is = join(site.OpAnd, []*site.Expr{{Op: site.OpBand, Band: x.band, Span: sp}, is}, sp)
		}
		any = append(any, is)
	}
	return &site.Expr{Op: site.OpAnd, Kids: []*site.Expr{lit().on(r.site, id, sp), join(site.OpOr, any, sp)},
		Label: r.site.Circuits[id].Name + " " + text, Span: sp}
}

// colourAtom says of circuits that were named that each of them shows a colour.
func (r *resolver) colourAtom(ids []site.CircuitID, l *syntax.LightState, sp source.Span) *site.Expr {
	list, named, ok := r.codesOf(l)
	if !ok {
		return poison(sp)
	}
	var kids []*site.Expr
	for _, id := range ids {
		if !r.hasCodes(id, named) {
			r.noColour(id, l.Text(), named, sp)
			return poison(sp)
		}
		kids = append(kids, r.shows(id, list, l.Text(), sp))
	}
	return join(site.OpAnd, kids, sp)
}

// quantColours says so with a quantifier. Circuits without such colours never show one: they do not count, but where `every`
// circuit has to, they are reported.
func (r *resolver) quantColours(q *syntax.QuantAtom, ids []site.CircuitID) *site.Expr {
	l := q.Circuits.Light
	list, named, ok := r.codesOf(l)
	if !ok {
		return poison(q.Span)
	}
	var kids []*site.Expr
	for _, id := range ids {
		switch {
		case r.hasCodes(id, named):
			kids = append(kids, r.shows(id, list, l.Text(), q.Span))
		case q.Quant.Word == "every":
			d := r.noColour(id, l.Text(), named, q.Span)
			d.Suggestion = "take it out with `except " + r.site.Circuits[id].Name + "`"
			return poison(q.Span)
		}
	}
	if len(kids) == 0 {
		r.errorf(source.NoColour, q.Span, "none of these circuits can be `%s`", l.Text())
		return poison(q.Span)
	}
	return r.quantify(q, kids)
}
