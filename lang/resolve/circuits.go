// Circuits and groups.

package resolve

import (
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// circuit fills the circuits of one declaration, which are alike but in name.
func (r *resolver) circuit(d *syntax.CircuitDecl) {
	c, t := r.circuitBody(d)
	var ids []site.CircuitID
	for i := r.at[d]; i < r.past[d]; i++ {
		ids = append(ids, site.CircuitID(i))
		to := &r.site.Circuits[i]
		c.Name, c.Span = to.Name, to.Span
		*to = c
	}
	r.companions(r.at[d], r.past[d], t)
	r.returnsAfter(d.Items, false, ids)
}

func (r *resolver) circuitBody(d *syntax.CircuitDecl) (site.Circuit, tint) {
	var t tint
	c := site.Circuit{Area: site.None, Min: 1, Max: site.Full, FedBy: site.None}
	if s := r.find(d.Area, kindArea); s != nil {
		c.Area = site.AreaID(s.id)
	} else {
		r.unsure[kindCircuit] = true
	}
	given := seen{}
	for _, it := range d.Items {
		r.circuitItem(&c, it, given)
		r.colourItem(&t, it, given)
	}
	at, fades := given["the fade"]
	if sp, ok := given["`switches`"]; ok && fades {
		e := r.errorf(source.ClauseConflict, at, "a switched circuit has no fade")
		relate(e, sp, "`switches` is given here")
	}
	return c, t
}

func (r *resolver) circuitItem(c *site.Circuit, it *syntax.CircuitItem, given seen) {
	switch {
	case it.Dims != nil && r.first(given, "`dims`", it.Span):
		r.notWith(given, "`switches`", "`dims`", it.Span)
		r.dims(c, it.Dims)
	case it.Switches && r.first(given, "`switches`", it.Span):
		r.notWith(given, "`dims`", "`switches`", it.Span)
		c.Switched = true
	case it.Power != nil && r.first(given, "the power", it.Span):
		c.Power = it.Power.Milliwatts
	case it.FedBy != nil && r.first(given, "`fed by`", it.Span):
		c.FedBy = r.feedNamed(it.FedBy)
	case it.Fade != nil && r.first(given, "the fade", it.Span):
		c.Fade = r.duration(it.Fade)
	case it.Adds != nil && r.first(given, "`adds`", it.Span):
		c.Adds, _ = r.lux(it.Adds)
	case it.Fail != nil && r.first(given, "the system failure level", it.Span):
		c.Fail = r.stands(it.Fail)
	case it.PowerOn != nil && r.first(given, "the power on level", it.Span):
		c.PowerOn = r.stands(it.PowerOn)
	case it.ReturnsAfter != nil:
		r.first(given, "`returns after`", it.Span) // taken by returnsAfter
	}
}

// notWith reports two properties that exclude each other.
func (r *resolver) notWith(given seen, other, this string, sp source.Span) {
	if at, ok := given[other]; ok {
		relate(r.errorf(source.ClauseConflict, sp, "%s and %s exclude each other", other, this), at, "%s is given here", other)
	}
}

// dims takes the range of a lit circuit, which starts above 0 %.
func (r *resolver) dims(c *site.Circuit, d *syntax.Dims) {
	if d.Min == nil || d.Max == nil {
		return
	}
	lo, okLo := r.percent(d.Min)
	hi, okHi := r.percent(d.Max)
	switch {
	case !okLo || !okHi:
	case lo <= 0:
		e := r.errorf(source.BadRange, d.Min.Span, "the least lit level is above 0 %%")
		e.Notes = append(e.Notes, "every circuit can be off; the range tells how dim it can be while lit")
	case hi < lo:
		e := r.errorf(source.BadRange, d.Span, "the range runs from more to less")
		e.Suggestion = "write `dims " + hi.String() + " to " + lo.String() + "`"
	default:
		c.Min, c.Max = lo, hi
	}
}

// groups fills all groups, whose members may be groups that stand later.
func (r *resolver) groups() {
	decls := map[int]*syntax.GroupDecl{}
	for _, d := range r.decls {
		if g, ok := d.(*syntax.GroupDecl); ok {
			decls[r.at[d]] = g
		}
	}
	g := groupWalk{r: r, decls: decls, state: make([]groupState, len(r.site.Groups))}
	for i := range r.rows {
		g.state[i] = groupDone
	}
	for i := range r.site.Groups {
		g.fill(i)
	}
}

type groupState uint8

const (
	groupNew groupState = iota
	groupOpen
	groupDone
)

// groupWalk fills groups depth first; path has the groups being filled.
type groupWalk struct {
	r     *resolver
	decls map[int]*syntax.GroupDecl
	state []groupState
	path  []*syntax.Ref
}

func (g *groupWalk) fill(i int) []site.CircuitID {
	group := &g.r.site.Groups[i]
	if g.state[i] == groupDone {
		return group.Circuits
	}
	g.state[i] = groupOpen
	var out []site.CircuitID
	listed := seen{}
	for _, ref := range g.decls[i].Members {
		s := g.r.find(ref.Name, kindCircuit, kindGroup)
		if s == nil || !g.r.notListedAs(listed, ref.Text(), ref.Span) {
			continue
		}
		g.path = append(g.path, ref)
		out = append(out, g.member(s, ref)...)
		g.path = g.path[:len(g.path)-1]
		if !g.r.spend(len(out), ref.Span) {
			break
		}
	}
	group.Circuits = unique(out)
	g.state[i] = groupDone
	return group.Circuits
}

func (g *groupWalk) member(s *symbol, ref *syntax.Ref) []site.CircuitID {
	if s.kind == kindCircuit || ref.Numbers != nil {
		ids, _ := g.r.circuitsOfRef(s, ref.Numbers)
		return ids
	}
	if g.state[s.id] == groupOpen {
		g.cycle(s)
		return nil
	}
	return g.fill(s.id)
}

// cycle reports a group that holds itself: the last on the path is the name
// that closes the circle.
func (g *groupWalk) cycle(s *symbol) {
	last := g.path[len(g.path)-1]
	from := 0
	for i, ref := range g.path[:len(g.path)-1] {
		if ref.Name.Name == s.name {
			from = i + 1
		}
	}
	e := g.r.errorf(source.GroupCycle, last.Span, "the group `%s` holds itself", s.name)
	for _, ref := range g.path[from:] {
		relate(e, ref.Span, "`%s` is listed here", ref.Text())
	}
}

// unique drops repeated circuits and keeps the order.
func unique(ids []site.CircuitID) []site.CircuitID {
	have := make(map[site.CircuitID]bool, len(ids))
	return slices.DeleteFunc(ids, func(id site.CircuitID) bool {
		old := have[id]
		have[id] = true
		return old
	})
}
