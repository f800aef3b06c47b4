// Print: expressions. Counts of arbitrary parts, which the language has only
// for circuits and areas, are written out with "and" and "or".

package sitegen

import (
	"fmt"
	"strings"

	"lampwarden/lang/site"
)

// expr prints an expression as one operand.
func (p *printer) expr(e *site.Expr) string {
	switch e.Op {
	case site.OpTrue:
		return p.constant(true)
	case site.OpFalse:
		return p.constant(false)
	case site.OpNot:
		return "not " + p.expr(e.Kids[0])
	case site.OpAnd:
		return p.join(e.Kids, " and ", true)
	case site.OpOr:
		return p.join(e.Kids, " or ", false)
	case site.OpAtLeast:
		return p.atLeast(e.Kids, e.N)
	case site.OpAtMost:
		return "not " + p.atLeast(e.Kids, e.N+1)
	case site.OpWas:
		return "was (" + p.expr(e.Kids[0]) + ")"
	}
	return p.atom(e)
}

func (p *printer) join(kids []*site.Expr, word string, empty bool) string {
	if len(kids) == 0 {
		return p.constant(empty)
	}
	parts := make([]string, len(kids))
	for i, k := range kids {
		parts[i] = p.expr(k)
	}
	return "(" + strings.Join(parts, word) + ")"
}

// constant writes a tautology or a contradiction over something that the site
// has.
func (p *printer) constant(v bool) string {
	name := "nothing"
	for i := range p.s.Inputs {
		if !p.s.Inputs[i].Kind.IsEvent() {
			name = p.level(site.InputID(i))
			break
		}
	}
	if name == "nothing" && len(p.s.Modes) > 0 {
		name = "was (" + p.s.Modes[0].Name + ")"
	}
	word := map[bool]string{true: "or", false: "and"}[v]
	return fmt.Sprintf("(%s %s not %s)", name, word, name)
}

// atLeast writes "at least n of the kids" as a disjunction over the choices of
// n of them.
func (p *printer) atLeast(kids []*site.Expr, n int) string {
	if n <= 0 || n > len(kids) {
		return p.constant(n <= 0)
	}
	var terms []string
	var choose func(from int, picked []string)
	choose = func(from int, picked []string) {
		if len(picked) == n {
			terms = append(terms, "("+strings.Join(picked, " and ")+")")
			return
		}
		for i := from; i < len(kids); i++ {
			choose(i+1, append(picked[:len(picked):len(picked)], p.expr(kids[i])))
		}
	}
	choose(0, nil)
	return "(" + strings.Join(terms, " or ") + ")"
}

func (p *printer) level(id site.InputID) string {
	in := &p.s.Inputs[id]
	switch in.Kind {
	case site.Contact:
		return in.Name + " open"
	case site.SupplyHealth:
		return in.Name + " lost"
	}
	return in.Name
}

func (p *printer) atom(e *site.Expr) string {
	switch e.Op {
	case site.OpInput:
		return p.level(e.Input)
	case site.OpEvent:
		in := &p.s.Inputs[e.Input]
		if in.Kind == site.Bell {
			return in.Name + " rings"
		}
		return [...]string{"tap", "double tap", "triple tap", "long press"}[e.Gesture] + " " + in.Name
	case site.OpBand:
		return p.s.Bands[e.Band].Name
	case site.OpMode:
		return p.s.Modes[e.Mode].Name
	case site.OpState:
		m := &p.s.Modes[e.Mode]
		return m.Name + " in " + m.States[e.State].Name
	case site.OpStage:
		return fmt.Sprintf("%s in stage %d", p.s.Modes[e.Mode].Name, e.State+1)
	case site.OpLight:
		return p.s.Circuits[e.Circuit].Name + " " + lightRange(e.Lo, e.Hi)
	}
	return fmt.Sprintf("operator %d", e.Op)
}

func lightRange(lo, hi site.Level) string {
	switch {
	case hi == 0:
		return "off"
	case lo == hi:
		return "at " + percent(lo)
	case lo == 1 && hi == site.Full:
		return "lit"
	case hi == site.Full:
		return "at least " + percent(lo)
	case lo == 0:
		return "at most " + percent(hi)
	}
	return "between " + percent(lo) + " and " + percent(hi)
}
