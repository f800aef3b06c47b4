// Between them the examples, and the packs that they use, have every construct of the language.

package main

import (
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// forms are the constructs that stand in some text, told by the syntax tree: the properties that are set
// ("CircuitItem.Fade"), and the language's words where a property is a word ("Quant.Word every").
type forms map[string]bool

// free are the types whose words are not constructs: names, texts, and the colours, of which one is like another.
var free = map[string]bool{"Ident": true, "Str": true, "Colour": true}

// words are the fixed words of the grammar.
var words = func() map[string]bool {
	out := map[string]bool{}
	for _, m := range regexp.MustCompile(`"([a-z]+)"`).FindAllStringSubmatch(syntax.Grammar(), -1) {
		out[m[1]] = true
	}
	return out
}()

// add parses a text and adds its constructs. A text with an error, such as an example of one, adds nothing.
func (f forms) add(name, text string) bool {
	tree, found := syntax.Parse((&source.Set{}).Add(name, text))
	if len(found) > 0 {
		return false
	}
	for _, d := range tree.Decls {
		f.walk(reflect.ValueOf(d))
	}
	return true
}

func (f forms) walk(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			f.walk(v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			f.walk(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f.property(v.Type(), v.Type().Field(i), v.Field(i))
		}
	}
}

func (f forms) property(of reflect.Type, field reflect.StructField, v reflect.Value) {
	if field.Anonymous || !field.IsExported() || v.IsZero() {
		return
	}
	name := of.Name() + "." + field.Name
	f[name] = true
	if v.Kind() == reflect.String && !free[of.Name()] && words[v.String()] {
		f[name+" "+v.String()] = true
	}
	f.walk(v)
}

func TestExamplesHaveEveryConstruct(t *testing.T) {
	all, ours := forms{}, forms{}
	reference, err := os.ReadFile("../../lang/LANGUAGE.md")
	if err != nil {
		t.Fatal(err)
	}
	blocks := regexp.MustCompile("(?ms)^```lamp[^\n]*\n(.*?)^```$").FindAllStringSubmatch(string(reference), -1)
	if len(blocks) < 50 {
		t.Fatalf("%d blocks in the reference", len(blocks))
	}
	for _, b := range blocks {
		all.add("LANGUAGE.md", b[1])
	}
	for _, glob := range []string{"../../examples/*/*.lamp", "../../stdlib/*.lamp"} {
		paths, err := filepath.Glob(glob)
		if err != nil || len(paths) == 0 {
			t.Fatal(glob, err)
		}
		for _, path := range paths {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if !ours.add(path, string(text)) {
				t.Errorf("%s has errors", path)
			}
		}
	}
	var missing []string
	for form := range all {
		if !ours[form] {
			missing = append(missing, form)
		}
	}
	slices.Sort(missing)
	if len(missing) > 0 {
		t.Errorf("no example has:\n%s", strings.Join(missing, "\n"))
	}
}
