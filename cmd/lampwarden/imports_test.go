// The one-way chain of packages, read from the sources' own import lines.

package main

import (
	"fmt"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// chain lists the packages in the order in which data flows: each may import only what stands before it. "lang" here
// is the loader in the folder lang itself, "checker" the prover in the folder checker.
var chain = []string{
	"stdlib", "lang/source", "lang/syntax", "lang/site", "lang/almanac", "lang/resolve", "lang", "lang/lexicon/ebnf", "lang/lexicon",
	"checker/zone", "checker/explore", "checker/observe", "checker/machine",
	"checker/rehearse", "checker/certify", "checker/confirm", "checker/horn", "checker/trace", "checker/cache", "checker/strength", "checker", "checker/report",
	"checker/internal/oracle", "checker/internal/sitegen", "checker/internal/campus", "checker/internal/formula", "checker/internal/mutants",
	"cmd/lampwarden",
}

// only tells for some packages the few of ours that they may import, and why. A name that ends in "/" allows all
// below it.
var only = map[string]struct {
	allowed []string
	why     string
}{
	"stdlib":       {nil, "packs are texts, which the language reads"},
	"lang/source":  {nil, "it is the leaf that everybody speaks of texts with"},
	"lang/site":    {[]string{"lang/source"}, "it is the data that everything downstream reads, and knows nothing of the text"},
	"lang/almanac": {nil, "the sun and the laws of clocks know nothing of sites"},
	"lang/syntax":  {[]string{"lang/source"}, "a tree knows nothing of what it means"},
	"lang/resolve": {[]string{"lang/"}, "the language knows nothing of the checker"},
	"lang":         {[]string{"lang/", "stdlib"}, "the language knows nothing of the checker"},

	"lang/lexicon":      {[]string{"lang/source"}, "it reads a reference, and knows nothing of what that speaks of"},
	"lang/lexicon/ebnf": {nil, "a notation knows nothing of what is written in it"},

	"checker/cache":    {nil, "a cache knows nothing of what it keeps"},
	"checker/zone":     {nil, "difference-bound matrices know nothing of buildings"},
	"checker/explore":  {[]string{"checker/zone"}, "the search knows nothing of buildings"},
	"checker/observe":  {[]string{"lang/site", "lang/source"}, "a requirement's observer is made from the requirement alone"},
	"checker/strength": {[]string{"lang/site", "lang/source", "checker/machine"}, "it changes resolved sites, and asks the prover about them through a door"},
	"checker/machine":  {[]string{"lang/site", "lang/source", "checker/"}, "the engine reads the resolved site, never its text"},

	"checker/rehearse":         {[]string{"lang/site", "lang/source"}, "it is the independent second opinion on the engine"},
	"checker/certify":          {[]string{"lang/site", "lang/source"}, "it is the independent second opinion on a proof"},
	"checker/confirm":          {[]string{"lang/site", "lang/source", "checker/certify", "checker/rehearse"}, "what it says of a verdict must not lean on what found it"},
	"checker/horn":             {[]string{"lang/site", "lang/source"}, "it writes the question for a solver, which is to share nothing with the engine"},
	"checker/internal/oracle":  {[]string{"lang/site", "lang/source"}, "it is the independent brute-force opinion"},
	"checker/internal/sitegen": {[]string{"lang/site", "lang/source"}, "sites for tests must not lean on what they test"},
	"checker/internal/formula": {nil, "temporal logic knows nothing of sites"},
	"checker/internal/mutants": {nil, "it changes the checker's text, and knows nothing of what it does"},
}

// maxDepth bounds the longest path of imports.
const maxDepth = 8

// violations compares imports (package to what it imports of ours) with the chain and says what is wrong, and why.
func violations(imports map[string][]string) []string {
	var out []string
	for _, pkg := range sortedKeys(imports) {
		at := slices.Index(chain, pkg)
		if at < 0 {
			out = append(out, fmt.Sprintf("%s is not in the chain of packages: say in imports_test.go where it stands", pkg))
			continue
		}
		for _, imp := range imports[pkg] {
			to := slices.Index(chain, imp)
			if to >= at {
				out = append(out, fmt.Sprintf("%s imports %s, which stands after it: data flows one way, nothing points back", pkg, imp))
			}
			if rule, ok := only[pkg]; ok && !allows(rule.allowed, imp) {
				out = append(out, fmt.Sprintf("%s imports %s; it may import only %v of ours, because %s", pkg, imp, rule.allowed, rule.why))
			}
		}
	}
	for _, pkg := range sortedKeys(imports) {
		if path := longest(imports, pkg, nil); len(path) > maxDepth {
			out = append(out, fmt.Sprintf("imports go %d deep, at most %d are allowed: %s", len(path), maxDepth, strings.Join(path, " > ")))
		}
	}
	return out
}

func allows(allowed []string, imp string) bool {
	return slices.ContainsFunc(allowed, func(a string) bool {
		return a == imp || strings.HasSuffix(a, "/") && strings.HasPrefix(imp, a)
	})
}

// longest is the longest path of imports from pkg on; a cycle is cut where it closes.
func longest(imports map[string][]string, pkg string, above []string) []string {
	best := []string{pkg}
	if slices.Contains(above, pkg) {
		return best
	}
	for _, imp := range imports[pkg] {
		if p := longest(imports, imp, append(slices.Clone(above), pkg)); len(p)+1 > len(best) {
			best = append([]string{pkg}, p...)
		}
	}
	return best
}

func sortedKeys(m map[string][]string) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// readImports reads the module's own imports of every package, tests left out.
func readImports(root string) (map[string][]string, error) {
	out := map[string][]string{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() && (strings.HasPrefix(name, ".") && path != root || name == "testdata") {
			return filepath.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			return err
		}
		pkg := filepath.ToSlash(rel)
		imports := out[pkg]
		for _, spec := range file.Imports {
			imp, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			if ours, ok := strings.CutPrefix(imp, "lampwarden/"); ok && !slices.Contains(imports, ours) {
				imports = append(imports, ours)
			}
		}
		slices.Sort(imports)
		out[pkg] = imports
		return nil
	})
	return out, err
}

