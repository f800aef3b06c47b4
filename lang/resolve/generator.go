// Generators, which stand in for a mains supply once they have run up.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// declareGenerator enters a generator.
func (r *resolver) declareGenerator(d *syntax.GeneratorDecl) {
	r.at[d] = len(r.site.Supplies)
	r.site.Supplies = append(r.site.Supplies, site.Supply{Name: d.Name.Name, Health: site.None, Flat: site.None,
		ChargedBy: site.None, Span: d.Name.Span})
	r.declare(d.Name, kindGenerator, len(r.site.Supplies)-1)
}

func (r *resolver) generator(d *syntax.GeneratorDecl) {
	id := site.SupplyID(r.at[d])
	given := seen{}
	for _, it := range d.Items {
		switch {
		case it.StartsWithin != nil && r.first(given, "`starts within`", it.Span):
			r.power.runUp[id] = r.duration(it.StartsWithin)
		case it.Backs != nil && r.first(given, "`backs`", it.Span):
			if s := r.find(it.Backs, kindSupply); s != nil {
				r.power.backs[id] = site.SupplyID(s.id)
			}
		}
	}
	r.wants(given, d.Name, "`backs`", "`backs mains`", "a generator stands in for a mains supply")
	r.wants(given, d.Name, "`starts within`", "`starts within 15 s`", "a generator takes some time to run up")
}

// generatorModes makes each generator's mode "NAME running": while the mains supply is lost, once the set has run up. What
// it feeds has the mains while they live, and the set while that runs. (Running up takes exactly the time given, which
// is the worst case.)
func (r *resolver) generatorModes() {
	for i := range r.site.Supplies {
		mains, ok := r.power.backs[site.SupplyID(i)]
		if !ok {
			continue
		}
		g, health := &r.site.Supplies[i], r.site.Supplies[mains].Health
		lost := func() *site.Expr { return &site.Expr{Op: site.OpInput, Input: health, Span: g.Span} }
		id := r.addMode(site.Mode{Name: g.Name + " running", Kind: site.While, Plant: true, Hidden: true, Cond: lost(),
			OnDelay: r.power.runUp[site.SupplyID(i)], Span: g.Span})
		r.power.running[site.SupplyID(i)] = id
		running := &site.Expr{Op: site.OpMode, Mode: id, Span: g.Span}
		g.Dead = &site.Expr{Op: site.OpAnd, Kids: []*site.Expr{lost(), not(running, g.Span)}, Span: g.Span}
	}
}

// wants reports a property that is missing.
func (r *resolver) wants(given seen, name *syntax.Ident, what, write, why string) {
	if _, ok := given[what]; ok {
		return
	}
	e := r.errorf(source.MissingClause, name.Span, "`%s` has no %s", name.Name, what)
	e.Notes = append(e.Notes, why)
	e.Suggestion = "write " + write
}

// generatorAtom is `diesel running`.
func (r *resolver) generatorAtom(sc scope, a *syntax.NameAtom, s *symbol) *site.Expr {
	if len(a.In) > 0 || a.Stage != nil || a.Light != nil || a.State != "running" {
		return r.wrongWord(a, s, "`running`, and as a fault `fails to start`")
	}
	id, ok := r.power.running[site.SupplyID(s.id)]
	if !ok {
		return poison(a.Span)
	}
	r.dependsOn(sc, id, a.Span)
	return &site.Expr{Op: site.OpMode, Mode: id, Span: a.Span}
}
