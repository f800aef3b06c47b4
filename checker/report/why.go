// Who decides a light.

package report

import (
	"fmt"
	"slices"
	"strings"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// whyAt tells who decides a light after a step, its colour included, and which modes do.
func (t *teller) whyAt(tl *rehearse.Timeline, step int, light site.CircuitID, r *rehearse.Reason) (why, by []string) {
	for _, a := range r.Winners {
		by = append(by, t.mode(a.Mode))
	}
	if tl.Down(step) {
		return []string{"the controller is down, so no mode asks for it"}, nil
	}
	var colours map[site.ModeID]rehearse.Ask
	var of rehearse.Reason
	colour := t.colourOf(light)
	if colour != site.None {
		of = tl.Reason(step, colour)
		colours = asksOf(of)
	}
	why = t.why(light, r, colours)
	asks := asksOf(*r)
	if colour == site.None || tl.Lamp(step, light).Aim == 0 {
		return why, by
	}
	same := func(a rehearse.Ask) bool {
		return slices.ContainsFunc(r.Winners, func(b rehearse.Ask) bool { return a.Mode == b.Mode })
	}
	for _, a := range of.Winners {
		if !same(a) {
			why = append(why, "its colour: "+t.ask(colour, a, "asks for", nil))
			by = append(by, t.mode(a.Mode))
		}
	}
	if of.Ambiguous {
		why = append(why, "its colour: nothing decides between the modes: "+t.candidates(colour, &of)+" may come")
	}
	for _, l := range of.Losers {
		if _, told := asks[l.Ask.Mode]; same(l.Ask) || !told {
			why = append(why, "its colour: "+t.loss(colour, l, nil))
		}
	}
	return why, by
}

// why tells who decides a circuit: the winners first, then who lost to whom and by which line.
func (t *teller) why(c site.CircuitID, r *rehearse.Reason, colours map[site.ModeID]rehearse.Ask) []string {
	if len(r.Winners) == 0 {
		return []string{"no mode asks for it"}
	}
	var out []string
	for _, a := range r.Winners {
		out = append(out, t.ask(c, a, "asks for", colours))
	}
	if r.Ambiguous {
		out = append(out, "nothing decides between the modes: "+t.candidates(c, r)+" may come")
	}
	for _, l := range r.Losers {
		out = append(out, t.loss(c, l, colours))
	}
	return out
}

func (t *teller) candidates(c site.CircuitID, r *rehearse.Reason) string {
	var words []string
	for _, l := range r.Candidates {
		words = append(words, t.level(c, l))
	}
	return strings.Join(words, " or ")
}

// ask tells what a mode asks of a circuit; colours is what the modes ask of its colour.
func (t *teller) ask(c site.CircuitID, a rehearse.Ask, verb string, colours map[site.ModeID]rehearse.Ask) string {
	text := fmt.Sprintf("%s %s %s", t.mode(a.Mode), verb, t.shade(c, a.Level, colours[a.Mode].Level))
	if a.Dark {
		text += ", the off part of its flash"
	}
	return text + t.at(a.Span)
}

func (t *teller) loss(c site.CircuitID, l rehearse.Loss, colours map[site.ModeID]rehearse.Ask) string {
	text := t.ask(c, l.Ask, "asks for", colours) + " and loses: "
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
