// Precedence: a strict partial order of modes, closed transitively, and the
// rules for equals.

package resolve

import (
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// edge is a pair of modes in one direction.
type edge struct{ over, under site.ModeID }

func (r *resolver) precedence() {
	n := len(r.site.Modes)
	if n > maxModes {
		return
	}
	spans := map[edge]source.Span{}
	above := make(graph, n)
	for _, d := range r.decls {
		if d, ok := d.(*syntax.PrecedenceDecl); ok {
			r.chain(d, above, spans)
		}
	}
	for i := range above {
		slices.Sort(above[i])
	}
	circles := above.circles()
	for _, c := range circles {
		r.precedenceCycle(c, spans)
	}
	p := &r.site.Precedence
	p.Equal = square[site.Rule](n)
	if len(circles) > 0 {
		p.Above = square[bool](n)
	} else {
		p.Above = closure(above)
	}
	for _, d := range r.decls {
		if d, ok := d.(*syntax.EqualsDecl); ok {
			r.equals(d)
		}
	}
}

// square makes a table in one piece of memory.
func square[T any](n int) [][]T {
	all := make([]T, n*n)
	out := make([][]T, n)
	for i := range out {
		out[i] = all[i*n : (i+1)*n]
	}
	return out
}

// chain adds the neighbours of `a > b > c`, a template standing for all its
// instances.
func (r *resolver) chain(d *syntax.PrecedenceDecl, above graph, spans map[edge]source.Span) {
	var over []site.ModeID
	for i, ref := range d.Modes {
		under := r.modeRef(ref)
		if i > 0 && !r.spend(len(over)*len(under), ref.Span) {
			return
		}
		for _, a := range over {
			for _, b := range under {
				e := edge{a, b}
				if _, old := spans[e]; old {
					continue
				}
				spans[e] = d.Modes[i-1].Span.To(ref.Span)
				above[a] = append(above[a], b)
				r.site.Precedence.Pairs = append(r.site.Precedence.Pairs,
					site.PrecedencePair{Over: a, Under: b, Rule: site.NoRule, Span: spans[e]})
			}
		}
		over = under
	}
}

// modeRef lists the modes that a name in a precedence or equals list means.
func (r *resolver) modeRef(ref *syntax.ModeRef) []site.ModeID {
	s := r.find(ref.Name, kindMode)
	if s == nil {
		return nil
	}
	m := r.modes[s.id]
	if ref.Area == nil {
		return m.all()
	}
	if m.decl.Each == nil {
		d := r.errorf(source.WrongKind, ref.Span, "the mode `%s` is not one for each area", s.name)
		relate(d, s.span, "declared here")
		return nil
	}
	a := r.areaNamed(scope{}, ref.Area)
	if a == poisonArea {
		return nil
	}
	if id := r.instance(m, a, ref.Area); id != site.None {
		return []site.ModeID{id}
	}
	return nil
}

func (r *resolver) precedenceCycle(path []site.ModeID, spans map[edge]source.Span) {
	sp := spans[edge{path[len(path)-1], path[0]}]
	d := r.errorf(source.PrecedenceCycle, sp, "the precedence runs in a circle: %s", r.pathText(path, " > "))
	for i, m := range path {
		next := path[(i+1)%len(path)]
		relate(d, spans[edge{m, next}], "`%s` > `%s`", r.modeName(m), r.modeName(next))
	}
}

// closure closes a graph without circles: below a node is what is below its
// successors, with rows of bits, successors first.
func closure(g graph) [][]bool {
	n := len(g)
	words := (n + 63) / 64
	rows := square[uint64](max(n, words))
	for _, c := range g.components() {
		row := rows[c[0]]
		for _, to := range g[c[0]] {
			row[to/64] |= 1 << (to % 64)
			for w := range words {
				row[w] |= rows[to][w]
			}
		}
	}
	out := square[bool](n)
	for i := range out {
		for j := range out[i] {
			out[i][j] = rows[i][j/64]&(1<<(j%64)) != 0
		}
	}
	return out
}

// equals gives every pair of the listed modes the rule. Two rules for a pair,
// or a rule for a pair of which one outranks the other, contradict.
func (r *resolver) equals(d *syntax.EqualsDecl) {
	rule := map[string]site.Rule{"highest": site.Highest, "latest": site.Latest}[d.Rule]
	var all []site.ModeID
	listed := seen{}
	for _, ref := range d.Modes {
		ids := r.modeRef(ref)
		if len(ids) == 1 && ref.Area == nil && r.site.Modes[ids[0]].Template == "" {
			r.notListed(listed, ref.Name)
		}
		all = append(all, ids...)
	}
	all = slices.Compact(slices.Sorted(slices.Values(all)))
	if !r.spend(len(all)*len(all)/2, d.Span) {
		return
	}
	for i, a := range all {
		for _, b := range all[i+1:] {
			if !r.equalPair(a, b, rule, d) {
				return
			}
		}
	}
}

func (r *resolver) equalPair(a, b site.ModeID, rule site.Rule, d *syntax.EqualsDecl) bool {
	p := &r.site.Precedence
	if p.Above[b][a] {
		a, b = b, a
	}
	if p.Above[a][b] {
		e := r.errorf(source.EqualsConflict, d.Span, "`%s` outranks `%s`, so they are no equals", r.modeName(a), r.modeName(b))
		r.relatePair(e, func(x site.PrecedencePair) bool {
			return x.Rule == site.NoRule && (x.Over == a || p.Above[a][x.Over]) && (x.Under == b || p.Above[x.Under][b])
		})
		return false
	}
	if old := p.Equal[a][b]; old != site.NoRule && old != rule {
		e := r.errorf(source.EqualsConflict, d.Span, "`%s` and `%s` have another rule already", r.modeName(a), r.modeName(b))
		r.relatePair(e, func(x site.PrecedencePair) bool { return x.Rule == old && x.Over == min(a, b) && x.Under == max(a, b) })
		return false
	} else if old == rule {
		return true
	}
	p.Equal[a][b], p.Equal[b][a] = rule, rule
	p.Pairs = append(p.Pairs, site.PrecedencePair{Over: a, Under: b, Rule: rule, Span: d.Span})
	return true
}

// relatePair points at the written pairs that led to a conflict, each place once.
func (r *resolver) relatePair(d *source.Diagnostic, want func(site.PrecedencePair) bool) {
	done := map[source.Span]bool{}
	for _, x := range r.site.Precedence.Pairs {
		if want(x) && !done[x.Span] && len(done) < 8 {
			done[x.Span] = true
			label := "this is the other rule"
			if x.Rule == site.NoRule {
				label = "this puts one above the other"
			}
			relate(d, x.Span, "%s", label)
		}
	}
}
