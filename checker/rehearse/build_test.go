// A small builder of sites and scripts for the tests.

package rehearse

import (
	"cmp"
	"slices"
	"testing"

	"lampwarden/lang/site"
)

const (
	sec   = 1000 * Milli
	sms   = site.Millis(1)
	ssec  = 1000 * sms
	smin  = 60 * ssec
	shour = 60 * smin
)

// builder makes a site directly, without the language.
type builder struct{ s *site.Site }

func newBuilder() *builder {
	return &builder{&site.Site{Name: "test", Controller: site.Controller{FedBy: site.None}}}
}

func (b *builder) input(name string, k site.InputKind) site.InputID {
	b.s.Inputs = append(b.s.Inputs, site.Input{Name: name, Kind: k, Area: site.None})
	return site.InputID(len(b.s.Inputs) - 1)
}

func (b *builder) mains(name string) (site.SupplyID, site.InputID) {
	in := b.input(name, site.SupplyHealth)
	b.s.Supplies = append(b.s.Supplies, site.Supply{Name: name, Health: in, ChargedBy: site.None})
	return site.SupplyID(len(b.s.Supplies) - 1), in
}

// feed hangs the circuit on the supply.
func (b *builder) feed(c site.CircuitID, from site.SupplyID) {
	b.s.Circuits[c].FedBy, b.s.Circuits[c].Dead = from, b.s.FeedDead(from)
}

func (b *builder) circuit(name string) site.CircuitID {
	b.s.Circuits = append(b.s.Circuits, site.Circuit{Name: name, Min: 1, Max: site.Full, FedBy: site.None})
	return site.CircuitID(len(b.s.Circuits) - 1)
}

func (b *builder) band(name string, from, to site.Millis) site.BandID {
	b.s.Bands = append(b.s.Bands, site.Band{Name: name, From: from, To: to})
	return site.BandID(len(b.s.Bands) - 1)
}

func (b *builder) mode(m site.Mode) site.ModeID {
	if m.States == nil {
		m.States = []site.State{{}}
	}
	m.Area = site.None
	b.s.Modes = append(b.s.Modes, m)
	return site.ModeID(len(b.s.Modes) - 1)
}

func (b *builder) assume(a site.Assumption) { b.s.Assumptions = append(b.s.Assumptions, a) }

// over writes "a > b > c".
func (b *builder) over(ids ...site.ModeID) {
	for i := 1; i < len(ids); i++ {
		b.s.Precedence.Pairs = append(b.s.Precedence.Pairs, site.PrecedencePair{Over: ids[i-1], Under: ids[i]})
	}
}

// equals writes a rule for every pair.
func (b *builder) equals(rule site.Rule, ids ...site.ModeID) {
	for i, x := range ids {
		for _, y := range ids[:i] {
			b.s.Precedence.Pairs = append(b.s.Precedence.Pairs, site.PrecedencePair{Over: x, Under: y, Rule: rule})
		}
	}
}

// done closes the tables. Modes are stepped in written order.
func (b *builder) done() *site.Site {
	s := b.s
	n := len(s.Modes)
	s.StepOrder = make([]site.ModeID, n)
	s.Precedence.Above = make([][]bool, n)
	s.Precedence.Equal = make([][]site.Rule, n)
	for i := range n {
		s.StepOrder[i] = site.ModeID(i)
		s.Precedence.Above[i] = make([]bool, n)
		s.Precedence.Equal[i] = make([]site.Rule, n)
	}
	for _, p := range s.Precedence.Pairs {
		if p.Rule == site.NoRule {
			s.Precedence.Above[p.Over][p.Under] = true
		} else {
			s.Precedence.Equal[p.Over][p.Under], s.Precedence.Equal[p.Under][p.Over] = p.Rule, p.Rule
		}
	}
	above := s.Precedence.Above
	for k := range n {
		for i := range n {
			for j := range n {
				above[i][j] = above[i][j] || above[i][k] && above[k][j]
			}
		}
	}
	return s
}

// always asks for a level on circuits.
func asks(l site.Level, cs ...site.CircuitID) []site.State {
	return []site.State{{Stages: []site.Stage{stage(0, l, cs...)}}}
}

// stage is a stage of length d with one setting.
func stage(d site.Millis, l site.Level, cs ...site.CircuitID) site.Stage {
	return site.Stage{For: d, Settings: []site.Setting{{Circuits: cs, Cases: []site.Case{{Level: l}}}}}
}

func isIn(in site.InputID) *site.Expr { return &site.Expr{Op: site.OpInput, Input: in} }
func isOn(m site.ModeID) *site.Expr   { return &site.Expr{Op: site.OpMode, Mode: m} }
func isBand(x site.BandID) *site.Expr { return &site.Expr{Op: site.OpBand, Band: x} }
func not(e *site.Expr) *site.Expr     { return &site.Expr{Op: site.OpNot, Kids: []*site.Expr{e}} }
func was(e *site.Expr) *site.Expr     { return &site.Expr{Op: site.OpWas, Kids: []*site.Expr{e}} }
func and(es ...*site.Expr) *site.Expr { return &site.Expr{Op: site.OpAnd, Kids: es} }
func or(es ...*site.Expr) *site.Expr  { return &site.Expr{Op: site.OpOr, Kids: es} }
func lit(c site.CircuitID) *site.Expr { return light(c, 1, site.Full) }
func inState(m site.ModeID, st int) *site.Expr {
	return &site.Expr{Op: site.OpState, Mode: m, State: st}
}
func inStage(m site.ModeID, st int) *site.Expr {
	return &site.Expr{Op: site.OpStage, Mode: m, State: st}
}
func tapped(in site.InputID, g site.Gesture) *site.Expr {
	return &site.Expr{Op: site.OpEvent, Input: in, Gesture: g}
}
func light(c site.CircuitID, lo, hi site.Level) *site.Expr {
	return &site.Expr{Op: site.OpLight, Circuit: c, Lo: lo, Hi: hi}
}
func on(e *site.Expr) site.Trigger       { return site.Trigger{On: e} }
func clockAt(t site.Millis) site.Trigger { return site.Trigger{At: t} }
func turn(at Nanos, in site.InputID, v bool) Event {
	return Event{At: at, Input: in, Value: v}
}
func tap(at Nanos, in site.InputID) Event { return Event{At: at, Input: in} }

// mustRun plays a script that keeps the rules.
func mustRun(t *testing.T, s *site.Site, sc Script) *Timeline {
	t.Helper()
	tl, err := Run(s, sc)
	if err != nil {
		t.Fatal(err)
	}
	return tl
}

// mustJudge judges a run that counts.
func mustJudge(t testing.TB, tl *Timeline, r *site.Requirement) Judgement {
	t.Helper()
	j, err := Judge(tl.Site, tl, r)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// edge is a change of a truth over time.
type edge struct {
	at Nanos
	on bool
}

// edges lists when the expression changes in the state after the steps; it starts false.
func edges(tl *Timeline, e *site.Expr) []edge {
	var out []edge
	value := false
	for i := range tl.Steps {
		if v := tl.after(i).holds(e); v != value {
			out = append(out, edge{tl.Steps[i].At, v})
			value = v
		}
	}
	return out
}

// levelAt is the circuit's level at a time, after all that happened then.
func levelAt(tl *Timeline, c site.CircuitID, at Nanos) site.Level { return tl.Level(tl.stepAt(at), c) }

// inOrder sorts events by time.
func inOrder(events []Event) []Event {
	slices.SortStableFunc(events, func(a, b Event) int { return cmp.Compare(a.At, b.At) })
	return events
}
