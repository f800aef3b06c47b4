// Rows: circuits that share a name and have a number each, as `spot[1]` to `spot[16]`.
//
// A row is also a group of all its circuits, so that its name alone may stand wherever a group's may.

package resolve

import (
	"fmt"
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// maxRow bounds the circuits of one row.
const maxRow = 10_000

// row is what a group that is a row knows of its numbers.
type row struct {
	first  site.CircuitID // of the least number
	lo, hi int
}

// declareCircuits enters the circuits of one name of a declaration.
func (r *resolver) declareCircuits(ref *syntax.Ref) {
	s := r.site
	if ref.Numbers == nil {
		s.Circuits = append(s.Circuits, newCircuit(ref.Name.Name, ref.Name.Span))
		r.declare(ref.Name, kindCircuit, len(s.Circuits)-1)
		return
	}
	lo, hi, ok := r.rowNumbers(ref)
	if !ok {
		r.names[ref.Name.Name] = &symbol{name: ref.Name.Name, kind: kindBroken, span: ref.Name.Span}
		r.unsure[kindCircuit] = true
		return
	}
	x := row{first: site.CircuitID(len(s.Circuits)), lo: lo, hi: hi}
	var ids []site.CircuitID
	for n := lo; n <= hi; n++ {
		ids = append(ids, site.CircuitID(len(s.Circuits)))
		s.Circuits = append(s.Circuits, newCircuit(fmt.Sprintf("%s[%d]", ref.Name.Name, n), ref.Span))
	}
	r.rows[len(s.Groups)] = x
	s.Groups = append(s.Groups, site.Group{Name: ref.Name.Name, Circuits: ids, Span: ref.Name.Span})
	r.declare(ref.Name, kindGroup, len(s.Groups)-1)
}

func newCircuit(name string, sp source.Span) site.Circuit {
	return site.Circuit{Name: name, Area: site.None, FedBy: site.None, Span: sp}
}

// rowNumbers gives the first and the last number of a row that is being declared.
func (r *resolver) rowNumbers(ref *syntax.Ref) (lo, hi int, ok bool) {
	n := ref.Numbers
	if n.To == nil {
		d := r.errorf(source.BadRange, n.Span, "a row of circuits is declared with its first and its last number")
		if n.From.Name == "" {
			d.Suggestion = fmt.Sprintf("write `%s[1..%s]`", ref.Name.Name, n.From.Raw)
		}
		return 0, 0, false
	}
	lo, okLo := r.earlyCount(n.From)
	hi, okHi := r.earlyCount(n.To)
	switch {
	case !okLo || !okHi:
		return 0, 0, false
	case hi < lo:
		d := r.errorf(source.BadRange, n.Span, "a row of circuits is declared from its least number to its greatest")
		d.Suggestion = fmt.Sprintf("write `%s[%d..%d]`", ref.Name.Name, hi, lo)
		return 0, 0, false
	case hi-lo >= maxRow:
		r.errorf(source.SiteTooLarge, n.Span, "a row has at most %d circuits", maxRow)
		return 0, 0, false
	}
	return lo, hi, r.spend(hi-lo+1, n.Span)
}

// earlyCount takes a number while names are still being declared, when a constant may be one that stands later. What
// is wrong with it is reported when all names are known.
func (r *resolver) earlyCount(n *syntax.Int) (int, bool) {
	if n.Name == "" {
		return n.Value, true
	}
	if l := r.literals[n.Name]; l != nil && l.Int != nil {
		return l.Int.Value, true
	}
	r.late = append(r.late, n)
	return 0, false
}

// lateCounts reports the numbers that were no constants of the right kind.
func (r *resolver) lateCounts() {
	for _, n := range r.late {
		r.count(n)
	}
}

// gatherLiterals notes what the constants of the files stand for, the first of a name.
func (r *resolver) gatherLiterals(files []*syntax.File) {
	for _, f := range files {
		for _, d := range f.Decls {
			if d, ok := d.(*syntax.ConstantDecl); ok && r.literals[d.Name.Name] == nil {
				r.literals[d.Name.Name] = d.Value
			}
		}
	}
}

// circuitsOfRef lists the circuits of a symbol that was found for a name, less those that the numbers leave out, in the
// order of the numbers. ok is false if it was reported.
func (r *resolver) circuitsOfRef(s *symbol, n *syntax.Numbers) (ids []site.CircuitID, ok bool) {
	if s == nil {
		return nil, false
	}
	all := r.circuitsNamed(s)
	if n == nil {
		return all, true
	}
	x, isRow := r.rows[s.id]
	if s.kind != kindGroup || !isRow {
		r.noNumbers(s, n)
		return nil, false
	}
	from, ok := r.numberOf(s, x, n.From)
	to := from
	if n.To != nil {
		var okTo bool
		to, okTo = r.numberOf(s, x, n.To)
		ok = ok && okTo
	}
	if !ok {
		return nil, false
	}
	ids = slices.Clone(all[min(from, to)-x.lo : max(from, to)-x.lo+1])
	if from > to {
		slices.Reverse(ids)
	}
	return ids, true
}

// noNumbers reports numbers after a name that has none.
func (r *resolver) noNumbers(s *symbol, n *syntax.Numbers) {
	d := r.errorf(source.WrongKind, n.Span, "`%s` is %s; only a row of circuits has numbers", s.name, r.describe(s))
	relate(d, s.span, "declared here")
}

// numberOf takes a number of the row.
func (r *resolver) numberOf(s *symbol, x row, n *syntax.Int) (int, bool) {
	v, ok := r.count(n)
	if !ok {
		return 0, false
	}
	if v < x.lo || v > x.hi {
		d := r.errorf(source.UnknownNumber, n.Span, "the row `%s` has no circuit %d", s.name, v)
		relate(d, s.span, "declared here")
		d.Notes = append(d.Notes, fmt.Sprintf("its numbers are %d to %d", x.lo, x.hi))
		return 0, false
	}
	return v, true
}

// areaRef takes the name of a reference that is to an area, which has no numbers.
func (r *resolver) areaRef(sc scope, ref *syntax.Ref) site.AreaID {
	if ref.Numbers == nil || r.names[ref.Name.Name] != nil && r.names[ref.Name.Name].kind != kindArea {
		return r.areaNamed(sc, ref.Name)
	}
	r.errorf(source.WrongKind, ref.Numbers.Span, "only a row of circuits has numbers")
	return poisonArea
}

// tagRefs takes references that are tags, which have no numbers.
func (r *resolver) tagRefs(refs []*syntax.Ref) []*syntax.Ident {
	var out []*syntax.Ident
	for _, ref := range refs {
		if ref.Numbers != nil {
			r.errorf(source.WrongKind, ref.Numbers.Span, "only a row of circuits has numbers")
		}
		out = append(out, ref.Name)
	}
	return out
}
