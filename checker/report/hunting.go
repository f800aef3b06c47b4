// The finding "hunting": one whole cycle of a loop in which lamps switch themselves by the light that a sensor sees of them,
// and why the two switching values of the sensor are too near to each other.

package report

import (
	"fmt"
	"slices"

	"lampwarden/checker"
	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// Cycle is one round of a loop.
type Cycle struct {
	From  rehearse.Nanos `json:"fromNs"`
	To    rehearse.Nanos `json:"toNs"`
	Since string         `json:"since"` // wall-clock stamps
	Until string         `json:"until"`
	// Bright and Dark are the illuminances, in lux, at which the reading counts as bright, and below which as dark
	// again; absent where the mode's conditions are of another kind.
	Bright int64 `json:"brightLux,omitempty"`
	Dark   int64 `json:"darkLux,omitempty"`
	// Swing is by how much the lamps change what the sensor reads in the cycle, Most what they can add.
	Swing float64  `json:"swingLux"`
	Most  float64  `json:"mostLux"`
	Lamps []string `json:"lamps"`
}

// hunting fills in a finding of hunting.
func (t *teller) hunting(f *checker.Finding, out *Finding) {
	cx := f.Counterexample
	tl, j := cx.Timeline, &cx.Judgement
	lamps := seenBy(t.s, f.Mode)
	aim := aimedAt(t.s, lamps)
	aim.modes = append(aim.modes, f.Mode)
	st := t.story(tl, aim, j.At)
	out.Story, out.AnyTime = &st, anyTime(cx)
	out.Cycle = t.cycle(tl, f.Mode, j.Since, j.At)
	out.Reason = out.Cycle.reason(t.sensorRead(f.Mode))
	out.marks = []Entry{
		t.mark(tl, j.Since, "here one round begins"),
		t.mark(tl, j.At, "here it begins again, with no cause from outside: so it can go on for ever"),
	}
}

// seenBy lists the circuits whose light a mode's own conditions see.
func seenBy(s *site.Site, m site.ModeID) (out []site.CircuitID) {
	for _, x := range seenTerms(s, m) {
		if !slices.Contains(out, x.Circuit) {
			out = append(out, x.Circuit)
		}
	}
	return out
}

// seenTerms gives the terms of the first seen sum in a mode's conditions; all of them have the same.
func seenTerms(s *site.Site, m site.ModeID) (out []site.Term) {
	eachCondition(&s.Modes[m], func(e *site.Expr) {
		e.Walk(func(x *site.Expr) {
			if x.Op == site.OpSum && x.Seen && out == nil {
				out = x.Terms
			}
		})
	})
	return out
}

// sensorRead names the sensor that a mode reads.
func (t *teller) sensorRead(m site.ModeID) string {
	name := "the sensor"
	eachCondition(&t.s.Modes[m], func(e *site.Expr) {
		e.Walk(func(x *site.Expr) {
			if x.Op == site.OpInput && t.s.Inputs[x.Input].Kind == site.Daylight && t.s.Inputs[x.Input].Sensor != "" {
				name = source.Escape(t.s.Inputs[x.Input].Sensor)
			}
		})
	})
	return name
}

// cycle measures one round of the loop.
func (t *teller) cycle(tl *rehearse.Timeline, m site.ModeID, from, to rehearse.Nanos) *Cycle {
	out := &Cycle{From: from, To: to, Since: moment(tl, from), Until: moment(tl, to), Lamps: []string{}}
	if bright, dark, ok := t.thresholds(&t.s.Modes[m]); ok {
		out.Bright, out.Dark = bright, dark
	}
	terms := seenTerms(t.s, m)
	least, most := int64(-1), int64(0)
	for i := stepAt(tl, from); i >= 0 && i < len(tl.Steps) && tl.Steps[i].At <= to; i++ {
		sum := int64(0)
		for _, x := range terms {
			sum += x.Weight * int64(tl.Seen(i, x.Circuit))
		}
		if most = max(most, sum); least < 0 || sum < least {
			least = sum
		}
	}
	out.Swing = rounded(float64(most-max(least, 0)) / float64(site.Full))
	can := int64(0)
	for _, x := range terms {
		if !t.movesSeen(tl, x.Circuit, from, to) {
			continue
		}
		rests := t.s.Rests(x.Circuit)
		can += x.Weight * int64(rests[len(rests)-1])
		out.Lamps = append(out.Lamps, t.circuit(x.Circuit))
	}
	out.Most = rounded(float64(can) / float64(site.Full))
	return out
}

// movesSeen tells whether what the sensor sees of a circuit changes in a stretch of a run.
func (t *teller) movesSeen(tl *rehearse.Timeline, c site.CircuitID, from, to rehearse.Nanos) bool {
	first := stepAt(tl, from)
	for i := first; i >= 0 && i < len(tl.Steps) && tl.Steps[i].At <= to; i++ {
		if tl.Seen(i, c) != tl.Seen(first, c) {
			return true
		}
	}
	return false
}

// thresholds gives the illuminance at which a mode that reads a sensor begins, and below which it ends. A mode that is
// active while it is dark gives the same two.
func (t *teller) thresholds(m *site.Mode) (bright, dark int64, ok bool) {
	switch {
	case m.Kind == site.While && m.Cond != nil:
		bright, ok = t.reading(unwrapped(m.Cond))
		return bright, bright, ok
	case m.Kind != site.Latch || len(m.Starts) != 1 || len(m.Ends) != 1 || m.Starts[0].On == nil || m.Ends[0].On == nil:
		return 0, 0, false
	}
	from, ok1 := t.reading(unwrapped(m.Starts[0].On))
	to, ok2 := t.reading(unwrapped(m.Ends[0].On))
	return max(from, to), min(from, to), ok1 && ok2
}

// reading gives the illuminance that a condition on a sensor asks for; ok is false for one that reads anything else.
func (t *teller) reading(e *site.Expr) (lux int64, ok bool) {
	ok = true
	e.Walk(func(x *site.Expr) {
		switch {
		case x.Op == site.OpSum && x.Seen, x.Op == site.OpInput && t.s.Inputs[x.Input].Kind == site.Daylight,
			x.Op == site.OpAnd, x.Op == site.OpOr:
		default:
			ok = false
		}
	})
	if !ok {
		return 0, false
	}
	lux, _ = limitOf(t.s, e)
	return lux, true
}

// reason says in sentences why the loop never rests, and what would end it.
func (c *Cycle) reason(sensor string) []string {
	lamps := someOf(c.Lamps)
	num := func(v float64) string { return thousandths(int64(v*1000+0.5), 3) + " lux" }
	var out []string
	switch {
	case c.Bright == 0:
		out = append(out, fmt.Sprintf("The light of %s changes what %s reads by %s, and that switches it back.", lamps, sensor, num(c.Swing)))
	case c.Bright == c.Dark:
		out = append(out, fmt.Sprintf("By %s it is bright from %s on, and dark below: there is no hysteresis. "+
			"The light of %s changes the reading by %s.", sensor, lux(c.Bright), lamps, num(c.Swing)))
	default:
		out = append(out, fmt.Sprintf("By %s it is bright from %s on, and dark again below %s: the two are %s apart. "+
			"The light of %s changes the reading by %s.", sensor, lux(c.Bright), lux(c.Dark), lux(c.Bright-c.Dark), lamps, num(c.Swing)))
	}
	return append(out, "The value at which lamps go off has to exceed the one at which they come on by more than their own light. "+
		fmt.Sprintf("Widen the hysteresis to more than %s, which is what they add at most, with a margin for what the file does not know; ", num(max(c.Most, c.Swing)))+
		"or turn the sensor away from them. A longer delay only makes the rounds longer.")
}
