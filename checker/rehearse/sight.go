// What can surely be said of lamps on their way: expressions with three values (for scenario.go).

package rehearse

import "lampwarden/lang/site"

// sure is what can be said of an expression while lamps are on their way.
type sure uint8

const (
	no sure = iota
	maybe
	yes
)

// levels is an interval of levels.
type levels struct{ lo, hi site.Level }

// with widens the interval to a level.
func (l levels) with(x site.Level) levels { return levels{min(l.lo, x), max(l.hi, x)} }

// sight is where each lamp may be at the present step, whatever its way.
type sight struct {
	at     []levels // at the step's moments
	onward []levels // in the time after them
}

func newSight(s *site.Site) *sight {
	return &sight{at: make([]levels, len(s.Circuits)), onward: make([]levels, len(s.Circuits))}
}

// step moves on to step i.
func (g *sight) step(tl *Timeline, i int) {
	before, after := tl.before(i), tl.Steps[i].state
	for c := range after.circuits {
		b, a := before.circuits[c], after.circuits[c]
		g.at[c] = g.onward[c] // wherever it has come
		if b.moving && b.due == tl.Steps[i].At {
			g.at[c] = levels{b.aim, b.aim} // it has arrived
		}
		if b.dead && !a.dead {
			g.at[c] = levels{a.level, a.level} // its power on level, or dark
		}
		g.onward[c] = g.at[c].with(a.aim)
		if !a.moving {
			g.at[c] = levels{a.level, a.level}
			g.onward[c] = g.at[c]
		}
	}
}

// surely evaluates with three values; onTheWay takes the time after the step, not its moments.
func (g *sight) surely(e *site.Expr, v view, onTheWay bool) sure {
	switch e.Op {
	case site.OpNot:
		return yes - g.surely(e.Kids[0], v, onTheWay)
	case site.OpAnd, site.OpOr, site.OpAtMost, site.OpAtLeast:
		return g.counted(e, v, onTheWay)
	case site.OpLight:
		l := g.at[e.Circuit]
		if onTheWay {
			l = g.onward[e.Circuit]
		}
		switch {
		case e.Lo <= l.lo && l.hi <= e.Hi:
			return yes
		case l.hi < e.Lo || l.lo > e.Hi:
			return no
		}
		return maybe
	case site.OpSum:
		if !e.Seen { // what is seen hangs on the aims alone, which are known
			return g.sum(e, v.plan, onTheWay)
		}
	}
	if v.holds(e) {
		return yes
	}
	return no
}

// sum is the three-valued sum of present levels: rounding keeps their order, so the ends of the intervals decide.
func (g *sight) sum(e *site.Expr, p *plan, onTheWay bool) sure {
	least, most := int64(0), int64(0)
	for _, t := range e.Terms {
		l := g.at[t.Circuit]
		if onTheWay {
			l = g.onward[t.Circuit]
		}
		least += t.Weight * int64(p.rounded(t.Circuit, l.lo, e.Up))
		most += t.Weight * int64(p.rounded(t.Circuit, l.hi, e.Up))
	}
	switch {
	case least >= e.Need:
		return yes
	case most < e.Need:
		return no
	}
	return maybe
}

// counted is the three-valued "and", "or", "at most", "at least".
func (g *sight) counted(e *site.Expr, v view, onTheWay bool) sure {
	certain, possible := 0, 0
	for _, k := range e.Kids {
		switch g.surely(k, v, onTheWay) {
		case yes:
			certain++
			possible++
		case maybe:
			possible++
		}
	}
	least := map[site.Op]int{site.OpAnd: len(e.Kids), site.OpOr: 1, site.OpAtLeast: e.N}
	if e.Op == site.OpAtMost {
		return yes - atLeast(certain, possible, e.N+1)
	}
	return atLeast(certain, possible, least[e.Op])
}

// atLeast is "at least n" of things of which some are certainly and some possibly true.
func atLeast(certain, possible, n int) sure {
	switch {
	case certain >= n:
		return yes
	case possible < n:
		return no
	}
	return maybe
}

// doubts lists the parts of an expression that keep it from being surely true.
func (g *sight) doubts(e *site.Expr, v view, onTheWay bool) []*site.Expr {
	wanted := yes
	switch e.Op {
	case site.OpAnd, site.OpOr, site.OpAtLeast:
	case site.OpAtMost:
		wanted = no
	default:
		return []*site.Expr{e}
	}
	var out []*site.Expr
	for _, k := range e.Kids {
		if g.surely(k, v, onTheWay) == wanted {
			continue
		}
		if wanted == no {
			out = append(out, k)
		} else {
			out = append(out, g.doubts(k, v, onTheWay)...)
		}
	}
	if len(out) == 0 {
		return []*site.Expr{e}
	}
	return out
}
