// Settings of colours.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// shade is one case of a setting with its colour, or none.
type shade struct {
	when *site.Expr // nil: always
	hue  *hue       // nil: it tells none
	over site.Millis
}

// settings gives the setting, and those of the colours that it tells.
func (r *resolver) settings(sc scope, s *syntax.Setting) []site.Setting {
	main := r.setting(sc, s)
	out := []site.Setting{main}
	var colours []*syntax.Colour // of each case
	targets := s.Targets
	switch {
	case s.Keep != nil:
		if h := r.hueOf(s.Keep.Colour); h != nil {
			return append(out, r.colourSettings(main.Circuits, nil, []shade{{hue: h}}, s.Span)...)
		}
		return out
	case s.Flash != nil:
		targets = s.Flash.Targets
		colours = append(colours, r.colourOf(s.Flash.Level))
	case s.Ramp != nil:
		colours = append(colours, r.colourOf(s.Ramp.Level))
	case s.Level != nil:
		colours = append(colours, r.colourOf(s.Level))
	default:
		for _, c := range s.Cases {
			level := c.Level
			if c.Ramp != nil {
				level = c.Ramp.Level
			}
			colours = append(colours, r.colourOf(level))
		}
	}
	var shades []shade
	told := false
	for i, c := range colours {
		h := r.hueOf(c)
		told = told || h != nil
		shades = append(shades, shade{when: main.Cases[i].When, hue: h, over: main.Cases[i].Over})
	}
	if !told {
		return out
	}
	return append(out, r.colourSettings(main.Circuits, r.oneByOne(targets), shades, s.Span)...)
}

// colourOf gives the colour that stands behind a level. That behind `off` is reported.
func (r *resolver) colourOf(l *syntax.Level) *syntax.Colour {
	switch {
	case l == nil:
		return nil
	case l.Colour == nil || l.Word != "off":
		return l.Colour
	}
	d := r.errorf(source.WrongWord, l.Colour.Span, "what is off has no colour")
	d.Suggestion = "leave it out"
	return nil
}

// oneByOne tells which circuits are named themselves, not as part of something.
func (r *resolver) oneByOne(t *syntax.Targets) map[site.CircuitID]bool {
	out := map[site.CircuitID]bool{}
	for _, x := range t.Terms {
		if x.Ref == nil || r.names[x.Ref.Name.Name] == nil {
			continue
		}
		s := r.names[x.Ref.Name.Name]
		switch {
		case s.kind == kindCircuit || s.kind == kindOutput:
			out[site.CircuitID(s.id)] = true
		case s.kind == kindGroup && x.Ref.Numbers != nil && x.Ref.Numbers.To == nil:
			if ids, ok := r.circuitsOfRef(s, x.Ref.Numbers); ok {
				out[ids[0]] = true
			}
		}
	}
	return out
}

// colourSettings makes the settings of the companions of circuits: one for all that know the same kinds of colours. A circuit
// that does not know a colour is left out, but reported if it was named itself; so is a colour that none of them knows.
func (r *resolver) colourSettings(ids []site.CircuitID, named map[site.CircuitID]bool, shades []shade, sp source.Span) []site.Setting {
	for _, x := range shades {
		if x.hue != nil {
			r.checkHue(ids, named, x.hue)
		}
	}
	var out []site.Setting
	for _, kind := range []tint{{colour: true}, {tunable: true}, {colour: true, tunable: true}} {
		var companions []site.CircuitID
		for _, id := range ids {
			if t, ok := r.tints[id]; ok && t.colour == kind.colour && t.tunable == kind.tunable {
				companions = append(companions, t.companion)
			}
		}
		if cases := r.colourCases(kind, shades); len(companions) > 0 && len(cases) > 0 && r.spend(len(companions)+len(cases), sp) {
			out = append(out, site.Setting{Circuits: companions, Cases: cases, Span: sp})
		}
	}
	return out
}

// checkHue reports circuits that cannot have the colour.
func (r *resolver) checkHue(ids []site.CircuitID, named map[site.CircuitID]bool, h *hue) {
	some := false
	for _, id := range ids {
		switch t := r.tints[id]; {
		case t.knows(h):
			some = true
			r.inRange(id, h)
		case named[id]:
			r.noColour(id, h.text, h.named(), h.span)
			some = true // no more need be said
		}
	}
	if !some && len(ids) > 0 && !r.unsure[kindCircuit] {
		r.errorf(source.NoColour, h.span, "none of these circuits can be `%s`", h.text)
	}
}

// colourCases gives the cases for companions of one kind. While a case holds that tells them no colour they are not asked, so
// the cases after it say that it does not.
func (r *resolver) colourCases(kind tint, shades []shade) []site.Case {
	var out []site.Case
	var silent []*site.Expr
	for _, x := range shades {
		if x.hue == nil || !kind.knows(x.hue) {
			if x.when == nil {
				break
			}
			silent = append(silent, x.when)
			continue
		}
		when := func(more ...*site.Expr) *site.Expr {
			var all []*site.Expr
			if x.when != nil {
				all = append(all, clone(x.when))
			}
			for _, e := range silent {
				all = append(all, not(clone(e), x.hue.span))
			}
			if all = append(all, more...); len(all) == 0 {
				return nil
			}
			return join(site.OpAnd, all, x.hue.span)
		}
		if x.hue.curve == nil || len(x.hue.curve.pieces) == 1 {
			lo, _ := x.hue.bounds()
			out = append(out, site.Case{When: when(), Level: lo, Over: x.over, Span: x.hue.span})
			continue
		}
		for _, p := range r.piecesOf(x.hue.curve) {
			band := &site.Expr{Op: site.OpBand, Band: p.band, Span: x.hue.span}
			out = append(out, site.Case{When: when(band), Level: p.kelvin, Over: x.over, Span: x.hue.span})
		}
	}
	return out
}
