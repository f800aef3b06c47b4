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
	From     string   `json:"from"`                // level before: "off", "full", "30 %"
	To       string   `json:"to"`                  // level after
	Request  string   `json:"request"`             // what the modes ask for in sum
	What     string   `json:"what"`                // in words, without the circuits
	By       []string `json:"decidedBy,omitempty"` // the modes that decide the request
	Why      []string `json:"why,omitempty"`

	who      string // the circuits in words
	ids      []site.CircuitID
	feedLost bool // in this step
}

// lights tells the changes of a step, circuits that change alike taken together in the order of the first of them.
func (t *teller) lights(tl *rehearse.Timeline, step int, wanted func(site.CircuitID) bool) []Light {
	var out []Light
	st := &tl.Steps[step]
	at := map[string]int{}
	for i := range st.Circuits {
		c := &st.Circuits[i]
		if !wanted(c.Circuit) || darkAllAlong(tl, step, c) {
			continue
		}
		l := t.light(tl, st, c)
		key := strings.Join(append([]string{l.From, l.To, l.Request, l.What}, l.Why...), "\x00")
		if j, ok := at[key]; ok {
			out[j].Circuits = append(out[j].Circuits, l.Circuits[0])
			out[j].ids = append(out[j].ids, c.Circuit)
			continue
		}
		at[key] = len(out)
		out = append(out, l)
	}
	for i := range out {
		l := &out[i]
		l.who = t.circuits(l.ids)
		if l.feedLost {
			l.Why = append(t.hung(l.ids), l.Why...)
		}
	}
	return out
}

// darkAllAlong tells whether a change is only in what the same stages ask of a circuit without a live supply.
func darkAllAlong(tl *rehearse.Timeline, step int, c *rehearse.CircuitChange) bool {
	if step == 0 || !c.From.FeedOff || !c.To.FeedOff {
		return false
	}
	return slices.EqualFunc(tl.Reason(step-1, c.Circuit).Winners, c.Reason.Winners, func(a, b rehearse.Ask) bool {
		return a.Mode == b.Mode && a.State == b.State && a.Stage == b.Stage && a.Setting == b.Setting
	})
}

// hung tells where circuits, all of one supply, are declared to be fed by it; nothing if that is in many places.
func (t *teller) hung(ids []site.CircuitID) []string {
	const most = 3
	var spans []source.Span
	lines := map[string]bool{}
	for _, id := range ids {
		spans = append(spans, t.s.Circuits[id].Span)
		lines[t.place(t.s.Circuits[id].Span)] = true
	}
	if len(lines) > most || t.at(spans...) == "" {
		return nil
	}
	return []string{"fed by " + t.feed(ids[0]) + t.at(spans...)}
}

func (t *teller) light(tl *rehearse.Timeline, st *rehearse.Step, c *rehearse.CircuitChange) Light {
	l := Light{
		Circuits: []string{t.circuit(c.Circuit)},
		From:     t.level(c.Circuit, c.From.Level),
		To:       t.level(c.Circuit, c.To.Level),
		Request:  t.level(c.Circuit, c.To.Request),
		What:     t.lightStep(tl, st, c),
		ids:      []site.CircuitID{c.Circuit},
		feedLost: c.To.FeedOff && !c.From.FeedOff,
	}
	if n := t.s.Circuits[c.Circuit].Notice; n != "" && c.From.Level == 0 && c.To.Level != 0 {
		l.What += ": " + source.Escape(n)
	}
	if c.From.Request != c.To.Request || c.From.FeedOff != c.To.FeedOff || c.From.Aim != c.To.Aim {
		l.Why = t.why(c)
		for _, a := range c.Reason.Winners {
			l.By = append(l.By, t.mode(a.Mode))
		}
	}
	return l
}

// lightStep says what happened to the light, without naming the circuit.
func (t *teller) lightStep(tl *rehearse.Timeline, st *rehearse.Step, c *rehearse.CircuitChange) string {
	level := func(l site.Level) string { return t.level(c.Circuit, l) }
	lost := "supply " + t.feed(c.Circuit) + " is lost"
	switch from, to := c.From, c.To; {
	case to.FeedOff && !from.FeedOff && from.Level != 0:
		return "dark at once, as " + lost
	case to.FeedOff && to.Request != 0:
		return fmt.Sprintf("stays dark, though asked for %s, as %s", level(to.Request), lost)
	case to.FeedOff:
		return "dark, as " + lost
	case !st.Reaction && to.Level == to.Aim:
		return "already " + t.atLevel(c.Circuit, to.Level)
	case !st.Reaction:
		return fmt.Sprintf("%s on its way to %s", t.atLevel(c.Circuit, to.Level), level(to.Aim))
	case to.Moving && (!from.Moving || from.Aim != to.Aim):
		where := fmt.Sprintf("from %s", level(to.Level))
		if from.Moving {
			where = fmt.Sprintf("still %s, now", t.atLevel(c.Circuit, to.Level))
		}
		if from.FeedOff {
			where = "supply " + t.feed(c.Circuit) + " is back; now"
		}
		return fmt.Sprintf("%s towards %s, there by %s", where, level(to.Aim), stamp(tl.Script.Start+to.Due))
	case from.Level != to.Level:
		return fmt.Sprintf("from %s to %s", level(from.Level), level(to.Level))
	case from.Moving && !to.Moving:
		return "stays " + t.atLevel(c.Circuit, to.Level)
	case from.FeedOff && !to.FeedOff:
		return "supply " + t.feed(c.Circuit) + " is back"
	}
	return "asked for " + level(c.To.Request)
}

// why tells who decides: the winners first, then who lost to whom and by which line.
func (t *teller) why(c *rehearse.CircuitChange) []string {
	r := &c.Reason
	if len(r.Winners) == 0 {
		return []string{"no mode asks for it"}
	}
	var out []string
	for _, a := range r.Winners {
		out = append(out, t.ask(c.Circuit, a, "asks for"))
	}
	if r.Ambiguous {
		out = append(out, "nothing decides between the modes: "+t.candidates(c)+" may come")
	}
	for _, l := range r.Losers {
		out = append(out, t.loss(c.Circuit, l))
	}
	return out
}

func (t *teller) candidates(c *rehearse.CircuitChange) string {
	var words []string
	for _, l := range c.Reason.Candidates {
		words = append(words, t.level(c.Circuit, l))
	}
	return strings.Join(words, " or ")
}

func (t *teller) ask(c site.CircuitID, a rehearse.Ask, verb string) string {
	text := fmt.Sprintf("%s %s %s", t.mode(a.Mode), verb, t.level(c, a.Level))
	if a.Dark {
		text += ", the off part of its flash"
	}
	return text + t.at(a.Span)
}

func (t *teller) loss(c site.CircuitID, l rehearse.Loss) string {
	text := t.ask(c, l.Ask, "asks for") + " and loses: "
	by := t.mode(l.By)
	switch l.Why {
	case rehearse.Lower:
		text += "the highest counts"
	case rehearse.Earlier:
		text += "the latest counts, and that is " + by
	case rehearse.NotChosen:
		text += "nothing decides between it and " + by
	default:
		text += by + " comes before it"
	}
	var written []source.Span
	for _, p := range l.Pairs {
		written = append(written, p.Span)
	}
	return text + t.at(written...)
}
