// What constructs a site has, for TestEveryConstructComesUp.

package sitegen

import (
	"fmt"

	"lampwarden/lang/site"
)

func survey(s *site.Site, got map[string]bool) {
	add := func(ok bool, name string) {
		if ok {
			got[name] = true
		}
	}
	words := [...]string{"presence", "contact", "alarm", "switch", "supply", "button", "bell", "daylight", "calendar", "flatness",
		"failure"}
	for _, x := range s.Inputs {
		got["input:"+words[x.Kind]] = true
		add(x.Fault, "input:fault")
	}
	add(s.Controller.ReactsWithin > 0, "reacts")
	surveyFeatures(s, add)
	for _, b := range s.Bands {
		add(b.To < b.From, "band:midnight")
		add(b.To > b.From, "band:plain")
		add(b.Days != 0, "band:days")
		add(b.Days != 0 && b.To < b.From, "band:days-midnight")
	}
	add(len(s.Covers) > 0, "cover")
	for _, c := range s.Circuits {
		add(c.Switched, "circuit:switched")
		add(c.Min > 1, "circuit:min")
		add(c.Max < site.Full, "circuit:max")
		add(c.Fade > 0, "circuit:fade")
		add(c.Output && c.Notice == "", "output")
		add(c.Notice != "", "notice")
		add(c.FedBy == site.None, "circuit:nofeed")
		add(c.FedBy != site.None && s.Supplies[max(c.FedBy, 0)].Battery, "circuit:battery")
		add(c.FedBy != site.None && !s.Supplies[max(c.FedBy, 0)].Battery, "circuit:mains")
	}
	for _, x := range s.Supplies {
		add(x.Battery, "battery")
	}
	place := map[site.ModeID]int{}
	for i, m := range s.StepOrder {
		place[m] = i
	}
	for i := range s.Modes {
		surveyMode(&s.Modes[i], site.ModeID(i), add)
		for _, e := range modeExprs(&s.Modes[i]) {
			surveyExpr(e, got)
		}
	}
	surveyPrecedence(s, add)
	for _, a := range s.Assumptions {
		got[fmt.Sprintf("assume:%d", a.Kind)] = true
		add(a.Kind == site.Dwell, fmt.Sprintf("dwell:%v", a.Value))
	}
	for _, r := range s.Requirements {
		got[fmt.Sprintf("form:%d", r.Form)] = true
		add(r.Until != nil, "until")
		add(r.E > 0, "for")
		add(r.E > 0 && r.Until != nil, "until-for")
		add(r.Since != nil, "since")
		add(r.During != nil, "during")
		add(r.AtMost > 1, "faults:2")
		add(r.AtMost == 1, "faults:1")
		for _, e := range []*site.Expr{r.P, r.A, r.B, r.Until, r.Q, r.Since, r.During} {
			surveyExpr(e, got)
		}
	}
}

func surveyExpr(e *site.Expr, got map[string]bool) {
	e.Walk(func(x *site.Expr) {
		got[fmt.Sprintf("op:%d", x.Op)] = true
		if x.Op == site.OpSum {
			got[fmt.Sprintf("sum:seen=%v,up=%v", x.Seen, x.Up)] = true
		}
		if x.Op == site.OpEvent {
			got[fmt.Sprintf("gesture:%d", x.Gesture)] = true
		}
	})
}

func surveyMode(m *site.Mode, id site.ModeID, add func(bool, string)) {
	if m.Kind == site.While {
		add(m.OnDelay+m.OffDelay+m.Pulse == 0, "while:plain")
		add(m.OnDelay > 0 && m.OffDelay == 0, "while:on")
		add(m.OnDelay == 0 && m.OffDelay > 0, "while:off")
		add(m.OnDelay > 0 && m.OffDelay > 0, "while:both")
		add(m.Pulse > 0, "while:pulse")
	}
	add(m.For > 0, "latch:for")
	for _, t := range m.Starts {
		add(t.On == nil, "latch:at")
		add(t.On != nil, "latch:on")
		add(t.Days != 0, "latch:days")
		add(t.If != nil, "latch:if")
	}
	for _, t := range m.Transitions {
		add(t.After > 0, "states:after")
		add(t.After == 0 && t.Trigger.On == nil, "states:at")
		add(t.Trigger.On != nil, "states:on")
		add(t.Trigger.Days != 0, "states:days")
		add(t.From == site.None, "states:any")
		add(t.From == site.None && t.After > 0, "states:after-any")
		add(t.From == t.To, "states:self")
		add(t.Trigger.If != nil, "states:if")
	}
	for _, e := range modeExprs(m) {
		for _, other := range e.Modes() {
			add(other > id, "names-later-mode")
		}
	}
	for _, st := range m.States {
		for i := range st.Stages {
			surveyStage(&st.Stages[i], i == len(st.Stages)-1, add)
		}
	}
}

func surveyStage(g *site.Stage, last bool, add func(bool, string)) {
	add(g.For > 0, "stage:for")
	add(g.For > 0 && last, "stage:last-for")
	add(g.Flash != nil && g.Flash.Times > 0, "stage:counted")
	add(g.Flash != nil && g.Flash.Times == 0 && g.For == 0, "stage:endless")
	add(g.Flash != nil && g.Flash.Times == 0 && g.For > 0, "stage:endless-for")
	seen := map[site.CircuitID]bool{}
	for _, st := range g.Settings {
		add(st.Cases[0].When != nil, "setting:cases")
		add(st.Cases[0].Over > 0, "setting:ramp")
		add(st.Cases[0].Over > 0 && st.Cases[0].When != nil, "setting:ramp-cases")
		add(st.Cases[0].Over > 0 && st.Cases[0].Level == 0, "setting:ramp-off")
		add(len(st.Cases) > 1 && st.Cases[len(st.Cases)-1].When == nil, "setting:otherwise")
		for _, c := range st.Circuits {
			add(seen[c], "setting:twice")
			seen[c] = true
		}
	}
}

func surveyPrecedence(s *site.Site, add func(bool, string)) {
	n, pairs := len(s.Modes), 0
	for i := range n {
		for j := range n {
			if s.Precedence.Above[i][j] {
				pairs++
			}
			if i != j && !s.Precedence.Above[i][j] && !s.Precedence.Above[j][i] {
				add(true, "rule:none")
				add(s.Precedence.Equal[i][j] != site.NoRule, fmt.Sprintf("rule:%d", s.Precedence.Equal[i][j]))
			}
		}
	}
	add(n > 1 && pairs == n*(n-1)/2, "above:total")
	add(n > 2 && pairs > 0 && pairs < n*(n-1)/2, "above:partial")
}
