// What lights are doing at one moment, and who decides it.

package report

import (
	"fmt"
	"slices"
	"sort"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

// Standing is a light at one moment.
type Standing struct {
	Circuits []string `json:"circuits"`
	What     string   `json:"what"`
	Why      []string `json:"why,omitempty"`

	who string // the circuits in words
	ids []site.CircuitID
}

// stepAt is the last step at or before a time, or -1.
func stepAt(tl *rehearse.Timeline, at rehearse.Nanos) int {
	return sort.Search(len(tl.Steps), func(i int) bool { return tl.Steps[i].At > at }) - 1
}

// standings tells what circuits are doing at a time, those alike taken together.
func (t *teller) standings(tl *rehearse.Timeline, circuits []site.CircuitID, at rehearse.Nanos) []Standing {
	step := stepAt(tl, at)
	if step < 0 {
		return nil
	}
	var out []Standing
	for _, c := range circuits {
		st := t.standing(tl, step, c)
		same := slices.IndexFunc(out, func(o Standing) bool { return o.What == st.What && slices.Equal(o.Why, st.Why) })
		if same >= 0 {
			out[same].Circuits = append(out[same].Circuits, st.Circuits...)
			out[same].ids = append(out[same].ids, c)
			continue
		}
		out = append(out, st)
	}
	for i := range out {
		out[i].who = t.circuits(out[i].ids)
		if tl.Lamp(step, out[i].ids[0]).FeedOff {
			out[i].Why = t.hung(out[i].ids)
		}
	}
	return out
}

func (t *teller) standing(tl *rehearse.Timeline, step int, c site.CircuitID) Standing {
	lamp, h := tl.Lamp(step, c), t.hue(tl, step, c)
	st := Standing{Circuits: []string{t.circuit(c)}, ids: []site.CircuitID{c}}
	switch {
	case lamp.FeedOff:
		st.What = "dark, as " + t.deadWhy(tl, step, c)
		return st
	case lamp.Moving:
		st.What = fmt.Sprintf("on its way to %s, there by %s, and may still be %s",
			t.shade(c, lamp.Aim, h.aim), stampAt(tl, lamp.Due), t.atShade(c, lamp.Level, h.is))
	default:
		st.What = t.shade(c, lamp.Level, h.is)
	}
	if h.is != h.aim && lamp.Level != 0 && !lamp.Moving {
		st.What += fmt.Sprintf(", its colour on the way to %s", colourWord(h.aim))
	}
	if lamp.Cut {
		st.What += ", out of reach: " + t.cutWhy(tl, step, c)
		return st
	}
	reason := tl.Reason(step, c)
	st.Why, _ = t.whyAt(tl, step, c, &reason)
	return st
}
