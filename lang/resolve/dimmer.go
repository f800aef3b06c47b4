// Dimmers: `dimmer on bed_key from 10 % to 100 % in 9 steps every 300 ms`.
//
// A dimmer becomes a mode with states: off; at each level, at rest, with the direction in which the next long press goes;
// and at each level on the way up and on the way down, while the button is held.

package resolve

import (
	"fmt"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// maxSteps bounds the levels of a dimmer.
const maxSteps = 200

// dimmer is one that is being made; levels are counted from 0 to n.
type dimmer struct {
	out      *site.Mode
	clause   *syntax.DimmerClause
	n        int
	lo, hi   site.Level
	circuits []site.CircuitID
	button   site.InputID
	every    site.Millis
}

func (r *resolver) dimmerMode(sc scope, m *modeDecl, out *site.Mode) {
	out.Kind = site.States
	out.States = []site.State{{Name: "off", Span: m.decl.Name.Span}}
	d, ok := &dimmer{}, false
	for _, c := range m.decl.Clauses {
		if c.Dimmer != nil && d.clause == nil {
			if d, ok = r.dimmer(sc, c.Dimmer, out); ok {
				d.states(r, m.decl.Name.Span)
			}
		}
	}
	own := d.clause
	for _, c := range m.decl.Clauses {
		switch {
		case c.Dimmer != nil && c.Dimmer == own && ok:
			d.transitions()
		case c.Change != nil, c.At != nil && c.At.Arrows != nil:
			r.dimmerChange(sc, d, c)
		}
	}
}

// dimmer resolves the clause; ok is false if it was reported.
func (r *resolver) dimmer(sc scope, c *syntax.DimmerClause, out *site.Mode) (d *dimmer, ok bool) {
	d = &dimmer{out: out, clause: c}
	button := r.gesture(sc.as(useTrigger), &syntax.GestureAtom{Node: c.Button.Node, Gesture: "tap", Button: c.Button})
	lo, okLo := r.percent(c.From)
	hi, okHi := r.percent(c.To)
	n, okN := r.count(c.Steps)
	d.every = r.duration(c.Every)
	d.circuits = r.targets(sc, c.Targets)
	r.suits(d.circuits, &syntax.Level{Node: c.Targets.Node, Percent: c.From})
	if isPoison(button) || !okLo || !okHi || !okN {
		return d, false
	}
	d.lo, d.hi, d.n, d.button = lo, hi, n, button.Input
	switch {
	case lo <= 0 || hi <= lo:
		e := r.errorf(source.BadRange, c.From.Span.To(c.To.Span), "a dimmer goes from a low level, above 0 %%, to a higher one")
		if hi < lo && hi > 0 {
			e.Suggestion = fmt.Sprintf("write `from %s to %s`", hi, lo)
		}
	case n < 1 || n > maxSteps || site.Level(n) > hi-lo:
		r.errorf(source.BadCount, c.Steps.Span, "a dimmer has 1 to %d steps", min(maxSteps, int(hi-lo)))
	case r.spend((4*n+3)*(1+len(d.circuits)), c.Span):
		return d, true
	}
	return d, false
}

// level is that of a step, to the nearest hundredth of a per cent.
func (d *dimmer) level(i int) site.Level {
	n, span := site.Level(d.n), d.hi-d.lo
	return d.lo + (span*site.Level(i)+n/2)/n
}

// The states after `off`: at rest at 0 (next up), at 1 to n-1 next up, at 1 to n-1 next down, at n (next down), on the way up
// at 0 to n, on the way down at 0 to n.
func (d *dimmer) restUp(i int) int   { return 1 + i }
func (d *dimmer) restDown(i int) int { return d.n + i }
func (d *dimmer) up(i int) int       { return 2*d.n + 1 + i }
func (d *dimmer) down(i int) int     { return 3*d.n + 2 + i }

func (d *dimmer) states(r *resolver, sp source.Span) {
	add := func(from, to int, form string) {
		for i := from; i <= to; i++ {
			stage := site.Stage{Span: d.clause.Targets.Span, Settings: []site.Setting{{Circuits: append([]site.CircuitID(nil), d.circuits...),
				Cases: []site.Case{{Level: d.level(i), Span: d.clause.Span}}, Span: d.clause.Targets.Span}}}
			d.out.States = append(d.out.States, site.State{Name: fmt.Sprintf(form, d.level(i)), Stages: []site.Stage{stage}, Span: d.clause.Span})
		}
	}
	add(0, d.n-1, "%s, next up")
	add(1, d.n, "%s, next down")
	add(0, d.n, "up %s")
	add(0, d.n, "down %s")
}

// event is a transition by a gesture of the button.
func (d *dimmer) event(g site.Gesture, from, to int) {
	sp := d.clause.Button.Span
	on := &site.Expr{Op: site.OpEvent, Input: d.button, Gesture: g, Span: sp}
	d.out.Transitions = append(d.out.Transitions, site.Transition{From: from, To: to, Trigger: site.Trigger{On: on, Span: sp}, Span: d.clause.Span})
}

// step is a transition while the button is held.
func (d *dimmer) step(from, to int) {
	sp := d.clause.Every.Span
	d.out.Transitions = append(d.out.Transitions,
		site.Transition{From: from, To: to, After: d.every, Trigger: site.Trigger{Span: sp}, Span: d.clause.Span})
}

func (d *dimmer) transitions() {
	const off = 0
	d.event(site.Tap, off, d.restDown(d.n))
	d.event(site.LongPress, off, d.up(0))
	d.event(site.Tap, site.None, off) // from all others
	for i := 0; i <= d.n; i++ {
		if i < d.n {
			d.event(site.LongPress, d.restUp(i), d.up(i))
			d.step(d.up(i), d.up(i+1))
		}
		if i > 0 {
			d.event(site.LongPress, d.restDown(i), d.down(i))
			d.step(d.down(i), d.down(i-1))
		}
		afterUp, afterDown := d.restDown(i), d.restUp(i)
		switch i { // at an end only one direction is left, wherever the dimmer came from
		case 0:
			afterUp = d.restUp(0)
		case d.n:
			afterDown = d.restDown(d.n)
		}
		d.event(site.Release, d.up(i), afterUp)
		d.event(site.Release, d.down(i), afterDown)
		// A second long press turns the direction round, too: the release was missed.
		if i > 0 {
			d.event(site.LongPress, d.up(i), d.down(i))
		}
		if i < d.n {
			d.event(site.LongPress, d.down(i), d.up(i))
		}
	}
}

// dimmerChange resolves a transition that is written beside the dimmer: to `off`, or to `on`, which is the full level.
func (r *resolver) dimmerChange(sc scope, d *dimmer, c *syntax.ModeClause) {
	head, arrows := r.transitionHead(sc, c)
	from := arrows.From
	sp := arrows.Span
	if from != nil {
		if !r.onOrOff(from) {
			return
		}
		sp = from.Span
	}
	for i, to := range arrows.To {
		if !r.onOrOff(to) || d.n == 0 {
			return
		}
		t := head
		t.From, t.To, t.Span = site.None, 0, sp.To(to.Span)
		if i > 0 {
			t.Trigger.On, t.Trigger.If = clone(head.Trigger.On), clone(head.Trigger.If)
		}
		if to.Word == "on" {
			t.To = d.restDown(d.n)
		}
		if from != nil && from.Word == to.Word {
			r.errorf(source.WrongWord, t.Span, "this leads from `%s` to `%s`", from.Word, to.Word)
		} else if from != nil && from.Word == "off" {
			t.From = 0
		}
		d.out.Transitions = append(d.out.Transitions, t)
		from, sp = to, to.Span
	}
}

// onOrOff refuses other states.
func (r *resolver) onOrOff(s *syntax.StateRef) bool {
	if s.Word != "" {
		return true
	}
	d := r.errorf(source.UnknownName, s.Span, "a dimmer has no state `%s`", s.Name.Name)
	d.Notes = append(d.Notes, "its states are `off` and `on`, at any level")
	return false
}
