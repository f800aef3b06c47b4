// What the read-me shows is so: its site, the reports on it, its links. Run with -update to put the reports in anew.

package main

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "put the reports in the read-me anew")

const readMe = "../../README.md"

// block is a fenced block of a document: its word and what is in it.
var block = regexp.MustCompile("(?ms)^```([a-z]+)\n(.*?)^```$")

func TestReadMe(t *testing.T) {
	text, err := os.ReadFile(readMe)
	if err != nil {
		t.Fatal(err)
	}
	doc := string(text)
	path, err := filepath.Abs(readMe)
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	m := block.FindAllStringSubmatch(doc, -1)
	shown := ""
	for _, b := range m {
		if b[1] == "lamp" {
			shown = b[2]
		}
	}
	repaired := strings.Replace(shown, "night > fire_alarm > welcome", "fire_alarm > night > welcome", 1)
	if shown == "" || shown == repaired {
		t.Fatal("the read-me has no site with the wrong order")
	}
	for name, site := range map[string]string{"two-rooms.lamp": shown, "repaired.lamp": repaired} {
		if err := os.WriteFile(name, []byte(site), 0o644); err != nil {
			t.Fatal(err)
		}
		if code, _, _ := lampwarden(t.Context(), "format", "--check", name); code != exitProved {
			t.Errorf("%s is not in canonical layout", name)
		}
	}
	codes := []int{exitFails, exitProved}
	fresh := block.ReplaceAllStringFunc(doc, func(b string) string {
		prompt, ok := strings.CutPrefix(b, "```text\n$ lampwarden ")
		if !ok {
			return b
		}
		line, _, _ := strings.Cut(prompt, "\n")
		code, stdout, stderr := lampwarden(t.Context(), strings.Fields(line)...)
		if len(codes) == 0 || code != codes[0] || stderr != "" {
			t.Errorf("%s: exit status %d, stderr %q", line, code, stderr)
		}
		codes = codes[min(1, len(codes)):]
		return "```text\n$ lampwarden " + line + "\n" + stdout + "```"
	})
	if len(codes) > 0 {
		t.Errorf("%d reports are missing", len(codes))
	}
	if *update {
		if err := os.WriteFile(path, []byte(fresh), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if d := cmp.Diff(fresh, doc); d != "" {
		t.Errorf("the read-me is not what the program says (-program +read-me):\n%s", d)
	}
}

// Every command and flag that the read-me names exists, and every link leads somewhere.
func TestReadMeNames(t *testing.T) {
	text, err := os.ReadFile(readMe)
	if err != nil {
		t.Fatal(err)
	}
	root := newRoot()
	flags := map[string]bool{}
	for _, cmd := range root.Commands() {
		for _, name := range regexp.MustCompile(`--[a-z-]+`).FindAllString(cmd.Flags().FlagUsages(), -1) {
			flags[name] = true
		}
		if name := cmd.Name(); name != "help" && !strings.Contains(string(text), "`lampwarden "+name+" ") {
			t.Errorf("the command %s is not in the read-me", name)
		}
	}
	for _, name := range regexp.MustCompile("`(--[a-z-]+)").FindAllStringSubmatch(string(text), -1) {
		if !flags[name[1]] {
			t.Errorf("there is no flag %s", name[1])
		}
	}
	for _, link := range regexp.MustCompile(`\]\(([^)#]+)\)`).FindAllStringSubmatch(string(text), -1) {
		if _, err := os.Stat(filepath.Join(filepath.Dir(readMe), link[1])); err != nil {
			t.Error(err)
		}
	}
}
