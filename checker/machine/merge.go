// Inputs that only count together.

package machine

import (
	"slices"
	"strconv"
	"strings"

	"lampwarden/lang/site"
)

// mergeInputs keeps one of each set of level inputs that the slice reads only as "any of them": wherever one stands, all
// stand side by side in one disjunction (or, negated, in one conjunction), no assumption speaks of any, and the observer counts
// the changes of all or of none as causes. The others
// then stay at rest, and nothing is lost: whatever a run does with all of them, one alone can do to their disjunction at
// the same times, with no more events. So a corridor that follows the presence of thirty rooms has one
// presence to explore, not two to the thirtieth.
func (c *closer) mergeInputs() {
	r := reader{places: map[site.InputID][]int{}}
	for _, e := range c.exprs {
		r.read(e, false, 0, 0)
	}
	first := map[string]site.InputID{}
	for i, kept := range c.Inputs {
		id := site.InputID(i)
		if in := &c.Site.Inputs[i]; !kept || in.Kind.IsEvent() || in.Kind == site.Calendar || c.assumed(id) || r.alone(id) {
			continue
		}
		key := r.key(id)
		if c.causes != nil && slices.Contains(c.causes.Inputs, id) {
			key += "cause" // its changes are heard of
		}
		if _, ok := first[key]; ok {
			c.Inputs[i], c.merged[i] = false, true
		} else {
			first[key] = id
		}
	}
}

// assumed tells whether an assumption, or what a requirement says of faults, speaks of the input.
func (c *closer) assumed(id site.InputID) bool {
	return slices.Contains(c.Faults, id) || slices.ContainsFunc(c.Site.Assumptions, func(a site.Assumption) bool {
		return slices.Contains(a.Inputs, id)
	})
}

// reader notes at which places each input stands. A place is a disjunction with the input as it is, or a conjunction with
// the input negated, nested ones counting as one; -1 is any other.
type reader struct {
	n      int
	places map[site.InputID][]int
}

// read goes through an expression, negated or not. or and and are the disjunction and the conjunction of which it is a part
// (after moving negations to the atoms), 0 if there is none.
func (r *reader) read(e *site.Expr, neg bool, or, and int) {
	if e == nil {
		return
	}
	inner := func(neg bool, or, and int) {
		for _, k := range e.Kids {
			r.read(k, neg, or, and)
		}
	}
	switch {
	case e.Op == site.OpNot:
		inner(!neg, or, and)
	case e.Op == site.OpOr && !neg, e.Op == site.OpAnd && neg:
		if or == 0 {
			r.n++
			or = r.n
		}
		inner(neg, or, 0)
	case e.Op == site.OpAnd, e.Op == site.OpOr:
		if and == 0 {
			r.n++
			and = r.n
		}
		inner(neg, 0, and)
	case e.Op == site.OpInput:
		place := -1
		if !neg && or > 0 {
			place = or
		} else if neg && and > 0 {
			place = and
		}
		r.places[e.Input] = append(r.places[e.Input], place)
	default:
		inner(false, 0, 0)
	}
}

// alone tells whether the input stands anywhere but in such places.
func (r *reader) alone(id site.InputID) bool {
	return len(r.places[id]) == 0 || slices.Contains(r.places[id], -1)
}

// key writes the places of an input.
func (r *reader) key(id site.InputID) string {
	ps := slices.Clone(r.places[id])
	slices.Sort(ps)
	var b strings.Builder
	for _, p := range slices.Compact(ps) {
		b.WriteString(strconv.Itoa(p))
		b.WriteByte(' ')
	}
	return b.String()
}
