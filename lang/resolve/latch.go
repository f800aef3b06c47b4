// Alarms that their panel latches: `alarm fire latched until tap panel_reset`.
//
// Such an alarm is an input, what the detectors sense, and a mode of the plant that starts when they do and ends when the
// reset is given while they sense nothing. Conditions that say `fire` mean the mode, `fire sensed` is the input.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// latch is a latched alarm; the mode is None until somebody asks for it.
type latch struct {
	input site.InputID
	decl  *syntax.InputDecl
	mode  site.ModeID
}

// panelMode gives the mode of a latched alarm its place.
func (r *resolver) panelMode(i int) site.ModeID {
	l := &r.latches[i]
	if l.mode == site.None {
		in := &r.site.Inputs[l.input]
		l.mode = r.addMode(site.Mode{Name: in.Name + " latched", Kind: site.Latch, Plant: true, Hidden: true, Span: in.Span})
	}
	return l.mode
}

// latchModes fills the modes of all latched alarms.
func (r *resolver) latchModes() {
	for i := range r.latches {
		l := r.latches[i]
		if l.decl.Kind != "alarm" {
			d := r.errorf(source.WrongWord, l.decl.Latched.Span, "only an alarm is latched; `%s` is %s",
				r.site.Inputs[l.input].Name, r.describe(&symbol{kind: kindInput, id: int(l.input)}))
			d.Suggestion = "remember it in a mode: `mode NAME { starts on ...  ends on ... }`"
			continue
		}
		id := r.panelMode(i)
		reset := r.expr(scope{use: useReset, mode: id, area: site.None, alone: true, alarm: l.input + 1}, l.decl.Latched)
		sp := r.site.Inputs[l.input].Span
		sensed := func() *site.Expr { return r.sensedExpr(l.input, sp) }
		m := &r.site.Modes[id]
		m.Starts = []site.Trigger{{On: sensed(), Span: sp}}
		m.Ends = []site.Trigger{{On: &site.Expr{Op: site.OpAnd, Kids: []*site.Expr{reset, not(sensed(), sp)}, Span: reset.Span}, Span: reset.Span}}
	}
}

// sensedExpr is true while the detectors of an alarm sense what they are for.
func (r *resolver) sensedExpr(id site.InputID, sp source.Span) *site.Expr {
	e := &site.Expr{Op: site.OpInput, Input: id, Span: sp}
	if _, latched := r.latchOf[id]; latched {
		e.Label = r.site.Inputs[id].Name + " sensed"
	}
	return e
}

// alarmAtom is an alarm, as its panel shows it or as its detectors sense it. Assumptions and the steps of scenarios are
// about the detectors.
func (r *resolver) alarmAtom(sc scope, a *syntax.NameAtom, s *symbol, id site.InputID) *site.Expr {
	i, latched := r.latchOf[id]
	raw := !latched || a.State == "sensed" || sc.use == useStep || sc.use == useAssumption
	switch a.State {
	case "", "raised", "clear", "sensed":
	default:
		return r.wrongWord(a, s, valueWords(site.Alarm))
	}
	if !raw && sc.alarm == id+1 {
		d := r.errorf(source.WrongWord, a.Span, "`%s` is latched until this very condition", s.name)
		d.Suggestion = "write `" + s.name + " sensed` for what the detectors sense"
		return poison(a.Span)
	}
	e := r.sensedExpr(id, a.Span)
	if !raw {
		e = r.modeExpr(sc, r.panelMode(i), a.Span)
		e.Label = s.name
	}
	if a.State == "clear" {
		return not(e, a.Span)
	}
	return e
}
