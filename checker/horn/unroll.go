// Scripts of a bounded number of steps, without a predicate.

package horn

import (
	"bufio"
	"fmt"
	"io"
)

// writeUnrolled writes the runs of at most so many steps after start-up, and asks for one that breaks the requirement.
func (e *encoder) writeUnrolled(out io.Writer, steps int) error {
	w := script{bufio.NewWriter(out)}
	w.preface(e, "QF_LRA", fmt.Sprintf("%d steps after start-up can break the requirement (reach what is to be possible)", steps), "they can not")
	for i, c := range e.cells {
		w.comment("s0v%d, s1v%d, ... %s: %s", i, i, c.sort, c.about)
	}
	start := e.startClause()
	pre := e.named(w, 0, start.free, start.sorts, start.st)
	reached := start.ok
	bad := []term{e.and(reached, start.bad), e.ends(w, reached, pre)}
	for k := 1; k <= steps; k++ {
		clauses := e.stepClauses(pre)
		kind := e.anyOf(len(clauses))
		free, sorts := e.free, e.sorts
		e.free, e.sorts = nil, nil
		st, ok, breaks := clauses[0].st, clauses[0].ok, clauses[0].bad
		for i, c := range clauses {
			free, sorts = append(free, c.free...), append(sorts, c.sorts...)
			if i > 0 {
				st, ok, breaks = e.mixStates(kind[i], c.st, st), e.either(kind[i], c.ok, ok), e.either(kind[i], c.bad, breaks)
			}
		}
		pre = e.named(w, k, free, sorts, st)
		reached = e.and(reached, ok)
		bad = append(bad, e.and(reached, breaks), e.ends(w, reached, pre))
	}
	fmt.Fprintf(w, "(assert %s)\n(check-sat)\n", e.text(e.or(bad...)))
	return w.Flush()
}

// named declares the free variables of a step and names the state after it.
func (e *encoder) named(w script, k int, free []term, sorts []sort, st state) state {
	e.declare(w, free, sorts)
	out := e.variables(fmt.Sprintf("s%d", k))
	var same []term
	for i, c := range e.cells {
		fmt.Fprintf(w, "(declare-fun %s () %s)\n", e.nodes[out[i]].name, c.sort)
		if c.sort == isReal {
			same = append(same, e.eq(out[i], st[i]))
		} else {
			same = append(same, e.iff(out[i], st[i]))
		}
	}
	fmt.Fprintf(w, "(assert %s)\n", e.text(e.and(same...)))
	return out
}

func (e *encoder) declare(w script, free []term, sorts []sort) {
	for i, x := range free {
		fmt.Fprintf(w, "(declare-fun %s () %s)\n", e.nodes[x].name, sorts[i])
	}
}

// ends tells whether the requirement is broken while time passes after a step.
func (e *encoder) ends(w script, reached term, st state) term {
	c := e.endClause(st)
	e.declare(w, c.free, c.sorts)
	return e.and(reached, c.ok, c.bad)
}

func (e *encoder) mixStates(c term, x, y state) state {
	out := make(state, len(x))
	for i, info := range e.cells {
		if info.sort == isReal {
			out[i] = e.ite(c, x[i], y[i])
		} else {
			out[i] = e.either(c, x[i], y[i])
		}
	}
	return out
}
