// The built program, from outside: bad input, interrupts, pipes.

package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// program builds the program once for all tests and gives its path.
var program = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "lampwarden")
	if err != nil {
		return "", err
	}
	path := filepath.Join(dir, "lampwarden")
	cmd := exec.Command("go", "build", "-o", path, ".")
	cmd.Env = environment
	if out, err := cmd.CombinedOutput(); err != nil {
		return "", fmt.Errorf("go build: %w\n%s", err, out)
	}
	built = path
	return path, nil
})

var (
	built       string         // the program, once it is
	environment = os.Environ() // as it was at first: with another cache folder everything would be compiled anew
)

func TestMain(m *testing.M) {
	if os.Getenv(stubborn) != "" {
		stayOn()
	}
	kept, err := os.MkdirTemp("", "lampwarden-cache")
	if err != nil {
		panic(err)
	}
	os.Setenv("XDG_CACHE_HOME", kept)
	code := m.Run()
	os.RemoveAll(kept)
	if built != "" {
		os.RemoveAll(filepath.Dir(built))
	}
	os.Exit(code)
}

func command(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	path, err := program()
	if err != nil {
		t.Fatal(err)
	}
	return exec.CommandContext(t.Context(), path, args...)
}

// execute runs the built program to its end.
func execute(t *testing.T, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	cmd := command(t, args...)
	var out, messages bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &messages
	var ee *exec.ExitError
	if err := cmd.Run(); err != nil && !errors.As(err, &ee) {
		t.Fatal(err)
	}
	return cmd.ProcessState.ExitCode(), out.String(), messages.String()
}

// edit is the small site with one text replaced; the text must be in it.
func edit(old, new string) string {
	if !strings.Contains(small, old) {
		panic("the site has no " + old)
	}
	return strings.Replace(small, old, new, 1)
}

var headline = regexp.MustCompile(`(?m)^\S*?site\.lamp:(\d+:\d+): (?:error|warning)\[([a-z-]+)\]`)

// Bad input of every kind: exit status 2, every mistake in one go, each with its place and code, and nothing else: no
// result on standard output, no panic.
func TestBadInput(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string // line:column and code of each report, in order
		says       string
	}{
		{"empty file", "", []string{"1:1 empty-file"}, "the file declares nothing"},
		{"only a comment", "# to do\n", []string{"1:1 empty-file"}, "begin with `site"},
		{"binary file", "\x7fELF\x02\x01\x01" + strings.Repeat("\x00\xff", 500), []string{"1:8 not-text"}, "not text in UTF-8"},
		{"broken UTF-8", small + "# caf\xe9\n", []string{"10:6 not-text"}, "not text in UTF-8"},
		{"10 MB of comment", strings.Repeat("# over and over\n", 10<<20/16), []string{"1:1 too-large"}, "longer than the 4194304 bytes"},
		{"10 MB of site", small + strings.Repeat("area x, y\n", 1<<20), []string{"1:1 too-large"}, "divide the site"},
		{"10 MB on one line", "site \"" + strings.Repeat("x", 10<<20), []string{"1:1 too-large"}, "divide the site"},
		{"unknown unit", edit("5 min", "5 parsecs"), []string{"7:52 unknown-unit"}, "`parsecs` is not a unit"},
		{"wrong unit", edit("5 min", "5 W"), []string{"7:50 wrong-unit"}, "5 W"},
		{"duplicate name", small + "alarm fire\n", []string{"10:7 duplicate-name"}, "site.lamp:5:7: it is an alarm, declared here"},
		{"duplicate name of another kind", small + "area welcome\n", []string{"10:6 duplicate-name"}, "it is a mode"},
		{"unknown name", edit("fire_alarm > welcome", "fire_alarm > welcom"), []string{"8:25 unknown-name"}, "did you mean `welcome`?"},
		{"cyclic modes", small + "mode a { while b }\nmode b { while c }\nmode c { while a }\n", []string{"12:16 mode-cycle"},
			"`a` needs `b` needs `c` needs `a`"},
		{"mode of itself", small + "mode a { while not a }\n", []string{"10:20 mode-cycle"}, "the mode `a` depends on itself"},
		{"zero durations", strings.Replace(edit("5 min", "0 min"), "5 s", "0 s", 1), []string{"7:50 zero-duration", "9:52 zero-duration"}, "longer than 0"},
		{"negative duration", edit("5 min", "-5 min"), []string{"7:50 bad-character"}, "numbers have no sign"},
		{"level above 100 %", edit("60 %", "160 %"), []string{"7:66 bad-number"}, "the most is 100 %"},
		{"level above 100 % in a requirement", edit("spots at full", "spots at 101 %"), []string{"9:65 bad-number"}, "the most is 100 %"},
		{"band of zero length", small + "band b 07:00 to 07:00\n", []string{"10:8 empty-band"}, "has no length"},
		{"band of zero length over midnight", small + "band b 00:00 to 24:00\n", []string{"10:8 empty-band"}, "has no length"},
		{"precedence cycle", small + "precedence welcome > fire_alarm\n", []string{"10:12 precedence-cycle"},
			"`fire_alarm` > `welcome` > `fire_alarm`"},
		{"unclosed brace", small + "mode x { while fire\n", []string{"10:8 unclosed-brace"}, "close it"},
		{"many mistakes", strings.NewReplacer("5 min", "0 min", "60 %", "160 %", "fire_alarm > welcome", "fire_alarm > welcom",
			"whenever fire ", "whenever fir ").Replace(small) + "band b 07:00 to 07:00\nalarm fire\nmode x { whle fire }\nmode { }\nprecedence x > x\n",
			[]string{"7:50 zero-duration", "7:66 bad-number", "8:25 unknown-name", "9:35 unknown-name", "10:8 empty-band", "11:7 duplicate-name",
				"12:10 unknown-word", "13:6 unexpected-text", "14:12 precedence-cycle"}, "did you mean `while`"},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := file(t, c.text)
			for _, name := range []string{"prove", "rehearse"} {
				code, stdout, stderr := execute(t, name, path)
				if code != exitInput || stdout != "" {
					t.Errorf("%s: exit status %d, stdout %.200q", name, code, stdout)
				}
				var got []string
				for _, m := range headline.FindAllStringSubmatch(stderr, -1) {
					got = append(got, m[1]+" "+m[2])
				}
				if d := cmp.Diff(c.want, got); d != "" {
					t.Errorf("%s: reports (-want +got):\n%s", name, d)
				}
				if !strings.Contains(stderr, c.says) || strings.Contains(stderr, "goroutine") || len(stderr) > 5000 {
					t.Errorf("%s: the messages do not say %q, or too much:\n%.2000s", name, c.says, stderr)
				}
			}
		})
	}
}

