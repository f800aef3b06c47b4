// Print: a site as text of the language.

package sitegen

import (
	"fmt"
	"strings"

	"lampwarden/lang/site"
)

// Print gives a site as text in the language of lang/LANGUAGE.md, for reading
// a failing seed. For a site generated without Features the text means the same as the data; what
// the language has other words for, or none, is told in words of this package.
// Names of nothing but data (a flashing setting with several cases, which only
// hand-made data can have) are printed as well as the language can.
func Print(s *site.Site) string {
	p := &printer{s: s}
	p.linef("site %q { }", s.Name)
	for i := range s.Areas {
		a := &s.Areas[i]
		tags := ""
		if len(a.Tags) > 0 {
			tags = " : " + strings.Join(a.Tags, ", ")
		}
		p.linef("area %s%s", a.Name, tags)
	}
	p.inputs()
	p.feeds()
	p.things()
	for i := range s.Modes {
		p.mode(&s.Modes[i])
	}
	p.precedence()
	p.assumptions()
	for i := range s.Requirements {
		p.requirement(&s.Requirements[i])
	}
	return p.b.String()
}

type printer struct {
	s *site.Site
	b strings.Builder
}

func (p *printer) linef(format string, args ...any) {
	fmt.Fprintf(&p.b, format, args...)
	p.b.WriteByte('\n')
}

// inputs prints the inputs in their order; that of a supply is the supply.
func (p *printer) inputs() {
	for i := range p.s.Inputs {
		in := &p.s.Inputs[i]
		word := [...]string{"presence", "contact", "alarm", "switch", "supply", "button", "bell",
			"daylight", "calendar", "flatness", "failure"}[in.Kind]
		place := ""
		if in.Area != site.None {
			place = " in " + p.s.Areas[in.Area].Name
		}
		if in.Fault {
			place += "  # a fault"
		}
		p.linef("%s %s%s", word, in.Name, place)
	}
}

func (p *printer) feeds() {
	for i := range p.s.Supplies {
		x := &p.s.Supplies[i]
		if x.Dead != nil {
			p.linef("generator %s { dead while %s }", x.Name, p.expr(x.Dead))
		}
		if !x.Battery {
			continue
		}
		charged, capacity := "", ""
		if x.Capacity > 0 {
			capacity = fmt.Sprintf("capacity %s  usable %s  ", wattHours(x.Capacity), percent(x.Usable))
		}
		if x.ChargedBy != site.None {
			charged = "  charged by " + p.s.Supplies[x.ChargedBy].Name
		}
		p.linef("battery %s { %sstanding load %d W%s }", x.Name, capacity, x.Standing/1000, charged)
	}
	c := ""
	if f := p.s.Controller.FedBy; f != site.None {
		c += "  fed by " + p.s.Supplies[f].Name
	}
	if r := p.s.Controller.ReactsWithin; r > 0 {
		c += "  reacts within " + span(r)
	}
	if d := p.s.Controller.Down; d != nil {
		c += "  down while " + p.expr(d) + "  restart " + map[bool]string{true: "keeps", false: "forgets"}[p.s.Controller.Keeps] + " modes"
	}
	if c != "" {
		p.linef("controller {%s }", c)
	}
}

func (p *printer) things() {
	s := p.s
	for i := range s.Bands {
		b := &s.Bands[i]
		p.linef("band %s %s to %s%s%s", b.Name, at(b.From, b.FromSun), at(b.To, b.ToSun), onDays(b.Days), overnight(b))
	}
	p.dates()
	for _, c := range s.Covers {
		var names []string
		for _, b := range c.Bands {
			names = append(names, s.Bands[b].Name)
		}
		p.linef("bands %s cover the day", strings.Join(names, ", "))
	}
	for i := range s.Circuits {
		p.circuit(&s.Circuits[i])
	}
}

