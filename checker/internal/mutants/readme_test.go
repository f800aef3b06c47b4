// The table for readers.

package mutants

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

// readme writes the table.
func readme() []byte {
	var b bytes.Buffer
	ms := all()
	fmt.Fprintf(&b, `# Seeded bugs of the checker

Each of these %d bugs is caught by the test beside it; how, tells the package comment in `+"`doc.go`"+`. This file is made from the
tables (`+"`go test ./checker/internal/mutants -run Readme -update`"+`). To run the bugs:

    go test ./checker/internal/mutants -run Mutants -v -mutants -timeout 60m

| part | bugs |
| --- | --- |
`, len(ms))
	var parts []string
	count := map[string]int{}
	for i := range ms {
		part, _, _ := strings.Cut(ms[i].name, "/")
		if count[part]++; count[part] == 1 {
			parts = append(parts, part)
		}
	}
	for _, p := range parts {
		fmt.Fprintf(&b, "| %s | %d |\n", p, count[p])
	}
	fmt.Fprint(&b, "\n| bug | what it breaks | file | caught by |\n| --- | --- | --- | --- |\n")
	for i := range ms {
		m := &ms[i]
		fmt.Fprintf(&b, "| %s | %s | checker/%s | `%s` |\n", m.name, m.breaks, m.file, m.command())
	}
	return b.Bytes()
}

// TestReadme: README.md is that table.
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
