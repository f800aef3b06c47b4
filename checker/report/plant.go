// What is no part of the controller's program: the controller itself, generators, delays of supplies, what sensors and
// panels remember.

package report

import (
	"fmt"
	"slices"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// generator names the supply that gives current while a plant mode is active.
func (t *teller) generator(m site.ModeID) (name string, ok bool) {
	for i := range t.s.Supplies {
		if f := &t.s.Supplies[i]; !f.Battery && namesMode(f.Dead, m) {
			return source.Escape(f.Name), true
		}
	}
	return "", false
}

// returnsLate tells whether a plant mode is the time that circuits stay dead after their feed has come back.
func (t *teller) returnsLate(m site.ModeID) bool { return len(t.deadWith(m)) > 0 }

// deadWith lists the circuits that are dead while a plant mode with an off delay is active.
func (t *teller) deadWith(m site.ModeID) (out []site.CircuitID) {
	if md := &t.s.Modes[m]; !md.Plant || md.Kind != site.While || md.OffDelay == 0 {
		return nil
	}
	for c := range t.s.Circuits {
		if cir := &t.s.Circuits[c]; !cir.Colour && namesMode(cir.Dead, m) {
			out = append(out, site.CircuitID(c))
		}
	}
	return out
}

// namesMode tells whether a condition names a mode.
func namesMode(e *site.Expr, m site.ModeID) bool {
	found := false
	e.Walk(func(x *site.Expr) { found = found || x.Op == site.OpMode && x.Mode == m })
	return found
}

// plantChange puts what a plant mode did into words; "" where it has nothing to say for itself.
func (t *teller) plantChange(c rehearse.ModeChange) string {
	m, name := &t.s.Modes[c.Mode], t.mode(c.Mode)
	if g, ok := t.generator(c.Mode); ok {
		return generatorStep(g, m, c)
	}
	if t.returnsLate(c.Mode) {
		if c.To.Phase == rehearse.Holding {
			return fmt.Sprintf("the feed is back, but %s will stay dark for %s", t.circuits(t.deadWith(c.Mode)), m.OffDelay)
		}
		return ""
	}
	if namesMode(t.s.Controller.Down, c.Mode) && m.Kind == site.While && m.OffDelay > 0 {
		if c.To.Phase == rehearse.Holding {
			return "the controller starts up, which takes " + m.OffDelay.String()
		}
		return ""
	}
	if c.From.Active == c.To.Active {
		return ""
	}
	if bright, dark, ok := t.thresholds(m); ok {
		text := fmt.Sprintf("by %s it is dark now: it reads less than %s", t.sensorRead(c.Mode), lux(dark))
		if c.To.Active == brightWhile(m) {
			text = fmt.Sprintf("by %s it is bright now: it reads %s or more", t.sensorRead(c.Mode), lux(bright))
		}
		return text + t.at(m.Span)
	}
	switch {
	case !c.From.Active && c.To.Active:
		return name + " from now on" + t.at(m.Span)
	case c.From.Active && !c.To.Active:
		return name + " no more" + t.at(m.Span)
	}
	return ""
}

// brightWhile tells whether a mode with thresholds is active while it is bright, and not while it is dark.
func brightWhile(m *site.Mode) bool {
	e := m.Cond
	if m.Kind == site.Latch {
		e = m.Starts[0].On
	}
	return e.Op != site.OpNot
}

func generatorStep(name string, m *site.Mode, c rehearse.ModeChange) string {
	switch {
	case c.To.Phase == rehearse.Waiting:
		return fmt.Sprintf("generator %s runs up, which takes %s", name, m.OnDelay)
	case c.To.Active && !c.From.Active:
		return "generator " + name + " runs"
	case c.From.Active && !c.To.Active:
		return "generator " + name + " stops"
	case c.From.Phase == rehearse.Waiting:
		return "generator " + name + " is not needed any more"
	}
	return ""
}

// plantTimer tells whether a timer of a plant mode is told by what it does, and needs no line of its own.
func (t *teller) plantTimer(c rehearse.Cause) bool {
	_, set := t.generator(c.Mode)
	return t.s.Modes[c.Mode].Plant && (set || t.returnsLate(c.Mode) || namesMode(t.s.Controller.Down, c.Mode))
}

// Controller is what the controller itself did in a step.
type Controller struct {
	Up   bool   `json:"up"`
	Text string `json:"text"`
	// Forgot lists what the modes in question were doing, if that is forgotten.
	Forgot []string `json:"forgot,omitempty"`
}

// controller tells that the controller went down or is up again; nil if neither.
func (t *teller) controller(tl *rehearse.Timeline, step int, f focus) *Controller {
	st, keeps := &tl.Steps[step], t.s.Controller.Keeps
	switch {
	case st.Controller == rehearse.WakesUp && keeps:
		return &Controller{Up: true, Text: "the controller is up again, its modes where they were; the times that ran start anew"}
	case st.Controller == rehearse.WakesUp:
		return &Controller{Up: true, Text: "the controller is up again and starts afresh"}
	case st.Controller != rehearse.GoesDown:
		return nil
	case step == 0:
		return &Controller{Text: "the controller is down"}
	case keeps:
		return &Controller{Text: "the controller goes down; it keeps where its modes are, and reaches no lamp"}
	}
	out := &Controller{Text: "the controller goes down and reaches no lamp", Forgot: t.forgotten(st, f)}
	if len(out.Forgot) > 0 {
		out.Text += "; it forgets: " + someOf(out.Forgot)
	}
	return out
}

// downBy tells whether an input is the failure by which the controller goes down.
func (t *teller) downBy(id site.InputID) bool {
	if t.s.Inputs[id].Kind != site.Failure {
		return false
	}
	found := false
	var look func(*site.Expr)
	look = func(e *site.Expr) {
		e.Walk(func(x *site.Expr) {
			found = found || x.Op == site.OpInput && x.Input == id
			if x.Op == site.OpMode && t.s.Modes[x.Mode].Plant {
				look(t.s.Modes[x.Mode].Cond)
			}
		})
	}
	look(t.s.Controller.Down)
	return found
}

// forgotten lists what modes were doing that are as before start-up now.
func (t *teller) forgotten(st *rehearse.Step, f focus) (out []string) {
	for _, c := range st.Modes {
		m := &t.s.Modes[c.Mode]
		if m.Plant || !f.mode(c.Mode) {
			continue
		}
		name := t.mode(c.Mode)
		switch {
		case m.Kind == site.States && c.From.State != 0:
			name += " in " + source.Escape(m.States[c.From.State].Name)
		case c.From.Phase == rehearse.Waiting:
			name += " (in its on delay)"
		case c.From.Phase == rehearse.Holding:
			name += " (in its off delay)"
		case !c.From.Active:
			continue
		}
		out = append(out, name)
	}
	return out
}

// plantReadBy lists the plant modes that some conditions name, and those that these name.
func plantReadBy(s *site.Site, conds ...*site.Expr) []site.ModeID {
	var out []site.ModeID
	var look func(*site.Expr)
	look = func(e *site.Expr) {
		e.Walk(func(x *site.Expr) {
			if x.Op != site.OpMode && x.Op != site.OpState && x.Op != site.OpStage {
				return
			}
			if m := &s.Modes[x.Mode]; m.Plant && !slices.Contains(out, x.Mode) {
				out = append(out, x.Mode)
				eachCondition(m, look)
			}
		})
	}
	for _, e := range conds {
		look(e)
	}
	return out
}

// eachCondition calls f for all conditions of a mode: by which it steps, and under which it asks.
func eachCondition(m *site.Mode, f func(*site.Expr)) {
	f(m.Cond)
	for _, x := range slices.Concat(m.Starts, m.Ends) {
		f(x.On)
		f(x.If)
	}
	for _, tr := range m.Transitions {
		f(tr.Trigger.On)
		f(tr.Trigger.If)
	}
	for _, st := range m.States {
		for _, g := range st.Stages {
			for _, set := range g.Settings {
				for _, c := range set.Cases {
					f(c.When)
				}
			}
		}
	}
}
