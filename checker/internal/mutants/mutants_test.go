// Checking the table, and running the mutants.

package mutants

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// mutant is a seeded bug.
type mutant struct {
	name     string
	breaks   string // what it breaks, in words
	file     string // below checker/
	old, new string
	pkg      string // package of the catching test, below checker/; "": that of the file, "." checker itself
	run      string // its name
	args     string // its flags
}

// all gathers the tables.
func all() []mutant {
	return slices.Concat(zoneMutants, exploreMutants, observeMutants, sliceMutants, clockMutants, modeMutants, lightMutants,
		traceMutants, proverMutants, rehearseMutants, certifyMutants)
}

// chosen is the flag -mutants: "true" for all, or the beginning of a name.
type chosen string

func (c *chosen) String() string     { return string(*c) }
func (c *chosen) Set(s string) error { *c = chosen(s); return nil }
func (c *chosen) IsBoolFlag() bool   { return true }

// has tells whether a mutant is to be run.
func (c chosen) has(m *mutant) bool {
	return c == "true" || c != "" && c != "false" && strings.HasPrefix(m.name, string(c))
}

var which chosen

func init() {
	flag.Var(&which, "mutants", "run the seeded bugs: all, or those whose names begin so")
}

// root is the folder of the module.
const root = "../../.."

// dir is the package of the changed file, testDir that of the catching test, below the module's folder.
func (m *mutant) dir() string { return path.Join("checker", path.Dir(m.file)) }

func (m *mutant) testDir() string {
	if m.pkg == "" {
		return m.dir()
	}
	return path.Join("checker", m.pkg)
}

// changed gives the file with the bug in it.
func (m *mutant) changed() ([]byte, error) {
	text, err := os.ReadFile(filepath.Join(root, "checker", filepath.FromSlash(m.file)))
	if err != nil {
		return nil, err
	}
	if n := bytes.Count(text, []byte(m.old)); n != 1 {
		return nil, fmt.Errorf("the text to change stands %d times in checker/%s, want once:\n%s", n, m.file, m.old)
	}
	return bytes.Replace(text, []byte(m.old), []byte(m.new), 1), nil
}

// TestTable: names are unique, each text to change is found once, and each changed package type-checks.
func TestTable(t *testing.T) {
	ms := all()
	if len(ms) < 40 {
		t.Errorf("%d mutants, want 40 at least", len(ms))
	}
	names := map[string]bool{}
	check := newChecker(t)
	for i := range ms {
		m := &ms[i]
		if names[m.name] || m.name == "" || m.breaks == "" || m.run == "" || m.old == m.new {
			t.Errorf("%s: the name stands twice, or something is missing", m.name)
		}
		names[m.name] = true
		text, err := m.changed()
		if err == nil {
			err = check.check(m, text)
		}
		if err != nil {
			t.Errorf("%s: %v", m.name, err)
		}
	}
}

// checker type-checks packages from their sources, with what they import from the compiler's own files.
type checker struct {
	exports map[string]string
}

// newChecker asks the go command where the compiled imports are.
func newChecker(t *testing.T) *checker {
	t.Helper()
	args := []string{"list", "-export", "-deps", "-f", "{{.ImportPath}}={{.Export}}"}
	for _, m := range all() {
		if dir := "./" + m.dir(); !slices.Contains(args, dir) {
			args = append(args, dir)
		}
	}
	cmd := exec.Command("go", args...)
	cmd.Dir = root
	var wrong bytes.Buffer
	cmd.Stderr = &wrong
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("the packages as they are do not compile: %v\n%s", err, &wrong)
	}
	c := &checker{exports: map[string]string{}}
	for _, line := range strings.Split(string(out), "\n") {
		if name, file, ok := strings.Cut(line, "="); ok && file != "" {
			c.exports[name] = file
		}
	}
	return c
}

