// The command confirm from outside.

package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"unicode/utf8"
)

// proofs proves a site with certificates and gives their folder.
func proofs(t *testing.T, site string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "proofs")
	if code, _, messages := lampwarden(t.Context(), "prove", "--no-cache", site, "--certificate", dir); code == exitInput || code == exitInternal {
		t.Fatalf("exit status %d: %s", code, messages)
	}
	return dir
}

// put writes a file into a folder.
func put(t *testing.T, dir, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// resealed gives a certificate's text with the checksum right.
func resealed(text, end string) string {
	body := text[:strings.LastIndex(text, "end ")]
	sum := sha256.Sum256([]byte(body))
	return body + end + hex.EncodeToString(sum[:]) + "\n"
}

const possible = small + `require "light can be had" { spots lit is possible }
`

func TestConfirm(t *testing.T) {
	good, bad, can := file(t, small), file(t, failing), file(t, possible)
	for _, c := range []struct {
		name, site string
		change     func(t *testing.T, dir string)
		code       int
		stdout     string // a regular expression
		stderr     string
	}{
		{"all", good, nil, exitProved, `^confirmed +full on fire\n\nSmall: of 1 requirements 1 confirmed. Of 1 files 1 accepted.\n\nConfirmed is`, ``},
		{"a story", bad, nil, exitFails, `(?m)^broken +no light: counterexample replayed`, ``},
		{"a witness", can, nil, exitProved, `(?m)^confirmed +light can be had`, ``},
		{"the story is lost", bad, func(t *testing.T, dir string) { remove(t, dir, "*.run") }, exitUndecided, `(?m)^no certificate +no light`, ``},
		{"the proof is lost", bad, func(t *testing.T, dir string) { remove(t, dir, "*.cert") }, exitFails, `(?m)^no certificate +full on fire`, ``},
		{"nothing is left", good, func(t *testing.T, dir string) { remove(t, dir, "*") }, exitInput, `^$`, `the folder has no certificates`},
		{"no folder", good, func(t *testing.T, dir string) { os.RemoveAll(dir) }, exitInput, `^$`, `no such file`},
		{"one byte", good, func(t *testing.T, dir string) { rewrite(t, dir, "zone 0", "zone 1") }, exitFails,
			`(?s)not confirmed +full on fire: \S+\.cert is not accepted.*- \S+\.cert: line \d+: the checksum does not fit`, ``},
		{"a folder among them", good, func(t *testing.T, dir string) { os.Mkdir(filepath.Join(dir, "more.cert"), 0o777) }, exitFails,
			`(?s)^confirmed.*more\.cert: it is no regular file`, ``},
		{"a pipe among them", good, func(t *testing.T, dir string) { syscall.Mkfifo(filepath.Join(dir, "pipe.run"), 0o666) }, exitFails,
			`pipe\.run: it is no regular file`, ``},
		{"other files", good, func(t *testing.T, dir string) { put(t, dir, "notes.txt", "not for confirm") }, exitProved, `Of 1 files`, ``},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := proofs(t, c.site)
			if c.change != nil {
				c.change(t, dir)
			}
			code, stdout, stderr := lampwarden(t.Context(), "confirm", c.site, dir)
			if code != c.code || !regexp.MustCompile(c.stdout).MatchString(stdout) || !strings.Contains(stderr, c.stderr) || c.stderr == "" && stderr != "" {
				t.Errorf("exit status %d, want %d\n%s%s", code, c.code, stdout, stderr)
			}
			for _, line := range strings.Split(stdout, "\n") {
				if utf8.RuneCountInString(line) > 80 {
					t.Errorf("a line of more than 80 columns: %s", line)
				}
			}
		})
	}
}

func remove(t *testing.T, dir, pattern string) {
	t.Helper()
	for _, f := range matching(t, dir, pattern) {
		if err := os.Remove(f); err != nil {
			t.Fatal(err)
		}
	}
}

func matching(t *testing.T, dir, pattern string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, pattern))
	if err != nil || len(files) == 0 {
		t.Fatalf("no %s: %v", pattern, err)
	}
	return files
}

// rewrite replaces a text in the first certificate of a folder.
func rewrite(t *testing.T, dir, old, new string) {
	t.Helper()
	path := matching(t, dir, "*.cert")[0]
	text, err := os.ReadFile(path)
	if err != nil || !strings.Contains(string(text), old) {
		t.Fatalf("no %q: %v", old, err)
	}
	put(t, dir, filepath.Base(path), strings.Replace(string(text), old, new, 1))
}

// Evidence for another site, or another version of one, is worth nothing.
func TestConfirmOtherSite(t *testing.T) {
	site := file(t, failing)
	dir := proofs(t, site)
	other := file(t, strings.Replace(failing, "5 min", "6 min", 1))
	code, stdout, _ := lampwarden(t.Context(), "confirm", other, dir)
	if n := strings.Count(stdout, "another site"); code != exitFails || n != 2 {
		t.Errorf("exit status %d, %d files refused:\n%s", code, n, stdout)
	}
}

