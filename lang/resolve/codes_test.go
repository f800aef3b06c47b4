package resolve_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strings"
	"testing"

	"lampwarden/lang/resolve"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// load parses and resolves one text.
func load(text string) (*site.Site, source.Diagnostics) {
	set := &source.Set{}
	f, ds := syntax.Parse(set.Add("test.lamp", text))
	s, more := resolve.Resolve([]*syntax.File{f})
	if ds.HasErrors() {
		s = nil
	}
	return s, append(ds, more...)
}

// nameCodes lists the codes that this package reports, as they are declared.
func nameCodes(t *testing.T) []source.Code {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), "../source/codes_names.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var out []source.Code
	ast.Inspect(f, func(x ast.Node) bool {
		if v, ok := x.(*ast.ValueSpec); ok && len(v.Values) == 1 {
			out = append(out, source.Code(strings.Trim(v.Values[0].(*ast.BasicLit).Value, `"`)))
		}
		return true
	})
	if len(out) < 30 {
		t.Fatalf("only %d codes found", len(out))
	}
	return out
}

// TestCodeExamples: each code has its entry, whose example gives that code, once
// and no other.
func TestCodeExamples(t *testing.T) {
	for _, code := range nameCodes(t) {
		t.Run(string(code), func(t *testing.T) {
			c, ok := source.LookUp(code)
			if !ok {
				t.Fatal("not registered")
			}
			if c.Title == "" || strings.HasSuffix(c.Title, ".") || !strings.HasSuffix(c.Explanation, ".") {
				t.Error("a title without a full stop and an explanation with one are wanted")
			}
			_, ds := load(c.Example)
			if len(ds) != 1 || ds[0].Code != code {
				t.Errorf("the example gives %v", ds)
			}
		})
	}
}
