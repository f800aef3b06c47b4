// The commands from outside: exit statuses, streams, messages.

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

const small = `site "Small"
area hall : escape
circuit spots in hall { dims }
presence pir in hall
alarm fire
mode fire_alarm { while fire  all circuits full }
mode welcome { while presence in hall, off delay 5 min  spots at 60 % }
precedence fire_alarm > welcome
require "full on fire" { whenever fire then within 5 s spots at full until not fire }
`

const failing = small + `require "no light" { never spots lit }
scenario "well" {
    at 12:00 fire raised
    expect spots at full
}
scenario "badly" {
    at 12:00 fire raised
    expect spots off
}
`

const twoAreas = `site "Two Areas"
area a, b : guest
circuit a1 in a { dims }
circuit b1 in b { dims }
presence a_pir in a
presence b_pir in b
mode welcome for each area x { while presence in x  circuits in x full }
require "lit" for each area x tagged guest { whenever presence in x then within 1 s area x lit until vacated x }
require "never both" { never a1 lit and b1 lit }
`

// file writes a text into a folder of its own and gives its path.
func file(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "site.lamp")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func lampwarden(ctx context.Context, args ...string) (code int, stdout, stderr string) {
	var out, messages bytes.Buffer
	code = run(ctx, args, &out, &messages)
	return code, out.String(), messages.String()
}

func TestExitStatusAndStreams(t *testing.T) {
	good, bad := file(t, small), file(t, failing)
	empty := t.TempDir()
	each := file(t, twoAreas)
	for _, c := range []struct {
		name           string
		args           []string
		code           int
		stdout, stderr string // regular expressions; "" means nothing at all
	}{
		{"proved", []string{"prove", good}, exitProved, `proved +full on fire(?s:.*)Cautions:(?s:.*)1 requirement 1 holds, over every`, ``},
		{"folder", []string{"prove", filepath.Dir(good), "--quiet"}, exitProved, `Small: of 1 requirement`, ``},
		{"fails", []string{"prove", bad}, exitFails, `^fails +no light`, ``},
		{"only", []string{"prove", bad, "--only", "full on fire"}, exitProved, `Small: of 1 requirement 1 holds`, ``},
		{"only unknown", []string{"prove", bad, "--only", "full on fir"}, exitInput, ``, `no requirement is named "full on fir"; did you mean "full on fire"\?`},
		{"only the written name", []string{"prove", each, "--only", "lit"}, exitProved, `(?s)^proved +lit \(a\)\nproved +lit \(b\)\n.*of 2 requirements`, ``},
		{"only misspelt written name", []string{"prove", each, "--only", "lt"}, exitInput, ``, `did you mean "lit"\?`},
		{"write and check", []string{"format", "--write", "--check", good}, exitInput, ``, `do not go together`},
		{"json", []string{"prove", bad, "--output", "json"}, exitFails, `"version": 2`, ``},
		{"stats", []string{"prove", good, "--stats"}, exitProved, `successors +time +requirement(?s:.*)Throughput`, ``},
		{"limit of states", []string{"prove", good, "--limit-states", "1", "--no-cache"}, exitUndecided, `Not decided: `, ``},
		{"limit of time", []string{"prove", good, "--limit-time", "1ns", "--no-cache"}, exitUndecided, `undecided`, ``},
		{"wrong size", []string{"prove", good, "--limit-memory", "500"}, exitInput, ``, `"500" has no unit`},
		{"negative limit", []string{"prove", good, "--limit-states", "-1"}, exitInput, ``, `a limit cannot be negative`},
		{"wrong output", []string{"prove", good, "--output", "xml"}, exitInput, ``, `--output "xml": expected text or json`},
		{"no file", []string{"prove"}, exitInput, ``, `requires at least 1 arg`},
		{"missing file", []string{"prove", "no/such.lamp"}, exitInput, ``, `no/such.lamp: no such file`},
		{"empty folder", []string{"prove", empty}, exitInput, ``, `no site file`},
		{"unknown command", []string{"proof", good}, exitInput, ``, `unknown command "proof"`},
		{"version", []string{"--version"}, exitProved, `lampwarden version `, ``},
		{"help", []string{"--help"}, exitProved, `Exit status`, ``},

		{"rehearse well", []string{"rehearse", bad, "well"}, exitProved, `met +spots at full(?s:.*)It proves nothing`, ``},
		{"rehearse all", []string{"rehearse", bad}, exitFails, `not met +spots off`, ``},
		{"rehearse unknown", []string{"rehearse", bad, "wel"}, exitInput, ``, `no scenario is named "wel"; did you mean "well"\?`},
		{"rehearse none", []string{"rehearse", good}, exitInput, ``, `the site has no scenarios`},
		{"rehearse json", []string{"rehearse", bad, "well", "--output", "json"}, exitProved, `"scenario": "well"`, ``},
	} {
		t.Run(c.name, func(t *testing.T) {
			code, stdout, stderr := lampwarden(t.Context(), c.args...)
			if code != c.code {
				t.Errorf("exit status %d, want %d", code, c.code)
			}
			match(t, "stdout", stdout, c.stdout)
			match(t, "stderr", stderr, c.stderr)
		})
	}
}

