// What made a step happen, and what the modes did in it.

package report

import (
	"fmt"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// cause puts one cause into words; "" for one that other lines of the step tell already.
func (t *teller) cause(tl *rehearse.Timeline, c rehearse.Cause) string {
	switch c.Kind {
	case rehearse.StartUp:
		return t.startUp(tl.Script.Initial)
	case rehearse.InputChange:
		return t.input(c)
	case rehearse.TimerDue:
		return t.timer(c)
	case rehearse.ClockDue:
		return t.clockDue(c)
	case rehearse.ClockJumps:
		return clockChange(c)
	case rehearse.BandBegins, rehearse.BandEnds:
		return t.bandChange(c)
	}
	return "" // a lamp that moves or arrives: its light says so; a lamp that is seen: see seen
}

// seen tells which lamps the sensors have come to see in a step; "" if none.
func (t *teller) seen(st *rehearse.Step) string {
	var words []string
	at := map[string][]site.CircuitID{}
	for _, c := range st.Causes {
		if c.Kind != rehearse.LightSeen {
			continue
		}
		level := t.atLevel(c.Circuit, c.Level)
		if at[level] == nil {
			words = append(words, level)
		}
		at[level] = append(at[level], c.Circuit)
	}
	if len(words) == 0 {
		return ""
	}
	for i, level := range words {
		words[i] = t.circuits(at[level]) + " " + level
	}
	return "the sensor now sees " + joined(words)
}

func (t *teller) timer(c rehearse.Cause) string {
	if t.plantTimer(c) {
		return ""
	}
	text := t.timerText(c)
	if c.Lost {
		text += ", which is lost: the controller is down"
	}
	return text
}

func (t *teller) timerText(c rehearse.Cause) string {
	m := &t.s.Modes[c.Mode]
	name := t.mode(c.Mode)
	switch c.Timer {
	case rehearse.OnDelayTimer:
		return fmt.Sprintf("the on delay of %s (%s) is over%s", name, m.OnDelay, t.at(c.Span))
	case rehearse.OffDelayTimer:
		return fmt.Sprintf("the off delay of %s (%s) is over%s", name, m.OffDelay, t.at(c.Span))
	case rehearse.PulseTimer:
		return fmt.Sprintf("the pulse of %s (%s) is over%s", name, m.Pulse, t.at(c.Span))
	case rehearse.ForTimer:
		return fmt.Sprintf("the %s of %s are over%s", m.For, name, t.at(c.Span))
	case rehearse.AfterTimer:
		return fmt.Sprintf("a time of %s is over%s", name, t.at(c.Span))
	case rehearse.StageTimer:
		return fmt.Sprintf("a stage of %s is over%s", name, t.at(c.Span))
	}
	return fmt.Sprintf("the flash of %s changes", name)
}

// modeChange puts what a mode did into words; "" if only its flash changed.
func (t *teller) modeChange(c rehearse.ModeChange) string {
	if t.s.Modes[c.Mode].Plant {
		return t.plantChange(c)
	}
	what := t.modeStep(c)
	if what == "" {
		return ""
	}
	place := t.s.Modes[c.Mode].Span
	if len(c.By) > 0 {
		place = c.By[len(c.By)-1]
	}
	return t.mode(c.Mode) + " " + what + t.at(place)
}

func (t *teller) modeStep(c rehearse.ModeChange) string {
	m := &t.s.Modes[c.Mode]
	switch {
	case m.Kind == site.States && (c.From.State != c.To.State):
		return fmt.Sprintf("goes from %s to %s", source.Escape(m.States[c.From.State].Name), source.Escape(m.States[c.To.State].Name))
	case m.Kind == site.States && c.Restarted:
		return "enters " + source.Escape(m.States[c.To.State].Name) + " anew"
	case m.Kind == site.While && c.From.Phase != c.To.Phase:
		return whileStep(m, c.From.Phase, c.To.Phase)
	case c.Restarted && c.From.Active && c.To.Active:
		return "ends and starts anew"
	case c.From.Active != c.To.Active:
		return map[bool]string{true: "starts", false: "ends"}[c.To.Active]
	case c.From.Stage == c.To.Stage:
		return ""
	case c.To.Stage == rehearse.Over:
		return "has come to the end of its stages and asks for nothing"
	}
	return fmt.Sprintf("enters stage %d", c.To.Stage+1)
}

func whileStep(m *site.Mode, from, to rehearse.Phase) string {
	switch to {
	case rehearse.Waiting:
		return "waits for its on delay of " + m.OnDelay.String()
	case rehearse.On:
		if from == rehearse.Holding {
			return "goes on without a gap"
		}
		return "starts"
	case rehearse.Holding:
		return "holds for its off delay of " + m.OffDelay.String()
	case rehearse.Pulsing:
		return "starts its pulse of " + m.Pulse.String()
	case rehearse.Spent:
		return "ends: its pulse is spent"
	}
	if from == rehearse.Waiting {
		return "gives up waiting"
	}
	if from == rehearse.Spent {
		return "is ready for the next pulse"
	}
	return "ends"
}
