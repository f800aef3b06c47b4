// The command lexicon.

package main

import (
	"encoding/json"
	"strings"
	"testing"
)

func TestLexicon(t *testing.T) {
	for _, c := range []struct {
		name           string
		args           []string
		code           int
		stdout, stderr string // regular expressions; "" means nothing at all
	}{
		{"heading", []string{"circuit"}, exitProved, `(?s)^circuit, lamps, .*Written: .*Caution: `, ``},
		{"several words", []string{"long", "press"}, exitProved, `(?s)^button, tap, .*long press`, ``},
		{"word inside", []string{"usable"}, exitProved, `^battery, capacity, `, ``},
		{"many places", []string{"least"}, exitProved, "(?s)^`least` stands in:\n  .* - ", ``},
		{"unit", []string{"kWh"}, exitProved, `^number, unit`, ``},
		{"with a number", []string{"at most 3 times"}, exitProved, `^at most N times`, ``},
		{"diagnostic", []string{"precedence-cycle"}, exitProved, `(?s)^precedence-cycle \(diagnostic\).*For example:.*    precedence left > right`, ``},
		{"diagnostic with a long example", []string{"too-deep"}, exitProved, `(?s)^too-deep .*several modes\.\n$`, ``},
		{"finding", []string{"never-wins"}, exitProved, `(?s)^never-wins \(finding\).*For example:.*mode welcome`, ``},
		{"all", nil, exitProved, `(?s)^How to read it\n.*The text\n  file, .*Requirements\n.*Diagnostics: .* bad-character, .*Findings: .*  ambiguous, `, ``},
		{"unknown", []string{"ciruit"}, exitInput, ``, `the language has no word "ciruit"; near: circuit`},
		{"unknown without near ones", []string{"xyzzy12345"}, exitInput, ``, "no word \"xyzzy12345\"; `lampwarden lexicon` lists"},
		{"control characters", []string{"\x1b[31m"}, exitInput, ``, `^lampwarden: the language has no word "\\\\x1b\[31m`},
		{"json", []string{"tap", "--output", "json"}, exitProved, `"double tap"`, ``},
		{"json of all", []string{"--output", "json"}, exitProved, `"Modes"`, ``},
		{"wrong form", []string{"--output", "xml"}, exitInput, ``, `expected text or json`},
		{"help", []string{"--help"}, exitProved, `lampwarden lexicon long press`, ``},
	} {
		t.Run(c.name, func(t *testing.T) {
			code, stdout, stderr := lampwarden(t.Context(), append([]string{"lexicon"}, c.args...)...)
			if code != c.code {
				t.Errorf("exit status %d, want %d", code, c.code)
			}
			match(t, "stdout", stdout, c.stdout)
			match(t, "stderr", stderr, c.stderr)
		})
	}
}

// Everything that can be looked up is found, in both forms, and fits a terminal.
func TestLexiconFits(t *testing.T) {
	book, err := newBook()
	if err != nil {
		t.Fatal(err)
	}
	known := book.Known()
	if len(known) < 200 {
		t.Fatalf("only %d words can be looked up", len(known))
	}
	for _, word := range known {
		a := book.Look(word)
		if !a.Found() {
			t.Errorf("%q is not found", word)
		}
		var text, data strings.Builder
		if err := a.Text(&text); err != nil {
			t.Fatal(err)
		}
		if err := a.JSON(&data); err != nil || !json.Valid([]byte(data.String())) {
			t.Errorf("%q: no JSON: %v", word, err)
		}
		for _, l := range strings.Split(text.String(), "\n") {
			if len([]rune(l)) > 80 {
				t.Errorf("%q: %d columns: %s", word, len([]rune(l)), l)
			}
		}
	}
	var contents strings.Builder
	if err := book.Contents(&contents); err != nil {
		t.Fatal(err)
	}
	for _, l := range strings.Split(contents.String(), "\n") {
		if len([]rune(l)) > 80 {
			t.Errorf("contents: %d columns: %s", len([]rune(l)), l)
		}
	}
}
