// Hand-made sites for the oracle's own tests.

package oracle_test

import (
	"context"
	"testing"

	"lampwarden/checker/internal/oracle"
	"lampwarden/checker/internal/sitegen"
	"lampwarden/lang/site"
)

// The inputs and circuits of every hand-made site.
const (
	sw    site.InputID   = 0 // a switch
	sw2   site.InputID   = 1 // another
	key   site.InputID   = 2 // a button
	mains site.InputID   = 3 // lost or live
	lamp  site.CircuitID = 0
)

const second site.Millis = 1000
const hour = 3600 * second

func build(modes ...site.Mode) *site.Site {
	n := len(modes)
	s := &site.Site{Name: "hand-made", Controller: site.Controller{FedBy: site.None},
		Areas: []site.Area{{Name: "hall", Parent: site.None}},
		Inputs: []site.Input{{Name: "sw", Kind: site.Switch}, {Name: "sw2", Kind: site.Switch},
			{Name: "key", Kind: site.Button}, {Name: "mains", Kind: site.SupplyHealth, Area: site.None}},
		Supplies: []site.Supply{{Name: "mains", Health: mains, ChargedBy: site.None}},
		Circuits: []site.Circuit{{Name: "lamp", Min: 1, Max: site.Full, FedBy: site.None}},
		Modes:    modes,
	}
	s.Precedence.Above, s.Precedence.Equal = make([][]bool, n), make([][]site.Rule, n)
	for i := range n {
		s.StepOrder = append(s.StepOrder, site.ModeID(i))
		s.Precedence.Above[i], s.Precedence.Equal[i] = make([]bool, n), make([]site.Rule, n)
		s.Modes[i].Area = site.None
		if s.Modes[i].States == nil {
			s.Modes[i].States = []site.State{{}}
		}
	}
	return s
}

func rule(s *site.Site, r site.Rule) *site.Site {
	s.Precedence.Equal[0][1], s.Precedence.Equal[1][0] = r, r
	return s
}

func assuming(s *site.Site, as ...site.Assumption) *site.Site {
	s.Assumptions = as
	return s
}

func while(cond *site.Expr) site.Mode { return site.Mode{Name: "m", Kind: site.While, Cond: cond} }

func latch(start *site.Expr, ends ...site.Trigger) site.Mode {
	return site.Mode{Name: "m", Kind: site.Latch, Starts: []site.Trigger{{On: start}}, Ends: ends}
}

// asks gives a mode a sequence of stages.
func asks(m site.Mode, stages ...site.Stage) site.Mode {
	m.States = []site.State{{Stages: stages}}
	return m
}

// level is a stage that asks for a level of the lamp.
func level(l site.Level) site.Stage {
	return site.Stage{Settings: []site.Setting{{Circuits: []site.CircuitID{lamp}, Cases: []site.Case{{Level: l}}}}}
}

func flash(times int, on, off site.Millis) site.Stage {
	st := level(site.Full)
	st.Settings[0].Flashing = true
	st.Flash = &site.Flash{Times: times, On: on, Off: off}
	st.For = site.Millis(times) * (on + off)
	return st
}

func input(i site.InputID) *site.Expr { return &site.Expr{Op: site.OpInput, Input: i} }
func tap() *site.Expr                 { return &site.Expr{Op: site.OpEvent, Input: key} }
func mode(i site.ModeID) *site.Expr   { return &site.Expr{Op: site.OpMode, Mode: i} }
func state(i site.ModeID, st int) *site.Expr {
	return &site.Expr{Op: site.OpState, Mode: i, State: st}
}
func stage(i site.ModeID, st int) *site.Expr {
	return &site.Expr{Op: site.OpStage, Mode: i, State: st}
}
func not(e *site.Expr) *site.Expr     { return &site.Expr{Op: site.OpNot, Kids: []*site.Expr{e}} }
func and(es ...*site.Expr) *site.Expr { return &site.Expr{Op: site.OpAnd, Kids: es} }
func light(lo, hi site.Level) *site.Expr {
	return &site.Expr{Op: site.OpLight, Circuit: lamp, Lo: lo, Hi: hi}
}

func never(p *site.Expr) site.Requirement    { return site.Requirement{Form: site.Never, P: p} }
func possible(p *site.Expr) site.Requirement { return site.Requirement{Form: site.Possible, P: p} }
func atMost(p *site.Expr, d site.Millis) site.Requirement {
	return site.Requirement{Form: site.LastsAtMost, P: p, D: d}
}
func atLeast(p *site.Expr, d site.Millis) site.Requirement {
	return site.Requirement{Form: site.LastsAtLeast, P: p, D: d}
}
func times(n int, p *site.Expr, d site.Millis) site.Requirement {
	return site.Requirement{Form: site.AtMostTimes, P: p, D: d, N: n}
}
func whenever(a *site.Expr, d site.Millis, b *site.Expr) site.Requirement {
	return site.Requirement{Form: site.Whenever, A: a, B: b, D: d}
}
func until(r site.Requirement, c *site.Expr) site.Requirement    { r.Until = c; return r }
func lasting(r site.Requirement, e site.Millis) site.Requirement { r.E = e; return r }
func onlyAfter(p, q, since *site.Expr) site.Requirement {
	return site.Requirement{Form: site.OnlyAfter, P: p, Q: q, Since: since}
}

// known is a question with a known answer.
type known struct {
	name string
	s    *site.Site
	r    site.Requirement
	want oracle.Verdict
}

func decide(t *testing.T, cases []known) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if err := sitegen.Check(c.s); err != nil {
				t.Fatal(err)
			}
			res, err := oracle.Check(context.Background(), c.s, &c.r, oracle.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if res.Verdict != c.want {
				t.Fatalf("%v, want %v\n%s", res.Verdict, c.want, describe(c.s, res))
			}
			if res.Verdict == oracle.Broken || res.Verdict == oracle.Witness {
				if err := confirm(c.s, &c.r, res); err != nil {
					t.Fatalf("%v\n%s", err, describe(c.s, res))
				}
			}
		})
	}
}
