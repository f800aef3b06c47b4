package checker

// The registry of findings is complete, and each of its examples shows what it says.

import (
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lampwarden/lang"
)

// declaredCodes lists the constants whose names begin with Code, from the source.
func declaredCodes(t *testing.T) (out []string) {
	f, err := parser.ParseFile(token.NewFileSet(), "codes.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(f, func(n ast.Node) bool {
		v, ok := n.(*ast.ValueSpec)
		if !ok || !strings.HasPrefix(v.Names[0].Name, "Code") {
			return true
		}
		code, err := strconv.Unquote(v.Values[0].(*ast.BasicLit).Value)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, code)
		return true
	})
	if len(out) < 5 {
		t.Fatalf("only %d codes are declared", len(out))
	}
	return out
}

func TestCodesAreRegistered(t *testing.T) {
	var registered []string
	for _, c := range Codes() {
		registered = append(registered, string(c.Code))
	}
	declared := declaredCodes(t)
	slices.Sort(declared)
	if !slices.Equal(registered, declared) {
		t.Errorf("registered are %v, declared are %v", registered, declared)
	}
}

func TestCodeExamples(t *testing.T) {
	for _, c := range Codes() {
		t.Run(string(c.Code), func(t *testing.T) {
			if c.Title == "" || strings.HasSuffix(c.Title, ".") || !strings.HasSuffix(c.Explanation, ".") {
				t.Error("a title without a full stop and an explanation with one are wanted")
			}
			p := lang.LoadText("example.lamp", c.Example)
			if p.Site == nil || len(p.Diagnostics) > 0 {
				t.Fatalf("the example is not a site: %v", p.Diagnostics)
			}
			rep, err := Prove(t.Context(), p.Site, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if len(rep.Findings) != 1 || rep.Findings[0].Code != string(c.Code) || rep.Findings[0].Undecided {
				t.Fatalf("the findings are %+v", rep.Findings)
			}
			if pos, ok := p.Sources.Position(rep.Findings[0].Span); !ok || pos.Line <= strings.Count(exampleHead, "\n") {
				t.Errorf("the finding is at line %d, not in what the example adds", pos.Line)
			}
		})
	}
}
