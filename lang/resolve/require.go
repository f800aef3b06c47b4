// Requirements, those for each area once for each.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

func (r *resolver) requirements() {
	titles := seen{}
	r.everywhere(func(decls []syntax.Decl, suffix string) { r.requirementsOf(decls, suffix, titles) })
}

// requirementsOf resolves requirements, to whose names the suffix is added.
func (r *resolver) requirementsOf(decls []syntax.Decl, suffix string, titles seen) {
	for _, d := range decls {
		d, ok := d.(*syntax.RequireDecl)
		if !ok {
			continue
		}
		r.title(titles, d.Name, suffix, "requirement")
		sc := scope{use: useRequirement, mode: site.None, area: site.None}
		if d.Each == nil {
			r.requirement(sc, d, d.Name.Value+suffix)
			continue
		}
		sc.name = d.Each.Var.Name
		areas := r.eachArea(d.Each)
		for _, sc.area = range areas {
			r.requirement(sc, d, d.Name.Value+suffix+" ("+r.site.Areas[sc.area].Name+")")
		}
		if len(areas) == 0 {
			sc.area = poisonArea
			r.requirement(sc, d, d.Name.Value+suffix)
		}
	}
}

// title checks the name in quotes of a requirement or scenario.
func (r *resolver) title(titles seen, name *syntax.Str, suffix, what string) {
	if name.Value == "" {
		r.errorf(source.NoTitle, name.Span, "a %s has a name", what)
		return
	}
	full := name.Value + suffix
	if at, ok := titles[full]; ok {
		relate(r.errorf(source.DuplicateName, name.Span, "another %s has the name %q", what, full), at, "it is here")
		return
	}
	titles[full] = name.Span
}

func (r *resolver) requirement(sc scope, d *syntax.RequireDecl, name string) {
	q := site.Requirement{Name: name, Span: d.Name.Span, Body: d.Body.Span}
	even, sure := r.even(sc, d.Body.Even)
	sc.even = even
	switch b := d.Body; {
	case b.Never != nil:
		q.Form, q.P = site.Never, r.expr(sc, b.Never)
	case b.Always != nil:
		q.Form, q.P = site.Always, r.expr(sc, b.Always)
	case b.Whenever != nil:
		r.whenever(sc, b.Whenever, &q)
	case b.Times != nil:
		q.Form, q.P = site.AtMostTimes, r.expr(sc, b.Times.P)
		n, ok := r.count(b.Times.N)
		q.D, q.N = r.duration(b.Times.D), n
		if q.N < 1 && ok {
			e := r.errorf(source.BadCount, b.Times.N.Span, "at most 0 times is never")
			e.Suggestion = "write `never ...`"
		}
	case b.Return != nil:
		q.Form, q.P, q.D = site.CanReturn, r.expr(sc, b.Return.P), r.duration(b.Return.D)
	case b.Battery != nil:
		r.batteryLasts(b.Battery, &q)
	case b.Energy != nil:
		r.energyOf(sc, b.Energy, &q)
	case b.About != nil:
		r.about(sc, b.About, &q)
	}
	r.bear(&q, even, d.Body.Even, sure)
	r.site.Requirements = append(r.site.Requirements, q)
}

func (r *resolver) whenever(sc scope, w *syntax.Whenever, q *site.Requirement) {
	q.Form = site.Whenever
	q.A, q.D, q.B = r.expr(sc, w.A), r.duration(w.D), r.expr(sc, w.B)
	if w.Until != nil {
		q.Until = r.expr(sc, w.Until)
	}
	if w.For != nil {
		q.E = r.duration(w.For)
	}
}

func (r *resolver) about(sc scope, b *syntax.About, q *site.Requirement) {
	q.P = r.expr(sc, b.P)
	switch {
	case b.Lasts == "most":
		q.Form, q.D = site.LastsAtMost, r.duration(b.D)
	case b.Lasts == "least":
		q.Form, q.D = site.LastsAtLeast, r.duration(b.D)
	case b.Only != nil:
		q.Form, q.Q = site.OnlyAfter, r.expr(sc, b.Only)
		if b.Since != nil {
			q.Since = r.expr(sc, b.Since)
		}
	case b.Settles != nil:
		q.Form, q.D = site.Settles, r.duration(b.Settles)
	default:
		q.Form = site.Possible
	}
}
