// Print against the language: the text of a generated site is read, and the
// site that comes of it has the same data and the same text.

package sitegen

import (
	"fmt"
	"strings"
	"testing"

	"lampwarden/lang"
	"lampwarden/lang/site"
	"lampwarden/lang/source"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

func TestPrintedTextIsTheSite(t *testing.T) {
	// Conditions are compared by their text, as counts are written out in it; a
	// site may have several step orders; what is not said takes a default.
	same := cmp.Options{
		cmpopts.IgnoreTypes(source.Span{}, &site.Expr{}),
		cmpopts.IgnoreFields(site.Site{}, "StepOrder", "Year"),
		cmpopts.IgnoreFields(site.Supply{}, "Flat", "Usable"), // of no meaning without a capacity
		cmpopts.EquateEmpty(),
	}
	for seed := range uint64(400) {
		s := Generate(seed, Options{Requirements: 4})
		text := Print(s)
		p := lang.LoadText("seed.lamp", text)
		if p.Site == nil {
			var all []string
			for _, d := range p.Diagnostics {
				pos, _ := p.Sources.Position(d.Span)
				all = append(all, fmt.Sprintf("line %d: %s", pos.Line, d.Message))
			}
			t.Fatalf("seed %d is not read: %s\n%s", seed, strings.Join(all, "\n"), text)
		}
		if err := Check(p.Site); err != nil {
			t.Fatalf("seed %d: what is read is not valid: %v\n%s", seed, err, text)
		}
		if d := cmp.Diff(text, Print(p.Site)); d != "" {
			t.Fatalf("seed %d: the text changes: %s", seed, d)
		}
		if d := cmp.Diff(s, p.Site, same); d != "" {
			t.Fatalf("seed %d: the data change: %s\n%s", seed, d, text)
		}
	}
}
