// What a light did in a step, and who decided it.

package report

import (
	"fmt"
	"slices"
	"strings"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// Light is what some circuits did in one step, for one reason.
type Light struct {
	Circuits []string `json:"circuits"`
	From     string   `json:"from"`                 // level before: "off", "full", "30 %"
	To       string   `json:"to"`                   // level after
	Colour   *Change  `json:"colour,omitempty"`     // of a light that has one and is lit or about to be
	Request  string   `json:"request"`              // what the modes ask for in sum
	Dead     bool     `json:"dead,omitempty"`       // without current
	Cut      bool     `json:"outOfReach,omitempty"` // of the controller
	Took     string   `json:"took,omitempty"`       // "system failure level" or "power on level"
	What     string   `json:"what"`                 // in words, without the circuits
	By       []string `json:"decidedBy,omitempty"`  // the modes that decide the request
	Why      []string `json:"why,omitempty"`

	who      string // the circuits in words
	ids      []site.CircuitID
	feedLost bool // in this step
}

// Change is a value before and after a step.
type Change struct {
	From string `json:"from"`
	To   string `json:"to"`
}

// lights tells the changes of a step, circuits that change alike taken together in the order of the first of them. The
// second result is the number of others that changed too.
func (t *teller) lights(tl *rehearse.Timeline, step int, wanted func(site.CircuitID) bool) (out []Light, others int) {
	at := map[string]int{}
	for _, c := range t.changesOf(tl, step) {
		l := t.light(tl, step, c)
		if l == nil {
			continue
		}
		if !wanted(c.light) {
			others++
			continue
		}
		key := strings.Join(append([]string{l.From, l.To, l.Request, l.What}, l.Why...), "\x00")
		if j, ok := at[key]; ok {
			out[j].Circuits = append(out[j].Circuits, l.Circuits[0])
			out[j].ids = append(out[j].ids, c.light)
			continue
		}
		at[key] = len(out)
		out = append(out, *l)
	}
	for i := range out {
		l := &out[i]
		l.who = t.circuits(l.ids)
		if l.feedLost {
			l.Why = append(t.hung(l.ids), l.Why...)
		}
	}
	return out, others
}

// lightChange is what a step changed of a light and of its colour; either may be nil.
type lightChange struct {
	light         site.CircuitID
	level, colour *rehearse.CircuitChange
}

// changesOf lists the lights that a step changed, in the order of the circuits.
func (t *teller) changesOf(tl *rehearse.Timeline, step int) (out []lightChange) {
	st := &tl.Steps[step]
	for i := range st.Circuits {
		c := &st.Circuits[i]
		light := t.lightOf(c.Circuit)
		k := slices.IndexFunc(out, func(x lightChange) bool { return x.light == light })
		if k < 0 {
			out, k = append(out, lightChange{light: light}), len(out)
		}
		if light == c.Circuit {
			out[k].level = c
		} else {
			out[k].colour = c
		}
	}
	return out
}

// saysNothing tells whether a change is only in what the same stages ask of a circuit without current, or that nothing is
// asked of it any more, or in the reach of a lamp that is dark and of which nothing is asked.
func saysNothing(tl *rehearse.Timeline, step int, c *rehearse.CircuitChange) bool {
	from, to := c.From, c.To
	if from.Cut != to.Cut && c.Took == rehearse.NoLevel && from.FeedOff == to.FeedOff && !from.Moving && !to.Moving &&
		from.Level == 0 && to.Level == 0 && from.Request == 0 && to.Request == 0 {
		return true
	}
	if step == 0 || !from.FeedOff || !to.FeedOff {
		return false
	}
	if to.Request == 0 {
		return true
	}
	return slices.EqualFunc(tl.Reason(step-1, c.Circuit).Winners, c.Reason.Winners, func(a, b rehearse.Ask) bool {
		return a.Mode == b.Mode && a.State == b.State && a.Stage == b.Stage && a.Setting == b.Setting
	})
}

// light tells what a step did to a light; nil if that is nothing to be seen or told.
func (t *teller) light(tl *rehearse.Timeline, step int, x lightChange) *Light {
	c, h := x.level, t.hue(tl, step, x.light)
	if c == nil || saysNothing(tl, step, c) {
		return t.colourOnly(tl, step, x)
	}
	l := &Light{
		Circuits: []string{t.circuit(c.Circuit)},
		From:     t.level(c.Circuit, c.From.Level),
		To:       t.level(c.Circuit, c.To.Level),
		Request:  t.level(c.Circuit, c.To.Request),
		Dead:     c.To.FeedOff,
		Cut:      c.To.Cut,
		Took:     tookWord(c.Took),
		What:     t.lightStep(tl, step, c, h),
		ids:      []site.CircuitID{c.Circuit},
		feedLost: c.To.FeedOff && !c.From.FeedOff,
	}
	if was, is := colourWord(h.was), colourWord(h.is); was+is != "" && c.From.Level+c.To.Level+c.To.Aim != 0 {
		l.Colour = &Change{was, is}
	}
	if n := t.s.Circuits[c.Circuit].Notice; n != "" && c.From.Level == 0 && c.To.Level != 0 {
		l.What += ": " + source.Escape(n)
	}
	if decided(tl, step, x) {
		l.Why, l.By = t.whyAt(tl, step, c.Circuit, &c.Reason)
	}
	return l
}

// decided tells whether what a step did to a light has to do with what is asked for. Of a circuit that comes out of reach its own
// words say why.
func decided(tl *rehearse.Timeline, step int, x lightChange) bool {
	from, to := x.level.From, x.level.To
	if to.Cut && !to.FeedOff && (tl.Down(step) || from.Request == to.Request) {
		return false
	}
	recoloured := x.colour != nil && x.colour.From.Request != x.colour.To.Request && to.Aim != 0
	return recoloured || from.Request != to.Request || from.FeedOff != to.FeedOff || from.Cut != to.Cut || from.Aim != to.Aim
}

// colourOnly tells a step in which nothing changed of a light but its colour.
func (t *teller) colourOnly(tl *rehearse.Timeline, step int, x lightChange) *Light {
	if x.colour == nil {
		return nil
	}
	lamp := tl.Lamp(step, x.light)
	what := t.colourStep(tl, &tl.Steps[step], lamp, x.colour)
	if what == "" || lamp.FeedOff {
		return nil
	}
	level := t.level(x.light, lamp.Level)
	l := &Light{Circuits: []string{t.circuit(x.light)}, From: level, To: level, Request: t.level(x.light, lamp.Request),
		Cut: lamp.Cut, What: what, ids: []site.CircuitID{x.light},
		Colour: &Change{colourWord(x.colour.From.Level), colourWord(x.colour.To.Level)}}
	if x.colour.From.Request != x.colour.To.Request {
		reason := tl.Reason(step, x.light)
		l.Why, l.By = t.whyAt(tl, step, x.light, &reason)
	}
	return l
}

// tookWord names a level that a circuit takes by itself, as IEC 62386 does.
func tookWord(took rehearse.Took) string {
	return [...]string{"", "system failure level", "power on level"}[took]
}

// lightStep says what happened to the light, without naming the circuit.
func (t *teller) lightStep(tl *rehearse.Timeline, step int, c *rehearse.CircuitChange, h hue) string {
	st, from, to := &tl.Steps[step], c.From, c.To
	level := func(l site.Level) string { return t.level(c.Circuit, l) }
	was, is, aim := t.shade(c.Circuit, from.Level, h.was), t.atShade(c.Circuit, to.Level, h.is), t.shade(c.Circuit, to.Aim, h.aim)
	arrives := ""
	if to.Moving {
		arrives = fmt.Sprintf("towards %s, there by %s", aim, stampAt(tl, to.Due))
	}
	switch {
	case to.FeedOff && !from.FeedOff && from.Level != 0:
		return "dark at once, as " + t.deadWhy(tl, step, c.Circuit)
	case to.FeedOff && to.Request != 0:
		return fmt.Sprintf("stays dark, though asked for %s, as %s", level(to.Request), t.deadWhy(tl, step, c.Circuit))
	case to.FeedOff:
		return "dark, as " + t.deadWhy(tl, step, c.Circuit)
	case to.Cut:
		return t.cutStep(tl, step, c, h)
	case c.Took == rehearse.PowerOnLevel:
		return and(t.backWhy(tl, step, c.Circuit)+"; takes its power on level, "+t.shade(c.Circuit, *t.s.Circuits[c.Circuit].PowerOn, h.is), arrives)
	case !st.Reaction && to.Level == to.Aim:
		return "already " + is
	case !st.Reaction:
		return fmt.Sprintf("%s on its way to %s", is, aim)
	case to.Moving && (!from.Moving || from.Aim != to.Aim || from.Cut):
		where := "from " + was
		if from.Moving {
			where = fmt.Sprintf("still %s, now", is)
		}
		if from.Cut {
			where = "in reach again; now"
		}
		if from.FeedOff {
			where = t.backWhy(tl, step, c.Circuit) + "; now"
		}
		return where + " " + arrives
	case from.Level != to.Level:
		return fmt.Sprintf("from %s to %s", was, t.shade(c.Circuit, to.Level, h.is))
	case from.Moving && !to.Moving:
		return "stays " + is
	case from.FeedOff && !to.FeedOff:
		return t.backWhy(tl, step, c.Circuit)
	case from.Cut:
		return "in reach again, " + is
	}
	return "asked for " + t.shade(c.Circuit, to.Request, h.aim)
}

// cutStep says what happened to a light that the controller does not reach.
func (t *teller) cutStep(tl *rehearse.Timeline, step int, c *rehearse.CircuitChange, h hue) string {
	from, to := c.From, c.To
	is := t.atShade(c.Circuit, to.Level, h.is)
	why := t.cutWhy(tl, step, c.Circuit)
	back := ""
	if from.FeedOff {
		back = t.backWhy(tl, step, c.Circuit) + "; "
	}
	switch {
	case c.Took != rehearse.NoLevel:
		return fmt.Sprintf("%stakes its %s, %s, as %s", back, tookWord(c.Took), t.shade(c.Circuit, to.Level, h.is), why)
	case from.Cut && !from.FeedOff && from.Level != to.Level:
		return fmt.Sprintf("from %s to %s, out of reach: %s", t.shade(c.Circuit, from.Level, h.was), t.shade(c.Circuit, to.Level, h.is), why)
	case to.Moving:
		return fmt.Sprintf("%sgoes on towards %s, out of reach: %s", back, t.shade(c.Circuit, to.Aim, h.aim), why)
	case from.Cut && to.Request != from.Request && to.Request != 0:
		return fmt.Sprintf("asked for %s, but out of reach (%s): stays %s", t.level(c.Circuit, to.Request), why, is)
	}
	return fmt.Sprintf("%sstays %s, out of reach: %s", back, is, why)
}

// and adds a further clause.
func and(text, more string) string {
	if more == "" {
		return text
	}
	return text + ", then " + more
}