func match(t *testing.T, what, got, want string) {
	t.Helper()
	if want == "" && got != "" || !regexp.MustCompile(want).MatchString(got) {
		t.Errorf("%s is %q, want %q", what, got, want)
	}
}

// No line of help is wider than a terminal.
func TestHelpFits(t *testing.T) {
	for _, args := range [][]string{{"--help"}, {"prove", "--help"}, {"rehearse", "--help"}, {"format", "--help"}} {
		_, stdout, _ := lampwarden(t.Context(), args...)
		for _, l := range strings.Split(stdout, "\n") {
			if len(l) > 80 {
				t.Errorf("%v: %d columns: %s", args, len(l), l)
			}
		}
	}
}

// A run that is stopped says what it has decided, and exits with 3.
func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	code, stdout, stderr := lampwarden(ctx, "prove", file(t, failing), "--output", "json")
	var d struct {
		Cancelled bool
		Counts    struct{ Requirements, Undecided int }
	}
	if err := json.Unmarshal([]byte(stdout), &d); err != nil {
		t.Fatal(err)
	}
	if code != exitUndecided || !d.Cancelled || d.Counts.Requirements != 2 || d.Counts.Undecided != 2 {
		t.Errorf("exit status %d, document %+v", code, d)
	}
	match(t, "stderr", stderr, "stopped before everything was decided")
}

func TestFormat(t *testing.T) {
	ugly := "site   \"Small\"\narea hall:escape # the way out\n"
	path := file(t, ugly)
	code, pretty, _ := lampwarden(t.Context(), "format", path)
	if code != exitProved || pretty == ugly || !strings.Contains(pretty, "# the way out") {
		t.Fatalf("exit status %d, %q", code, pretty)
	}
	if code, stdout, _ := lampwarden(t.Context(), "format", "--check", path); code != exitFails || !strings.Contains(stdout, "site.lamp") {
		t.Errorf("--check: exit status %d, stdout %q", code, stdout)
	}
	if got, _ := os.ReadFile(path); string(got) != ugly {
		t.Errorf("the file was changed without --write: %q", got)
	}
	if err := os.Chmod(path, 0o600); err != nil {
		t.Fatal(err)
	}
	if code, stdout, stderr := lampwarden(t.Context(), "format", "--write", path); code != exitProved || stdout+stderr != "" {
		t.Errorf("--write: exit status %d, output %q", code, stdout+stderr)
	}
	if got, _ := os.ReadFile(path); string(got) != pretty {
		t.Errorf("--write wrote %q, want %q", got, pretty)
	}
	if info, _ := os.Stat(path); info.Mode().Perm() != 0o600 {
		t.Errorf("--write changed the permissions to %v", info.Mode())
	}
	if entries, _ := os.ReadDir(filepath.Dir(path)); len(entries) != 1 {
		t.Errorf("--write left %d files", len(entries))
	}
	if code, stdout, _ := lampwarden(t.Context(), "format", "--check", path); code != exitProved || stdout != "" {
		t.Errorf("--check after --write: exit status %d, stdout %q", code, stdout)
	}
}

// A file that cannot be read is left alone.
func TestFormatRefusesBrokenFile(t *testing.T) {
	path := file(t, "site \"x\"\nmode {\n")
	code, stdout, stderr := lampwarden(t.Context(), "format", "--write", path)
	if code != exitInput || stdout != "" || !strings.Contains(stderr, "site.lamp:2") {
		t.Errorf("exit status %d, stdout %q, stderr %q", code, stdout, stderr)
	}
	if got, _ := os.ReadFile(path); string(got) != "site \"x\"\nmode {\n" {
		t.Errorf("the file was changed: %q", got)
	}
}

// The example and its variants, and the packs, are in canonical layout.
func TestOurFilesAreFormatted(t *testing.T) {
	if code, stdout, stderr := lampwarden(t.Context(), "format", "--check", "../../examples/guesthouse", defects, "../../stdlib"); code != exitProved {
		t.Errorf("exit status %d\n%s%s", code, stdout, stderr)
	}
}

func TestSize(t *testing.T) {
	for text, want := range map[string]int64{"500 MB": 500e6, "2GiB": 2 << 30, "1.5 kB": 1500, "7 B": 7} {
		var s size
		if err := s.Set(text); err != nil || int64(s) != want {
			t.Errorf("%q: %d, %v", text, s, err)
		}
	}
	for _, text := range []string{"", "500", "MB", "5 mb", "-1 MB", "0 MB", "1e30 GB", "1.2.3 MB", "99999999999 GiB"} {
		var s size
		if err := s.Set(text); err == nil {
			t.Errorf("%q was taken for %d", text, s)
		}
	}
}
