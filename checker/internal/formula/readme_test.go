// The tables for readers.

package formula_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write README.md anew")

// readme writes the tables.
func readme() []byte {
	var b bytes.Buffer
	code := func(s string) string {
		if s == "" {
			return ""
		}
		return "`" + strings.ReplaceAll(strings.Join(strings.Fields(s), " "), "|", "\\|") + "`"
	}
	fmt.Fprint(&b, `# Requirement forms and published formulas

On random runs the observers of the engine and the judge of the interpreter say of each text what the formula beside it says. Made
from the tables of the tests (`+"`go test ./checker/internal/formula -run Readme -update`"+`), where the sources stand.

G always, F at some time, U until, W weak until (U, or for ever), up: comes true; [<=d] within d. p the pattern's P, s its S, the scope
opens with q and closes with r. A scope is closed to the left and open to the right.

## Patterns and scopes

| pattern | scope | published | said as | note |
| --- | --- | --- | --- | --- |
`)
	for _, c := range catalogue {
		said := code(c.text)
		if said == "" {
			said = "cannot be said"
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", c.pattern, c.scope, code(c.published), said, c.why)
	}
	fmt.Fprint(&b, "\n## With times\n\n| pattern | formula | said as | source |\n| --- | --- | --- | --- |\n")
	for _, c := range realTime {
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", c.name, code(c.published), code(c.text), c.source)
	}
	fmt.Fprint(&b, "\n## Forms of the language\n\n| form | formula |\n| --- | --- |\n")
	for _, f := range forms {
		fmt.Fprintf(&b, "| %s | %s |\n", code(f.text), code(f.formula))
	}
	fmt.Fprint(&b, "\n## Defects and traps of published tables\n\n| what | as printed | as meant |\n| --- | --- | --- |\n")
	for _, d := range defects {
		fmt.Fprintf(&b, "| %s | %s | %s |\n", d.what, code(d.printed), code(d.meant))
	}
	return b.Bytes()
}

// TestReadme: README.md has these tables.
func TestReadme(t *testing.T) {
	const name = "README.md"
	want := readme()
	if *update {
		if err := os.WriteFile(name, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), string(got)); d != "" {
		t.Errorf("run with -update (-want +got):\n%s", d)
	}
}
