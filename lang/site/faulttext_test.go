package site_test

import (
	"testing"

	"lampwarden/lang"
)

const failing = `
area hall
supply mains
generator diesel { starts within 15 s  backs mains }
battery ups { capacity 600 Wh  charged by mains }
circuit spots in hall { dims  power 5 W  fed by ups }
presence pir, other in hall
contact window in hall
button key in hall
mode light { while presence in hall  spots full }
mode other_light { while pir and not window or other  spots full }
mode tapped { starts on tap key if vacated hall  for 5 s  spots full }
mode low { while ups flat and not diesel running or ups charged  spots off }
require "r" { never spots failed or not control bus lost or controller down or diesel fails to start or key stuck
    even with any 1 of: spots failed, control bus lost, controller restart, diesel fails to start, key stuck, pir stuck on,
    pir stuck off, window stuck off, other stuck on }
`

// TestFaultTexts: how conditions with batteries, generators and faults, and changes of these, are told. What modes read
// of an input that may stick is told as it was written.
func TestFaultTexts(t *testing.T) {
	p := lang.LoadText("test.lamp", failing)
	if p.Site == nil {
		t.Fatal(p.Diagnostics)
	}
	s := p.Site
	m := s.Modes
	for got, want := range map[string]string{
		s.ExprText(m[0].Cond):         "presence in hall",
		s.ExprText(m[1].Cond):         "(pir and window closed) or other",
		s.ExprText(m[2].Starts[0].On): "tap key",
		s.ExprText(m[2].Starts[0].If): "vacated hall",
		s.ExprText(m[3].Cond):         "(ups flat and not diesel running) or ups charged",
		s.ExprText(s.Requirements[0].P): "spots failed or not control bus lost or controller down or diesel fails to start or " +
			"key stuck",
	} {
		if got != want {
			t.Errorf("told as %q, want %q", got, want)
		}
	}
	for name, want := range map[string][2]string{
		"ups flat":              {"ups runs flat", "ups is charged again"},
		"spots failed":          {"spots fails", "spots works again"},
		"control bus lost":      {"the control bus is lost", "the control bus is back"},
		"controller down":       {"the controller goes down", "the controller restarts"},
		"diesel fails to start": {"diesel fails to start", "diesel can start again"},
		"key stuck":             {"key sticks", "key works again"},
		"pir stuck on":          {"pir sticks on", "pir works again"},
		"window stuck off":      {"window sticks off", "window works again"},
	} {
		in := s.InputNamed(name)
		if in < 0 {
			t.Errorf("no input %q", name)
			continue
		}
		if got := [2]string{s.ChangeText(in, true), s.ChangeText(in, false)}; got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}
