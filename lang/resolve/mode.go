// Modes: their kind, their clauses, and the instances of templates.

package resolve

import (
	"fmt"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// modeDecl is a declared mode or template with what others need to know of it
// before its body is resolved.
type modeDecl struct {
	decl   *syntax.ModeDecl
	first  site.ModeID   // of its one mode, or of its instances
	areas  []site.AreaID // of a template's instances
	states []*syntax.Ident
	index  map[string]int // states by name, the first of a name
	stages []int          // of the longest sequence of each instance
	unsure bool           // the areas depend on a broken declaration
}

func newModeDecl(d *syntax.ModeDecl) *modeDecl {
	m := &modeDecl{decl: d, index: map[string]int{}}
	for _, c := range d.Clauses {
		if c.States != nil && m.states == nil {
			m.states = c.States.Names
		}
	}
	for i, id := range m.states {
		if _, ok := m.index[id.Name]; !ok {
			m.index[id.Name] = i
		}
	}
	return m
}

func (m *modeDecl) stateIndex(name string) int {
	if i, ok := m.index[name]; ok {
		return i
	}
	return site.None
}

func (m *modeDecl) stateNames() []string {
	out := make([]string, len(m.states))
	for i, id := range m.states {
		out[i] = id.Name
	}
	return out
}

// all lists the mode itself, or all instances of the template.
func (m *modeDecl) all() []site.ModeID {
	if m.decl.Each == nil {
		return []site.ModeID{m.first}
	}
	out := make([]site.ModeID, len(m.areas))
	for i := range out {
		out[i] = m.first + site.ModeID(i)
	}
	return out
}

func stageNote(n int) string {
	switch n {
	case 0:
		return "it asks for nothing, so it has no stages"
	case 1:
		return "it has one stage"
	}
	return fmt.Sprintf("its stages are 1 to %d", n)
}

// expandTemplates gives every mode and instance its id and name.
func (r *resolver) expandTemplates() {
	for _, m := range r.modes {
		m.first = site.ModeID(len(r.site.Modes))
		name := m.decl.Name
		if m.decl.Each == nil {
			r.site.Modes = append(r.site.Modes, site.Mode{Name: name.Name, Area: site.None, Span: name.Span})
			continue
		}
		m.areas = r.eachArea(m.decl.Each)
		m.unsure = r.unsure[kindArea] || r.unsure[kindInput] || r.unsure[kindSensor]
		for _, a := range m.areas {
			r.site.Modes = append(r.site.Modes, site.Mode{Name: name.Name + " in " + r.site.Areas[a].Name,
				Template: name.Name, Area: a, Span: name.Span})
		}
	}
	if n := len(r.site.Modes); n > maxModes {
		r.errorf(source.SiteTooLarge, r.site.Modes[maxModes].Span, "the site has %d modes; the limit is %d", n, maxModes)
	}
	r.growDeps()
	r.countStages()
}

// modeBodies resolves every body, that of a template once for each area, or
// once with a poison area if it has none.
func (r *resolver) modeBodies() {
	for _, m := range r.modes {
		for i, id := range m.all() {
			sc := scope{mode: id, area: site.None}
			if m.decl.Each != nil {
				sc.name, sc.area = m.decl.Each.Var.Name, m.areas[i]
			}
			out := r.site.Modes[id]
			r.modeBody(sc, m, &out)
			r.site.Modes[id] = out // the table may have grown meanwhile
			if r.spent > maxItems {
				return
			}
		}
		if m.decl.Each != nil && len(m.areas) == 0 {
			sc := scope{mode: site.None, name: m.decl.Each.Var.Name, area: poisonArea}
			r.modeBody(sc, m, &site.Mode{})
		}
	}
}

// clauses are a mode's clauses by kind.
type clauses struct {
	while   []*syntax.ModeClause
	dimmers []*syntax.ModeClause
	starts  []*syntax.ModeClause // starts on ..., at TIME
	ends    []*syntax.ModeClause
	lengths []*syntax.ModeClause // for D
	states  []*syntax.ModeClause
	changes []*syntax.ModeClause // transitions, by the clock too
	ins     []*syntax.ModeClause // in STATE: ...
	asks    []*syntax.ModeClause
}

func sortClauses(d *syntax.ModeDecl) clauses {
	var p clauses
	for _, c := range d.Clauses {
		list := &p.asks
		switch {
		case c.While != nil:
			list = &p.while
		case c.Dimmer != nil:
			list = &p.dimmers
		case c.Starts != nil, c.At != nil && c.At.Arrows == nil:
			list = &p.starts
		case c.Ends != nil:
			list = &p.ends
		case c.For != nil:
			list = &p.lengths
		case c.States != nil:
			list = &p.states
		case c.Change != nil, c.At != nil:
			list = &p.changes
		case c.In != nil:
			list = &p.ins
		}
		*list = append(*list, c)
	}
	return p
}

func (r *resolver) modeBody(sc scope, m *modeDecl, out *site.Mode) {
	p := sortClauses(m.decl)
	switch {
	case len(p.dimmers) > 0:
		r.refuse("a dimmer", p.dimmers[0], p.while, p.starts, p.ends, p.lengths, p.states, p.ins, p.asks)
		r.single("`dimmer`", p.dimmers)
		r.dimmerMode(sc, m, out)
		return
	case len(p.states) > 0:
		r.refuse("a mode with states", p.states[0], p.while, p.starts, p.ends, p.lengths, p.asks)
		r.single("`states`", p.states)
		r.statesMode(sc, m, p, out)
		return
	case len(p.while) > 0:
		r.refuse("a `while` mode", p.while[0], p.starts, p.ends, p.lengths, p.changes, p.ins)
		r.single("`while`", p.while)
		r.whileMode(sc, p.while[0].While, out)
	case len(p.starts) > 0:
		r.refuse("a mode that starts and ends", p.starts[0], p.changes, p.ins)
		r.latchMode(sc, p, out)
	default:
		d := r.errorf(source.ModeNeverStarts, m.decl.Name.Span, "the mode `%s` can never become active", m.decl.Name.Name)
		d.Suggestion = "say when, with `while ...`, `starts on ...`, `at TIME`, `states ...` or `dimmer ...`"
	}
	r.single("what the mode asks for", p.asks)
	state := site.State{Span: m.decl.Name.Span}
	if len(p.asks) > 0 {
		state.Stages = r.asks(sc, p.asks[0].Asks)
	}
	out.States = []site.State{state}
}

// refuse reports clauses that do not belong to the kind of mode that the main
// clause makes.
func (r *resolver) refuse(what string, main *syntax.ModeClause, lists ...[]*syntax.ModeClause) {
	for _, list := range lists {
		for _, c := range list {
			d := r.errorf(source.ClauseConflict, c.Span, "this clause does not belong in %s", what)
			relate(d, main.Span, "this makes it one")
			if c.Asks != nil && main.States != nil {
				d.Suggestion = "say it for each state: `in STATE: ...`"
			}
		}
	}
}

// single reports all but the first of clauses that stand once.
func (r *resolver) single(what string, list []*syntax.ModeClause) {
	for i, c := range list {
		if i > 0 {
			relate(r.errorf(source.DuplicateClause, c.Span, "%s is given twice", what), list[0].Span, "first given here")
		}
	}
}

func (r *resolver) whileMode(sc scope, w *syntax.WhileClause, out *site.Mode) {
	out.Kind = site.While
	out.Cond = r.expr(sc.as(useWhile), w.Cond)
	given := seen{}
	for _, d := range w.Delays {
		what := map[string]string{"on": "the on delay", "off": "the off delay", "pulse": "the pulse"}[d.Kind]
		if !r.first(given, what, d.Span) {
			continue
		}
		length := r.duration(d.D)
		switch d.Kind {
		case "on":
			out.OnDelay = length
		case "off":
			out.OffDelay = length
		case "pulse":
			out.Pulse = length
		}
	}
	if at, ok := given["the pulse"]; ok && len(given) > 1 {
		r.errorf(source.ClauseConflict, at, "a pulse has no on delay and no off delay")
	}
}

func (r *resolver) latchMode(sc scope, p clauses, out *site.Mode) {
	out.Kind = site.Latch
	for _, c := range p.starts {
		if c.At != nil {
			out.Starts = append(out.Starts, r.clockTrigger(sc, c.At.At, c.At.Days, c.At.If, c.At.Span))
			continue
		}
		out.Starts = append(out.Starts, r.triggers(sc, c.Starts.Triggers)...)
	}
	for _, c := range p.ends {
		out.Ends = append(out.Ends, r.triggers(sc, c.Ends.Triggers)...)
	}
	r.single("the length", p.lengths)
	if len(p.lengths) > 0 {
		out.For = r.duration(p.lengths[0].For)
	}
}

func (r *resolver) triggers(sc scope, list []*syntax.Trigger) []site.Trigger {
	var out []site.Trigger
	for _, t := range list {
		if t.At != nil {
			out = append(out, r.clockTrigger(sc, t.At, t.Days, t.If, t.Span))
			continue
		}
		out = append(out, r.causeTrigger(sc, t.On, t.If, t.Span))
	}
	return out
}

func (r *resolver) clockTrigger(sc scope, at *syntax.DayTime, days *syntax.Days, guard *syntax.Expr, sp source.Span) site.Trigger {
	t, sun, _ := r.dayTime(at)
	on, rule := r.daysOf(days)
	return site.Trigger{At: t, Sun: sun, Days: on, If: also(r.guard(sc, guard), r.onHoliday(rule, sp)), Span: sp}
}

func (r *resolver) causeTrigger(sc scope, on, guard *syntax.Expr, sp source.Span) site.Trigger {
	return site.Trigger{On: r.expr(sc.as(useTrigger), on), If: r.guard(sc, guard), Span: sp}
}

func (r *resolver) guard(sc scope, e *syntax.Expr) *site.Expr {
	if e == nil {
		return nil
	}
	return r.expr(sc.as(useGuard), e)
}
