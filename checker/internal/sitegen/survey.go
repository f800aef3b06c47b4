// What constructs of the language a site has, so that a campaign can tell that it saw each of them.

package sitegen

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"lampwarden/lang/site"
)

// Constructs names what the site has of the constructs of the data model, ascending: "form:2" is a requirement of the
// form Whenever, "op:13" a node of the operator OpWas, and so on, by the numbers of lang/site.
func Constructs(s *site.Site) []string {
	got := map[string]bool{}
	survey(s, got)
	return slices.Sorted(maps.Keys(got))
}

// AllConstructs names the constructs that Generate makes with the options of Everything.
func AllConstructs() []string { return strings.Fields(constructs + laterConstructs) }

// constructs are those that Generate makes without features, laterConstructs the others.
const (
	constructs = `
		input:presence input:contact input:alarm input:switch input:supply input:button input:bell
		gesture:0 gesture:1 gesture:2 gesture:3
		op:0 op:1 op:2 op:3 op:4 op:5 op:6 op:7 op:8 op:9 op:10 op:11 op:12 op:13 op:14
		while:plain while:on while:off while:both while:pulse latch:for latch:at latch:on latch:if
		states:after states:at states:on states:any states:self states:if states:after-any
		stage:for stage:counted stage:endless stage:endless-for stage:last-for setting:cases setting:otherwise
		setting:twice circuit:switched circuit:min circuit:max circuit:fade circuit:mains circuit:battery circuit:nofeed
		reacts band:midnight band:plain band:days band:days-midnight cover battery output notice
		setting:ramp setting:ramp-cases setting:ramp-off latch:days states:days assume:0 assume:1 assume:2 dwell:true dwell:false
		form:0 form:1 form:2 form:3 form:4 form:5 form:6 form:7 until for until-for since
		above:total above:partial rule:1 rule:2 rule:none names-later-mode`
	laterConstructs = `
		input:daylight input:calendar input:flatness input:failure input:fault assume:3 assume:4 gesture:4
		down:keeps down:forgets down:boots jump:forward jump:back
		sun:void-band sun:from sun:to sun:trigger sun:void-trigger
		circuit:returns circuit:generator circuit:cut circuit:fail circuit:power-on circuit:fail-dead-down circuit:seen
		circuit:colour circuit:colour-fades circuit:colour-power-on circuit:flat
		plant:0 plant:1 plant:on-delay plant:off-delay reads-plant
		op:15 sum:seen=true,up=false sum:seen=false,up=true sum:seen=false,up=false
		form:8 form:9 form:10 during faults:1 faults:2`
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
