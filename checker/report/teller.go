// The words of a site and the places in its files.

package report

import (
	"cmp"
	"fmt"
	"path"
	"slices"
	"strings"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// teller puts a site's facts into words. Sources may be nil; then no places are given.
type teller struct {
	s       *site.Site
	sources *source.Set
	single  bool                              // there is one file only, so that a line tells a place
	short   bool                              // the files' base names tell them apart
	colours map[site.CircuitID]site.CircuitID // of lights, the circuits that are their colours
}

func newTeller(s *site.Site, sources *source.Set) *teller {
	t := &teller{s: s, sources: sources, short: true, colours: map[site.CircuitID]site.CircuitID{}}
	for i := range s.Circuits {
		if c := &s.Circuits[i]; c.Colour {
			t.colours[c.Light] = site.CircuitID(i)
		}
	}
	t.single = sources.File(1) != nil && sources.File(2) == nil
	seen := map[string]bool{}
	for id := source.FileID(1); sources.File(id) != nil; id++ {
		base := baseName(sources.File(id).Name)
		t.short = t.short && !seen[base]
		seen[base] = true
	}
	return t
}

func baseName(name string) string { return path.Base(strings.ReplaceAll(name, `\`, "/")) }

// place gives "line 98", or "guesthouse.lamp:98" if there are several files; "" for no place.
func (t *teller) place(sp source.Span) string {
	p, ok := t.sources.Position(sp)
	if !ok {
		return ""
	}
	if t.single {
		return fmt.Sprintf("line %d", p.Line)
	}
	if t.short {
		p.File = baseName(p.File)
	}
	return fmt.Sprintf("%s:%d", source.Escape(p.File), p.Line)
}

// at gives " (line 98)" for a place, " (lines 98 and 102)" for several; each once, in
// the order of the file.
func (t *teller) at(sps ...source.Span) string {
	var places []string
	sps = slices.Clone(sps)
	slices.SortFunc(sps, func(a, b source.Span) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Start, b.Start))
	})
	for _, sp := range sps {
		if p := t.place(sp); p != "" && !slices.Contains(places, p) {
			places = append(places, p)
		}
	}
	switch {
	case len(places) == 0:
		return ""
	case len(places) > 1 && t.single:
		for i := range places {
			places[i] = strings.TrimPrefix(places[i], "line ")
		}
		return " (lines " + joined(places) + ")"
	}
	return " (" + joined(places) + ")"
}

// fullPlace gives file (as the user named it), line and column.
func (t *teller) fullPlace(sp source.Span) string {
	p, ok := t.sources.Position(sp)
	if !ok {
		return ""
	}
	return fmt.Sprintf("%s:%d:%d", source.Escape(p.File), p.Line, p.Col)
}

func (t *teller) circuit(id site.CircuitID) string { return source.Escape(t.s.Circuits[id].Name) }
func (t *teller) mode(id site.ModeID) string       { return source.Escape(t.s.Modes[id].Name) }
func (t *teller) expr(e *site.Expr) string         { return source.Escape(t.s.ExprText(e)) }

// circuits names a set of circuits; a long list is cut short, its size given.
func (t *teller) circuits(ids []site.CircuitID) string {
	if len(ids) == 1 {
		return t.circuit(ids[0])
	}
	text := source.Escape(t.s.CircuitsText(ids))
	if len(ids) <= 4 || len(text) <= 60 {
		return text
	}
	var words []string
	for _, id := range ids[:3] {
		words = append(words, t.circuit(id))
	}
	return fmt.Sprintf("%s and %d more circuits", strings.Join(words, ", "), len(ids)-3)
}

// level gives "off", "full" or a percentage, for an output "on" or "off", and for a colour its word.
func (t *teller) level(c site.CircuitID, l site.Level) string {
	if t.s.Circuits[c].Colour {
		return cmp.Or(colourWord(l), "no colour")
	}
	if t.s.Circuits[c].Output && l != 0 {
		return "on"
	}
	switch l {
	case 0:
		return "off"
	case t.s.Circuits[c].Top():
		if l == site.Full {
			return "full"
		}
		return "full (" + l.String() + ")"
	}
	return l.String()
}

// atLevel gives "off", "at full" or "at 30 %".
func (t *teller) atLevel(c site.CircuitID, l site.Level) string { return t.atShade(c, l, 0) }

// shade is level with the colour of that code.
func (t *teller) shade(c site.CircuitID, l, code site.Level) string {
	return coloured(t.level(c, l), l, code)
}

// atShade is atLevel with the colour of that code.
func (t *teller) atShade(c site.CircuitID, l, code site.Level) string {
	if l == 0 || t.s.Circuits[c].Output {
		return t.level(c, l)
	}
	return "at " + t.shade(c, l, code)
}

// joined makes "a", "a and b", "a, b and c".
func joined(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	n := len(words) - 1
	return strings.Join(words[:n], ", ") + " and " + words[n]
}
