// Joined areas: rooms that are one while a movable wall is open.
//
// While the condition of a join holds, presence in one of its areas is presence in any of them, through further joins
// too. So `presence in north` becomes: somebody is sensed in north, or the wall is open and somebody is sensed in south.

package resolve

import (
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// joint is a resolved `join` declaration.
type joint struct {
	decl  *syntax.JoinDecl
	areas []site.AreaID
}

// indexJoins finds the areas of the joins, once areas are known.
func (r *resolver) indexJoins() {
	r.joinsBy = map[site.AreaID][]int{}
	for _, d := range r.decls {
		d, ok := d.(*syntax.JoinDecl)
		if !ok {
			continue
		}
		j := joint{decl: d}
		listed := seen{}
		for _, id := range d.Areas {
			s := r.find(id, kindArea)
			if s == nil || !r.notListed(listed, id) {
				continue
			}
			j.areas = append(j.areas, site.AreaID(s.id))
			for a := site.AreaID(s.id); a != site.None && r.spend(1, id.Span); a = r.site.Areas[a].Parent {
				if on := r.joinsBy[a]; len(on) == 0 || on[len(on)-1] != len(r.joints) {
					r.joinsBy[a] = append(on, len(r.joints))
				}
			}
		}
		r.joints = append(r.joints, j)
	}
}

// checkJoins resolves every condition once for its own sake, as a join may never be asked for.
func (r *resolver) checkJoins() {
	for _, j := range r.joints {
		r.joinCondition(scope{mode: site.None, area: site.None}, j)
		sees := func(a site.AreaID) bool { return len(r.presenceIn(a)) > 0 }
		if len(j.areas) == len(j.decl.Areas) && !slices.ContainsFunc(j.areas, sees) && !r.unsure[kindInput] {
			d := r.errorf(source.NoPresence, j.decl.Span, "none of these areas has a presence input, so joining them changes nothing")
			d.Suggestion = "declare one: `presence NAME in " + j.decl.Areas[0].Name + "`"
		}
	}
}

// joinCondition resolves a join's condition for use in the condition of a scope. In it presence in an area is that of
// the area itself.
func (r *resolver) joinCondition(sc scope, j joint) *site.Expr {
	return r.expr(scope{use: useJoin, mode: sc.mode, area: site.None, alone: true}, j.decl.While)
}

// sensed tells whether presence in the area can be known at all.
func (r *resolver) sensed(a site.AreaID) bool {
	seen := map[int]bool{}
	todo := []site.AreaID{a}
	for len(todo) > 0 {
		b := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if len(r.presenceIn(b)) > 0 {
			return true
		}
		for _, j := range r.joinsBy[b] {
			if !seen[j] {
				seen[j] = true
				todo = append(todo, r.joints[j].areas...)
			}
		}
	}
	return false
}

// occupied is true while somebody is in the area, or in one that is joined with it. It gives nil if nothing tells.
func (r *resolver) occupied(sc scope, a site.AreaID, sp source.Span) *site.Expr {
	if !sc.alone && sc.use != useStep && sc.use != useAssumption {
		return r.occupiedBut(sc, a, nil, sp)
	}
	if inputs := r.presenceIn(a); len(inputs) > 0 {
		return r.anyInput(inputs, sp)
	}
	return nil
}

// occupiedBut is occupied without the joins on the way to the area.
func (r *resolver) occupiedBut(sc scope, a site.AreaID, way []int, sp source.Span) *site.Expr {
	var parts []*site.Expr
	if inputs := r.presenceIn(a); len(inputs) > 0 {
		parts = append(parts, r.anyInput(inputs, sp))
	}
	for _, j := range r.joinsBy[a] {
		if slices.Contains(way, j) {
			continue
		}
		if !r.spend(1+len(way)+len(r.joints[j].areas), sp) {
			return poison(sp)
		}
		var there []*site.Expr
		for _, b := range r.joints[j].areas {
			if r.site.Within(b, a) {
				continue
			}
			if e := r.occupiedBut(sc, b, append(slices.Clone(way), j), sp); e != nil {
				there = append(there, e)
			}
		}
		if len(there) > 0 {
			kids := []*site.Expr{r.joinCondition(sc, r.joints[j]), join(site.OpOr, there, sp)}
			parts = append(parts, join(site.OpAnd, kids, sp))
		}
	}
	if len(parts) == 0 {
		return nil
	}
	return join(site.OpOr, parts, sp)
}
