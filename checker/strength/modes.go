// Mutants of when modes are active.

package strength

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lampwarden/lang/site"
)

// mode makes the mutants of one mode.
func (b *builder) mode(id site.ModeID) {
	m := &b.s.Modes[id]
	name := cmp.Or(m.Template, m.Name)
	at := func(kind Kind, number, text string) *maker {
		k := b.rule(kind, m.Span, number, name+": "+text)
		return b.ofMode(k, id)
	}
	b.presence(id, at)
	timer := func(what string, d site.Millis, set func(*site.Mode, site.Millis)) {
		if d > 0 {
			at(TimerRule, what, what+" "+d.String()).span(d, "none", func(s *site.Site, d site.Millis) { set(&s.Modes[id], d) })
		}
	}
	timer("on delay", m.OnDelay, func(m *site.Mode, d site.Millis) { m.OnDelay = d })
	timer("off delay", m.OffDelay, func(m *site.Mode, d site.Millis) { m.OffDelay = d })
	timer("pulse", m.Pulse, func(m *site.Mode, d site.Millis) { m.Pulse = d })
	timer("for", m.For, func(m *site.Mode, d site.Millis) { m.For = d })
	for i := range m.Starts {
		b.trigger(id, "starts "+b.triggerText(&m.Starts[i]), &m.Starts[i], len(m.Starts) > 1,
			func(s *site.Site) *site.Trigger { return &s.Modes[id].Starts[i] },
			func(s *site.Site) { s.Modes[id].Starts = slices.Delete(s.Modes[id].Starts, i, i+1) })
	}
	for i := range m.Ends {
		b.trigger(id, "ends "+b.triggerText(&m.Ends[i]), &m.Ends[i], true,
			func(s *site.Site) *site.Trigger { return &s.Modes[id].Ends[i] },
			func(s *site.Site) { s.Modes[id].Ends = slices.Delete(s.Modes[id].Ends, i, i+1) })
	}
	for i := range m.Transitions {
		b.transition(id, i)
	}
	for i := range m.States {
		for j := range m.States[i].Stages {
			b.stage(id, i, j)
		}
	}
}

// ofMode fills in what all mutants of a mode's rules have in common.
func (b *builder) ofMode(k *maker, id site.ModeID) *maker {
	m := &b.s.Modes[id]
	if m.Area != site.None {
		k.where = b.s.Areas[m.Area].Name
	}
	k.safety = b.counts(id, b.sets[id])
	if d := b.s.Controller.Down; d != nil && d.Op == site.OpMode && d.Mode == id && b.held() {
		k.safety = NoSafety
	}
	k.touches = touch{modes: []site.ModeID{id}}
	if b.unseen[id] {
		k.same = "nothing reads this mode, and it asks for nothing"
	}
	return k
}

// presence makes the mutants of the mode as a whole: that it is not there at all, and its condition.
func (b *builder) presence(id site.ModeID, at func(Kind, string, string) *maker) {
	m := &b.s.Modes[id]
	if m.Hidden && m.Kind == site.While && m.OnDelay == 0 {
		return // a delayed return: only its time was written
	}
	text := "the mode"
	if m.Kind == site.While {
		text = "while " + b.s.ExprText(m.Cond)
	}
	k := at(ModeRule, "", text)
	k.add("the mode left out", "", func(s *site.Site) {
		m := &s.Modes[id]
		switch m.Kind {
		case site.While:
			m.Cond = &site.Expr{Op: site.OpFalse, Span: m.Cond.Span}
		case site.Latch:
			m.Starts = nil
		case site.States:
			m.Transitions = nil
		}
	})
	if m.Kind != site.While || m.Hidden {
		return
	}
	k.add("while not ("+b.s.ExprText(m.Cond)+")", "", func(s *site.Site) { s.Modes[id].Cond = negated(m.Cond) })
	if m.Cond.Op != site.OpAnd && m.Cond.Op != site.OpOr || m.Cond.Label != "" || len(m.Cond.Kids) < 2 {
		return
	}
	for i := range m.Cond.Kids {
		k.add("without \""+b.s.ExprText(m.Cond.Kids[i])+"\"", "", func(s *site.Site) { s.Modes[id].Cond = without(m.Cond, i) })
	}
}

