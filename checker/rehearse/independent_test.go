// The interpreter is a second opinion only as long as it shares nothing with the engine.

package rehearse

import (
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

func TestImportsOnlyTheSite(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 10 {
		t.Fatalf("files %v, %v", files, err)
	}
	allowed := map[string]bool{"lampwarden/lang/site": true, "lampwarden/lang/source": true}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, im := range f.Imports {
			path, err := strconv.Unquote(im.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			standard := !strings.Contains(strings.Split(path, "/")[0], ".") && !strings.HasPrefix(path, "lampwarden/")
			if !standard && !allowed[path] {
				t.Errorf("%s imports %s: a fault shared with the engine would go unseen", name, path)
			}
		}
	}
}
