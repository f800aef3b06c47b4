package syntax_test

// What the tests share: reading source texts, and comparing trees.

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// parse reads a text under a name.
func parse(name, text string) (*source.Set, *syntax.File, source.Diagnostics) {
	set := &source.Set{}
	f, ds := syntax.Parse(set.Add(name, text))
	return set, f, ds
}

// show renders diagnostics for a failure message.
func show(set *source.Set, ds source.Diagnostics) string {
	var b strings.Builder
	_ = source.Renderer{Set: set}.Write(&b, ds)
	return b.String()
}

// sameTree compares two trees without their places. It gives where they differ first, or "". (go-cmp, told to leave
// the places out, takes time exponential in the depth of such a tree.)
func sameTree(a, b *syntax.File) string {
	return differ("Decls", reflect.ValueOf(a.Decls), reflect.ValueOf(b.Decls))
}

func differ(path string, a, b reflect.Value) string {
	if a.Kind() == reflect.Interface || a.Kind() == reflect.Pointer {
		if a.IsNil() || b.IsNil() || a.Elem().Type() != b.Elem().Type() {
			if a.IsNil() && b.IsNil() {
				return ""
			}
			return fmt.Sprintf("%s: %v, %v", path, a, b)
		}
		return differ(path, a.Elem(), b.Elem())
	}
	switch a.Kind() {
	case reflect.Struct:
		for i := range a.NumField() {
			f := a.Type().Field(i)
			if f.Type == reflect.TypeFor[syntax.Node]() {
				continue
			}
			if d := differ(path+"."+f.Name, a.Field(i), b.Field(i)); d != "" {
				return d
			}
		}
	case reflect.Slice:
		if a.Len() != b.Len() {
			return fmt.Sprintf("%s: %d entries, %d entries", path, a.Len(), b.Len())
		}
		for i := range a.Len() {
			if d := differ(fmt.Sprintf("%s[%d]", path, i), a.Index(i), b.Index(i)); d != "" {
				return d
			}
		}
	default:
		if !a.Equal(b) {
			return fmt.Sprintf("%s: %v, %v", path, a, b)
		}
	}
	return ""
}

// goodTexts gives every sound source text of the repository: the .lamp files that expect no error, and the blocks of the
// language document.
func goodTexts(t testing.TB) map[string]string {
	t.Helper()
	out := map[string]string{}
	doc, err := os.ReadFile("../LANGUAGE.md")
	if err != nil {
		t.Fatal(err)
	}
	block := regexp.MustCompile("(?s)```lamp(| head| proves| pack| finds [a-z-]+| fails \"[^\n]*\")\n(.*?)```")
	for i, m := range block.FindAllStringSubmatch(string(doc), -1) {
		out[fmt.Sprintf("LANGUAGE.md block %d", i+1)] = m[2]
	}
	if len(out) == 0 {
		t.Fatal("no blocks in the language document")
	}
	err = filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".lamp" {
			return err
		}
		text, err := os.ReadFile(path)
		if !strings.Contains(string(text), "# ERROR ") {
			out[path] = string(text)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}
