// TARGETS: which circuits a setting speaks of.

package resolve

import (
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// targets lists the circuits, each once, in the order of the terms. A list
// that comes out empty without other reports is one of its own.
func (r *resolver) targets(sc scope, t *syntax.Targets) []site.CircuitID {
	ids, sure := r.terms(sc, t.Terms)
	out, sureOut := r.terms(sc, t.Except)
	sure = sure && sureOut && !r.unsure[kindCircuit]
	left := without(ids, out)
	if len(left) == 0 && sure {
		d := r.errorf(source.EmptySelection, t.Span, "this names no circuit at all")
		if len(ids) > 0 {
			d.Notes = append(d.Notes, "`except` takes out all of them")
		} else if sc.area >= 0 && sc.name != "" {
			d.Notes = append(d.Notes, "there is none for the area `"+r.site.Areas[sc.area].Name+"`")
		}
	}
	r.spend(len(left), t.Span)
	return left
}

func (r *resolver) terms(sc scope, terms []*syntax.Target) (ids []site.CircuitID, sure bool) {
	sure = true
	for _, t := range terms {
		var more []site.CircuitID
		ok := true
		switch {
		case t.All:
			more = r.lamps()
		case t.Places != nil:
			more, ok = r.circuitsAt(sc, t.Places, false)
		case t.Ref != nil:
			more, ok = r.circuitsOfRef(r.circuitOrGroup(sc, t.Ref.Name), t.Ref.Numbers)
		}
		ids = append(ids, more...)
		sure = sure && ok
	}
	return unique(ids), sure
}

// circuitOrGroup helps somebody who named an area.
func (r *resolver) circuitOrGroup(sc scope, id *syntax.Ident) *symbol {
	s := r.names[id.Name]
	if id.Name == sc.name || s != nil && s.kind == kindArea {
		d := r.errorf(source.WrongKind, id.Span, "`%s` is an area; a circuit or a group is wanted here", id.Name)
		d.Suggestion = "write `circuits in " + id.Name + "`"
		return nil
	}
	if s != nil && s.kind == kindOutput {
		return s
	}
	return r.find(id, kindCircuit, kindGroup)
}

// circuitsNamed lists the circuits of a circuit's, output's or group's symbol; nil has none.
func (r *resolver) circuitsNamed(s *symbol) []site.CircuitID {
	switch {
	case s == nil:
		return nil
	case s.kind == kindGroup:
		return r.site.Groups[s.id].Circuits
	}
	return []site.CircuitID{site.CircuitID(s.id)}
}

// circuitsAt lists the circuits in areas, in areas with a tag or, if groups are
// allowed, in groups. sure is false if something was reported.
func (r *resolver) circuitsAt(sc scope, p *syntax.Places, groups bool) (ids []site.CircuitID, sure bool) {
	if p.Tagged {
		areas, sure := r.taggedAreas(r.tagRefs(p.Names))
		for _, a := range areas {
			ids = append(ids, r.circuitsIn(a)...)
		}
		return unique(ids), sure
	}
	sure = true
	for _, ref := range p.Names {
		id := ref.Name
		if s := r.names[id.Name]; groups && s != nil && s.kind == kindGroup {
			more, ok := r.circuitsOfRef(s, ref.Numbers)
			ids = append(ids, more...)
			sure = sure && ok
			continue
		}
		if r.isTagOnly(sc, id) {
			d := r.errorf(source.UnknownName, id.Span, "there is no area named `%s`", id.Name)
			d.Suggestion = "`" + id.Name + "` is a tag: write `" + id.Name + " areas`"
			sure = false
			continue
		}
		a := r.areaRef(sc, ref)
		if a == poisonArea {
			sure = false
			continue
		}
		ids = append(ids, r.circuitsIn(a)...)
	}
	return unique(ids), sure
}

// isTagOnly tells that a name is no area but a tag that some area carries.
func (r *resolver) isTagOnly(sc scope, id *syntax.Ident) bool {
	return id.Name != sc.name && r.names[id.Name] == nil && r.tagKnown(id.Name)
}

// without returns ids less those in out, in a new slice.
func without(ids, out []site.CircuitID) []site.CircuitID {
	drop := make(map[site.CircuitID]bool, len(out))
	for _, id := range out {
		drop[id] = true
	}
	return slices.DeleteFunc(slices.Clone(ids), func(id site.CircuitID) bool { return drop[id] })
}
