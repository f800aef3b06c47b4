package site

import "lampwarden/lang/source"

// Op is the operator of an expression.
type Op uint8

// The operators. Quantifiers of the language are already expanded.
const (
	OpTrue Op = iota
	OpFalse
	OpNot     // Kids[0]
	OpAnd     // Kids
	OpOr      // Kids
	OpAtMost  // at most N of Kids are true
	OpAtLeast // at least N of Kids are true
	OpInput   // the level input is true
	OpEvent   // this reaction is caused by the event (Input, Gesture)
	OpBand    // the band holds
	OpMode    // the mode is active
	OpState   // the States mode is in state State
	OpStage   // the mode is active (any kind) and its sequence is in stage State (index from 0)
	OpWas     // Kids[0] as it was before this reaction (events false)
	OpLight   // Lo <= level of Circuit <= Hi; requirements only
	// OpSum: the sum of Terms is at least Need. With Seen it adds the levels that the sensors see (plant modes
	// only); else the present levels (requirements only), each counted as the next resting level of its circuit
	// (Site.Rests): the next higher if Up, else the next lower.
	OpSum
)

// Expr is a condition over the state of a site at a moment. It is a tree; no
// node is shared or changed after resolving.
type Expr struct {
	Op      Op
	Kids    []*Expr
	N       int
	Input   InputID
	Gesture Gesture
	Band    BandID
	Mode    ModeID
	State   int
	Circuit CircuitID
	Lo, Hi  Level // inclusive
	Terms   []Term
	Need    int64
	Up      bool
	Seen    bool
	// Label is how it was written, where it stands for more than its form tells: a report names it so. Else "".
	Label string
	Span  source.Span
}

// Term is a circuit's level (in hundredths of a per cent) times a weight of 0 or more.
type Term struct {
	Circuit CircuitID
	Weight  int64
}

// Walk calls f for e and every expression below it, parents first. A nil
// expression has no nodes.
func (e *Expr) Walk(f func(*Expr)) {
	if e == nil {
		return
	}
	f(e)
	for _, k := range e.Kids {
		k.Walk(f)
	}
}

// Modes returns the modes that e names outside OpWas, which are the ones a
// mode with this condition depends on.
func (e *Expr) Modes() []ModeID {
	var out []ModeID
	var walk func(*Expr)
	walk = func(x *Expr) {
		if x == nil || x.Op == OpWas {
			return
		}
		switch x.Op {
		case OpMode, OpState, OpStage:
			out = append(out, x.Mode)
		}
		for _, k := range x.Kids {
			walk(k)
		}
	}
	walk(e)
	return out
}
