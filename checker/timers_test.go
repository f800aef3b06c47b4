// IEC 61131-3 timers in the engine: the timing diagrams of the standard's second
// edition (on delay TON, off delay TOF, pulse TP), as closed sites: one mode plays
// the input trace, one counts seconds, and the requirement says in which seconds
// the timer's output is on.

package checker_test

import (
	"context"
	"testing"

	"lampwarden/checker"
	"lampwarden/lang/site"
)

const sec = site.Millis(1000)

// span is a stretch of seconds, from inclusive, to exclusive.
type span struct{ from, to int }

// timerSite builds the site: mode 0 plays the input, mode 1 counts seconds up to
// end, mode 2 is the timer under test. The requirement is that mode 2 is active
// exactly in the seconds of want.
func timerSite(input, want []span, end int, timer site.Mode) *site.Site {
	s := &site.Site{Name: "timer", Controller: site.Controller{FedBy: site.None}}
	in := func(spans []span, t int) bool {
		for _, x := range spans {
			if x.from <= t && t < x.to {
				return true
			}
		}
		return false
	}
	count := site.Mode{Name: "seconds", Kind: site.States, Area: site.None}
	play := site.Mode{Name: "input", Kind: site.States, Area: site.None}
	var inOn, wantOn []*site.Expr
	last, since := false, 0
	for t := range end {
		count.States = append(count.States, site.State{})
		if t > 0 {
			count.Transitions = append(count.Transitions, site.Transition{After: sec, From: t - 1, To: t})
		}
		if in(want, t) {
			wantOn = append(wantOn, &site.Expr{Op: site.OpState, Mode: 1, State: t})
		}
		if now := in(input, t); t == 0 || now != last {
			k := len(play.States)
			play.States = append(play.States, site.State{})
			if t > 0 {
				play.Transitions = append(play.Transitions, site.Transition{After: site.Millis(t-since) * sec, From: k - 1, To: k})
			}
			if now {
				inOn = append(inOn, &site.Expr{Op: site.OpState, Mode: 0, State: k})
			}
			last, since = now, t
		}
	}
	timer.Name, timer.Kind, timer.Area = "timer", site.While, site.None
	timer.Cond = &site.Expr{Op: site.OpOr, Kids: inOn}
	timer.States = []site.State{{}}
	s.Modes = []site.Mode{play, count, timer}
	s.StepOrder = []site.ModeID{0, 1, 2}
	none := [][]bool{make([]bool, 3), make([]bool, 3), make([]bool, 3)}
	s.Precedence = site.Precedence{Above: none, Equal: [][]site.Rule{make([]site.Rule, 3), make([]site.Rule, 3), make([]site.Rule, 3)}}
	q, e := &site.Expr{Op: site.OpMode, Mode: 2}, &site.Expr{Op: site.OpOr, Kids: wantOn}
	not := func(x *site.Expr) *site.Expr { return &site.Expr{Op: site.OpNot, Kids: []*site.Expr{x}} }
	and := func(x, y *site.Expr) *site.Expr { return &site.Expr{Op: site.OpAnd, Kids: []*site.Expr{x, y}} }
	s.Requirements = []site.Requirement{{Name: "output", Form: site.Never,
		P: &site.Expr{Op: site.OpOr, Kids: []*site.Expr{and(q, not(e)), and(not(q), e)}}}}
	return s
}

// TestTimerDiagrams proves each diagram, and refutes it when its last edge is
// moved by one second.
func TestTimerDiagrams(t *testing.T) {
	const pt = 5 * sec
	ton, tof, tp := site.Mode{OnDelay: pt}, site.Mode{OffDelay: pt}, site.Mode{Pulse: pt}
	for _, c := range []struct {
		name     string
		timer    site.Mode
		in, want []span
	}{
		{"TON", ton, []span{{0, 10}, {20, 23}, {30, 35}}, []span{{5, 10}}}, // a fall at exactly PT wins
		{"TON held longer than PT", ton, []span{{0, 6}}, []span{{5, 6}}},
		{"TOF", tof, []span{{0, 10}, {20, 22}, {25, 30}}, []span{{0, 15}, {20, 35}}},
		{"TOF rise exactly at expiry", tof, []span{{0, 10}, {15, 17}}, []span{{0, 22}}},
		{"TOF rise one second before expiry", tof, []span{{0, 10}, {14, 16}}, []span{{0, 21}}},
		{"TOF rise one second after expiry", tof, []span{{0, 10}, {16, 18}}, []span{{0, 15}, {16, 23}}},
		{"TOF short rise within the delay", tof, []span{{0, 10}, {12, 13}}, []span{{0, 18}}},
		{"TP", tp, []span{{0, 10}, {20, 21}, {22, 23}, {40, 43}, {44, 60}}, []span{{0, 5}, {20, 25}, {40, 45}}},
		{"TP edge at expiry is lost", tp, []span{{0, 2}, {5, 9}, {20, 21}}, []span{{0, 5}, {20, 25}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			check := func(want []span, verdict checker.Verdict) {
				t.Helper()
				rep, err := checker.Prove(context.Background(), timerSite(c.in, want, 70, c.timer), checker.Options{NoFindings: true})
				if err != nil {
					t.Fatal(err)
				}
				if got := rep.Outcomes[0].Verdict; got != verdict {
					t.Errorf("output in %v: %v, want %v", want, got, verdict)
				}
			}
			check(c.want, checker.Proved)
			wrong := append([]span(nil), c.want...)
			wrong[len(wrong)-1].to++
			check(wrong, checker.Fails)
		})
	}
}