func TestPathsThatCannotBeRead(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct{ name, path, says string }{
		{"missing file", filepath.Join(dir, "none.lamp"), "none.lamp: no such file or folder"},
		{"missing folder", filepath.Join(dir, "none"), "none: no such file or folder"},
		{"folder without sites", dir, "no site file (*.lamp)"},
		{"file for a folder", filepath.Join(file(t, small), "x.lamp"), "not a directory"},
		{"no name", "", "no such file or folder"},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, name := range []string{"prove", "rehearse", "format"} {
				code, stdout, stderr := execute(t, name, c.path)
				if code != exitInput || stdout != "" || !strings.Contains(stderr, c.says) || strings.Count(stderr, "\n") != 1 {
					t.Errorf("%s: exit status %d, stdout %q, stderr %q", name, code, stdout, stderr)
				}
			}
		})
	}
}

// endless is a site with one requirement that is proved at once and one that takes very long: many modes with clocks
// of their own, and a condition that only its last part makes impossible.
func endless() string {
	const keys = 16
	var b, all strings.Builder
	b.WriteString(small)
	for i := range keys {
		fmt.Fprintf(&b, "bell k%d\nmode m%d { starts on k%d rings  for %d min  spots at %d %% }\n", i, i, i, 60+7*i, i+1)
		fmt.Fprintf(&all, "m%d and ", i)
	}
	fmt.Fprintf(&b, "precedence welcome > m0")
	for i := range keys - 1 {
		fmt.Fprintf(&b, " > m%d", i+1)
	}
	fmt.Fprintf(&b, "\nrequire \"never all\" { never %s not m0 }\n", all.String())
	return b.String()
}

// Nobody reads on: the program ends without a word.
func TestClosedPipe(t *testing.T) {
	cmd := command(t, "prove", file(t, small))
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	var messages bytes.Buffer
	cmd.Stderr = &messages
	if err := out.(io.Closer).Close(); err != nil {
		t.Fatal(err)
	}
	if err := cmd.Run(); err == nil {
		t.Error("it succeeded without anybody to tell")
	}
	if ws, ok := cmd.ProcessState.Sys().(syscall.WaitStatus); !ok || !ws.Signaled() || ws.Signal() != syscall.SIGPIPE {
		t.Errorf("it ended with %v", cmd.ProcessState)
	}
	if messages.Len() > 0 {
		t.Errorf("it said %q", messages.String())
	}
}
