// Scenarios: times of the week to times since start-up, steps to input changes.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

func (r *resolver) scenarios() {
	titles := seen{}
	for _, d := range r.decls {
		if d, ok := d.(*syntax.ScenarioDecl); ok {
			r.title(titles, d.Name, "", "scenario")
			r.scenario(d)
		}
	}
}

// story is a scenario being told.
type story struct {
	out  *site.Scenario
	now  site.Millis                  // since start-up
	true map[site.InputID]bool        // level inputs that are true now
	last map[site.InputID]source.Span // where each got its value
	step source.Span                  // the step before, if any
	lux  map[int]int64                // the daylight at each sensor that was told
	busy site.Millis                  // how long that step took, up to now
}

func (r *resolver) scenario(d *syntax.ScenarioDecl) {
	out := site.Scenario{Name: d.Name.Value, Span: d.Name.Span}
	start, ok := r.startTime(d)
	if !ok {
		e := r.errorf(source.NoStart, d.Name.Span, "the scenario has no step and no `start`, so nothing says when it begins")
		e.Suggestion = "write `start 22:00`"
	}
	out.Start = start
	given := seen{}
	for _, it := range d.Items {
		if it.Date != nil && r.first(given, "the date", it.Span) {
			out.Date = r.date(it.Date)
		}
	}
	st := &story{out: &out, true: map[site.InputID]bool{}, last: map[site.InputID]source.Span{},
		lux: map[int]int64{}}
	for _, it := range d.Items {
		for _, g := range it.Given {
			r.givenChange(st, g)
		}
	}
	for _, it := range d.Items {
		switch {
		case it.Step != nil:
			r.step(st, it.Step)
		case it.Expect != nil:
			r.expect(st, it.Expect)
		}
	}
	r.site.Scenarios = append(r.site.Scenarios, out)
}

// startTime is the written one, or a minute before the first step; without a weekday it is on Monday.
func (r *resolver) startTime(d *syntax.ScenarioDecl) (start site.Millis, ok bool) {
	given := seen{}
	var first *syntax.Clock
	for _, it := range d.Items {
		if it.Start != nil && r.first(given, "the start", it.Span) {
			start, _ = r.clock(it.Start.At)
			if ok = true; it.Start.Day != nil {
				start += site.Millis(dayNumber(it.Start.Day)) * site.Day
			}
		}
		if it.Step != nil && first == nil {
			first = it.Step.At
		}
	}
	if !ok && first != nil {
		at, _ := r.clock(first)
		start, ok = (at+site.Day-60_000)%site.Day, true
	}
	return start, ok
}

// stepScope is the scope of steps and givens.
func stepScope() scope { return scope{use: useStep, mode: site.None, area: site.None} }

// given takes a level input that is away from rest at start-up.
func (r *resolver) given(st *story, n *syntax.NotExpr) {
	c, ok := r.change(r.notExpr(stepScope(), n), "only a level input can be given, such as `presence in hall` or `mains lost`")
	switch {
	case !ok:
	case c.event:
		r.errorf(source.EventNotHere, n.Span, "an event cannot be given at the start: it has no length")
	case !c.value:
		d := r.errorf(source.NoChange, n.Span, "every input is at rest unless it is given")
		d.Suggestion = "leave this out"
	case st.true[c.input]:
		relate(r.errorf(source.ListedTwice, n.Span, "this is given twice"), st.last[c.input], "first given here")
	default:
		st.true[c.input] = true
		st.last[c.input] = n.Span
		st.out.Given = append(st.out.Given, c.input)
	}
}

// step takes one change. A time of day that is not later than the step before
// is on the next day; two changes at one instant are refused.
func (r *resolver) step(st *story, s *syntax.Step) {
	clock := (st.out.Start + st.now) % site.Day
	at, known := r.clock(s.At)
	ahead := (at - clock + site.Day) % site.Day
	if ahead > site.Day-st.busy && known {
		d := r.errorf(source.SameInstant, s.At.Span, "the step before takes until %s", clock.Clock())
		relate(d, st.step, "it is here")
	}
	if ahead == 0 && known {
		d := r.errorf(source.SameInstant, s.At.Span, "only one input changes at an instant")
		if st.step.IsZero() {
			d.Notes = append(d.Notes, "the scenario starts at this time: its first step comes later")
		} else {
			relate(d, st.step, "the step before is at the same time")
		}
	}
	st.now += ahead
	st.step, st.busy = s.Span, 0
	if s.Change.Daylight != nil {
		r.stepDaylight(st, s)
		return
	}
	if f, ok := s.Change.Event.Atom.(*syntax.FaultAtom); ok && f.Word == "restart" {
		r.restart(st, s, f)
		return
	}
	c, ok := r.change(r.notExpr(stepScope(), s.Change.Event), "a step is one event or one change of an input")
	if !ok {
		return
	}
	if !c.event {
		r.noteChange(st, s, c)
	}
	if c.input == r.holiday && at != 0 && known {
		d := r.errorf(source.NotAtMidnight, s.At.Span, "a day is a holiday from its 00:00 on, or it is none")
		d.Suggestion = "write `at 00:00`, or `given holiday` if the start is on one"
	}
	st.out.Steps = append(st.out.Steps, site.ScenarioStep{After: st.now, Input: c.input, Value: c.value && !c.event,
		Gesture: c.gesture, Span: s.Span})
}

// noteChange refuses a change to the value that the input has already.
func (r *resolver) noteChange(st *story, s *syntax.Step, c change) {
	if st.true[c.input] == c.value {
		d := r.errorf(source.NoChange, s.Change.Span, "this changes nothing: it is so already")
		relate(d, st.last[c.input], "since here")
	}
	st.true[c.input] = c.value
	st.last[c.input] = s.Change.Span
}

func (r *resolver) expect(st *story, x *syntax.Expect) {
	step := site.ScenarioStep{After: st.now, Input: site.None, Span: x.Span}
	step.Expect = r.expr(scope{use: useExpectation, mode: site.None, area: site.None}, x.P)
	if x.Within != nil {
		step.Within = r.duration(x.Within)
	}
	st.out.Steps = append(st.out.Steps, step)
}
