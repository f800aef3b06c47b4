// What a light did in a step, and who decided it.

package report

import (
	"fmt"
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

	who string // the circuits in words
	ids []site.CircuitID
}

// lights tells the changes of a step, circuits that change alike taken together in the order of the first of them.
func (t *teller) lights(tl *rehearse.Timeline, st *rehearse.Step, wanted func(site.CircuitID) bool) []Light {
	var out []Light
	at := map[string]int{}
	for i := range st.Circuits {
		c := &st.Circuits[i]
		if !wanted(c.Circuit) {
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
		out[i].who = t.circuits(out[i].ids)
	}
	return out
}

func (t *teller) light(tl *rehearse.Timeline, st *rehearse.Step, c *rehearse.CircuitChange) Light {
	l := Light{
		Circuits: []string{t.circuit(c.Circuit)},
		From:     t.level(c.Circuit, c.From.Level),
		To:       t.level(c.Circuit, c.To.Level),
		Request:  t.level(c.Circuit, c.To.Request),
		What:     t.lightStep(tl, st, c),
		ids:      []site.CircuitID{c.Circuit},
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
	at := func(l site.Level) string { return t.atLevel(c.Circuit, l) }
	feed := t.feed(c.Circuit)
	switch from, to := c.From, c.To; {
	case to.FeedOff && !from.FeedOff && from.Level != 0:
		return "dark at once, as its supply " + feed + " is lost"
	case to.FeedOff && from.Request != to.Request:
		return fmt.Sprintf("stays dark, though asked for %s, as its supply %s is lost", level(to.Request), feed)
	case to.FeedOff:
		return "dark, as its supply " + feed + " is lost"
	case !st.Reaction && to.Level == to.Aim:
		return "already " + at(to.Level)
	case !st.Reaction:
		return fmt.Sprintf("%s on its way to %s", at(to.Level), level(to.Aim))
	case to.Moving && (!from.Moving || from.Aim != to.Aim):
		where := fmt.Sprintf("from %s", level(to.Level))
		if from.Moving {
			where = fmt.Sprintf("still %s, now", at(to.Level))
		}
		if from.FeedOff {
			where = "supply " + feed + " is back; now"
		}
		return fmt.Sprintf("%s towards %s, there by %s", where, level(to.Aim), stamp(tl.Script.Start+to.Due))
	case from.Level != to.Level:
		return fmt.Sprintf("from %s to %s", level(from.Level), level(to.Level))
	case from.Moving && !to.Moving:
		return at(to.Level)
	case from.FeedOff && !to.FeedOff:
		return "supply " + feed + " is back"
	}
	return "asked for " + level(c.To.Request)
}

// atLevel gives "at full" for a lamp, and "on" or "off" for an output.
func (t *teller) atLevel(c site.CircuitID, l site.Level) string {
	if t.s.Circuits[c].Output {
		return t.level(c, l)
	}
	return "at " + t.level(c, l)
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
		out = append(out, "nothing decides between the modes: any of "+t.candidates(c)+" may come")
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
	return joined(words)
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
	if len(l.Pairs) > 0 {
		text += t.at(l.Pairs[0].Span)
	}
	return text
}
