package resolve_test

// Dimmers, as they come out in the site.

import (
	"fmt"
	"testing"

	"lampwarden/lang/site"

	"github.com/google/go-cmp/cmp"
)

// arrows lists a mode's transitions in words.
func arrows(s *site.Site, m *site.Mode) []string {
	var out []string
	for _, t := range m.Transitions {
		from, by := "any", "after "+t.After.String()
		if t.From != site.None {
			from = m.States[t.From].Name
		}
		switch {
		case t.Trigger.On != nil:
			by = s.ExprText(t.Trigger.On)
		case t.After == 0:
			by = "at " + t.Trigger.At.Clock()
		}
		out = append(out, fmt.Sprintf("%s: %s -> %s", by, from, m.States[t.To].Name))
	}
	return out
}

func TestDimmerOfTwoSteps(t *testing.T) {
	s := must(t, house+`
mode dim {
    on vacated hall: -> off
    dimmer on key from 10 % to 15 % in 2 steps every 300 ms
    pair
    at 06:30: off -> on -> off
    on fire if day: on -> off
}
mode glow { while dim  bed at 5 % }
`)
	m := &s.Modes[0]
	var states []string
	for _, st := range m.States {
		level := "nothing"
		if len(st.Stages) > 0 {
			set := st.Stages[0].Settings[0]
			level = circuitNames(s, set.Circuits) + " at " + set.Cases[0].Level.String()
		}
		states = append(states, st.Name+": "+level)
	}
	if d := cmp.Diff([]string{"off: nothing", "10 %, next up: spots leds at 10 %", "12.5 %, next up: spots leds at 12.5 %",
		"12.5 %, next down: spots leds at 12.5 %", "15 %, next down: spots leds at 15 %",
		"up 10 %: spots leds at 10 %", "up 12.5 %: spots leds at 12.5 %", "up 15 %: spots leds at 15 %",
		"down 10 %: spots leds at 10 %", "down 12.5 %: spots leds at 12.5 %", "down 15 %: spots leds at 15 %"}, states); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]string{
		"vacated hall: any -> off",
		"tap key: off -> 15 %, next down",
		"long press key: off -> up 10 %",
		"tap key: any -> off",
		"long press key: 10 %, next up -> up 10 %",
		"after 300 ms: up 10 % -> up 12.5 %",
		"release key: up 10 % -> 10 %, next up",
		"release key: down 10 % -> 10 %, next up",
		"long press key: down 10 % -> up 10 %",
		"long press key: 12.5 %, next up -> up 12.5 %",
		"after 300 ms: up 12.5 % -> up 15 %",
		"long press key: 12.5 %, next down -> down 12.5 %",
		"after 300 ms: down 12.5 % -> down 10 %",
		"release key: up 12.5 % -> 12.5 %, next down",
		"release key: down 12.5 % -> 12.5 %, next up",
		"long press key: up 12.5 % -> down 12.5 %",
		"long press key: down 12.5 % -> up 12.5 %",
		"long press key: 15 %, next down -> down 15 %",
		"after 300 ms: down 15 % -> down 12.5 %",
		"release key: up 15 % -> 15 %, next down",
		"release key: down 15 % -> 15 %, next down",
		"long press key: up 15 % -> down 15 %",
		"at 06:30: off -> 15 %, next down",
		"at 06:30: any -> off",
		"fire: any -> off",
	}, arrows(s, m)); d != "" {
		t.Error(d)
	}
}

// TestDimmerForEachArea: a template of dimmers, with constants, of any number of steps.
func TestDimmerForEachArea(t *testing.T) {
	for steps := 1; steps <= 40; steps += 3 {
		s := must(t, house+fmt.Sprintf(`constant low = 7 %%
constant n = %d
constant pause = 250 ms
mode dim for each area a with circuits { dimmer on key from low to 93.33 %% in n steps every pause  circuits in a }
equals dim in hall, dim in room: latest`, steps))
		m := &s.Modes[1]
		if len(m.States) != 4*steps+3 || len(s.Modes) != 3 || m.States[0].Stages != nil {
			t.Fatalf("%d steps: %d states", steps, len(m.States))
		}
		last := m.States[len(m.States)-1].Stages[0].Settings[0].Cases[0].Level
		if first := m.States[1].Stages[0].Settings[0].Cases[0].Level; first != 700 || last != 9333 {
			t.Errorf("%d steps: from %s to %s", steps, first, last)
		}
		reached := make([]bool, len(m.States))
		reached[0] = true
		for range m.States {
			for _, tr := range m.Transitions {
				if tr.From == site.None || reached[tr.From] {
					reached[tr.To] = true
				}
			}
		}
		for i, ok := range reached {
			if !ok {
				t.Errorf("%d steps: %s is never reached", steps, m.States[i].Name)
			}
		}
	}
}
