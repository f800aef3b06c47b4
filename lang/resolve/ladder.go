// What is known of daylight when all conditions have been read: the modes that read sensors, the ladders of rungs, and the
// steps of scenarios.

package resolve

import (
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// finishLight writes out what could not be known before.
func (r *resolver) finishLight() {
	for _, x := range r.readings {
		m := &r.site.Modes[x.mode]
		from := r.reads(x.sensor, x.from, m.Span)
		if m.Kind == site.While {
			m.Cond = from
			continue
		}
		m.Starts = []site.Trigger{{On: from, Span: m.Span}}
		m.Ends = []site.Trigger{{On: not(r.reads(x.sensor, x.to, m.Span), m.Span), Span: m.Span}}
	}
	r.fillSums()
	for k := range r.sensors {
		r.ladder(k)
	}
	r.tellDaylight()
	r.site.Assumptions = slices.DeleteFunc(r.site.Assumptions, func(a site.Assumption) bool { return len(a.Inputs) == 0 })
}

// byLux lists the rungs of a sensor, the lowest first.
func (r *resolver) byLux(k int) []site.InputID {
	var out []site.InputID
	for _, id := range r.sensors[k].rungs {
		out = append(out, id)
	}
	slices.SortFunc(out, func(a, b site.InputID) int { return int(r.site.Inputs[a].Lux - r.site.Inputs[b].Lux) })
	return out
}

// ladder says that a rung is true only while those below it are, and adds the rungs to the assumptions on the sensor.
func (r *resolver) ladder(k int) {
	rungs := r.byLux(k)
	if len(rungs) > 1 {
		r.assume(site.Assumption{Kind: site.Ladder, Inputs: rungs, Span: r.sensors[k].span})
	}
	for _, i := range r.sensors[k].spaced {
		a := &r.site.Assumptions[i]
		a.Inputs = append(a.Inputs, rungs...)
	}
}

// changesOfSensor takes a sensor in `assume changes of ...`, which means all its rungs. It gives false for any other name.
func (r *resolver) changesOfSensor(id *syntax.Ident, listed seen) bool {
	s := r.names[id.Name]
	if s == nil || s.kind != kindSensor {
		return false
	}
	if r.notListed(listed, id) {
		x := &r.sensors[s.id]
		x.spaced = append(x.spaced, len(r.site.Assumptions))
	}
	return true
}

// luxStep is a step of a scenario, or what is given at its start, that sets the daylight at a sensor.
type luxStep struct {
	scenario int
	step     int // index among its steps, or None: given
	sensor   int
	lux      int64
	span     source.Span
}

// daylightIs finds the sensor and the value of `hall_lux 300 lux`.
func (r *resolver) daylightIs(d *syntax.DaylightIs) (k int, lux int64, ok bool) {
	if d.Area != nil {
		k, ok = r.areaSensor(stepScope(), d.Area)
	} else if s := r.find(d.Sensor, kindSensor); s != nil {
		k, ok = s.id, true
	}
	lux, okLux := r.lux(d.Lux)
	return k, lux, ok && okLux
}

// givenChange takes one entry of `given`.
func (r *resolver) givenChange(st *story, c *syntax.Change) {
	if c.Daylight == nil {
		r.given(st, c.Event)
		return
	}
	k, lux, ok := r.daylightIs(c.Daylight)
	switch _, twice := st.lux[k]; {
	case !ok:
	case twice:
		r.errorf(source.ListedTwice, c.Span, "the daylight at `%s` is given twice", r.sensors[k].name)
	case lux == 0:
		d := r.errorf(source.NoChange, c.Span, "there is no daylight unless it is given")
		d.Suggestion = "leave this out"
	default:
		st.lux[k] = lux
		r.luxSteps = append(r.luxSteps, luxStep{scenario: len(r.site.Scenarios), step: site.None, sensor: k, lux: lux, span: c.Span})
	}
}

// stepDaylight takes a step that sets the daylight, and leaves a place for the changes that it will need.
func (r *resolver) stepDaylight(st *story, s *syntax.Step) {
	k, lux, ok := r.daylightIs(s.Change.Daylight)
	if !ok {
		return
	}
	if st.lux[k] == lux {
		r.errorf(source.NoChange, s.Change.Span, "this changes nothing: the daylight is %d lux already", lux)
		return
	}
	st.lux[k] = lux
	r.luxSteps = append(r.luxSteps, luxStep{scenario: len(r.site.Scenarios), step: len(st.out.Steps), sensor: k, lux: lux, span: s.Span})
	st.out.Steps = append(st.out.Steps, site.ScenarioStep{After: st.now, Input: site.None, Span: s.Span})
}

// tellDaylight turns the steps that set daylight into changes of rungs.
func (r *resolver) tellDaylight() {
	for from := 0; from < len(r.luxSteps); {
		to := from
		for to < len(r.luxSteps) && r.luxSteps[to].scenario == r.luxSteps[from].scenario {
			to++
		}
		r.tellScenario(&r.site.Scenarios[r.luxSteps[from].scenario], r.luxSteps[from:to])
		from = to
	}
}

// tellScenario does so for one scenario. Several changes stand close together, the last at the time of the step.
func (r *resolver) tellScenario(sc *site.Scenario, told []luxStep) {
	lux := map[int]int64{}
	var out []site.ScenarioStep
	done := 0
	for _, x := range told {
		if x.step == site.None {
			lux[x.sensor] = x.lux
			for _, id := range r.byLux(x.sensor) {
				if r.site.Inputs[id].Lux <= x.lux {
					sc.Given = append(sc.Given, id)
				}
			}
			continue
		}
		out = append(out, sc.Steps[done:x.step]...)
		done = x.step + 1
		before := site.Millis(0)
		if len(out) > 0 {
			before = out[len(out)-1].After
		}
		out = append(out, r.climb(x, lux[x.sensor], sc.Steps[x.step].After, before)...)
		lux[x.sensor] = x.lux
	}
	sc.Steps = append(out, sc.Steps[done:]...)
}

// climb gives the changes of rungs from one daylight to another.
func (r *resolver) climb(x luxStep, was int64, at, before site.Millis) []site.ScenarioStep {
	var out []site.ScenarioStep
	for _, id := range r.byLux(x.sensor) {
		if l := r.site.Inputs[id].Lux; (l <= was) != (l <= x.lux) {
			out = append(out, site.ScenarioStep{Input: id, Value: l <= x.lux, Span: x.span})
		}
	}
	if x.lux < was {
		slices.Reverse(out)
	}
	gap := r.spacingOf(x.sensor)
	for i := range out {
		out[i].After = at - gap*site.Millis(len(out)-1-i)
	}
	if len(out) > 1 && out[0].After <= before {
		d := r.errorf(source.SameInstant, x.span, "the daylight passes %d values that the site compares it with, and there is no time for so many changes",
			len(out))
		d.Suggestion = "let this step come later, at least " + (before - out[0].After + 1).String() + " later"
		return nil
	}
	return out
}

// spacingOf is the least time between two changes of a sensor: a millisecond, or what is assumed of it.
func (r *resolver) spacingOf(k int) site.Millis {
	gap := site.Millis(1)
	for _, i := range r.sensors[k].spaced {
		gap = max(gap, r.site.Assumptions[i].D)
	}
	return gap
}
