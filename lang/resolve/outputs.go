// Outputs and notices: circuits that are no light.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// declareOutput enters an output, or a notice if it says something.
func (r *resolver) declareOutput(id *syntax.Ident, notice string) {
	r.site.Circuits = append(r.site.Circuits, site.Circuit{Name: id.Name, Area: site.None, Output: true, Notice: notice,
		Switched: true, Min: 1, Max: site.Full, FedBy: site.None, Span: id.Span})
	r.declare(id, kindOutput, len(r.site.Circuits)-1)
}

// lamps lists all circuits that are lights.
func (r *resolver) lamps() []site.CircuitID {
	var out []site.CircuitID
	for i := range r.site.Circuits {
		if c := &r.site.Circuits[i]; !c.Output && !c.Colour {
			out = append(out, site.CircuitID(i))
		}
	}
	return out
}

// suits reports a level that is not for the circuits it is asked of: `on` for a lamp, anything but `on` and `off` for
// an output.
func (r *resolver) suits(ids []site.CircuitID, l *syntax.Level) {
	if l.Word == "off" {
		return
	}
	for _, id := range ids {
		c := &r.site.Circuits[id]
		switch {
		case l.Word == "on" && !c.Output:
			d := r.errorf(source.WrongWord, l.Span, "`on` is said of an output; `%s` is a circuit of lamps", c.Name)
			relate(d, c.Span, "declared here")
			d.Suggestion = "write `full`, or a level such as `at 40 %`"
			return
		case l.Word != "on" && c.Output:
			d := r.errorf(source.WrongWord, l.Span, "`%s` is %s, which is only on or off", c.Name, outputWord(c))
			relate(d, c.Span, "declared here")
			d.Suggestion = "write `" + c.Name + " on`"
			return
		}
	}
}

func outputWord(c *site.Circuit) string {
	if c.Notice != "" {
		return "a notice"
	}
	return "an output"
}

// over takes the time of a ramp, which an output cannot have.
func (r *resolver) over(ids []site.CircuitID, ramp *syntax.Ramp) site.Millis {
	for _, id := range ids {
		if c := &r.site.Circuits[id]; c.Output {
			d := r.errorf(source.WrongWord, ramp.Span, "`%s` is %s, which has no ramp", c.Name, outputWord(c))
			relate(d, c.Span, "declared here")
			d.Suggestion = "write `" + c.Name + " on`"
			return 0
		}
	}
	return r.duration(ramp.Over)
}

// outputAtom is `siren on` or `siren off` in a requirement.
func (r *resolver) outputAtom(sc scope, a *syntax.NameAtom, s *symbol) *site.Expr {
	if !r.lightAllowed(sc, a.Span) {
		return poison(a.Span)
	}
	if len(a.In) > 0 || a.Stage != nil || a.State != "on" && a.State != "off" {
		d := r.errorf(source.WrongWord, a.Span, "this cannot be said of %s", r.describe(s))
		relate(d, s.span, "`%s` is declared here", s.name)
		d.Suggestion = "write `" + s.name + " on` or `" + s.name + " off`"
		return poison(a.Span)
	}
	lr := dark()
	if a.State == "on" {
		lr = lightRange{lo: site.Full, hi: site.Full}
	}
	return lr.on(r.site, site.CircuitID(s.id), a.Span)
}