func TestImportsFlowOneWay(t *testing.T) {
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(root, "go.mod")); err != nil {
		t.Fatal(err)
	}
	imports, err := readImports(root)
	if err != nil {
		t.Fatal(err)
	}
	for _, must := range []string{"lang/site", "checker", "checker/rehearse", "cmd/lampwarden"} {
		if _, ok := imports[must]; !ok {
			t.Errorf("package %s was not found: the test looks in the wrong place", must)
		}
	}
	for _, v := range violations(imports) {
		t.Error(v)
	}
}

// The test itself must see each kind of violation.
func TestImportViolationsAreSeen(t *testing.T) {
	deep := map[string][]string{}
	for i, p := range []string{"lang/source", "lang/site", "lang/resolve", "lang", "checker/trace", "checker", "checker/report", "checker/internal/sitegen", "cmd/lampwarden"} {
		deep[p] = nil
		if i > 0 {
			deep[p] = []string{[]string{"lang/source", "lang/site", "lang/resolve", "lang", "checker/trace", "checker", "checker/report", "checker/internal/sitegen"}[i-1]}
		}
	}
	for _, c := range []struct {
		name    string
		imports map[string][]string
		want    string
	}{
		{"back", map[string][]string{"checker/zone": nil, "checker/trace": {"checker"}, "checker": nil}, "checker/trace imports checker, which stands after it"},
		{"second opinion", map[string][]string{"checker/rehearse": {"checker/machine"}, "checker/machine": nil}, "independent second opinion"},
		{"unknown", map[string][]string{"lang/util": nil}, "lang/util is not in the chain"},
		{"depth", deep, "imports go 9 deep"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := strings.Join(violations(c.imports), "\n"); !strings.Contains(got, c.want) {
				t.Errorf("got %q, want %q in it", got, c.want)
			}
		})
	}
}
