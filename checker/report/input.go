// The words for inputs that change.

package report

import (
	"fmt"
	"slices"
	"strings"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

func (t *teller) startUp(initial []site.InputID) string {
	var words []string
	sensors := map[string]bool{}
	for _, id := range initial {
		in := &t.s.Inputs[id]
		switch {
		case in.Kind != site.Daylight:
			words = append(words, t.change(id, true))
		case !sensors[sensorOf(in)]:
			sensors[sensorOf(in)] = true
			words = append(words, t.daylightAtStart(in, initial))
		}
	}
	if len(words) == 0 {
		return "start-up, all inputs at rest"
	}
	return "start-up; already then: " + strings.Join(words, ", ")
}

func (t *teller) input(c rehearse.Cause) string {
	if t.s.Inputs[c.Input].Kind.IsEvent() {
		return source.Escape(t.s.EventText(c.Input, c.Gesture))
	}
	return t.change(c.Input, c.Value)
}

// change tells that a level input has taken a value.
func (t *teller) change(id site.InputID, value bool) string {
	in := &t.s.Inputs[id]
	name := source.Escape(in.Name)
	switch in.Kind {
	case site.Daylight:
		return t.daylight(in, value, 0)
	case site.SupplyHealth:
		return t.supplyOf(id) + map[bool]string{true: " is lost", false: " is back"}[value]
	case site.Flatness:
		return "battery " + t.supplyOf(id) + map[bool]string{true: " runs flat", false: " is charged again"}[value]
	case site.Calendar:
		return name + map[bool]string{true: " begins", false: " ends"}[value]
	}
	return source.Escape(t.s.ChangeText(id, value))
}

// sensorOf names the sensor of a rung of daylight.
func sensorOf(in *site.Input) string {
	if in.Sensor != "" {
		return in.Sensor
	}
	return in.Name
}

// daylightPlace is "daylight in hall".
func (t *teller) daylightPlace(in *site.Input) string {
	if in.Area == site.None {
		return "daylight at " + source.Escape(sensorOf(in))
	}
	return "daylight in " + source.Escape(t.s.Areas[in.Area].Name)
}

// daylight tells that the daylight has come to a rung or fallen below it; passed, if not 0, is the first of those that it has
// passed on the way.
func (t *teller) daylight(in *site.Input, value bool, passed int64) string {
	place := t.daylightPlace(in)
	switch {
	case value && passed > 0:
		return fmt.Sprintf("%s rises to %s, from below %s", place, lux(in.Lux), lux(passed))
	case value:
		return fmt.Sprintf("%s reaches %s", place, lux(in.Lux))
	case passed > 0:
		return fmt.Sprintf("%s falls below %s, from %s or more", place, lux(in.Lux), lux(passed))
	}
	return fmt.Sprintf("%s falls below %s", place, lux(in.Lux))
}

// daylightAtStart tells between which rungs of a sensor the daylight is at start-up.
func (t *teller) daylightAtStart(of *site.Input, initial []site.InputID) string {
	least, below := int64(0), int64(0)
	for id := range t.s.Inputs {
		in := &t.s.Inputs[id]
		switch {
		case in.Kind != site.Daylight || sensorOf(in) != sensorOf(of):
		case slices.Contains(initial, site.InputID(id)):
			least = max(least, in.Lux)
		case below == 0 || in.Lux < below:
			below = in.Lux
		}
	}
	text := fmt.Sprintf("%s is at least %s", t.daylightPlace(of), lux(least))
	if below > 0 {
		text += " and below " + lux(below)
	}
	return text
}

func lux(n int64) string { return fmt.Sprintf("%d lux", n) }

// rung is a step in which nothing happens from outside but that the daylight passes a value.
type rung struct {
	input site.InputID
	value bool
	at    rehearse.Nanos
	read  bool // a condition in question reads it
}

// Rungs that follow each other so soon are told together; those that no condition in question reads, also somewhat later.
const (
	closeBy   = 50 * rehearse.Milli
	soonAfter = 1000 * rehearse.Milli
)

// rungOf gives the rung that a step passes, if the daylight is all that its causes tell of.
func (t *teller) rungOf(st *rehearse.Step, e *Entry, f focus) *rung {
	if st.Event == nil || len(e.Causes) != 1 || t.s.Inputs[st.Event.Input].Kind != site.Daylight {
		return nil
	}
	id := st.Event.Input
	return &rung{id, st.Event.Value, st.At, f.all() || slices.Contains(f.inputs, id)}
}

// goesOn tells whether b passes the next rung of the sensor in the same direction, shortly after a.
func (t *teller) goesOn(a, b *rung) bool {
	if a == nil || b == nil || a.value != b.value || sensorOf(&t.s.Inputs[a.input]) != sensorOf(&t.s.Inputs[b.input]) {
		return false
	}
	return b.at-a.at <= closeBy || !a.read && b.at-a.at <= soonAfter
}

// together takes rungs that are passed one straight after the other as one entry, the last, if nothing that the story tells
// happened at those before.
func (t *teller) together(in []Entry) []Entry {
	var out []Entry
	passed, others := int64(0), 0
	for i := range in {
		e := in[i]
		if e.rung != nil && e.quiet() && i+1 < len(in) && t.goesOn(e.rung, in[i+1].rung) {
			if passed == 0 {
				passed = t.s.Inputs[e.rung.input].Lux
			}
			others = max(others, e.Others)
			continue
		}
		if passed > 0 {
			e.Causes = []string{t.daylight(&t.s.Inputs[e.rung.input], e.rung.value, passed)}
			e.Others = max(others, e.Others)
			passed, others = 0, 0
		}
		out = append(out, e)
	}
	return out
}
