// Modes with states of their own.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

func (r *resolver) statesMode(sc scope, m *modeDecl, p clauses, out *site.Mode) {
	out.Kind = site.States
	for i, id := range m.states {
		if at := m.index[id.Name]; at != i {
			d := r.errorf(source.DuplicateName, id.Span, "the state `%s` is named twice", id.Name)
			relate(d, m.states[at].Span, "first named here")
		}
		out.States = append(out.States, site.State{Name: id.Name, Span: id.Span})
	}
	sure := true
	for _, c := range p.changes {
		list, ok := r.transitions(sc, m, c)
		out.Transitions = append(out.Transitions, list...)
		sure = sure && ok
	}
	given := seen{}
	for _, c := range p.ins {
		i := r.stateNamed(m, c.In.State)
		if i < 0 || !r.first(given, "what `"+c.In.State.Name+"` asks for", c.Span) {
			continue
		}
		out.States[i].Stages = r.asks(sc, c.In.Asks)
	}
	if sure {
		r.reachStates(m, out)
	}
}

// transitions resolves one clause, which has a transition for each arrow. ok is
// false if a state was not found.
func (r *resolver) transitions(sc scope, m *modeDecl, c *syntax.ModeClause) (out []site.Transition, ok bool) {
	head, arrows := r.transitionHead(sc, c)
	from, ok := site.None, true
	sp := arrows.Span
	if arrows.From != nil {
		from = r.stateNamed(m, arrows.From.Ident())
		ok = from >= 0
		sp = arrows.From.Span
	}
	for i, ref := range arrows.To {
		to := r.stateNamed(m, ref.Ident())
		ok = ok && to >= 0
		t := head
		t.From, t.To, t.Span = from, to, sp.To(ref.Span)
		if i > 0 { // no condition is shared between transitions
			t.Trigger.On, t.Trigger.If = clone(head.Trigger.On), clone(head.Trigger.If)
		}
		out = append(out, t)
		from, sp = to, ref.Span
	}
	return out, ok
}

// transitionHead resolves what makes the transitions of a clause.
func (r *resolver) transitionHead(sc scope, c *syntax.ModeClause) (head site.Transition, arrows *syntax.Arrows) {
	head.From = site.None
	switch {
	case c.At != nil:
		arrows = c.At.Arrows
		head.Trigger = r.clockTrigger(sc, c.At.At, c.At.Days, c.At.If, c.At.At.Span)
	case c.Change.After != nil:
		arrows = c.Change.Arrows
		head.After = r.duration(c.Change.After)
		head.Trigger = site.Trigger{If: r.guard(sc, c.Change.If), Span: c.Change.After.Span}
	default:
		arrows = c.Change.Arrows
		head.Trigger = r.causeTrigger(sc, c.Change.On, c.Change.If, c.Change.On.Span)
	}
	return head, arrows
}

// clone copies a condition, so that no node stands in two places.
func clone(e *site.Expr) *site.Expr {
	if e == nil {
		return nil
	}
	c := *e
	c.Kids = nil
	for _, k := range e.Kids {
		c.Kids = append(c.Kids, clone(k))
	}
	return &c
}

// reachStates reports states that no chain of transitions leads to from the
// first state.
func (r *resolver) reachStates(m *modeDecl, out *site.Mode) {
	reached := make([]bool, len(out.States))
	reached[0] = true
	for again := true; again; {
		again = false
		for _, t := range out.Transitions {
			if t.To >= 0 && !reached[t.To] && (t.From == site.None || reached[t.From]) {
				reached[t.To], again = true, true
			}
		}
	}
	for i, ok := range reached {
		if ok || m.index[out.States[i].Name] != i {
			continue
		}
		d := r.errorf(source.UnreachableState, out.States[i].Span, "no transition leads to the state `%s`", out.States[i].Name)
		d.Suggestion = "write one, such as `on TRIGGER: " + out.States[0].Name + " -> " + out.States[i].Name + "`"
	}
}