func (p *printer) circuit(c *site.Circuit) {
	if c.Output && c.Notice != "" {
		p.linef("notice %s %q", c.Name, c.Notice)
		return
	}
	if c.Output {
		p.linef("output %s%s", c.Name, p.features(c))
		return
	}
	t := "dims " + percent(c.Min) + " to " + percent(c.Max)
	if c.Switched {
		t = "switches"
	}
	if c.Power > 0 {
		t += fmt.Sprintf("  power %d W", c.Power/1000)
	}
	if c.FedBy != site.None {
		t += "  fed by " + p.s.Supplies[c.FedBy].Name
	}
	if c.Fade > 0 {
		t += "  fade " + span(c.Fade)
	}
	t += p.features(c)
	if c.Colour {
		p.linef("colour %q of %s {%s }", c.Name, p.s.Circuits[c.Light].Name, strings.TrimPrefix(t, "dims 0 % to 0 %"))
		return
	}
	p.linef("circuit %s in %s { %s }", c.Name, p.s.Areas[c.Area].Name, t)
}

func (p *printer) precedence() {
	for _, x := range p.s.Precedence.Pairs {
		a, b := p.s.Modes[x.Over].Name, p.s.Modes[x.Under].Name
		switch x.Rule {
		case site.NoRule:
			p.linef("precedence %s > %s", a, b)
		case site.Highest:
			p.linef("equals %s, %s: highest", a, b)
		case site.Latest:
			p.linef("equals %s, %s: latest", a, b)
		}
	}
}

func (p *printer) assumptions() {
	for _, a := range p.s.Assumptions {
		var names []string
		taps := true
		for _, i := range a.Inputs {
			names = append(names, p.s.Inputs[i].Name)
			taps = taps && p.s.Inputs[i].Kind == site.Button
		}
		list := strings.Join(names, ", ")
		switch {
		case a.Kind == site.Ladder:
			p.linef("# each of %s only while the one before it", list)
		case a.Kind == site.Charge:
			p.linef("# %s of a battery that lasts at least %s and is charged in %s", list, span(a.D), span(a.Recharge))
		case a.Kind == site.AtMost:
			p.linef("assume at most %d of %s", a.N, list)
		case a.Kind == site.Dwell && a.Value:
			p.linef("assume %s lasts at least %s", p.level(a.Inputs[0]), span(a.D))
		case a.Kind == site.Dwell:
			p.linef("assume not %s lasts at least %s", p.level(a.Inputs[0]), span(a.D))
		case taps:
			p.linef("assume taps on %s at least %s apart", list, span(a.D))
		default:
			p.linef("assume changes of %s at least %s apart", list, span(a.D))
		}
	}
}

func (p *printer) requirement(r *site.Requirement) {
	x := p.expr
	var t string
	switch r.Form {
	case site.Never:
		t = "never " + x(r.P)
	case site.Always:
		t = "always " + x(r.P)
	case site.Whenever:
		t = fmt.Sprintf("whenever %s then within %s %s", x(r.A), span(r.D), x(r.B))
		if r.E > 0 {
			t += " for " + span(r.E)
		}
		if r.Until != nil {
			t += " until " + x(r.Until)
		}
	case site.LastsAtMost:
		t = fmt.Sprintf("%s lasts at most %s", x(r.P), span(r.D))
	case site.LastsAtLeast:
		t = fmt.Sprintf("%s lasts at least %s", x(r.P), span(r.D))
	case site.AtMostTimes:
		t = fmt.Sprintf("at most %d times %s within %s", r.N, x(r.P), span(r.D))
	case site.OnlyAfter:
		t = x(r.P) + " only after " + x(r.Q)
		if r.Since != nil {
			t += " since " + x(r.Since)
		}
	case site.Possible:
		t = x(r.P) + " is possible"
	case site.Settles:
		t = fmt.Sprintf("%s settles within %s of %s", x(r.P), span(r.D), p.causes(&r.Causes))
	case site.CanReturn:
		t = fmt.Sprintf("can always return to %s within %s", x(r.P), span(r.D))
	case site.Energy:
		t = fmt.Sprintf("energy of %s and %d mW at most %d mWh per %s", p.terms(r.Draws), r.Standing, r.Limit, span(r.D))
		if r.During != nil {
			t += " from each time that " + x(r.During)
		}
	}
	if len(r.Faults) > 0 {
		t += fmt.Sprintf(" even with any %d of: %s", r.AtMost, p.names(r.Faults))
	}
	p.linef("require %q { %s }", r.Name, t)
}
