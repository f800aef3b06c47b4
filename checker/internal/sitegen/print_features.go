// Print: the features, in words that the language may have or not.

package sitegen

import (
	"fmt"
	"strings"

	"lampwarden/lang/site"
)

func wattHours(mWh int64) string {
	if mWh%1000 == 0 {
		return fmt.Sprintf("%d Wh", mWh/1000)
	}
	return fmt.Sprintf("%d mWh", mWh)
}

// at gives a time of day, or one by the sun.
func at(t site.Millis, sun *site.SunTime) string {
	if sun == nil {
		return clock(t)
	}
	out := [...]string{"dawn", "sunrise", "sunset", "dusk"}[sun.Event]
	switch {
	case sun.Offset > 0:
		out += " + " + span(sun.Offset)
	case sun.Offset < 0:
		out += " - " + span(-sun.Offset)
	}
	return out
}

func overnight(b *site.Band) string {
	out := ""
	if b.Overnight {
		out += " overnight"
	}
	if b.Void {
		out += "  # void"
	}
	return out
}

func (p *printer) dates() {
	for _, d := range p.s.Dates {
		var at []string
		for _, t := range d.At {
			if t == site.NoEvent {
				at = append(at, "none")
			} else {
				at = append(at, clock(t))
			}
		}
		p.linef("# %s: dawn, sunrise, sunset, dusk %s", d.Name, strings.Join(at, ", "))
	}
	if p.s.Date != "" {
		p.linef("# on %s", p.s.Date)
	}
	for _, j := range p.s.Jumps {
		p.linef("# at %s the clock may show %s", clock(j.At), clock(((j.At+j.By)%site.Day+site.Day)%site.Day))
	}
}

// features gives what a circuit has beyond its lamps and feed.
func (p *printer) features(c *site.Circuit) (t string) {
	if c.Adds > 0 {
		t += fmt.Sprintf("  adds %d lux  seen after %s", c.Adds, span(c.SeenAfter))
	}
	plain := p.s.FeedDead(c.FedBy)
	if c.Dead != nil && (plain == nil || p.expr(plain) != p.expr(c.Dead)) {
		t += "  dead while " + p.expr(c.Dead)
	}
	if c.Cut != nil {
		t += "  cut while " + p.expr(c.Cut)
	}
	level := percent
	if c.Colour {
		level = code
	}
	if c.Fail != nil {
		t += "  system failure level " + level(*c.Fail)
	}
	if c.PowerOn != nil {
		t += "  power on level " + level(*c.PowerOn)
	}
	return t
}

// code names a colour or a colour temperature.
func code(l site.Level) string {
	switch {
	case l == 0:
		return "none"
	case int(l) < len(site.Colours):
		return site.Colours[l]
	}
	return fmt.Sprintf("%d K", l)
}

func (p *printer) terms(ts []site.Term) string {
	out := make([]string, len(ts))
	for i, t := range ts {
		out[i] = fmt.Sprintf("%d %s", t.Weight, p.s.Circuits[t.Circuit].Name)
	}
	return "(" + strings.Join(out, " + ") + ")"
}

func (p *printer) sum(e *site.Expr) string {
	how := "rounded down"
	if e.Seen {
		how = "seen"
	} else if e.Up {
		how = "rounded up"
	}
	return fmt.Sprintf("(%s %s at least %d)", p.terms(e.Terms), how, e.Need)
}

func (p *printer) names(ids []site.InputID) string {
	out := make([]string, len(ids))
	for i, id := range ids {
		out[i] = p.s.Inputs[id].Name
	}
	return strings.Join(out, ", ")
}

func (p *printer) causes(c *site.Causes) string {
	out := []string{p.names(c.Inputs)}
	for _, b := range c.Bands {
		out = append(out, p.s.Bands[b].Name)
	}
	for _, m := range c.Modes {
		out = append(out, "clock of "+p.s.Modes[m].Name)
	}
	return "(" + strings.Join(out, ", ") + ")"
}
