// Why a circuit has no current, or is out of the controller's reach, and what has changed when it is back.

package report

import (
	"fmt"
	"slices"
	"strings"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// feed names what a circuit is fed by, "" if that is not given.
func (t *teller) feed(c site.CircuitID) string {
	if id := t.s.Circuits[c].FedBy; id != site.None {
		return source.Escape(t.s.Supplies[id].Name)
	}
	return ""
}

// deadWhy says why the feed of a circuit is dead after a step: "supply mains is lost".
func (t *teller) deadWhy(tl *rehearse.Timeline, step int, c site.CircuitID) string {
	var words []string
	for _, e := range t.reasonsOf(tl, step, t.s.Circuits[c].Dead) {
		words = append(words, t.deadBy(tl, step, c, e))
	}
	if words = uniq(words); len(words) == 0 {
		return "it has no current"
	}
	return joined(words)
}

// backWhy says what has changed since the step before, so that a circuit has current again.
func (t *teller) backWhy(tl *rehearse.Timeline, step int, c site.CircuitID) string {
	var words []string
	if step > 0 {
		for _, e := range t.reasonsOf(tl, step-1, t.s.Circuits[c].Dead) {
			if !t.holdsAfter(tl, step, e) {
				words = append(words, t.backBy(c, e))
			}
		}
	}
	if words = uniq(words); len(words) == 0 {
		return "it has current again"
	}
	return joined(words)
}

// cutWhy says why a circuit is out of reach after a step.
func (t *teller) cutWhy(tl *rehearse.Timeline, step int, c site.CircuitID) string {
	if tl.Down(step) {
		return "the controller is down"
	}
	var words []string
	for _, e := range t.reasonsOf(tl, step, t.s.Circuits[c].Cut) {
		words = append(words, t.fails(e))
	}
	if words = uniq(words); len(words) == 0 {
		return "it cannot be controlled"
	}
	return joined(words)
}

// fails puts a failure that lasts into words: "the control bus is lost".
func (t *teller) fails(e *site.Expr) string {
	if e.Op != site.OpInput || t.s.Inputs[e.Input].Kind != site.Failure {
		return t.expr(e)
	}
	name := t.s.Inputs[e.Input].Name
	for end, word := range map[string]string{" lost": " is lost", " failed": " has failed", " down": " is down"} {
		if thing, ok := strings.CutSuffix(name, end); ok {
			if strings.Contains(thing, " ") || end == " down" {
				thing = "the " + thing
			}
			return source.Escape(thing) + word
		}
	}
	return source.Escape(name)
}

// reasonsOf lists the smallest parts of a condition that make it true after a step; none if it is not.
func (t *teller) reasonsOf(tl *rehearse.Timeline, step int, e *site.Expr) []*site.Expr {
	if e == nil || !t.holdsAfter(tl, step, e) {
		return nil
	}
	if e.Op != site.OpAnd && e.Op != site.OpOr {
		return []*site.Expr{e}
	}
	var out []*site.Expr
	for _, k := range e.Kids {
		out = append(out, t.reasonsOf(tl, step, k)...)
	}
	return out
}

// holdsAfter tells whether a condition holds after a step. Conditions of feeds read no lamps, so of several steps at one
// time the last counts.
func (t *teller) holdsAfter(tl *rehearse.Timeline, step int, e *site.Expr) bool {
	return rehearse.Holds(t.s, tl, e, tl.Steps[step].At)
}

// deadBy puts one part of a Dead condition into words.
func (t *teller) deadBy(tl *rehearse.Timeline, step int, c site.CircuitID, e *site.Expr) string {
	switch {
	case e.Op == site.OpInput:
		return t.deadByInput(c, e)
	case e.Op == site.OpNot && e.Kids[0].Op == site.OpMode:
		if g, ok := t.generator(e.Kids[0].Mode); ok {
			return "generator " + g + " does not run"
		}
	case e.Op == site.OpMode && t.returnsLate(e.Mode):
		m := &t.s.Modes[e.Mode]
		if tl.Mode(step, e.Mode).Phase == rehearse.Holding {
			return fmt.Sprintf("it returns only %s after its feed", m.OffDelay)
		}
		var words []string
		for _, k := range t.reasonsOf(tl, step, m.Cond) {
			words = append(words, t.deadBy(tl, step, c, k))
		}
		if len(words) > 0 {
			return joined(uniq(words))
		}
	}
	return t.expr(e)
}

func (t *teller) deadByInput(c site.CircuitID, e *site.Expr) string {
	id := e.Input
	in := &t.s.Inputs[id]
	switch in.Kind {
	case site.SupplyHealth:
		return "supply " + t.supplyOf(id) + " is lost"
	case site.Flatness:
		return "battery " + t.supplyOf(id) + " is flat"
	}
	if t.ownFailure(c, in) {
		return "it has failed"
	}
	return t.fails(e)
}

// backBy puts one part of a Dead condition that is over into words.
func (t *teller) backBy(c site.CircuitID, e *site.Expr) string {
	switch {
	case e.Op == site.OpInput && t.s.Inputs[e.Input].Kind == site.SupplyHealth:
		return "supply " + t.supplyOf(e.Input) + " is back"
	case e.Op == site.OpInput && t.s.Inputs[e.Input].Kind == site.Flatness:
		return "battery " + t.supplyOf(e.Input) + " is charged again"
	case e.Op == site.OpInput && t.ownFailure(c, &t.s.Inputs[e.Input]):
		return "it works again"
	case e.Op == site.OpNot && e.Kids[0].Op == site.OpMode:
		if g, ok := t.generator(e.Kids[0].Mode); ok {
			return "generator " + g + " feeds it"
		}
	case e.Op == site.OpMode && t.returnsLate(e.Mode):
		return fmt.Sprintf("its feed has been back for %s", t.s.Modes[e.Mode].OffDelay)
	}
	return "it has current again"
}

// ownFailure tells whether an input is the failure of the circuit itself.
func (t *teller) ownFailure(c site.CircuitID, in *site.Input) bool {
	return in.Kind == site.Failure && strings.HasPrefix(in.Name, t.s.Circuits[c].Name+" ")
}

// supplyOf names the supply of a health or flatness input.
func (t *teller) supplyOf(id site.InputID) string {
	in := &t.s.Inputs[id]
	for i := range t.s.Supplies {
		f := &t.s.Supplies[i]
		if in.Kind == site.SupplyHealth && !f.Battery && f.Health == id || in.Kind == site.Flatness && f.Battery && f.Flat == id {
			return source.Escape(f.Name)
		}
	}
	return source.Escape(in.Name)
}

// hung tells where circuits, all of one feed, are declared to be fed by it; nothing if that is in many places or they have
// none, or fail by themselves.
func (t *teller) hung(ids []site.CircuitID) []string {
	const most = 3
	var spans []source.Span
	lines := map[string]bool{}
	for _, id := range ids {
		spans = append(spans, t.s.Circuits[id].Span)
		lines[t.place(t.s.Circuits[id].Span)] = true
	}
	if len(lines) > most || t.at(spans...) == "" || t.feed(ids[0]) == "" {
		return nil
	}
	return []string{"fed by " + t.feed(ids[0]) + t.at(spans...)}
}

// uniq leaves each word once, in order.
func uniq(words []string) []string {
	var out []string
	for _, w := range words {
		if !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}
