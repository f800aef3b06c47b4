// Modes: kinds, triggers, transitions, and the precedence between them.

package sitegen

import (
	"fmt"

	"lampwarden/lang/site"
)

func (g *gen) modes() {
	n := 1 + g.c.Intn(g.o.MaxModes, "modes")
	g.own = n
	g.s.Modes = make([]site.Mode, n)
	for i := range g.s.Modes {
		g.s.Modes[i] = site.Mode{Name: fmt.Sprintf("mode%d", i), Area: site.None}
	}
	g.plants()
	for _, i := range g.permutation(n, "step order") {
		id := site.ModeID(i)
		g.mode(id)
		g.known = append(g.known, id)
		g.s.StepOrder = append(g.s.StepOrder, id)
	}
}

func (g *gen) mode(id site.ModeID) {
	m := &g.s.Modes[id]
	m.Kind = pick(g, []site.ModeKind{site.While, site.Latch, site.While, site.States}, "mode kind")
	switch m.Kind {
	case site.While:
		g.while(m)
		m.States = []site.State{{Stages: g.sequence()}}
	case site.Latch:
		g.latch(m)
		m.States = []site.State{{Stages: g.sequence()}}
	case site.States:
		g.states(m)
	}
}

func (g *gen) while(m *site.Mode) {
	m.Cond = g.lasting(g.cond(2, scope{modes: g.known}))
	switch g.c.Intn(5, "timers") {
	case 1:
		m.OnDelay = g.units("on delay")
	case 2:
		m.OffDelay = g.units("off delay")
	case 3:
		m.OnDelay, m.OffDelay = g.units("on delay"), g.units("off delay")
	case 4:
		m.Pulse = g.units("pulse")
	}
}

func (g *gen) latch(m *site.Mode) {
	for range 1 + g.c.Intn(2, "starts") {
		m.Starts = append(m.Starts, g.trigger())
	}
	for range g.c.Intn(3, "ends") {
		m.Ends = append(m.Ends, g.trigger())
	}
	if len(m.Ends) > 0 && g.one(25, "toggles") && m.Starts[0].On != nil {
		m.Ends[0] = cloneTrigger(m.Starts[0])
	}
	if len(m.Ends) == 0 && g.one(70, "for") || g.one(30, "for") {
		m.For = g.units("for")
	}
}

func (g *gen) states(m *site.Mode) {
	n := 2 + g.c.Intn(2, "states")
	names := []string{"auto", "bright", "film"}
	for i := range n {
		st := site.State{Name: names[i]}
		if i > 0 || g.one(40, "first state asks") {
			st.Stages = g.sequence()
		}
		m.States = append(m.States, st)
	}
	for i := range n - 1 {
		m.Transitions = append(m.Transitions, g.transition(i, i+1))
	}
	for range 1 + g.c.Intn(2, "more transitions") {
		from, to := g.c.Intn(n, "from"), g.c.Intn(n, "to")
		if g.one(30, "from any state") {
			from = site.None
		}
		m.Transitions = append(m.Transitions, g.transition(from, to))
	}
}

func (g *gen) transition(from, to int) site.Transition {
	t := site.Transition{From: from, To: to}
	if g.one(35, "after") {
		t.After = g.units("after")
		t.Trigger = site.Trigger{If: g.guard()}
		return t
	}
	t.Trigger = g.trigger()
	return t
}

// trigger makes a clock-time trigger (in a site with clock times) or one with
// an expression that comes true.
func (g *gen) trigger() site.Trigger {
	if g.clock && g.one(35, "at") {
		if sun := g.sunTime("at the sun"); sun != nil {
			return site.Trigger{Sun: sun, Days: g.days("trigger days"), If: g.guard()}
		}
		return site.Trigger{At: g.clockTime("at"), Days: g.days("trigger days"), If: g.guard()}
	}
	return site.Trigger{On: g.cond(2, scope{modes: g.known, events: true, was: true}), If: g.guard()}
}

func (g *gen) guard() *site.Expr {
	if !g.one(20, "guard") {
		return nil
	}
	return g.cond(1, scope{modes: g.known, events: g.one(20, "event in a guard"), was: true})
}

// precedence makes a total, a partial or no order, with rules for some of the
// pairs that it leaves equal.
func (g *gen) precedence() {
	n, all := g.own, len(g.s.Modes)
	p := &g.s.Precedence
	p.Above, p.Equal = make([][]bool, all), make([][]site.Rule, all)
	for i := range all {
		p.Above[i], p.Equal[i] = make([]bool, all), make([]site.Rule, all)
	}
	share := []int{100, 100, 50, 0}[g.c.Intn(4, "order")]
	order := g.permutation(n, "precedence")
	for i := range n {
		for j := i + 1; j < n; j++ {
			if a, b := order[i], order[j]; share == 100 || share > 0 && g.one(share, "above") {
				p.Above[a][b] = true
				p.Pairs = append(p.Pairs, site.PrecedencePair{Over: site.ModeID(a), Under: site.ModeID(b)})
			}
		}
	}
	for k := range n {
		for i := range n {
			for j := range n {
				p.Above[i][j] = p.Above[i][j] || p.Above[i][k] && p.Above[k][j]
			}
		}
	}
	for i := range n {
		for j := i + 1; j < n; j++ {
			if p.Above[i][j] || p.Above[j][i] {
				continue
			}
			if r := pick(g, []site.Rule{site.Highest, site.Latest, site.NoRule}, "rule"); r != site.NoRule {
				p.Equal[i][j], p.Equal[j][i] = r, r
				p.Pairs = append(p.Pairs, site.PrecedencePair{Over: site.ModeID(i), Under: site.ModeID(j), Rule: r})
			}
		}
	}
}
