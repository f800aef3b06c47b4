// Hostile text in a site: harmless in everything that any command writes.

package main

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// nasty are texts that do harm where they are written as they are.
var nasty = []string{
	"\x1b[31mred\x1b[0m\x1b[2J", "\x1b]0;title\x07", "\x9b31m\u009b31m", "\r overwritten", "bell\x07 back\x08\x08 del\x7f", "tab\tvt\x0bff\x0c",
	"\u202eright to left\u202c", "\u2066isolate\u2069 \u200f\u200e\u061c", "zero\u200bwidth\u200d\u2060\ufeff", "\u2028line\u2029paragraph\u0085next",
	"combining e\u0301\u0489", "tag \U000e0041\U000e007f", "soft\u00adhyphen \u180e \u3164", "<script>alert(1)</script>", "</title>&lt;&#x1b;<!--", "'; drop table--",
	"$(reboot) `reboot` | & ; > /dev/null", "%s %n %d {{.}}", "\\\" \\\\ \\\"", "=cmd|' /C calc'!A0", "../../etc/passwd", "(declare-const x Bool) |(exit)|", "private \ue000 \uffff \ufffd",
}

// hostileText has a nasty text wherever a text can stand, and something to report of each.
const hostileText = `site "SITE @" # comment @
area hall : escape
circuit spots in hall { dims }
presence pir in hall
alarm fire
notice word "@"
mode fire_alarm { while fire  all circuits full }
mode welcome { while presence in hall, off delay 5 min  spots at 60 %  word on }
mode other { while presence in hall, off delay 7 min  spots at 30 % }
mode idle { while fire and not fire  spots off }
precedence fire_alarm > welcome
require "holds @" { whenever fire then within 5 s spots at full until not fire }
require "fails @" { never word on }
require "vacuous @" { whenever fire and not fire then within 5 s spots at full }
require "possible @" { spots lit is possible }
scenario "scene @" {
    at 12:00 fire raised
    expect spots at full
    expect spots off
}
circuits from "table.csv" in hall { name "Ref @", prefix "r_", other characters "_"  dims "Dim" = "@", "yes" }
`

// broken is the same with mistakes beside the nasty texts.
var broken = strings.NewReplacer("5 min", "5 parsecs", "require \"fails", "requir \"fails", `"holds @" {`, `"holds @" "@ {`, "fire raised", "@ raised").Replace(hostileText)

// quoted is a text as it stands between quotes.
func quoted(text string) string {
	return strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", " ", "\x00", " ").Replace(text)
}

// commands is how each command is called on a site; one that is not here has no test of its harmlessness.
var commands = map[string]func(dir, word string) [][]string{
	"prove": func(dir, word string) [][]string {
		return [][]string{
			{"prove", "--no-cache", dir}, {"prove", "--no-cache", "--stats", dir}, {"prove", "--no-cache", "--output", "json", dir}, {"prove", "--no-cache", "--quiet", dir},
			{"prove", "--no-cache", "--limit-states", "1", dir}, {"prove", "--no-cache", dir, "--only", "fails " + word}, {"prove", dir, "--only", word}, {"prove", word},
			{"prove", dir, "--output", "smt2"}, {"prove", dir, "--output", word}, {"prove", dir, "--limit-memory", word}, {"prove", dir, "--" + word},
		}
	},
	"rehearse": func(dir, word string) [][]string {
		return [][]string{{"rehearse", dir}, {"rehearse", "--output", "json", dir}, {"rehearse", "--quiet", dir}, {"rehearse", dir, "scene " + word}, {"rehearse", dir, word}}
	},
	"format": func(dir, word string) [][]string { return [][]string{{"format", "--check", dir}, {"format", word}} },
	"lexicon": func(_, word string) [][]string {
		return [][]string{{"lexicon", word}, {"lexicon", "--output", "json", "mode"}}
	},
	"confirm": func(dir, word string) [][]string {
		proofs := filepath.Join(filepath.Dir(dir), "proofs "+strings.NewReplacer("/", "-", "\x00", "").Replace(word))
		return [][]string{
			{"prove", "--no-cache", dir, "--certificate", proofs}, {"confirm", dir, proofs}, {"confirm", "--output", "json", dir, proofs}, {"confirm", dir, word},
			{"confirm", dir, filepath.Join(proofs, "r000-p0000.cert")}, {"confirm", word, proofs},
		}
	},
	"merge": func(dir, word string) [][]string {
		return [][]string{{"merge", dir, "--answers", word}, {"merge", word, "--answers", dir}}
	},
}

// Whatever the texts of a site are, every command writes nothing but harmless characters, and JSON that is valid.
func TestHostileTexts(t *testing.T) {
	var words []string
	for group := range slices.Chunk(nasty, 4) {
		words = append(words, strings.Join(group, " "))
	}
	for _, c := range newRoot().Commands() {
		calls := commands[c.Name()]
		if calls == nil {
			if c.Name() != "help" && c.Name() != "completion" {
				t.Errorf("nothing is known of the command %s", c.Name())
			}
			continue
		}
		t.Run(c.Name(), func(t *testing.T) {
			for i, word := range words {
				for k, text := range []string{hostileText, broken} {
					dir, valid := t.TempDir(), strings.ToValidUTF8(word, "?")
					if i%2 == 0 && k == 1 {
						valid = word // which is refused as a whole
					}
					site := strings.ReplaceAll(text, "@", quoted(valid))
					cell := strings.ReplaceAll(valid, `"`, `""`)
					table := "\"Ref " + cell + "\",Dim\n\"x " + cell + "\",\"" + cell + "\"\nok,yes\n"
					for name, text := range map[string]string{"a.lamp": site, "table.csv": table} {
						if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
							t.Fatal(err)
						}
					}
					for n, args := range calls(dir, word) {
						code, stdout, stderr := lampwarden(t.Context(), args...)
						if reads := c.Name() == "prove" || c.Name() == "rehearse"; n == 0 && reads && (code != exitFails) == (k == 0) {
							t.Errorf("%q: exit status %d, %s", args, code, stderr)
						}
						if code == exitInternal || code == exitOutput {
							t.Errorf("%q: exit status %d, %s", args, code, stderr)
						}
						harmless(t, "stdout of "+strings.Join(args, " "), stdout)
						harmless(t, "stderr of "+strings.Join(args, " "), stderr)
						checkJSON(t, args, code, stdout)
					}
				}
			}
		})
	}
}

// checkJSON holds that what was asked for as JSON is one or more whole documents, in ASCII where a text is nasty, and safe to put into a
// page.
func checkJSON(t *testing.T, args []string, code int, text string) {
	t.Helper()
	if !strings.Contains(strings.Join(args, " "), "--output json") || code == exitInput {
		return
	}
	d := json.NewDecoder(bytes.NewReader([]byte(text)))
	for n := 0; ; n++ {
		var doc map[string]any
		err := d.Decode(&doc)
		if err == io.EOF && n > 0 {
			break
		}
		if err != nil {
			t.Errorf("%q: document %d: %v in %.300q", args, n+1, err, text)
			return
		}
	}
	if strings.Contains(text, "<script") {
		t.Errorf("%q: there is a tag in the JSON", args)
	}
}
