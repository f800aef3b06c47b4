// Conditional slices: which setters of a circuit may be freed.

package machine

import (
	"slices"

	"lampwarden/lang/site"
)

// fact is an atom of a condition, by value.
type fact struct {
	op   site.Op
	a, b int
}

// facts are what is known at the moments that matter.
type facts map[fact]bool

func factOf(e *site.Expr) (fact, bool) {
	switch e.Op {
	case site.OpInput:
		return fact{e.Op, int(e.Input), 0}, true
	case site.OpBand:
		return fact{e.Op, int(e.Band), 0}, true
	case site.OpMode:
		return fact{e.Op, int(e.Mode), 0}, true
	case site.OpState, site.OpStage:
		return fact{e.Op, int(e.Mode), e.State}, true
	}
	return fact{}, false
}

// learn notes the literals among the given conditions.
func learn(given []*site.Expr) facts {
	k := facts{}
	for _, e := range given {
		v := true
		if e.Op == site.OpNot {
			e, v = e.Kids[0], false
		}
		if f, ok := factOf(e); ok {
			k[f] = v
		}
	}
	return k
}

// Three-valued truth.
const (
	no = iota - 1
	unknown
	yes
)

// value is Kleene's three-valued value of e under the facts.
func (k facts) value(e *site.Expr) int {
	switch e.Op {
	case site.OpTrue:
		return yes
	case site.OpFalse:
		return no
	case site.OpNot:
		return -k.value(e.Kids[0])
	case site.OpAnd:
		v := yes
		for _, x := range e.Kids {
			v = min(v, k.value(x))
		}
		return v
	case site.OpOr:
		v := no
		for _, x := range e.Kids {
			v = max(v, k.value(x))
		}
		return v
	}
	if f, ok := factOf(e); ok {
		if v, known := k[f]; known && v {
			return yes
		} else if known {
			return no
		}
	}
	return unknown
}

// asksSurely tells whether the mode is certainly active under the facts.
func (k facts) asksSurely(m *site.Mode, id site.ModeID) bool {
	if k[fact{site.OpMode, int(id), 0}] {
		return true
	}
	return m.Kind == site.While && m.OnDelay == 0 && m.Pulse == 0 && k.value(m.Cond) == yes
}

// Sure tells which modes are certainly active while the given conditions hold.
func Sure(s *site.Site, given []*site.Expr) []bool {
	k, sure := learn(given), make([]bool, len(s.Modes))
	for m := range s.Modes {
		sure[m] = len(k) > 0 && k.asksSurely(&s.Modes[m], site.ModeID(m))
	}
	return sure
}

// Conditional proposes which setters to free for a question whose error can only
// be reached while the given conditions hold: those outranked by a mode that is
// then certainly active. It returns nil if there is nothing to free on the
// circuits.
func Conditional(s *site.Site, setters [][]site.ModeID, given []*site.Expr) func(site.CircuitID, site.ModeID) bool {
	sure := Sure(s, given)
	if !slices.Contains(sure, true) {
		return nil
	}
	return func(c site.CircuitID, m site.ModeID) bool {
		return slices.ContainsFunc(setters[c], func(d site.ModeID) bool {
			return sure[d] && s.Precedence.Outranks(d, m)
		})
	}
}
