// Areas that lie in other areas.
//
// What is said of an area is said of the areas in it too: its circuits and its presence inputs are its own and theirs,
// and its tags are also theirs. Only where areas are counted, and in `for each area ... with presence` or `with circuits`,
// an area stands for itself alone, so that one person in a corner does not make two areas occupied.

package resolve

import (
	"slices"
	"strings"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// parentOf gives the area that those of a declaration lie in, or None.
func (r *resolver) parentOf(d *syntax.AreaDecl) site.AreaID {
	if d.In == nil {
		return site.None
	}
	s := r.find(d.In, kindArea)
	if s == nil { // it may have been meant to have what is missed elsewhere
		r.unsure[kindArea], r.unsure[kindCircuit], r.unsure[kindInput] = true, true, true
		return site.None
	}
	for i := range d.Names {
		r.inArea[site.AreaID(r.at[d]+i)] = d.In.Span
	}
	return site.AreaID(s.id)
}

// nestAreas refuses areas that lie in themselves and hands tags inwards.
func (r *resolver) nestAreas() {
	areas := r.site.Areas
	state := make([]groupState, len(areas))
	var enter func(a site.AreaID, path []site.AreaID)
	enter = func(a site.AreaID, path []site.AreaID) {
		if state[a] == groupDone {
			return
		}
		state[a] = groupOpen
		path = append(path, a)
		parent := areas[a].Parent
		switch {
		case parent != site.None && state[parent] == groupOpen:
			r.areaCycle(path[slices.Index(path, parent):])
			areas[a].Parent = site.None
		case parent != site.None:
			enter(parent, path)
			for _, t := range areas[parent].Tags {
				if !areas[a].HasTag(t) && r.spend(1, areas[a].Span) {
					areas[a].Tags = append(areas[a].Tags, t)
				}
			}
		}
		state[a] = groupDone
	}
	for i := range areas {
		enter(site.AreaID(i), nil)
	}
}

// areaCycle reports areas each of which lies in the next, and the last in the first.
func (r *resolver) areaCycle(path []site.AreaID) {
	var names []string
	for _, a := range append(path, path[0]) {
		names = append(names, "`"+r.site.Areas[a].Name+"`")
	}
	d := r.errorf(source.AreaCycle, r.inArea[path[len(path)-1]], "an area lies in itself: %s", strings.Join(names, " in "))
	for _, a := range path[:len(path)-1] {
		relate(d, r.inArea[a], "%s is put in another area here", "`"+r.site.Areas[a].Name+"`")
	}
}

// chosenAreas lists the areas with one of the tags that lie in one of the areas; none of either mean all.
func (r *resolver) chosenAreas(sc scope, tags, in []*syntax.Ident) (out []site.AreaID, sure bool) {
	out, sure = r.taggedAreas(tags)
	if len(in) == 0 {
		return out, sure
	}
	around := map[site.AreaID]bool{}
	for _, id := range in {
		a := r.areaNamed(sc, id)
		around[a] = true
		sure = sure && a != poisonArea
	}
	if !r.spend(len(r.site.Areas), in[0].Span) {
		return nil, false
	}
	lies := r.insideOf(around)
	inside := slices.DeleteFunc(out, func(a site.AreaID) bool { return !lies[a] })
	if len(inside) == 0 && sure {
		r.errorf(source.EmptySelection, in[0].Span.To(in[len(in)-1].Span), "no such area lies in it")
		sure = false
	}
	return inside, sure
}

// insideOf tells of each area whether it lies in one of the given ones.
func (r *resolver) insideOf(around map[site.AreaID]bool) []bool {
	lies := make([]bool, len(r.site.Areas))
	known := make([]bool, len(r.site.Areas))
	for i := range lies {
		var path []site.AreaID
		a, is := site.AreaID(i), false
		for a != site.None && !known[a] {
			path = append(path, a)
			a = r.site.Areas[a].Parent
		}
		if a != site.None {
			is = lies[a] || around[a]
		}
		for k := len(path) - 1; k >= 0; k-- {
			lies[path[k]], known[path[k]] = is, true
			is = is || around[path[k]]
		}
	}
	return lies
}

// ownPresence lists the presence inputs of an area itself.
func (r *resolver) ownPresence(a site.AreaID) []site.InputID {
	var out []site.InputID
	for _, in := range r.presenceIn(a) {
		if r.site.Inputs[in].Area == a {
			out = append(out, in)
		}
	}
	return out
}

// ownCircuits lists the circuits of an area itself.
func (r *resolver) ownCircuits(a site.AreaID) []site.CircuitID {
	var out []site.CircuitID
	for _, c := range r.circuitsIn(a) {
		if r.site.Circuits[c].Area == a {
			out = append(out, c)
		}
	}
	return out
}

// countable leaves out the areas of which only areas in them have what the state is read from: those count there.
func (r *resolver) countable(areas []site.AreaID, state string) []site.AreaID {
	return slices.DeleteFunc(areas, func(a site.AreaID) bool {
		if state == "lit" || state == "dark" {
			return len(r.circuitsIn(a)) > 0 && len(r.ownCircuits(a)) == 0
		}
		return len(r.presenceIn(a)) > 0 && len(r.ownPresence(a)) == 0
	})
}

// areaIs gives the condition that an area is in a state: lit when a circuit in it is lit and dark otherwise, occupied
// when a presence input is true and vacant otherwise. With alone, areas in it and areas joined with it do not matter.
func (r *resolver) areaIs(sc scope, a site.AreaID, state string, alone bool, sp source.Span) *site.Expr {
	if state == "lit" || state == "dark" {
		circuits := r.circuitsIn(a)
		if alone {
			circuits = r.ownCircuits(a)
		}
		if state == "lit" {
			return r.overCircuits(site.OpOr, circuits, lit(), sp)
		}
		return r.overCircuits(site.OpAnd, circuits, dark(), sp)
	}
	var occupied *site.Expr
	if alone {
		occupied = r.anyInput(r.ownPresence(a), sp)
	} else if occupied = r.occupied(sc, a, sp); occupied == nil {
		occupied = r.anyInput(nil, sp)
	}
	if state == "vacant" {
		return not(occupied, sp)
	}
	return occupied
}

// anyInput is true while one of the inputs is.
func (r *resolver) anyInput(inputs []site.InputID, sp source.Span) *site.Expr {
	if !r.spend(len(inputs), sp) {
		return poison(sp)
	}
	kids := make([]*site.Expr, len(inputs))
	for i, in := range inputs {
		kids[i] = &site.Expr{Op: site.OpInput, Input: in, Span: sp}
	}
	return &site.Expr{Op: site.OpOr, Kids: kids, Span: sp}
}
