// Questions: a requirement in parts, and modes left free.

package horn

import (
	"io"
	"slices"

	"lampwarden/lang/site"
)

// Question is one script to be written: a requirement, or a part of one, perhaps with modes left free.
type Question struct {
	Requirement site.Requirement
	// Free modes are not written out: at any time each may ask for any of its levels, or for none. That allows more than
	// the site does, so that only sat says something. A mode of which the requirement, or a mode that is not free, reads
	// more than that is written out all the same.
	Free []site.ModeID
	// Coarse lets resting levels of a circuit that moves count as one where the requirement does not tell them apart. Whether a
	// request is another one, and whether a movement has ended, is then left open between them; so again only sat says
	// something.
	Coarse bool
	// Loose lets a flash be on or off at any time, and drops the assumptions that changes are some time apart. Again only sat
	// says something.
	Loose bool
}

// Exact tells whether unsat says something, too.
func (q *Question) Exact() bool { return len(q.Free) == 0 && !q.Coarse && !q.Loose }

// Parts splits a requirement into questions. It holds (a possible one: it is impossible) if the script of each is sat,
// and it does not if that of one is unsat. Split are
//
//   - never P or Q, possible P or Q, P or Q only after: into those of P and of Q,
//   - always P and Q; whenever A then within D P and Q until C: into those of P and of Q. What is owed then is that each
//     moment from the deadline on has both, so that a moment at which it is broken lacks one.
//
// A "within D" without "until" is not split: P and Q have to be true at one moment.
func Parts(s *site.Site, requirement int) []Question {
	r := s.Requirements[requirement]
	one := func(set func(*site.Requirement, *site.Expr), xs []*site.Expr) (out []Question) {
		for _, x := range xs {
			q := Question{Requirement: r}
			set(&q.Requirement, x)
			out = append(out, q)
		}
		return out
	}
	setP := func(r *site.Requirement, x *site.Expr) { r.P = x }
	switch r.Form {
	case site.Never, site.Possible, site.OnlyAfter:
		return one(setP, pieces(r.P, site.OpOr, false))
	case site.Always:
		return one(setP, pieces(r.P, site.OpAnd, false))
	case site.Whenever:
		if r.Until != nil && r.E == 0 {
			return one(func(r *site.Requirement, x *site.Expr) { r.B = x }, pieces(r.B, site.OpAnd, false))
		}
	}
	return []Question{{Requirement: r}}
}

// pieces lists what a conjunction or disjunction, negated or not, is made of.
func pieces(x *site.Expr, op site.Op, negated bool) []*site.Expr {
	same := op
	if negated {
		same = site.OpAnd + site.OpOr - op
	}
	switch {
	case x.Op == site.OpNot:
		return pieces(x.Kids[0], op, !negated)
	case x.Op == same && len(x.Kids) > 0:
		var out []*site.Expr
		for _, k := range x.Kids {
			out = append(out, pieces(k, op, negated)...)
		}
		return out
	case negated:
		return []*site.Expr{{Op: site.OpNot, Kids: []*site.Expr{x}, Span: x.Span}}
	}
	return []*site.Expr{x}
}

// Write writes the Horn clauses of the question.
func (q *Question) Write(w io.Writer, s *site.Site) error {
	in := newSlice(s, q)
	if err := beyond(s, &q.Requirement, in); err != nil {
		return err
	}
	return encode(s, &q.Requirement, in).writeHorn(w)
}

// WriteUnrolled writes the question for a bounded number of steps.
func (q *Question) WriteUnrolled(w io.Writer, s *site.Site, steps int) error {
	in := newSlice(s, q)
	if err := beyond(s, &q.Requirement, in); err != nil {
		return err
	}
	return encode(s, &q.Requirement, in).writeUnrolled(w, steps)
}

// Guesses gives simpler questions, the simplest first, that may well be enough for sat: in which those modes are free that
// may not matter under the condition that holds whenever the requirement is broken. Any set is sound, so that nothing hangs
// on how good the guesses are.
func (q *Question) Guesses(s *site.Site) []Question {
	known := q.known()
	holds := func(x *site.Expr) bool {
		return slices.ContainsFunc(known, func(k *site.Expr) bool { return alike(k, x) })
	}
	fails := func(x *site.Expr) bool { return holds(&site.Expr{Op: site.OpNot, Kids: []*site.Expr{x}}) }
	in := newSlice(s, &Question{Requirement: q.Requirement})
	sure, settled := map[site.ModeID]bool{}, map[site.ModeID]bool{}
	for id := range in.asks {
		m := &s.Modes[id]
		sees := &site.Expr{Op: site.OpMode, Mode: id}
		on := m.Kind == site.While && m.OnDelay == 0 && m.Pulse == 0 && all(pieces(m.Cond, site.OpAnd, false), holds)
		off := m.Kind == site.While && m.OffDelay == 0 && some(pieces(m.Cond, site.OpAnd, false), fails)
		sure[id] = on || holds(sees)
		settled[id] = sure[id] || off || fails(sees)
	}
	var unsettled, outranked []site.ModeID
	for _, id := range sorted(in.asks) {
		if !settled[id] {
			unsettled = append(unsettled, id)
		}
		under := false
		for top := range sure {
			under = under || sure[top] && s.Precedence.Outranks(top, id)
		}
		if under && !settled[id] {
			outranked = append(outranked, id)
		}
	}
	free := [][]site.ModeID{unsettled}
	if len(outranked) > 0 && len(outranked) < len(unsettled) {
		free = append(free, outranked)
	}
	if len(unsettled) > 0 {
		free = append(free, nil)
	}
	var out []Question
	for _, ms := range free {
		for _, loose := range []bool{true, false} {
			out = append(out, Question{q.Requirement, ms, true, loose})
		}
	}
	return out
}

// known lists what is true whenever the requirement is broken, or about to be.
func (q *Question) known() []*site.Expr {
	r := &q.Requirement
	switch {
	case r.Form == site.Whenever && r.Until != nil:
		return pieces(r.Until, site.OpAnd, true) // not Until
	case r.P == nil || r.Form == site.Settles || r.Form == site.Always:
		return nil
	}
	return pieces(r.P, site.OpAnd, false)
}

func all(xs []*site.Expr, ok func(*site.Expr) bool) bool {
	return !slices.ContainsFunc(xs, func(x *site.Expr) bool { return !ok(x) })
}

func some(xs []*site.Expr, ok func(*site.Expr) bool) bool { return slices.ContainsFunc(xs, ok) }

// alike tells whether two conditions are the same, written the same way.
func alike(x, y *site.Expr) bool {
	for x.Op == site.OpNot && x.Kids[0].Op == site.OpNot {
		x = x.Kids[0].Kids[0]
	}
	for y.Op == site.OpNot && y.Kids[0].Op == site.OpNot {
		y = y.Kids[0].Kids[0]
	}
	return x.Op == y.Op && x.N == y.N && x.Input == y.Input && x.Gesture == y.Gesture && x.Band == y.Band && x.Mode == y.Mode &&
		x.State == y.State && x.Circuit == y.Circuit && x.Lo == y.Lo && x.Hi == y.Hi && x.Op != site.OpSum &&
		slices.EqualFunc(x.Kids, y.Kids, alike)
}
