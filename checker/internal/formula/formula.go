// Package formula evaluates formulas of linear temporal logic, with bounds of time and operators of the past, on finite
// timed traces. Tests use it to hold the requirement forms of the language against the formulas of the published
// catalogues; it shares nothing with what it is held against, and imports none of our packages.
//
// A trace is a list of moments, each with a time and the atoms that are true. Between two moments nothing changes. The
// operators are those of the usual logic over moments (Pnueli 1977; Koymans 1990 for the bounds):
//
//	a U[<=d] b   b at some moment from now on, at most d from now; a at every moment before it
//	a S[<=d] b   the same into the past: b was, and a ever since
//	Y a          a at the moment before; false at the first
//	C n [<d] a   a at n moments or more from now on, nearer than d (a counting modality, Hirshfeld and Rabinovich)
//
// and, derived from them, F, G, W ("weak until": U, or a for ever), O (once), H (so far always) and "up a" (a rises:
// a & !Y a). "last" is true at the last of the moments that have one time.
//
// Where a trace ends, more could follow. So a formula has three views (Eisner, Fisman, Havlicek, Lustig, McIsaac,
// Van Campenhout, Reasoning with temporal logic on truncated paths, 2003): Weak is true unless the trace up to here is
// against it whatever follows, Strong is true only if it is for it whatever follows, Neutral takes the trace as all there
// is. Negation swaps weak and strong. A requirement is broken by a trace if its formula is false in the weak view.
//
// Time is dense, moments are not: a formula that must hold between two moments has to be asked there. Trace.Dense adds the
// moments at which that makes a difference.
package formula

// Formula is a node of a formula.
type Formula struct {
	op   op
	atom string
	kids []*Formula
	in   Bound
	n    int
}

type op uint8

const (
	constant op = iota // atom "true" or "false"
	atom
	last
	not
	and
	or
	until
	since
	yesterday
	count
)

// Bound is an interval of distances in time, from Lo to Hi, the ends left out if they are open. Hi < 0: no upper end.
type Bound struct {
	Lo, Hi         int64
	LoOpen, HiOpen bool
}

// always is the bound that is none.
var always = Bound{Hi: -1}

// has tells whether a distance is in the interval.
func (b Bound) has(d int64) bool {
	return (d > b.Lo || d == b.Lo && !b.LoOpen) && (b.Hi < 0 || d < b.Hi || d == b.Hi && !b.HiOpen)
}

// over tells whether, a distance of d from now being all that is known, nothing more can come within the interval.
func (b Bound) over(d int64) bool { return b.Hi >= 0 && d >= b.Hi }

func truth() *Formula               { return &Formula{op: constant, atom: "true"} }
func negation(a *Formula) *Formula  { return &Formula{op: not, kids: []*Formula{a}} }
func both(a, b *Formula) *Formula   { return &Formula{op: and, kids: []*Formula{a, b}} }
func either(a, b *Formula) *Formula { return &Formula{op: or, kids: []*Formula{a, b}} }
func untilIn(in Bound, a, b *Formula) *Formula {
	return &Formula{op: until, in: in, kids: []*Formula{a, b}}
}
func sinceIn(in Bound, a, b *Formula) *Formula {
	return &Formula{op: since, in: in, kids: []*Formula{a, b}}
}
func before(a *Formula) *Formula { return &Formula{op: yesterday, kids: []*Formula{a}} }

// eventually is F, globally G.
func eventually(in Bound, a *Formula) *Formula { return untilIn(in, truth(), a) }
func globally(in Bound, a *Formula) *Formula   { return negation(eventually(in, negation(a))) }

// once is O, soFar H.
func once(in Bound, a *Formula) *Formula  { return sinceIn(in, truth(), a) }
func soFar(in Bound, a *Formula) *Formula { return negation(once(in, negation(a))) }

// weakUntil is W, by its definition: a for ever, or a until b.
func weakUntil(in Bound, a, b *Formula) *Formula { return either(untilIn(in, a, b), globally(in, a)) }

// rise is "up a".
func rise(a *Formula) *Formula { return both(a, negation(before(a))) }