// check type-checks the package of a mutant with the changed text.
func (c *checker) check(m *mutant, text []byte) error {
	fset := token.NewFileSet()
	dir := filepath.Join(root, filepath.FromSlash(m.dir()))
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	var files []*ast.File
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		var src any
		if e.Name() == path.Base(m.file) {
			src = text
		}
		f, err := parser.ParseFile(fset, filepath.Join(dir, e.Name()), src, 0)
		if err != nil {
			return err
		}
		files = append(files, f)
	}
	conf := types.Config{Importer: importer.ForCompiler(fset, "gc", func(name string) (io.ReadCloser, error) {
		return os.Open(c.exports[name])
	})}
	_, err = conf.Check("lampwarden/"+m.dir(), fset, files, nil)
	return err
}

// TestMutants runs the chosen ones: the test must pass without the bug and fail with it.
func TestMutants(t *testing.T) {
	var rows []string
	ms, sound := all(), map[string]error{}
	for i := range ms {
		m := &ms[i]
		if !which.has(m) {
			continue
		}
		t.Run(m.name, func(t *testing.T) {
			if _, known := sound[m.command()]; !known {
				if out, err := m.test(t.Context(), ""); err != nil {
					sound[m.command()] = fmt.Errorf("%w\n%s", err, out)
				} else {
					sound[m.command()] = nil
				}
			}
			if err := sound[m.command()]; err != nil {
				t.Fatalf("fails without the bug: %s: %v", m.command(), err)
			}
			text, err := m.changed()
			if err != nil {
				t.Fatal(err)
			}
			start := time.Now()
			out, err := m.test(t.Context(), overlay(t, m, text))
			switch {
			case err == nil:
				t.Errorf("%s survives %s", m.breaks, m.command())
			case strings.Contains(out, "[build failed]") || strings.Contains(out, "[setup failed]"):
				t.Errorf("does not compile: %s", out)
			case !strings.Contains(out, "--- FAIL") && !strings.Contains(out, "panic:"):
				t.Errorf("no test failed: %v\n%s", err, out)
			default:
				rows = append(rows, fmt.Sprintf("| %s | %s | `%s` |", m.name, m.breaks, m.command()))
				t.Logf("caught in %.1f s", time.Since(start).Seconds())
			}
		})
	}
	if len(rows) > 0 {
		t.Logf("%d caught:\n%s", len(rows), strings.Join(rows, "\n"))
	}
}

// command is the catching test as one would type it.
func (m *mutant) command() string {
	c := "go test ./" + m.testDir() + " -run '^" + m.run + "$'"
	if m.args != "" {
		c += " " + m.args
	}
	return c
}

// test runs the catching test, with an overlay if one is given. The error is nil if it passes.
func (m *mutant) test(ctx context.Context, overlay string) (string, error) {
	args := []string{"test", "-count=1", "-timeout=2m", "-run", "^" + m.run + "$"}
	if overlay != "" {
		args = append(args, "-overlay", overlay)
	}
	args = append(append(args, "./"+m.testDir()), strings.Fields(m.args)...)
	cmd := exec.CommandContext(ctx, "go", args...)
	cmd.Dir = root
	out, err := cmd.CombinedOutput()
	if err == nil && strings.Contains(string(out), "no tests to run") {
		err = fmt.Errorf("there is no such test")
	}
	return tail(string(out)), err
}

// tail keeps the ends of a long output.
func tail(s string) string {
	const most = 6000
	if len(s) <= most {
		return s
	}
	return s[:most/2] + "\n...\n" + s[len(s)-most/2:]
}

// overlay writes the changed file and the file that puts it in place of the true one.
func overlay(t *testing.T, m *mutant, text []byte) string {
	t.Helper()
	dir := t.TempDir()
	changed := filepath.Join(dir, path.Base(m.file))
	if err := os.WriteFile(changed, text, 0o600); err != nil {
		t.Fatal(err)
	}
	original, err := filepath.Abs(filepath.Join(root, "checker", filepath.FromSlash(m.file)))
	if err != nil {
		t.Fatal(err)
	}
	list, err := json.Marshal(map[string]map[string]string{"Replace": {original: changed}})
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(name, list, 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}
