// Assumptions, and the reading of a condition as one input change.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

func (r *resolver) assumptions() {
	r.everywhere(r.assumptionsOf)
}

func (r *resolver) assumptionsOf(decls []syntax.Decl, _ string) {
	for _, d := range decls {
		d, ok := d.(*syntax.AssumeDecl)
		if !ok {
			continue
		}
		switch {
		case d.Spacing != nil:
			r.spacing(d, d.Spacing)
		case d.AtMost != nil:
			r.atMost(d, d.AtMost)
		case d.Steady:
			r.site.SteadyClock = true
		case d.Never != nil:
			r.never(d)
		case d.Dwell != nil:
			r.dwell(d, d.Dwell)
		}
	}
}

func (r *resolver) assume(a site.Assumption) {
	r.site.Assumptions = append(r.site.Assumptions, a)
}

// inputNamed finds an input, the health of a mains supply, or whether a battery is flat.
func (r *resolver) inputNamed(id *syntax.Ident) (site.InputID, bool) {
	s := r.find(id, kindInput, kindSupply, kindBattery)
	switch {
	case s == nil:
		return site.None, false
	case s.kind == kindBattery:
		in := r.site.Supplies[s.id].Flat
		if in == site.None {
			r.neverFlat(id.Span, s)
		}
		return in, in != site.None
	case s.kind == kindSupply:
		return r.site.Supplies[s.id].Health, true
	}
	return site.InputID(s.id), true
}

func (r *resolver) spacing(d *syntax.AssumeDecl, s *syntax.Spacing) {
	a := site.Assumption{Kind: site.Spacing, D: r.duration(s.D), Span: d.Span}
	listed := seen{}
	for _, id := range s.Inputs {
		if s.Word == "changes" && r.changesOfSensor(id, listed) {
			continue
		}
		in, ok := r.inputNamed(id)
		if !ok || !r.notListed(listed, id) {
			continue
		}
		if s.Word == "taps" && r.site.Inputs[in].Kind != site.Button {
			e := r.errorf(source.WrongKind, id.Span, "`%s` is %s; only buttons have taps", id.Name, r.describe(r.names[id.Name]))
			e.Suggestion = "write `changes of " + id.Name + "`"
		}
		a.Inputs = append(a.Inputs, in)
	}
	r.assume(a)
}

func (r *resolver) atMost(d *syntax.AssumeDecl, m *syntax.AtMost) {
	n, _ := r.count(m.N)
	a := site.Assumption{Kind: site.AtMost, N: n, Span: d.Span}
	listed := seen{}
	for _, id := range m.Inputs {
		in, ok := r.inputNamed(id)
		if !ok || !r.notListed(listed, id) {
			continue
		}
		if r.site.Inputs[in].Kind.IsEvent() {
			e := r.errorf(source.EventNotHere, id.Span, "`%s` is %s: its events have no length, so they are never true together",
				id.Name, r.describe(r.names[id.Name]))
			e.Suggestion = "write `assume changes of ... at least D apart`"
		}
		a.Inputs = append(a.Inputs, in)
	}
	r.assume(a)
}

// never is `never ups flat`: at most 0 of one input.
func (r *resolver) never(d *syntax.AssumeDecl) {
	e := r.expr(scope{use: useAssumption, mode: site.None, area: site.None}, d.Never)
	c, ok := r.change(e, "only one input can be taken never to be so")
	switch {
	case !ok:
	case !c.value:
		x := r.errorf(source.NotOneInput, d.Never.Span, "an input is taken never to leave its rest, not never to be at rest")
		x.Notes = append(x.Notes, "rest is: nobody sensed, a closed contact, a clear alarm, a switch that is off, a live supply, a charged battery")
	default:
		r.assume(site.Assumption{Kind: site.AtMost, Inputs: []site.InputID{c.input}, Span: d.Span})
	}
}

func (r *resolver) dwell(d *syntax.AssumeDecl, w *syntax.Dwell) {
	a := site.Assumption{Kind: site.Dwell, D: r.duration(w.D), Span: d.Span}
	e := r.expr(scope{use: useAssumption, mode: site.None, area: site.None}, w.Cond)
	c, ok := r.change(e, "only one input, or `not` one, lasts")
	if !ok {
		return
	}
	a.Inputs, a.Value = []site.InputID{c.input}, c.value
	r.assume(a)
}

// change is one input with the value or the event that a condition speaks of.
type change struct {
	input   site.InputID
	event   bool
	value   bool
	gesture site.Gesture
}

// change reads a condition as one input change: an event, a level input, or not
// one. Anything else is reported with the message, unless it is poison.
func (r *resolver) change(e *site.Expr, message string) (change, bool) {
	value, x := true, e
	for x.Op == site.OpNot {
		value, x = !value, x.Kids[0]
	}
	if x.Op == site.OpOr && len(x.Kids) == 1 { // presence in an area
		x = x.Kids[0]
	}
	switch {
	case x.Op == site.OpInput:
		return change{input: x.Input, value: value}, true
	case x.Op == site.OpEvent && value:
		return change{input: x.Input, event: true, gesture: x.Gesture}, true
	case hasPoison(x):
		return change{}, false
	}
	d := r.errorf(source.NotOneInput, e.Span, "%s", message)
	if names := r.presenceNames(x); len(names) > 1 {
		d.Notes = append(d.Notes, "this area has several presence inputs: "+quoteList(names))
		d.Suggestion = "name one of them"
	}
	return change{}, false
}

// presenceNames lists the inputs if e came from `presence in AREA`.
func (r *resolver) presenceNames(e *site.Expr) []string {
	if e.Op != site.OpOr {
		return nil
	}
	var out []string
	for _, k := range e.Kids {
		if k.Op != site.OpInput || r.site.Inputs[k.Input].Kind != site.Presence || k.Span != e.Span {
			return nil
		}
		out = append(out, r.site.Inputs[k.Input].Name)
	}
	return out
}

func hasPoison(e *site.Expr) bool {
	found := false
	e.Walk(func(x *site.Expr) { found = found || isPoison(x) })
	return found
}
