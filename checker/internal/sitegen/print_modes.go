// Print: modes and expressions.

package sitegen

import (
	"fmt"
	"strings"

	"lampwarden/lang/site"
)

func percent(l site.Level) string {
	t := fmt.Sprintf("%d.%02d", l/100, l%100)
	return strings.TrimSuffix(strings.TrimRight(t, "0"), ".") + " %"
}

func span(m site.Millis) string {
	switch {
	case m > 0 && m%3_600_000 == 0:
		return fmt.Sprintf("%d h", m/3_600_000)
	case m%1000 == 0:
		return fmt.Sprintf("%d s", m/1000)
	}
	return fmt.Sprintf("%d ms", m)
}

func clock(m site.Millis) string {
	t := fmt.Sprintf("%02d:%02d", m/3_600_000, m/60_000%60)
	if m%60_000 != 0 {
		t += fmt.Sprintf(":%02d", m/1000%60)
	}
	if m%1000 != 0 {
		t += fmt.Sprintf(".%03d", m%1000)
	}
	return t
}

// onDays gives the days of a band or clock time, as a range if they are three or
// more in a row; nothing for every day.
func onDays(d site.Days) string {
	if d == 0 {
		return ""
	}
	var names []string
	last := 0
	for i, name := range [...]string{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"} {
		if d.Has(i) {
			names, last = append(names, name), i
		}
	}
	if n := len(names); n > 2 && d == (1<<n-1)<<(last+1-n) {
		return " on " + names[0] + " to " + names[n-1]
	}
	return " on " + strings.Join(names, ", ")
}

func (p *printer) mode(m *site.Mode) {
	word := map[bool]string{true: "plant mode", false: "mode"}[m.Plant]
	p.linef("%s %s {", word, m.Name)
	switch m.Kind {
	case site.While:
		t := "while " + p.expr(m.Cond)
		for _, x := range []struct {
			word string
			d    site.Millis
		}{{"on delay", m.OnDelay}, {"off delay", m.OffDelay}, {"pulse", m.Pulse}} {
			if x.d > 0 {
				t += ", " + x.word + " " + span(x.d)
			}
		}
		p.linef("    %s", t)
	case site.Latch:
		p.triggers("starts", m.Starts)
		p.triggers("ends", m.Ends)
		if m.For > 0 {
			p.linef("    for %s", span(m.For))
		}
	case site.States:
		p.machine(m)
	}
	if m.Kind != site.States {
		p.sequence("    ", m.States[0].Stages)
	}
	p.linef("}")
}

func (p *printer) triggers(word string, ts []site.Trigger) {
	if len(ts) == 0 {
		return
	}
	out := make([]string, len(ts))
	for i := range ts {
		out[i] = p.trigger(&ts[i])
		if i == 0 && ts[i].On != nil {
			out[i] = "on " + out[i]
		}
	}
	p.linef("    %s %s", word, strings.Join(out, ", "))
}

func (p *printer) trigger(t *site.Trigger) string {
	out := "at " + at(t.At, t.Sun) + onDays(t.Days)
	if t.On != nil {
		out = p.expr(t.On)
	}
	return out + p.guard(t.If)
}

func (p *printer) guard(e *site.Expr) string {
	if e == nil {
		return ""
	}
	return " if " + p.expr(e)
}

func (p *printer) machine(m *site.Mode) {
	var names []string
	for _, s := range m.States {
		names = append(names, s.Name)
	}
	p.linef("    states %s", strings.Join(names, ", "))
	for i := range m.Transitions {
		t := &m.Transitions[i]
		what := p.trigger(&t.Trigger)
		if t.After > 0 {
			what = "after " + span(t.After) + p.guard(t.Trigger.If)
		} else if t.Trigger.On != nil {
			what = "on " + what
		}
		from := ""
		if t.From != site.None {
			from = m.States[t.From].Name + " "
		}
		p.linef("    %s: %s-> %s", what, from, m.States[t.To].Name)
	}
	for i := range m.States {
		if len(m.States[i].Stages) > 0 {
			p.linef("    in %s:", m.States[i].Name)
			p.sequence("        ", m.States[i].Stages)
		}
	}
}

func (p *printer) sequence(indent string, stages []site.Stage) {
	for i := range stages {
		g := &stages[i]
		t := indent
		if len(stages) > 1 || g.For > 0 {
			t += []string{"first ", "then "}[min(i, 1)]
		}
		if g.For > 0 && (g.Flash == nil || g.Flash.Times == 0) {
			t += "for " + span(g.For) + " "
		}
		parts := make([]string, len(g.Settings))
		for j := range g.Settings {
			parts[j] = p.setting(g, &g.Settings[j])
		}
		p.linef("%s%s", t, strings.Join(parts, "\n"+indent))
	}
}

func (p *printer) setting(g *site.Stage, st *site.Setting) string {
	var names []string
	for _, c := range st.Circuits {
		names = append(names, p.s.Circuits[c].Name)
	}
	targets := strings.Join(names, " and ")
	if st.Flashing {
		t := "flash " + targets + " at " + percent(st.Cases[0].Level)
		if g.Flash.Times > 0 {
			t += fmt.Sprintf(" %d times", g.Flash.Times)
		}
		return t + fmt.Sprintf(", %s on, %s off", span(g.Flash.On), span(g.Flash.Off))
	}
	if len(st.Cases) == 1 && st.Cases[0].When == nil {
		return targets + " " + p.asked(st, &st.Cases[0], "at ")
	}
	var cases []string
	for i := range st.Cases {
		c := &st.Cases[i]
		word := "otherwise"
		if c.When != nil {
			word = p.expr(c.When)
		}
		cases = append(cases, word+" "+p.asked(st, c, ""))
	}
	return targets + ": " + strings.Join(cases, ", ")
}

// asked gives what a case asks for; at stands before a percentage that is not a
// ramp's.
func (p *printer) asked(st *site.Setting, c *site.Case, at string) string {
	switch {
	case p.s.Circuits[st.Circuits[0]].Colour && c.Over > 0:
		return "ramp to " + code(c.Level) + " over " + span(c.Over)
	case p.s.Circuits[st.Circuits[0]].Colour:
		return code(c.Level)
	case c.Over > 0:
		return "ramp to " + asked(c.Level, "") + " over " + span(c.Over)
	case c.Level > 0 && p.s.Circuits[st.Circuits[0]].Output:
		return "on"
	}
	return asked(c.Level, at)
}

func asked(l site.Level, at string) string {
	switch l {
	case 0:
		return "off"
	case site.Full:
		return "full"
	}
	return at + percent(l)
}
