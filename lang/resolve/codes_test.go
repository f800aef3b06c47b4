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

// The packs that the tests' sites may use.
const (
	escapePack = `
parameter response = 5 s
parameter share = 100 %
parameter fire_input = fire
constant least_length = 2 min
assume not fire_input lasts at least least_length
require "escape pack: light on fire" { whenever fire_input then within response every circuit in escape areas at least share }
`
	strangePack = `
parameter response = 5 s
area cellar
mode gloom { while night  all circuits off }
require "strange pack: speaks of a thing of the site" { never spots lit }
`
)

// load parses and resolves one text.
func load(text string) (*site.Site, source.Diagnostics) {
	set := &source.Set{}
	f, ds := syntax.Parse(set.Add("test.lamp", text))
	pack, _ := syntax.Parse(set.Add("escape.lamp", escapePack))
	none, _ := syntax.Parse(set.Add("strange.lamp", strangePack))
	fails, _ := syntax.Parse(set.Add("failing.lamp", failingPack))
	s, more := resolve.ResolveAll([]*syntax.File{f}, resolve.Packs{Names: []string{"escape", "strange"},
		Files: map[string]*syntax.File{"escape": pack, "strange": none, "failing": fails}}, tablesOf(set, f))
	if ds.HasErrors() {
		s = nil
	}
	return s, append(ds, more...)
}

// tablesOf gives the schedules that a text shows in its comments: `# schedule.csv:` and then lines such as `#   | Ref,Load`.
func tablesOf(set *source.Set, f *syntax.File) resolve.Schedules {
	texts := map[string]string{}
	name := ""
	for _, l := range strings.Split(f.Source.Text, "\n") {
		if row, ok := strings.CutPrefix(l, "#   | "); ok {
			texts[name] += row + "\n"
		} else if n, ok := strings.CutPrefix(l, "# "); ok && strings.HasSuffix(n, ".csv:") {
			name = strings.TrimSuffix(n, ":")
		}
	}
	return tables(set, f, texts)
}

// tables gives the schedules of a text from a map of files.
func tables(set *source.Set, f *syntax.File, texts map[string]string) resolve.Schedules {
	out := resolve.Schedules{}
	for _, d := range f.Decls {
		if d, ok := d.(*syntax.ScheduleDecl); ok {
			if text, ok := texts[d.Path.Value]; ok {
				out[d] = resolve.Schedule{File: set.Add(d.Path.Value, text)}
			} else {
				out[d] = resolve.Schedule{Problem: "there is no such file"}
			}
		}
	}
	return out
}

// nameCodes lists the codes that this package reports, as they are declared.
func nameCodes(t *testing.T) []source.Code {
	t.Helper()
	var out []source.Code
	for _, name := range []string{"codes_names.go", "codes_structure.go", "codes_light.go", "codes_time.go", "codes_power.go"} {
		f, err := parser.ParseFile(token.NewFileSet(), "../source/"+name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(x ast.Node) bool {
			if v, ok := x.(*ast.ValueSpec); ok && len(v.Values) == 1 {
				out = append(out, source.Code(strings.Trim(v.Values[0].(*ast.BasicLit).Value, `"`)))
			}
			return true
		})
	}
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