// trigger makes the mutants of a start or an end. of finds it in a site, drop takes it out; that is not tried if droppable
// is false, because it would be another mutant once more.
func (b *builder) trigger(id site.ModeID, text string, t *site.Trigger, droppable bool, of func(*site.Site) *site.Trigger, drop func(*site.Site)) {
	m := &b.s.Modes[id]
	sp := t.Span
	if sp.IsZero() {
		sp = m.Span
	}
	k := b.ofMode(b.rule(TriggerRule, sp, text, cmp.Or(m.Template, m.Name)+": "+text), id)
	if m.Plant && strings.HasPrefix(text, "ends") {
		k.safety = NoSafety // an alarm that lasts longer takes no light away
	}
	if droppable {
		k.add("left out", "", drop)
	}
	b.guard(k, t, of)
}

// guard makes the mutants of a trigger's own parts: its guard, and its time of day.
func (b *builder) guard(k *maker, t *site.Trigger, of func(*site.Site) *site.Trigger) {
	if t.If != nil {
		text := b.s.ExprText(t.If)
		k.add("without \"if "+text+"\"", "", func(s *site.Site) { of(s).If = nil })
		k.add("if not ("+text+")", "", func(s *site.Site) { of(s).If = negated(t.If) })
	}
	switch {
	case t.Sun != nil:
		later := *t.Sun
		later.Offset += anHour
		k.add("an hour later", "", func(s *site.Site) { of(s).Sun = &later })
	case t.On == nil:
		k.add("an hour later", "", func(s *site.Site) { of(s).At = (t.At + anHour) % site.Day })
	}
}

// anHour is by how much clock times and the ends of bands are shifted.
const anHour site.Millis = 3_600_000

// transition makes the mutants of a transition of a states mode.
func (b *builder) transition(id site.ModeID, i int) {
	m := &b.s.Modes[id]
	t := &m.Transitions[i]
	from := "any state"
	if t.From != site.None {
		from = m.States[t.From].Name
	}
	byTime := t.After > 0
	text := "after " + t.After.String()
	if !byTime {
		text = b.triggerText(&t.Trigger)
	}
	text = fmt.Sprintf("%s: %s -> %s", text, from, m.States[t.To].Name)
	k := b.ofMode(b.rule(TriggerRule, t.Span, strconv.Itoa(i), m.Name+": "+text), id)
	k.add("left out", "", func(s *site.Site) { s.Modes[id].Transitions = slices.Delete(s.Modes[id].Transitions, i, i+1) })
	of := func(s *site.Site) *site.Trigger { return &s.Modes[id].Transitions[i].Trigger }
	if !byTime {
		b.guard(k, &t.Trigger, of)
		return
	}
	k.span(t.After, "", func(s *site.Site, d site.Millis) { s.Modes[id].Transitions[i].After = d })
	if t.Trigger.If != nil {
		k.add("without its guard", "", func(s *site.Site) { of(s).If = nil })
	}
}

func negated(e *site.Expr) *site.Expr {
	if e.Op == site.OpNot {
		return e.Kids[0]
	}
	return &site.Expr{Op: site.OpNot, Kids: []*site.Expr{e}, Span: e.Span}
}

// without gives a conjunction or disjunction without one of its parts.
func without(e *site.Expr, i int) *site.Expr {
	kids := slices.Delete(slices.Clone(e.Kids), i, i+1)
	if len(kids) == 1 {
		return kids[0]
	}
	return &site.Expr{Op: e.Op, Kids: kids, Span: e.Span}
}
