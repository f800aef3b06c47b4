// Requirement packs: `use "escape" with response = 5 s`.
//
// A pack is resolved once for each use, with a table of names of its own: its parameters, each standing for a value or
// for an input of the site, and its constants. So it can speak of nothing else of the site but areas by their tags.

package resolve

import (
	"fmt"
	"slices"
	"strings"

	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// Packs are the requirement packs that a site may use. The zero value has none.
type Packs struct {
	Names []string                // for suggestions
	Files map[string]*syntax.File // by name; those that are used must be here
}

// packUse is one use of a pack with what its names mean.
type packUse struct {
	at     source.Span // where it is used
	names  map[string]*symbol
	list   []*symbol
	decls  []syntax.Decl // assumptions and requirements
	suffix string        // tells the requirements of two uses apart: " (response = 3 s)"
}

// usePacks prepares every use of a pack.
func (r *resolver) usePacks(packs Packs) {
	same := seen{}
	for _, d := range r.decls {
		d, ok := d.(*syntax.UseDecl)
		if !ok {
			continue
		}
		f := packs.Files[d.Pack.Value]
		if f == nil {
			e := r.errorf(source.UnknownPack, d.Pack.Span, "there is no requirement pack %q", d.Pack.Value)
			if best := source.Closest(d.Pack.Value, packs.Names); best != "" {
				e.Suggestion = fmt.Sprintf("did you mean %q?", best)
				e.Fixes = []source.Fix{{Span: d.Pack.Span, Text: `"` + best + `"`}}
			} else if len(packs.Names) > 0 {
				e.Notes = append(e.Notes, "the packs are: "+quoteList(packs.Names))
			}
			continue
		}
		if f.Faulty {
			continue // the pack's own errors have been reported
		}
		u, key := r.packUse(d, f)
		if at, ok := same[key]; ok {
			relate(r.errorf(source.PackTwice, d.Span, "the pack %q is used twice with the same parameters", d.Pack.Value), at, "first used here")
			continue
		}
		same[key] = d.Span
		r.packs = append(r.packs, u)
	}
}

// packUse gives the pack's names their meaning. The key is equal for two uses with the same values.
func (r *resolver) packUse(d *syntax.UseDecl, f *syntax.File) (u *packUse, key string) {
	u = &packUse{at: d.Span, names: map[string]*symbol{}}
	args := r.arguments(d, f)
	key = d.Pack.Value
	var told []string
	for _, x := range f.Decls {
		switch x := x.(type) {
		case *syntax.ParameterDecl:
			s, text := r.parameter(d, x, args[x.Name.Name])
			r.inPack(u, func() { r.enter(x.Name, s) })
			if a := args[x.Name.Name]; a != nil {
				told = append(told, x.Name.Name+" = "+a.Value.Text())
			}
			key += "\x00" + text
		case *syntax.ConstantDecl:
			r.inPack(u, func() { r.declare(x.Name, kindConstant, r.newConstant(literalValue(x.Value))) })
		case *syntax.AssumeDecl, *syntax.RequireDecl:
			u.decls = append(u.decls, x)
		default:
			r.inPack(u, func() {
				e := r.errorf(source.WrongFile, x.Place(), "a pack cannot declare this")
				e.Notes = append(e.Notes, "a pack declares parameters, constants, assumptions and requirements")
			})
		}
	}
	if len(told) > 0 {
		u.suffix = " (" + strings.Join(told, ", ") + ")"
	}
	return u, key
}

// arguments gives the written values by parameter, and reports those that the pack has no parameter for.
func (r *resolver) arguments(d *syntax.UseDecl, f *syntax.File) map[string]*syntax.Argument {
	var known []string
	for _, x := range f.Decls {
		if p, ok := x.(*syntax.ParameterDecl); ok {
			known = append(known, p.Name.Name)
		}
	}
	out := map[string]*syntax.Argument{}
	listed := seen{}
	for _, a := range d.Args {
		if !slices.Contains(known, a.Name.Name) {
			e := r.errorf(source.UnknownParameter, a.Name.Span, "the pack %q has no parameter `%s`", d.Pack.Value, a.Name.Name)
			suggestName(e, a.Name.Span, a.Name.Name, known)
			continue
		}
		if r.notListed(listed, a.Name) {
			out[a.Name.Name] = a
		}
	}
	return out
}

// parameter gives what a parameter stands for, and a text that is equal for equal values. What cannot be resolved is
// reported and becomes a name of unknown kind.
func (r *resolver) parameter(d *syntax.UseDecl, p *syntax.ParameterDecl, a *syntax.Argument) (*symbol, string) {
	s := &symbol{name: p.Name.Name, kind: kindBroken, span: p.Name.Span}
	if p.Default.Literal == nil {
		return r.inputParameter(d, p, a, s)
	}
	want := literalValue(p.Default.Literal)
	got := want
	switch {
	case a == nil:
	case a.Value.Literal != nil:
		got = literalValue(a.Value.Literal)
	default:
		x := r.find(a.Value.Name, kindConstant)
		if x == nil {
			return s, ""
		}
		got = r.constants[x.id]
	}
	if got.kind != want.kind {
		e := r.errorf(source.WrongUnit, a.Value.Span, "the parameter `%s` is %s; this is %s", p.Name.Name, want.kind, got.kind)
		relate(e, p.Span, "declared here")
		return s, ""
	}
	s.kind, s.id = kindConstant, r.newConstant(got)
	return s, fmt.Sprint(got.n)
}

// inputParameter is a parameter that stands for an input of the site.
func (r *resolver) inputParameter(d *syntax.UseDecl, p *syntax.ParameterDecl, a *syntax.Argument, s *symbol) (*symbol, string) {
	if a != nil && a.Value.Name == nil {
		e := r.errorf(source.WrongKind, a.Value.Span, "the parameter `%s` is an input", p.Name.Name)
		relate(e, p.Span, "declared here")
		e.Suggestion = "write the name of an input of the site"
		return s, ""
	}
	id := p.Default.Name
	if a != nil {
		id = a.Value.Name
	}
	if r.names[id.Name] == nil && a == nil {
		e := r.errorf(source.UnknownName, d.Pack.Span, "the pack %q speaks of an input `%s`, which the site does not have", d.Pack.Value, id.Name)
		relate(e, p.Span, "the parameter is declared here")
		e.Suggestion = fmt.Sprintf("name the site's own: `use %s with %s = ...`", d.Pack.Raw, p.Name.Name)
		return s, ""
	}
	if a == nil { // a mistake is shown where the pack is used
		id = &syntax.Ident{Node: syntax.Node{Span: d.Pack.Span}, Name: id.Name}
	}
	x := r.find(id, kindInput, kindSupply)
	if x == nil {
		return s, ""
	}
	s.kind, s.id = x.kind, x.id
	return s, x.name
}

// enter puts a symbol in the present table of names.
func (r *resolver) enter(id *syntax.Ident, s *symbol) {
	if old := r.names[id.Name]; old != nil {
		relate(r.errorf(source.DuplicateName, id.Span, "the name `%s` is already taken", id.Name), old.span, "declared here")
		return
	}
	r.names[id.Name] = s
	r.list = append(r.list, s)
}

// inPack does something with the names of a pack. What is reported meanwhile says where the pack is used.
func (r *resolver) inPack(u *packUse, do func()) {
	names, list := r.names, r.list
	r.names, r.list, r.inUse = u.names, u.list, u.at
	do()
	u.list = r.list
	r.names, r.list, r.inUse = names, list, source.Span{}
}

// everywhere does something with the declarations of the site's own files and then with those of each pack.
func (r *resolver) everywhere(do func(decls []syntax.Decl, suffix string)) {
	do(r.decls, "")
	for _, u := range r.packs {
		r.inPack(u, func() { do(u.decls, u.suffix) })
	}
}
