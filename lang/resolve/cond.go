// Conditions: the syntax tree of one to an expression over the site.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// expr resolves a condition. It never returns nil: what cannot be resolved has
// been reported and becomes poison.
func (r *resolver) expr(sc scope, e *syntax.Expr) *site.Expr {
	kids := make([]*site.Expr, 0, len(e.Terms))
	for _, t := range e.Terms {
		kids = append(kids, r.orExpr(sc, t))
	}
	return join(site.OpAnd, kids, e.Span)
}

func (r *resolver) orExpr(sc scope, e *syntax.OrExpr) *site.Expr {
	kids := make([]*site.Expr, 0, len(e.Terms))
	for _, t := range e.Terms {
		kids = append(kids, r.andExpr(sc, t))
	}
	return join(site.OpOr, kids, e.Span)
}

func (r *resolver) andExpr(sc scope, e *syntax.AndExpr) *site.Expr {
	kids := make([]*site.Expr, 0, len(e.Terms))
	for _, t := range e.Terms {
		kids = append(kids, r.notExpr(sc, t))
	}
	return join(site.OpAnd, kids, e.Span)
}

func (r *resolver) notExpr(sc scope, e *syntax.NotExpr) *site.Expr {
	switch {
	case e.Not != nil:
		return not(r.notExpr(sc, e.Not), e.Span)
	case e.Paren != nil:
		return r.expr(sc, e.Paren)
	case e.Atom != nil:
		if !r.spend(1, e.Span) {
			return poison(e.Span)
		}
		return r.atom(sc, e.Atom)
	}
	return poison(e.Span)
}

// join makes one node of several; a single one stands for itself.
func join(op site.Op, kids []*site.Expr, sp source.Span) *site.Expr {
	if len(kids) == 1 {
		return kids[0]
	}
	return &site.Expr{Op: op, Kids: kids, Span: sp}
}

func not(kid *site.Expr, sp source.Span) *site.Expr {
	if isPoison(kid) {
		return kid
	}
	return &site.Expr{Op: site.OpNot, Kids: []*site.Expr{kid}, Span: sp}
}

func (r *resolver) atom(sc scope, a syntax.Atom) *site.Expr {
	switch a := a.(type) {
	case *syntax.PresenceAtom:
		return r.presence(sc, a.Area, a.Span)
	case *syntax.VacatedAtom:
		return not(r.presence(sc, a.Area, a.Span), a.Span)
	case *syntax.DaylightAtom:
		return r.daylightAtom(sc, a)
	case *syntax.GestureAtom:
		return r.gesture(sc, a)
	case *syntax.WasAtom:
		return r.was(sc, a)
	case *syntax.QuantAtom:
		return r.quantified(sc, a)
	case *syntax.AreaAtom:
		return r.areaState(sc, a)
	case *syntax.IlluminanceAtom:
		return r.illuminanceAtom(sc, a)
	case *syntax.FaultAtom:
		return r.faultAtom(sc, a)
	case *syntax.PowerAtom:
		return r.powerAtom(sc, a)
	case *syntax.NameAtom:
		return r.nameAtom(sc, a)
	}
	return poison(a.Place())
}

// presence is true while some presence input of the area is.
func (r *resolver) presence(sc scope, id *syntax.Ident, sp source.Span) *site.Expr {
	a := r.areaNamed(sc, id)
	if a == poisonArea {
		return poison(sp)
	}
	if e := r.occupied(sc, a, sp); e != nil {
		return e
	}
	if !r.unsure[kindInput] {
		r.noPresence(sc, id, a)
	}
	return poison(sp)
}

func (r *resolver) noPresence(sc scope, id *syntax.Ident, a site.AreaID) {
	area := &r.site.Areas[a]
	d := r.errorf(source.NoPresence, id.Span, "the area `%s` has no presence input", area.Name)
	relate(d, area.Span, "declared here")
	if sc.name != "" && id.Name == sc.name {
		d.Suggestion = "write `for each area " + sc.name + " ... with presence` to leave out areas without one"
	} else {
		d.Suggestion = "declare one: `presence NAME in " + area.Name + "`"
	}
}

func (r *resolver) gesture(sc scope, a *syntax.GestureAtom) *site.Expr {
	g := map[string]site.Gesture{"double": site.DoubleTap, "triple": site.TripleTap, "long": site.LongPress,
		"release": site.Release}[a.Gesture]
	s := r.find(a.Button, kindInput)
	if s == nil {
		return poison(a.Span)
	}
	if r.site.Inputs[s.id].Kind != site.Button {
		d := r.errorf(source.WrongKind, a.Button.Span, "`%s` is %s; only a button is tapped or pressed", s.name, r.describe(s))
		relate(d, s.span, "declared here")
		if r.site.Inputs[s.id].Kind == site.Bell {
			d.Suggestion = "write `" + s.name + " rings`"
		}
		return poison(a.Span)
	}
	return r.event(sc, site.InputID(s.id), g, a.Span)
}

// event is refused where a condition has to last.
func (r *resolver) event(sc scope, id site.InputID, g site.Gesture, sp source.Span) *site.Expr {
	if sc.use.lasting() || sc.use == useAssumption {
		d := r.errorf(source.EventNotHere, sp, "an event cannot stand in %s", sc.use)
		d.Notes = append(d.Notes, "an event has no length: it is true at its instant only")
		if sc.use == useWhile {
			d.Suggestion = "let the mode start and end on it: `starts on ...`, `ends on ...` or `for ...`"
		}
		return poison(sp)
	}
	return &site.Expr{Op: site.OpEvent, Input: id, Gesture: g, Span: sp}
}

// was reads the state before the reaction, in which no event is true.
func (r *resolver) was(sc scope, a *syntax.WasAtom) *site.Expr {
	if sc.use != useTrigger && sc.use != useGuard {
		d := r.errorf(source.WasNotHere, a.Span, "`was` cannot stand in %s", sc.use)
		d.Notes = append(d.Notes, "`was` compares with the moment before a reaction, so it belongs to what happens at an instant: "+
			"the triggers of a mode and their `if`")
		return poison(a.Span)
	}
	inner := sc
	inner.mode = site.None // what stands inside makes no dependency
	kid := r.expr(inner, a.Cond)
	return &site.Expr{Op: site.OpWas, Kids: []*site.Expr{kid}, Span: a.Span}
}

// lightAllowed refuses light in a mode's own conditions.
func (r *resolver) lightAllowed(sc scope, sp source.Span) bool {
	if !sc.use.inMode() && sc.use != useAssumption && sc.use != useStep {
		return true
	}
	d := r.errorf(source.LightNotHere, sp, "light, like any output, cannot stand in %s", sc.use)
	d.Notes = append(d.Notes, "modes do not see the light that they make; speak of the modes, inputs and bands that make it")
	return false
}
