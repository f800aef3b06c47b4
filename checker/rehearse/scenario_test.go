// Scenarios and their expectations.

package rehearse

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/lang/site"
)

// met plays a scenario on the dimmer site and lists when each expectation was met; -1: not, -2: not for sure.
func met(t *testing.T, s *site.Site, steps ...site.ScenarioStep) []Nanos {
	t.Helper()
	_, xs, err := Rehearse(s, &site.Scenario{Start: 8 * shour, Steps: steps})
	if err != nil {
		t.Fatal(err)
	}
	var out []Nanos
	for _, x := range xs {
		switch {
		case x.Met:
			out = append(out, x.At)
		case x.Unsure:
			out = append(out, -2)
		default:
			out = append(out, -1)
		}
		if x.Met == (len(x.Why) > 0) {
			t.Errorf("%s: met %t with reasons %v", x, x.Met, x.Why)
		}
	}
	return out
}

func TestExpectations(t *testing.T) {
	s, c, full, dim, _ := dimmer() // arrives 1 s after
	up := site.ScenarioStep{After: 1000, Input: full, Value: true}
	expect := func(after, within site.Millis, e *site.Expr) site.ScenarioStep {
		return site.ScenarioStep{After: after, Within: within, Expect: e}
	}
	isFull, isDark := light(c, site.Full, site.Full), light(c, 0, 0)
	for _, tt := range []struct {
		name  string
		steps []site.ScenarioStep
		want  Nanos
	}{
		{"met at the arrival", []site.ScenarioStep{up, expect(1000, 1000, isFull)}, 2 * sec},
		{"unsure before it", []site.ScenarioStep{up, expect(1000, 999, isFull)}, -2},
		{"still dark at the step", []site.ScenarioStep{up, expect(1000, 0, isDark)}, sec},
		{"not surely dark on the way", []site.ScenarioStep{up, expect(1500, 100, isDark)}, -2},
		{"surely not dim on the way down from full", []site.ScenarioStep{up, expect(2500, 100, light(c, 0, 9999))}, -1},
		{"in range all the way", []site.ScenarioStep{up, expect(1500, 100, light(c, 0, site.Full))}, 1500 * Milli},
		{"a mode at once", []site.ScenarioStep{up, expect(1000, 0, isOn(0))}, sec},
		{"an input too early", []site.ScenarioStep{expect(0, 999, isIn(full)), up}, -1},
		{"an input in its window", []site.ScenarioStep{expect(0, 1000, isIn(full)), up}, sec},
		{"an interrupted lamp may be anywhere it came", []site.ScenarioStep{up,
			{After: 1500, Input: full}, expect(1500, 0, isDark)}, -2},
		{"but is surely dark in the end", []site.ScenarioStep{up,
			{After: 1500, Input: full}, expect(1500, 2000, isDark)}, 2500 * Milli},
		{"counts with three values", []site.ScenarioStep{up, {After: 1500, Input: dim, Value: true},
			expect(1500, 100, &site.Expr{Op: site.OpAtLeast, N: 2, Kids: []*site.Expr{isFull, isIn(dim), isIn(full)}})}, 1500 * Milli},
		{"at most with three values", []site.ScenarioStep{up, {After: 1500, Input: dim, Value: true},
			expect(1500, 100, &site.Expr{Op: site.OpAtMost, N: 2, Kids: []*site.Expr{isFull, isIn(dim), isIn(full)}})}, -2},
	} {
		if d := cmp.Diff([]Nanos{tt.want}, met(t, s, tt.steps...)); d != "" {
			t.Errorf("%s: %s", tt.name, d)
		}
	}
}

func TestScenarioErrors(t *testing.T) {
	s, _, full, dim, _ := dimmer()
	for name, tt := range map[string]struct {
		sc   site.Scenario
		step int
	}{
		"no change":     {site.Scenario{Steps: []site.ScenarioStep{{After: 5, Input: full}}}, 0},
		"simultaneous":  {site.Scenario{Steps: []site.ScenarioStep{{After: 5, Input: full, Value: true}, {After: 5, Input: dim, Value: true}}}, 1},
		"at start-up":   {site.Scenario{Steps: []site.ScenarioStep{{After: 0, Input: full, Value: true}}}, 0},
		"given twice":   {site.Scenario{Given: []site.InputID{full, full}}, -1},
		"wrong start":   {site.Scenario{Start: site.Week}, -1},
		"expect before": {site.Scenario{Steps: []site.ScenarioStep{{Expect: isIn(full)}, {After: 5, Input: full}}}, 1},
	} {
		_, _, err := Rehearse(s, &tt.sc)
		var se *ScenarioError
		if !errors.As(err, &se) || se.Step != tt.step || err.Error() == "" {
			t.Errorf("%s: error %v", name, err)
		}
	}
}

// After the feed is back a lamp is surely at its power on level, then on its way; a colour is surely told only where its
// light is surely dark, or once its time is over.
func TestExpectationsOfOwnLevels(t *testing.T) {
	b, c, _, _, lost := reach()
	b.s.Circuits[c].PowerOn = level(6000)
	s := b.done()
	expect := func(after, within site.Millis, e *site.Expr) site.ScenarioStep {
		return site.ScenarioStep{After: after, Within: within, Expect: e}
	}
	out, back := site.ScenarioStep{After: 1000, Input: lost, Value: true}, site.ScenarioStep{After: 2000, Input: lost}
	isOwn, isDark := light(c, 6000, 6000), light(c, 0, 0)
	for _, tt := range []struct {
		expect site.ScenarioStep
		want   Nanos
	}{{expect(2000, 0, isOwn), 2 * sec}, {expect(2001, 10, isOwn), -2}, {expect(2001, 10, isDark), -2}, {expect(2001, 2000, isDark), 3 * sec}} {
		if d := cmp.Diff([]Nanos{tt.want}, met(t, s, out, back, tt.expect)); d != "" {
			t.Errorf("%+v: %s", tt.expect, d)
		}
	}
	b, c, colour, in, _ := tunable()
	s = b.done()
	on, isWarm := site.ScenarioStep{After: 1000, Input: in[0], Value: true}, light(colour, warm, warm)
	ask := func(after site.Millis) site.ScenarioStep {
		return site.ScenarioStep{After: after, Input: in[1], Value: true}
	}
	for _, tt := range []struct {
		steps []site.ScenarioStep
		want  Nanos
	}{
		{[]site.ScenarioStep{ask(500), expect(500, 0, isWarm)}, 500 * Milli},
		{[]site.ScenarioStep{on, ask(1500), expect(1500, 100, isWarm)}, -2},
		{[]site.ScenarioStep{on, ask(1500), expect(1500, 1000, isWarm)}, 2500 * Milli},
	} {
		if d := cmp.Diff([]Nanos{tt.want}, met(t, s, tt.steps...)); d != "" {
			t.Errorf("%+v: %s", tt.steps, d)
		}
	}
}
