// Print: expressions. Counts of arbitrary parts, which the language has only
// for circuits and areas, are written out with "and" and "or".

package sitegen

import (
	"fmt"
	"strings"

	"lampwarden/lang/site"
)

// expr prints an expression as one operand.
func (p *printer) expr(e *site.Expr) string { return p.operand(p.written(e)) }

func (p *printer) operand(e *site.Expr) string {
	switch e.Op {
	case site.OpNot:
		return "not " + p.operand(e.Kids[0])
	case site.OpAnd:
		return p.join(e, " and ")
	case site.OpOr:
		return p.join(e, " or ")
	case site.OpWas:
		return "was (" + p.operand(e.Kids[0]) + ")"
	}
	return p.atom(e)
}

// join prints the parts of a chain, those of a chain of the same kind inside it
// as its own.
func (p *printer) join(e *site.Expr, word string) string {
	var parts []string
	var add func(x *site.Expr)
	add = func(x *site.Expr) {
		if x.Op != e.Op {
			parts = append(parts, p.operand(x))
			return
		}
		for _, k := range x.Kids {
			add(k)
		}
	}
	add(e)
	if len(parts) == 1 {
		return parts[0]
	}
	return "(" + strings.Join(parts, word) + ")"
}

// written gives an expression of the same meaning with operators that the
// language has for any parts.
func (p *printer) written(e *site.Expr) *site.Expr {
	c := *e
	c.Kids = make([]*site.Expr, len(e.Kids))
	for i, k := range e.Kids {
		c.Kids[i] = p.written(k)
	}
	switch {
	case e.Op == site.OpTrue || e.Op == site.OpAnd && len(e.Kids) == 0:
		return p.constant(true)
	case e.Op == site.OpFalse || e.Op == site.OpOr && len(e.Kids) == 0:
		return p.constant(false)
	case (e.Op == site.OpAnd || e.Op == site.OpOr) && len(e.Kids) == 1:
		return c.Kids[0]
	case e.Op == site.OpAtLeast:
		return p.atLeast(c.Kids, e.N)
	case e.Op == site.OpAtMost:
		return opposite(p.atLeast(c.Kids, e.N+1))
	}
	return &c
}

func opposite(e *site.Expr) *site.Expr { return &site.Expr{Op: site.OpNot, Kids: []*site.Expr{e}} }

// constant writes a tautology or a contradiction over the first level input or
// mode; a site that has neither (one that was shrunk) has it in words.
func (p *printer) constant(v bool) *site.Expr {
	e := &site.Expr{Op: site.OpMode}
	if len(p.s.Modes) == 0 {
		e.Op = map[bool]site.Op{true: site.OpTrue, false: site.OpFalse}[v]
	}
	for i := range p.s.Inputs {
		if !p.s.Inputs[i].Kind.IsEvent() {
			e = &site.Expr{Op: site.OpInput, Input: site.InputID(i)}
			break
		}
	}
	if e.Op == site.OpTrue || e.Op == site.OpFalse {
		return e
	}
	op := map[bool]site.Op{true: site.OpOr, false: site.OpAnd}[v]
	return &site.Expr{Op: op, Kids: []*site.Expr{e, opposite(e)}}
}

// atLeast writes "at least n of the kids" as a disjunction over the choices of
// n of them.
func (p *printer) atLeast(kids []*site.Expr, n int) *site.Expr {
	if n <= 0 || n > len(kids) {
		return p.constant(n <= 0)
	}
	var terms []*site.Expr
	var choose func(from int, picked []*site.Expr)
	choose = func(from int, picked []*site.Expr) {
		if len(picked) == n {
			terms = append(terms, chain(site.OpAnd, picked))
			return
		}
		for i := from; i < len(kids); i++ {
			choose(i+1, append(picked[:len(picked):len(picked)], kids[i]))
		}
	}
	choose(0, nil)
	return chain(site.OpOr, terms)
}

// chain joins expressions; one alone stays as it is.
func chain(op site.Op, kids []*site.Expr) *site.Expr {
	if len(kids) == 1 {
		return kids[0]
	}
	return &site.Expr{Op: op, Kids: kids}
}

func (p *printer) level(id site.InputID) string {
	in := &p.s.Inputs[id]
	switch in.Kind {
	case site.Contact:
		return in.Name + " open"
	case site.SupplyHealth:
		return in.Name + " lost"
	case site.Flatness:
		return in.Name + " flat"
	}
	return in.Name
}

func (p *printer) atom(e *site.Expr) string {
	switch e.Op {
	case site.OpTrue:
		return "always"
	case site.OpFalse:
		return "never"
	case site.OpInput:
		return p.level(e.Input)
	case site.OpEvent:
		in := &p.s.Inputs[e.Input]
		if in.Kind == site.Bell {
			return in.Name + " rings"
		}
		return e.Gesture.String() + " " + in.Name
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
		if c := &p.s.Circuits[e.Circuit]; c.Output && e.Lo > 0 {
			return c.Name + " on"
		} else if c.Colour {
			return fmt.Sprintf("(%s between %s and %s)", c.Name, code(e.Lo), code(e.Hi))
		}
		return p.s.Circuits[e.Circuit].Name + " " + lightRange(e.Lo, e.Hi)
	}
	if e.Op == site.OpSum {
		return p.sum(e)
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
