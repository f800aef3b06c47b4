// Scripts of Horn clauses.

package horn

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"lampwarden/lang/site"
)

// clause is one kind of step: its free variables, the condition on them, the state after it, and when it breaks the
// requirement.
type clause struct {
	about string
	free  []term
	sorts []sort
	ok    term
	st    state // nil: none, only bad counts
	bad   term
}

// take ends a clause: the free variables made since the last one are its own.
func (e *encoder) take(about string, ok term, st state, bad term) clause {
	c := clause{about: about, free: e.free, sorts: e.sorts, ok: ok, st: st, bad: bad}
	e.free, e.sorts = nil, nil
	return c
}

// startClause is start-up.
func (e *encoder) startClause() clause {
	o := e.start()
	bad := e.watched(e.initial(), o, no, true)
	return e.take("start-up", o.ok, o.st, bad)
}

// stepClauses are the ways on from a state.
func (e *encoder) stepClauses(pre state) []clause {
	o := e.react(pre)
	bad := e.watched(pre, o, o.d, false)
	out := []clause{e.take("a reaction after a delay", o.ok, o.st, bad)}
	for _, id := range sorted(e.lamps) {
		if l := e.lamps[id]; l.moves {
			o := e.move(pre, l)
			bad := e.watched(pre, o, o.d, false)
			out = append(out, e.take("a move of circuit "+l.c.Name+" after a delay", o.ok, o.st, bad))
		}
	}
	return out
}

// endClause is time that passes and breaks the requirement.
func (e *encoder) endClause(pre state) clause {
	d, ok := e.delay(pre, false)
	bad := e.watch.broken(e, pre, d)
	return e.take("broken while time passes", ok, nil, bad)
}

// watched lets the observer see the moments of a step: the instant, if the requirement reads events, and the one
// after it.
func (e *encoder) watched(pre state, o outcome, d term, first bool) (bad term) {
	events := false
	for _, x := range conditions(e.r) {
		events = events || eventful(x)
	}
	over := func(c cell) term {
		if first {
			return no
		}
		return e.lt(pre[c], d)
	}
	now := &view{st: o.st}
	m := &moment{first: first, was: &view{st: pre}, now: now, cause: o.cause, over: over}
	if !events || o.event == nil {
		return e.watch.moment(e, o.st, m)
	}
	m.now = &view{st: o.st, event: o.event}
	bad = e.watch.moment(e, o.st, m)
	m.first, m.was, m.now = false, m.now, now
	return e.or(bad, e.watch.moment(e, o.st, m))
}

// conditions lists what a requirement reads.
func conditions(r *site.Requirement) []*site.Expr {
	return []*site.Expr{r.P, r.A, r.B, r.Until, r.Q, r.Since}
}

// variables gives a state of variables named like the cells.
func (e *encoder) variables(prefix string) state {
	st := make(state, len(e.cells))
	for i, c := range e.cells {
		st[i] = e.variable(prefix + c.name)
	}
	return st
}

// script writes to a buffer; a name in a comment can not end it.
type script struct{ *bufio.Writer }

func (w script) comment(format string, args ...any) {
	text := strconv.QuoteToASCII(fmt.Sprintf(format, args...))
	fmt.Fprintf(w, "; %s\n", text[1:len(text)-1])
}

// preface says what the script is about.
func (w script) preface(e *encoder, logic, sat, unsat string) {
	w.comment("site %s", e.s.Name)
	w.comment("requirement %s", e.r.Name)
	w.comment("sat: %s; unsat: %s", sat, unsat)
	for _, m := range sorted(e.in.free) {
		w.comment("mode %s is left free, so that only sat says something", e.s.Modes[m].Name)
	}
	if e.in.coarse {
		w.comment("levels that the requirement does not tell apart are one, so that only sat says something")
	}
	if e.in.loose {
		w.comment("flashes have no rhythm and changes need not be apart, so that only sat says something")
	}
	w.comment("one unit of time is %d ms", e.unit)
	fmt.Fprintf(w, "(set-logic %s)\n", logic)
}

// writeHorn writes the script of one question.
func (e *encoder) writeHorn(out io.Writer) error {
	w := script{bufio.NewWriter(out)}
	w.preface(e, "HORN", "the requirement can not be broken (a possible one: it is impossible)", "it can be (it is possible)")
	var sorts []string
	for i, c := range e.cells {
		w.comment("v%d %s: %s", i, c.sort, c.about)
		sorts = append(sorts, c.sort.String())
	}
	fmt.Fprintf(w, "(declare-fun Reach (%s) Bool)\n", strings.Join(sorts, " "))
	pre := e.variables("")
	e.horn(w, e.startClause(), nil)
	for _, c := range e.stepClauses(pre) {
		e.horn(w, c, pre)
	}
	e.horn(w, e.endClause(pre), pre)
	fmt.Fprintln(w, "(check-sat)")
	return w.Flush()
}

// horn writes a step as a clause, and another one if the requirement can be broken by it.
func (e *encoder) horn(w script, c clause, pre state) {
	w.comment("%s", c.about)
	var vars []string
	body := c.ok
	if pre != nil {
		for i, x := range pre {
			vars = append(vars, fmt.Sprintf("(%s %s)", e.nodes[x].name, e.cells[i].sort))
		}
		body = e.and(e.reach(pre), body)
	}
	for i, x := range c.free {
		vars = append(vars, fmt.Sprintf("(%s %s)", e.nodes[x].name, c.sorts[i]))
	}
	// One graph for the whole clause, so that "let" shares what its parts have in common.
	write := func(body, head term) {
		switch text := e.text(e.add(node{op: opImplies, kids: []term{body, head}})); {
		case body == no:
		case len(vars) == 0:
			fmt.Fprintf(w, "(assert %s)\n", text)
		default:
			fmt.Fprintf(w, "(assert (forall (%s)\n %s))\n", strings.Join(vars, " "), text)
		}
	}
	if c.st != nil {
		write(body, e.reach(c.st))
	}
	write(e.and(body, c.bad), no)
}

// reach says that a state can be reached.
func (e *encoder) reach(st state) term {
	if len(st) == 0 {
		return e.variable("Reach")
	}
	return e.add(node{op: opReach, kids: st})
}