func TestConfirmJSON(t *testing.T) {
	site := file(t, failing)
	code, stdout, _ := lampwarden(t.Context(), "confirm", "--output", "json", site, proofs(t, site))
	var got struct {
		Verdict      string
		Requirements []struct {
			Name, Standing, Reason string
			Certificates, Runs     int
		}
		Refused  []any
		Accepted int
		Caution  string
	}
	if err := json.Unmarshal([]byte(stdout), &got); err != nil || code != exitFails {
		t.Fatalf("exit status %d, %v:\n%s", code, err, stdout)
	}
	if got.Verdict != "fails" || got.Accepted != 2 || got.Refused == nil || got.Caution == "" ||
		got.Requirements[0].Standing != "confirmed" || got.Requirements[0].Certificates != 1 ||
		got.Requirements[1].Standing != "broken" || got.Requirements[1].Runs != 1 {
		t.Errorf("%s", stdout)
	}
}

func TestConfirmStopped(t *testing.T) {
	site := file(t, small)
	dir := proofs(t, site)
	code, stdout, stderr := lampwarden(t.Context(), "confirm", "--limit-time", "1ns", site, dir)
	if code != exitUndecided || !strings.Contains(stdout, "1 left unchecked") || !strings.Contains(stderr, "stopped before") {
		t.Errorf("exit status %d\n%s%s", code, stdout, stderr)
	}
	code, stdout, _ = lampwarden(t.Context(), "confirm", "--limit-memory", "1 kB", site, dir)
	if code != exitFails || !strings.Contains(stdout, "more memory") {
		t.Errorf("exit status %d\n%s", code, stdout)
	}
}

// Whatever stands in a file or its name, it is refused in little time, and nothing of it reaches the terminal raw.
func TestConfirmHostileFiles(t *testing.T) {
	site := file(t, small)
	dir := proofs(t, site)
	real, err := os.ReadFile(matching(t, dir, "*.cert")[0])
	if err != nil {
		t.Fatal(err)
	}
	text := string(real)
	change := func(pattern, with string) string {
		re := regexp.MustCompile("(?m)" + pattern)
		if !re.MatchString(text) {
			t.Fatalf("no %s in %s", pattern, text)
		}
		return resealed(re.ReplaceAllLiteralString(text, with), strings.Join(strings.Fields(text[strings.LastIndex(text, "end "):])[:3], " ")+" ")
	}
	put(t, dir, "empty.cert", "")
	put(t, dir, "endless.cert", strings.Repeat("x", 9<<20))
	put(t, dir, "zeros.cert", strings.Repeat("\x00", 1<<20))
	put(t, dir, "blanks.cert", text[:strings.Index(text, "\nstate")]+"\nstate"+strings.Repeat(" ", 1<<20)+"\n")
	put(t, dir, "control.cert", change(`^version .*`, "version \x1b[2J\x1b]0;owned\x07 \u202e"))
	put(t, dir, "word.cert", change(`^horizon .*`, "\x1b[31mhorizon 5"))
	put(t, dir, "token.cert", change(`^state .*`, "state \x1b[31m\u202e"))
	put(t, dir, "number.cert", change(`^horizon .*`, "horizon 99999999999999999999999999999999"))
	put(t, dir, "negative.cert", change(`^requirement \d+`, "requirement -1"))
	put(t, dir, "unit.cert", change(`^unit .*`, "unit 0"))
	put(t, dir, "parts.cert", change(`^part .*`, "part 0 9999999999999"))
	put(t, dir, "clocks.cert", change(`^horizon (.*)`, "horizon 5"+strings.Repeat("\nclock mode 0 exact", 100_000)))
	put(t, dir, "zone.cert", change(`^zone .*`, "zone"+strings.Repeat(" 0", 500_000)))
	put(t, dir, "bound.cert", change(`^zone .*`, "zone 9223372036854775807"))
	put(t, dir, "states.cert", change(`^state .*`, "state m0=255.65535.255 o255.4294967295.1"))
	put(t, dir, "deep.run", "lampwarden-run 1\n"+strings.Repeat("change 1 0 1\n", 100_000))
	put(t, dir, "\x1b[31m\u202ename.cert", "")
	code, stdout, stderr := lampwarden(t.Context(), "confirm", site, dir)
	if code != exitFails || !strings.HasPrefix(stdout, "confirmed       full on fire") {
		t.Errorf("exit status %d\n%s%s", code, stdout, stderr)
	}
	for _, out := range []string{stdout, stderr} {
		if i := strings.IndexFunc(out, func(r rune) bool { return r < ' ' && r != '\n' || r == '\u202e' }); i >= 0 {
			t.Errorf("raw: %q", out[i:min(len(out), i+40)])
		}
	}
	if refused := strings.Count(stdout, "  - "); refused != 16 { // all but control.cert, in which only the version is odd
		t.Errorf("%d files are refused:\n%s", refused, stdout)
	}
}
