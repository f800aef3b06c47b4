// Colours of lamps.
//
// The colour of a circuit is a circuit of its own, the companion, whose level is the code of a colour. A setting that tells a
// colour becomes two: one for the levels of the circuits and one for the levels of their companions. Where it tells no
// colour the companion is not asked, so that the colour stays as it is or as another mode asks.

package resolve

import (
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// tint is what is known of the colour of a circuit.
type tint struct {
	companion site.CircuitID
	colour    bool       // it knows the named colours
	tunable   bool       // it knows colour temperatures, from lo to hi
	lo, hi    site.Level // kelvin
}

// colourItem takes what a circuit says of its colour.
func (r *resolver) colourItem(t *tint, it *syntax.CircuitItem, given seen) {
	switch {
	case it.Colour && r.first(given, "`colour`", it.Span):
		t.colour = true
	case it.Tunable != nil && r.first(given, "`tunable`", it.Span):
		lo, okLo := r.kelvin(it.Tunable.From)
		hi, okHi := r.kelvin(it.Tunable.To)
		if okLo && okHi && lo > hi {
			d := r.errorf(source.BadRange, it.Tunable.Span, "the range runs from more to less")
			d.Suggestion = "write the lower colour temperature first"
		}
		t.tunable, t.lo, t.hi = true, min(lo, hi), max(lo, hi)
	}
}

// companions gives each circuit of a declaration its colour, if it has one.
func (r *resolver) companions(from, to int, t tint) {
	if !t.colour && !t.tunable {
		return
	}
	for i := from; i < to; i++ {
		c := r.site.Circuits[i]
		t.companion = site.CircuitID(len(r.site.Circuits))
		r.site.Circuits = append(r.site.Circuits, site.Circuit{Name: c.Name + " colour", Area: site.None, Min: 1, Max: site.Full,
			FedBy: c.FedBy, Fade: c.Fade, Colour: true, Light: site.CircuitID(i), Span: c.Span})
		r.tints[site.CircuitID(i)] = t
	}
}

// feedColours lets a colour be dead and cut with its light.
func (r *resolver) feedColours() {
	for i := range r.site.Circuits {
		if c := &r.site.Circuits[i]; c.Colour {
			light := &r.site.Circuits[c.Light]
			c.Dead, c.Cut = clone(light.Dead), clone(light.Cut)
		}
	}
}

// kelvin takes a colour temperature.
func (r *resolver) kelvin(k *syntax.Kelvin) (site.Level, bool) {
	if k.Name == "" {
		return site.Level(k.Value), true
	}
	n, ok := r.constantNamed(k.Name, k.Span, aColourTemperature)
	return site.Level(n), ok
}

// hue is a colour that is asked for: a code, or the codes of a curve.
type hue struct {
	code  site.Level
	curve *curve // nil: code
	text  string // as written
	span  source.Span
}

// named tells that it is a named colour and no colour temperature.
func (h *hue) named() bool { return h.curve == nil && h.code < site.LeastKelvin }

// bounds gives the least and the greatest code.
func (h *hue) bounds() (lo, hi site.Level) {
	if h.curve != nil {
		return h.curve.bounds()
	}
	return h.code, h.code
}

// hueOf resolves a colour; nil if there is none, or if it was reported.
func (r *resolver) hueOf(c *syntax.Colour) *hue {
	if c == nil {
		return nil
	}
	h := &hue{span: c.Span, text: c.Text()}
	switch {
	case c.By != nil:
		s := r.find(c.By, kindCurve, kindConstant)
		switch {
		case s == nil:
			return nil
		case s.kind == kindCurve:
			h.curve = &r.curves[s.id]
			if len(h.curve.pieces) == 0 {
				return nil // it was reported
			}
		default:
			n, ok := r.constantNamed(c.By.Name, c.By.Span, aColourTemperature)
			if !ok {
				return nil
			}
			h.code = site.Level(n)
		}
	case c.Kelvin != nil:
		var ok bool
		if h.code, ok = r.kelvin(c.Kelvin); !ok {
			return nil
		}
	default:
		h.code = site.Level(slices.Index(site.Colours, c.Word))
	}
	return h
}

// knows tells whether a circuit of this kind can be told the colour; one out of its range is reported by inRange.
func (t tint) knows(h *hue) bool {
	if h.named() {
		return t.colour
	}
	return t.tunable
}

// noColour reports a circuit that cannot have a colour.
func (r *resolver) noColour(id site.CircuitID, text string, named bool, sp source.Span) *source.Diagnostic {
	c, t := &r.site.Circuits[id], r.tints[id]
	var d *source.Diagnostic
	switch {
	case c.Output:
		d = r.errorf(source.NoColour, sp, "`%s` is %s, which has no colour", c.Name, outputWord(c))
	case t.colour:
		d = r.errorf(source.NoColour, sp, "`%s` has named colours, no colour temperature", c.Name)
		d.Suggestion = "write, in its braces, also `tunable 2700 K to 6500 K`"
	case t.tunable:
		d = r.errorf(source.NoColour, sp, "`%s` has a colour temperature, no named colours", c.Name)
		d.Suggestion = "write, in its braces, also `colour`"
	default:
		d = r.errorf(source.NoColour, sp, "`%s` cannot be `%s`: it has no colour", c.Name, text)
		d.Suggestion = "write, in its braces, `tunable 2700 K to 6500 K`"
		if named {
			d.Suggestion = "write, in its braces, `colour`"
		}
	}
	relate(d, c.Span, "declared here")
	return d
}

// inRange reports a colour temperature that a tunable circuit does not have.
func (r *resolver) inRange(id site.CircuitID, h *hue) {
	t := r.tints[id]
	lo, hi := h.bounds()
	if h.named() || lo >= t.lo && hi <= t.hi {
		return
	}
	d := r.errorf(source.BadRange, h.span, "`%s` is tunable from %d K to %d K only", r.site.Circuits[id].Name, t.lo, t.hi)
	relate(d, r.site.Circuits[id].Span, "declared here")
	if h.curve != nil {
		relate(d, h.curve.span, "this runs from %d K to %d K", lo, hi)
	}
}
