// Whether a script keeps the rules of its form (lang/SEMANTICS.md sections 1 and 3).

package rehearse

import (
	"cmp"
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// ScriptError tells where a script breaks the rules. An assumption that it breaks is an AssumptionError.
type ScriptError struct {
	At   Nanos
	text string
}

// Error says it in a sentence.
func (e *ScriptError) Error() string { return e.At.String() + ": " + e.text }

// badScript makes a ScriptError.
func badScript(at Nanos, format string, args ...any) error {
	return &ScriptError{at, fmt.Sprintf(format, args...)}
}

// sorted returns a copy of the script with moves and choices in time order, those of one time as given.
func (sc Script) sorted() Script {
	sc.Initial, sc.Events = slices.Clone(sc.Initial), slices.Clone(sc.Events)
	sc.Moves, sc.Jumps = slices.Clone(sc.Moves), slices.Clone(sc.Jumps)
	slices.SortStableFunc(sc.Moves, func(a, b Move) int { return cmp.Compare(a.At, b.At) })
	sc.Choices = slices.Clone(sc.Choices)
	slices.SortStableFunc(sc.Choices, func(a, b Choice) int { return cmp.Compare(a.At, b.At) })
	return sc
}

// check goes through a sorted script: what can be told without playing it.
func (sc Script) check(s *site.Site) error {
	if sc.End < 0 {
		return badScript(sc.End, "the run ends before it starts")
	}
	if err := checkInitial(s, sc.Initial); err != nil {
		return err
	}
	c, err := sc.clock(s)
	if err != nil {
		return err
	}
	env := newEnvironment(s, sc.Initial)
	if err := env.checkStart(); err != nil {
		return err
	}
	last := Nanos(0)
	for _, ev := range sc.Events {
		if err := checkEvent(s, env, ev, last, sc.End); err != nil {
			return err
		}
		if shown := c.timeOfWeek(ev.At) % Day; s.Inputs[ev.Input].Kind == site.Calendar && shown != 0 {
			return badScript(ev.At, "input %q changes when the clock shows %s; a day of the calendar changes at 00:00 only",
				s.Inputs[ev.Input].Name, timeText(shown))
		}
		env.change(ev)
		last = ev.At
	}
	for _, m := range sc.Moves {
		if m.At <= 0 || m.At > sc.End {
			return badScript(m.At, "a lamp moves outside the run")
		}
		if m.Circuit < 0 || int(m.Circuit) >= len(s.Circuits) {
			return badScript(m.At, "there is no circuit %d to move", m.Circuit)
		}
	}
	for i, c := range sc.Choices {
		if i > 0 && sc.Choices[i-1].At == c.At && slices.ContainsFunc(sc.Choices[:i], func(b Choice) bool {
			return b.At == c.At && b.Circuit == c.Circuit
		}) {
			return badScript(c.At, "two choices for circuit %d at one time", c.Circuit)
		}
	}
	return nil
}

// clock checks the change of the local clock and gives the clock of the run.
func (sc Script) clock(s *site.Site) (clock, error) {
	c := clock{start: sc.Start}
	if len(sc.Jumps) == 0 {
		return c, nil
	}
	j := sc.Jumps[0]
	switch {
	case len(sc.Jumps) > 1:
		return c, badScript(sc.Jumps[1].At, "the local clock changes a second time; it may once in a run")
	case j.At <= 0:
		return c, badScript(j.At, "the local clock changes before or at start-up")
	case j.At > sc.End:
		return c, badScript(j.At, "the local clock changes after the run's end")
	}
	shown := c.timeOfWeek(j.At) % Day
	if !slices.ContainsFunc(s.Jumps, func(k site.Jump) bool { return FromMillis(k.At) == shown && k.By == j.By }) {
		return c, badScript(j.At, "the time zone of the site knows no change of the clock by %s at %s", j.By, timeText(shown))
	}
	c.jump = &j
	return c, nil
}

// timeText writes a time of day for an error message, with what is between two milliseconds.
func timeText(tod Nanos) string {
	text := site.Millis(tod / Milli).Clock()
	if rest := tod % Milli; rest != 0 {
		text += " and " + rest.String()
	}
	return text
}

// checkInitial: level inputs, each once.
func checkInitial(s *site.Site, given []site.InputID) error {
	for i, in := range given {
		switch {
		case in < 0 || int(in) >= len(s.Inputs):
			return badScript(0, "there is no input %d", in)
		case s.Inputs[in].Kind.IsEvent():
			return badScript(0, "input %q has events and cannot be true at start-up", s.Inputs[in].Name)
		case slices.Contains(given[:i], in):
			return badScript(0, "input %q is listed twice at start-up", s.Inputs[in].Name)
		}
	}
	return nil
}

// checkEvent: in time order, a change, allowed.
func checkEvent(s *site.Site, env *environment, ev Event, last, end Nanos) error {
	if ev.Input < 0 || int(ev.Input) >= len(s.Inputs) {
		return badScript(ev.At, "there is no input %d", ev.Input)
	}
	in := &s.Inputs[ev.Input]
	switch {
	case ev.At <= 0:
		return badScript(ev.At, "input %q changes before or at start-up", in.Name)
	case ev.At <= last:
		return badScript(ev.At, "input %q changes, but the change before is not earlier", in.Name)
	case ev.At > end:
		return badScript(ev.At, "input %q changes after the run's end", in.Name)
	case in.Kind == site.Bell && ev.Gesture != site.Tap, ev.Gesture > site.Release:
		return badScript(ev.At, "input %q has no such gesture", in.Name)
	case !in.Kind.IsEvent() && ev.Gesture != site.Tap:
		return badScript(ev.At, "input %q has no gestures", in.Name)
	case !in.Kind.IsEvent() && env.values[ev.Input] == ev.Value:
		return badScript(ev.At, "input %q is %t already", in.Name, ev.Value)
	}
	return env.check(ev)
}
