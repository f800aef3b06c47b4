// The table of names: all declared things share one name space.

package resolve

import (
	"fmt"
	"slices"
	"strings"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// kind is the kind of thing that a name stands for.
type kind uint8

const (
	kindBroken kind = iota // declared, but the declaration could not be read
	kindArea
	kindCircuit
	kindGroup
	kindSupply
	kindBattery
	kindInput
	kindBand
	kindMode
	kindOutput
	kindDays
	kindConstant
	kindSensor
	kindCurve
	kindGenerator
)

// String gives the kind with its article.
func (k kind) String() string {
	return [...]string{"a broken declaration", "an area", "a circuit", "a group", "a mains supply", "a battery",
		"an input", "a band", "a mode", "an output", "a set of days", "a constant",
		"a daylight sensor", "a curve", "a generator"}[k]
}

// symbol is a declared name.
type symbol struct {
	name string
	kind kind
	id   int // index into the site's table of the kind; of a mode, into resolver.modes
	span source.Span
}

// describe tells what the symbol is, an input with its own kind.
func (r *resolver) describe(s *symbol) string {
	if s.kind == kindInput {
		switch k := r.site.Inputs[s.id].Kind; k {
		case site.Presence:
			return "a presence input"
		case site.Alarm:
			return "an alarm"
		default:
			return "a " + k.String()
		}
	}
	if _, isRow := r.rows[s.id]; isRow && s.kind == kindGroup {
		return "a row of circuits"
	}
	if s.kind == kindOutput {
		return outputWord(&r.site.Circuits[s.id])
	}
	if s.kind == kindMode && r.modes[s.id].decl.Each != nil {
		return "a mode for each area"
	}
	return s.kind.String()
}

// declare enters a name. A name that is taken is reported and stays with the
// first that had it.
func (r *resolver) declare(id *syntax.Ident, k kind, index int) {
	s := &symbol{id.Name, k, index, id.Span}
	if old := r.names[id.Name]; old != nil && old.kind != kindBroken {
		d := r.errorf(source.DuplicateName, id.Span, "the name `%s` is already taken", id.Name)
		relate(d, old.span, "it is %s, declared here", r.describe(old))
		return
	}
	r.names[id.Name] = s
	r.list = append(r.list, s)
}

// find looks a name up among the wanted kinds. It reports an unknown name or
// one of the wrong kind; for those and for a broken name it returns nil.
func (r *resolver) find(id *syntax.Ident, want ...kind) *symbol {
	s := r.names[id.Name]
	switch {
	case s == nil:
		r.unknown(id, want...)
		return nil
	case s.kind == kindBroken:
		return nil
	case slices.Contains(want, s.kind):
		return s
	}
	d := r.errorf(source.WrongKind, id.Span, "`%s` is %s; %s is wanted here", s.name, r.describe(s), kindList(want))
	relate(d, s.span, "declared here")
	return nil
}

// unknown reports a name that nothing has, with the closest one that fits.
func (r *resolver) unknown(id *syntax.Ident, want ...kind) {
	if r.lost && (len(want) == 0 || slices.Contains(want, kindCircuit)) {
		return // it may stand in what could not be read
	}
	what := "nothing is"
	if len(want) <= 3 {
		words := strings.NewReplacer("an ", "", "a ", "").Replace(kindList(want))
		what = "there is no " + words
	}
	d := r.errorf(source.UnknownName, id.Span, "%s named `%s`", what, id.Name)
	if id.Name == "holiday" && (len(want) == 0 || slices.Contains(want, kindInput)) {
		d.Suggestion = "declare the holidays first: `holidays 25 Dec, 26 Dec`, or `holidays` alone"
		return
	}
	suggestName(d, id.Span, id.Name, r.known(want))
}

// known returns the names of the wanted kinds; no kinds mean any.
func (r *resolver) known(want []kind) []string {
	if len(r.list) > 20_000 || len(r.found) > 200 {
		return nil // a suggestion is not worth minutes of comparing
	}
	var out []string
	for _, s := range r.list {
		if s.kind != kindBroken && (len(want) == 0 || slices.Contains(want, s.kind)) {
			out = append(out, s.name)
		}
	}
	return out
}

// kindList makes "a circuit or a group".
func kindList(want []kind) string {
	words := make([]string, len(want))
	for i, k := range want {
		words[i] = k.String()
	}
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	n := len(words) - 1
	return fmt.Sprintf("%s or %s", strings.Join(words[:n], ", "), words[n])
}
