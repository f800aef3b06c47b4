// A timeline told as data: the steps that matter, in order.

package report

import (
	"slices"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// Story is a timeline told for some circuits and modes.
type Story struct {
	// Date is the date of the year of a site whose bands or clock times name the sun: "21 June".
	Date    string  `json:"date,omitempty"`
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
	// Controller is set if the controller went down or is up again.
	Controller *Controller `json:"controller,omitempty"`
	// Plant says what generators, delays of supplies, sensors and panels did.
	Plant  []string `json:"plant,omitempty"`
	Modes  []string `json:"modes,omitempty"`
	Lights []Light  `json:"lights,omitempty"`
	Others int      `json:"otherCircuits,omitempty"` // circuits that an event changed too and that are not told of
	// Skipped > 0: the entry stands for so many steps of a flash up to At and tells nothing itself.
	Skipped int `json:"skippedSteps,omitempty"`

	rung *rung // if all that happened is that the daylight passed a value
	lost bool  // a clock time came to nothing
	// selfTold: what the controller does says the cause as well.
	selfTold bool
}

// told tells whether an entry is worth telling.
func (e *Entry) told() bool { return e.Event || e.lost || !e.quiet() }

// quiet tells whether nothing changed in it that the story is about.
func (e *Entry) quiet() bool {
	return e.Controller == nil && len(e.Plant) == 0 && len(e.Modes) == 0 && len(e.Lights) == 0
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
	inputs   []site.InputID // that the conditions in question read themselves
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
			case site.OpInput:
				f.inputs = append(f.inputs, x.Input)
			}
		})
	}
	if len(circuits) == 0 {
		for _, c := range circuitsOf(conds) {
			if s.Circuits[c].Colour {
				c = s.Circuits[c].Light
			}
			f.circuits = append(f.circuits, c)
		}
	}
	asked := slices.Clone(f.circuits)
	for c := range s.Circuits {
		if s.Circuits[c].Colour && slices.Contains(f.circuits, s.Circuits[c].Light) {
			asked = append(asked, site.CircuitID(c))
		}
	}
	for i := range s.Modes {
		if asksFor(&s.Modes[i], asked) {
			f.modes = append(f.modes, site.ModeID(i))
		}
	}
	f.modes = append(f.modes, plantOf(s, f)...)
	return f
}

// plantOf lists the plant modes that the modes and circuits in question depend on, at once or by other plant modes.
func plantOf(s *site.Site, f focus) []site.ModeID {
	conds := []*site.Expr{s.Controller.Down}
	for _, m := range f.modes {
		eachCondition(&s.Modes[m], func(e *site.Expr) { conds = append(conds, e) })
	}
	for _, c := range f.circuits {
		conds = append(conds, s.Circuits[c].Dead, s.Circuits[c].Cut)
	}
	return plantReadBy(s, conds...)
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
	out := Story{Date: source.Escape(tl.Site.Date)}
	for i := range tl.Steps {
		st := &tl.Steps[i]
		if st.At > until {
			break
		}
		if e := t.entry(tl, i, f); e.told() {
			out.Entries = append(out.Entries, e)
		}
	}
	out.Entries = shortened(t.together(out.Entries))
	return out
}

func (t *teller) entry(tl *rehearse.Timeline, step int, f focus) Entry {
	st := &tl.Steps[step]
	e := Entry{At: st.At, Clock: stamp(st.TimeOfDay), Day: dayOf(tl, st.At), Weekday: t.weekday(tl, st.At)}
	e.Causes = []string{}
	say := func(text string) {
		if text != "" {
			e.Causes = append(e.Causes, text)
		}
	}
	for _, c := range st.Causes {
		timer := c.Kind == rehearse.TimerDue || c.Kind == rehearse.ClockDue
		if timer && !f.mode(c.Mode) {
			continue
		}
		e.Event = e.Event || c.Kind == rehearse.StartUp || c.Kind == rehearse.InputChange || c.Kind == rehearse.ClockJumps
		e.lost = e.lost || c.Kind == rehearse.ClockDue && c.Lost
		say(t.cause(tl, c))
		e.selfTold = e.selfTold || c.Kind == rehearse.InputChange && st.Controller != rehearse.AsBefore && t.downBy(c.Input)
		if c.Kind == rehearse.ClockJumps {
			e.Modes = t.jumped(tl, c, st.At, f)
		}
	}
	say(t.seen(st))
	e.rung = t.rungOf(st, &e, f)
	e.Controller = t.controller(tl, step, f)
	t.modes(&e, st, f)
	var others int
	if e.Lights, others = t.lights(tl, step, f.circuit); e.Event {
		e.Others = others
	}
	return e
}

// modes tells what the modes in question did in a step. What a controller that goes down forgets is told with that.
func (t *teller) modes(e *Entry, st *rehearse.Step, f focus) {
	forgets := st.Controller == rehearse.GoesDown && !t.s.Controller.Keeps
	for _, c := range st.Modes {
		plant := t.s.Modes[c.Mode].Plant
		if !f.mode(c.Mode) || forgets && !plant {
			continue
		}
		switch text := t.modeChange(c); {
		case text == "":
		case plant:
			e.Plant = append(e.Plant, text)
		default:
			e.Modes = append(e.Modes, text)
		}
	}
}

// shortened leaves out the middle of every long run of entries without an outside event.
func shortened(in []Entry) []Entry {
	var out []Entry
	for len(in) > 0 {
		n := 0
		for n < len(in) && !in[n].Event && in[n].Controller == nil {
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
