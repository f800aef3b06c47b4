// A timeline told as data: the steps that matter, in order.

package report

import (
	"slices"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

// Story is a timeline told for some circuits and modes.
type Story struct {
	Entries []Entry `json:"steps"`
}

// Entry is one step of a story, or a stretch of like steps that is left out.
type Entry struct {
	At    rehearse.Nanos `json:"sinceStartNs"`
	Clock string         `json:"clock"` // wall-clock stamp
	Day   int            `json:"day"`   // 0: the day of the start-up
	// Weekday is "Mon" to "Sun" where the site has days of the week, else "".
	Weekday string   `json:"weekday,omitempty"`
	Event   bool     `json:"event"` // something happened from outside
	Causes  []string `json:"causes"`
	Modes   []string `json:"modes,omitempty"`
	Lights  []Light  `json:"lights,omitempty"`
	Others  int      `json:"otherCircuits,omitempty"` // circuits that an event changed too and that are not told of
	// Skipped > 0: the entry stands for so many steps of a flash up to At and tells nothing itself.
	Skipped int `json:"skippedSteps,omitempty"`
}

// A run of more than longRun entries without an outside event is shortened to its first and last ones.
const (
	longRun   = 28
	keepFirst = 6
	keepLast  = 18
)

// focus is what a story is about. Empty means everything.
type focus struct {
	circuits []site.CircuitID
	modes    []site.ModeID
}

// aimedAt is the focus of a requirement or finding on some circuits: those circuits, the modes that can ask for them
// and the modes that the conditions name.
func aimedAt(s *site.Site, circuits []site.CircuitID, conds ...*site.Expr) focus {
	f := focus{circuits: slices.Clone(circuits)}
	for _, e := range conds {
		e.Walk(func(x *site.Expr) {
			switch x.Op {
			case site.OpMode, site.OpState, site.OpStage:
				f.modes = append(f.modes, x.Mode)
			case site.OpLight:
				if len(circuits) == 0 {
					f.circuits = append(f.circuits, x.Circuit)
				}
			}
		})
	}
	for i := range s.Modes {
		if asksFor(&s.Modes[i], f.circuits) {
			f.modes = append(f.modes, site.ModeID(i))
		}
	}
	return f
}

func asksFor(m *site.Mode, circuits []site.CircuitID) bool {
	for i := range m.States {
		for j := range m.States[i].Stages {
			for k := range m.States[i].Stages[j].Settings {
				for _, c := range m.States[i].Stages[j].Settings[k].Circuits {
					if slices.Contains(circuits, c) {
						return true
					}
				}
			}
		}
	}
	return false
}

func (f focus) all() bool { return len(f.circuits) == 0 && len(f.modes) == 0 }

func (f focus) circuit(id site.CircuitID) bool { return f.all() || slices.Contains(f.circuits, id) }

func (f focus) mode(id site.ModeID) bool { return f.all() || slices.Contains(f.modes, id) }

// story tells a timeline up to a time.
func (t *teller) story(tl *rehearse.Timeline, f focus, until rehearse.Nanos) Story {
	var out Story
	for i := range tl.Steps {
		st := &tl.Steps[i]
		if st.At > until {
			break
		}
		if e := t.entry(tl, i, f); e.Event || len(e.Modes) > 0 || len(e.Lights) > 0 {
			out.Entries = append(out.Entries, e)
		}
	}
	out.Entries = shortened(out.Entries)
	return out
}

func (t *teller) entry(tl *rehearse.Timeline, step int, f focus) Entry {
	st := &tl.Steps[step]
	e := Entry{At: st.At, Clock: stamp(st.TimeOfDay), Day: dayOf(tl, st.At), Weekday: t.weekday(tl, st.At), Causes: []string{}}
	for _, c := range st.Causes {
		outside := c.Kind == rehearse.StartUp || c.Kind == rehearse.InputChange
		timer := c.Kind == rehearse.TimerDue || c.Kind == rehearse.ClockDue
		e.Event = e.Event || outside
		if timer && !f.mode(c.Mode) {
			continue
		}
		if text := t.cause(tl, c); text != "" {
			e.Causes = append(e.Causes, text)
		}
	}
	for _, c := range st.Modes {
		if f.mode(c.Mode) {
			if text := t.modeChange(c); text != "" {
				e.Modes = append(e.Modes, text)
			}
		}
	}
	e.Lights = t.lights(tl, step, f.circuit)
	for i := range st.Circuits {
		if e.Event && !f.circuit(st.Circuits[i].Circuit) {
			e.Others++
		}
	}
	return e
}

// shortened leaves out the middle of every long run of entries without an outside event.
func shortened(in []Entry) []Entry {
	var out []Entry
	for len(in) > 0 {
		n := 0
		for n < len(in) && !in[n].Event {
			n++
		}
		if n > longRun {
			skip := n - keepFirst - keepLast
			out = append(out, in[:keepFirst]...)
			last := in[keepFirst+skip-1]
			out = append(out, Entry{At: last.At, Clock: last.Clock, Day: last.Day, Weekday: last.Weekday, Causes: []string{}, Skipped: skip})
			out, in = append(out, in[keepFirst+skip:n]...), in[n:]
			continue
		}
		if n == 0 {
			n = 1
		}
		out, in = append(out, in[:n]...), in[n:]
	}
	return out
}
