// The command prove with --output smt2.

package main

import (
	"context"
	"strings"
	"testing"
)

func TestExport(t *testing.T) {
	const both = small + `require "gives way" { can always return to spots off within 1 min }
require "in both" { always spots at most 100 % and spots at most 50 % }
`
	for _, c := range []struct {
		name   string
		text   string
		args   []string
		code   int
		out    int // scripts
		stderr string
	}{
		{"one", both, []string{"--only", "full on fire"}, 0, 1, ""},
		{"in parts", both, []string{"--only", "in both"}, 0, 2, ""},
		{"all that can be", both, nil, 0, 3, `site.lamp:10:9: no script for "gives way"`},
		{"nothing", both, []string{"--only", "gives way"}, exitInput, 0, "there is no requirement that --output smt2 can write"},
		{"not a proof", both, []string{"--certificate", t.TempDir()}, exitInput, 0, "--output smt2 proves nothing"},
		{"another form", both, []string{"--output", "smt"}, exitInput, 0, "expected text or json"},
	} {
		t.Run(c.name, func(t *testing.T) {
			args := append([]string{"prove", file(t, c.text), "--output", "smt2"}, c.args...)
			code, stdout, stderr := lampwarden(context.Background(), args...)
			if got := strings.Count(stdout, "(check-sat)"); code != c.code || got != c.out || !strings.Contains(stderr, c.stderr) {
				t.Errorf("status %d, %d scripts, %q; want %d, %d, %q", code, got, stderr, c.code, c.out, c.stderr)
			}
			if got := strings.Count(stdout, "(reset)"); c.out > 0 && got != c.out-1 {
				t.Errorf("%d scripts are divided %d times", c.out, got)
			}
		})
	}
}
