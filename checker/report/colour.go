// Colours. To a reader a light and its colour are one thing: "at 5 % red". In the site the colour is a circuit of its own,
// which never stands in a story by itself.

package report

import (
	"fmt"
	"slices"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

// colourOf is the circuit that is the colour of a light; None if it has none.
func (t *teller) colourOf(light site.CircuitID) site.CircuitID {
	if c, ok := t.colours[light]; ok {
		return c
	}
	return site.None
}

// light is the light of which a circuit is the colour, else the circuit itself.
func (t *teller) lightOf(c site.CircuitID) site.CircuitID {
	if cir := &t.s.Circuits[c]; cir.Colour {
		return cir.Light
	}
	return c
}

// lightsOf gives the lights of circuits, each once.
func (t *teller) lightsOf(ids []site.CircuitID) []site.CircuitID {
	var out []site.CircuitID
	for _, c := range ids {
		if c = t.lightOf(c); !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return out
}

// colourWord gives a colour by its code: "red", "2700 K"; "" for one that was never told.
func colourWord(code site.Level) string {
	switch {
	case code >= site.LeastKelvin:
		return fmt.Sprintf("%d K", code)
	case code > 0 && int(code) < len(site.Colours):
		return site.Colours[code]
	}
	return ""
}

// coloured adds a colour to the word for a level, unless the light is off.
func coloured(level string, l, code site.Level) string {
	if word := colourWord(code); l != 0 && word != "" {
		return level + " " + word
	}
	return level
}

// hue is the colour of a light around one step: the codes before and after it, and where it goes. All are 0 for a light
// without.
type hue struct{ was, is, aim site.Level }

// hue gives the colour of a light around a step.
func (t *teller) hue(tl *rehearse.Timeline, step int, light site.CircuitID) hue {
	c := t.colourOf(light)
	if c == site.None {
		return hue{}
	}
	now := tl.Lamp(step, c)
	h := hue{is: now.Level, aim: now.Aim}
	if step > 0 {
		h.was = tl.Lamp(step-1, c).Level
	}
	return h
}

// colourStep says what happened to the colour of a light whose level has no part in the step; "" if nobody can see it.
func (t *teller) colourStep(tl *rehearse.Timeline, st *rehearse.Step, light rehearse.Lamp, c *rehearse.CircuitChange) string {
	from, to := c.From, c.To
	name := func(l site.Level) string { return t.level(c.Circuit, l) }
	switch {
	case light.Level == 0 && light.Aim == 0:
		return ""
	case !st.Reaction && to.Level == to.Aim:
		return "already " + name(to.Level)
	case !st.Reaction:
		return fmt.Sprintf("%s on its way to %s", name(to.Level), name(to.Aim))
	case to.Moving && (!from.Moving || from.Aim != to.Aim):
		return fmt.Sprintf("colour from %s towards %s, there by %s", name(to.Level), name(to.Aim), stampAt(tl, to.Due))
	case from.Level != to.Level:
		return fmt.Sprintf("colour from %s to %s", name(from.Level), name(to.Level))
	case from.Request != to.Request:
		return "asked for " + name(to.Request)
	}
	return ""
}

// asksOf gives what each mode asks of a circuit after a step.
func asksOf(r rehearse.Reason) map[site.ModeID]rehearse.Ask {
	out := map[site.ModeID]rehearse.Ask{}
	for _, a := range r.Winners {
		out[a.Mode] = a
	}
	for _, l := range r.Losers {
		out[l.Ask.Mode] = l.Ask
	}
	return out
}
