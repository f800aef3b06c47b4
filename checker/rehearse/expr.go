// Expressions at a moment (lang/SEMANTICS.md section 4) and in a reaction (section 2).

package rehearse

import "lampwarden/lang/site"

// view is what an expression is read against: a state, the event that is true (nil: none), and the state before for
// OpWas. During a reaction the state is the one in the making: the modes that a mode may name have stepped already.
type view struct {
	plan   *plan
	now    *state
	event  *Event
	before *state
}

// was is the view of *before*, with no event true. OpWas inside OpWas reads *before* again: there is no earlier
// snapshot that a verdict may depend on, as a reaction without a change has no meaning.
func (v view) was() view { return view{plan: v.plan, now: v.before, before: v.before} }

// given is holds for a condition that is never true if it is not given: Dead, Cut, Down.
func (v view) given(e *site.Expr) bool { return e != nil && v.holds(e) }

// holds evaluates an expression; nil (no guard, no case condition) is true.
func (v view) holds(e *site.Expr) bool {
	if e == nil {
		return true
	}
	switch e.Op {
	case site.OpTrue:
		return true
	case site.OpFalse:
		return false
	case site.OpNot:
		return !v.holds(e.Kids[0])
	case site.OpAnd:
		return v.count(e.Kids) == len(e.Kids)
	case site.OpOr:
		return v.count(e.Kids) > 0
	case site.OpAtMost:
		return v.count(e.Kids) <= e.N
	case site.OpAtLeast:
		return v.count(e.Kids) >= e.N
	case site.OpInput:
		return v.now.inputs[e.Input]
	case site.OpEvent:
		return v.event != nil && v.event.Input == e.Input && v.event.Gesture == e.Gesture
	case site.OpBand:
		return v.now.bands[e.Band]
	case site.OpMode:
		return v.now.modes[e.Mode].active()
	case site.OpState:
		return v.now.modes[e.Mode].state == e.State
	case site.OpStage:
		m := v.now.modes[e.Mode]
		return m.active() && m.stage == e.State
	case site.OpWas:
		return v.was().holds(e.Kids[0])
	case site.OpLight:
		l := v.now.circuits[e.Circuit].level
		return e.Lo <= l && l <= e.Hi
	case site.OpSum:
		return v.sum(e) >= e.Need
	}
	return false
}

// sum adds weight times level: the levels at which the circuits are seen, else their present ones, each rounded to a
// resting level.
func (v view) sum(e *site.Expr) int64 {
	total := int64(0)
	for _, t := range e.Terms {
		l := v.now.circuits[t.Circuit].seen
		if !e.Seen {
			l = v.plan.rounded(t.Circuit, v.now.circuits[t.Circuit].level, e.Up)
		}
		total += t.Weight * int64(l)
	}
	return total
}

// count tells how many of the expressions are true.
func (v view) count(es []*site.Expr) int {
	n := 0
	for _, e := range es {
		if v.holds(e) {
			n++
		}
	}
	return n
}
