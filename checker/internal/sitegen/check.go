// Check: the invariants of site data.

package sitegen

import (
	"errors"
	"fmt"

	"lampwarden/lang/site"
)

// Check verifies the invariants of a site's data and returns all that are
// broken, joined, or nil: ids in range, StepOrder a permutation in dependency
// order, plant modes first, precedence irreflexive and transitively closed, rules symmetric and
// only between unordered modes, durations, clock times and days in range, ramps
// only in settings that do not flash, outputs without what lights have, no event
// and no OpWas in a While condition or a case, no present light in any mode, seen light
// in plant modes alone, which read only inputs, bands, seen light and plant modes and ask for
// nothing, no OpWas in a requirement, and the fields of each form and kind set as lang/site says. A
// site that has Dates is checked on each of them.
func Check(s *site.Site) error {
	var errs []error
	for i := range s.Dates {
		if err := Check(s.OnDate(i)); err != nil {
			errs = append(errs, fmt.Errorf("%s: %w", s.Dates[i].Name, err))
		}
	}
	if len(s.Dates) > 0 {
		return errors.Join(errs...)
	}
	c := &checker{s: s}
	c.things()
	for i := range s.Modes {
		c.mode(&s.Modes[i], site.ModeID(i))
	}
	c.stepOrder()
	c.precedence()
	for i := range s.Assumptions {
		c.assumption(&s.Assumptions[i], fmt.Sprintf("assumption %d", i))
	}
	for i := range s.Requirements {
		c.requirement(&s.Requirements[i], fmt.Sprintf("requirement %d", i))
	}
	return errors.Join(c.errs...)
}

type checker struct {
	s    *site.Site
	errs []error
}

func (c *checker) want(ok bool, format string, args ...any) bool {
	if !ok {
		c.errs = append(c.errs, fmt.Errorf(format, args...))
	}
	return ok
}

func in(id, n int) bool { return 0 <= id && id < n }

func (c *checker) supplyID(id site.SupplyID, where string) {
	c.want(id == site.None || in(int(id), len(c.s.Supplies)), "%s: supply %d out of range", where, id)
}

func (c *checker) timeOfDay(t site.Millis, where string) {
	c.want(0 <= t && t < site.Day, "%s: time of day %d out of range", where, t)
}

func (c *checker) days(d site.Days, where string) {
	c.want(d < 1<<7, "%s: days %b of no week", where, d)
}

func (c *checker) things() {
	s := c.s
	c.supplyID(s.Controller.FedBy, "controller")
	c.want(s.Controller.ReactsWithin >= 0, "controller: negative duration")
	c.expr(s.Controller.Down, "controller down", allow{plant: true})
	for i, j := range s.Jumps {
		c.timeOfDay(j.At, fmt.Sprintf("jump %d", i))
		c.want(j.By != 0 && -site.Day < j.By && j.By < site.Day, "jump %d: by %d", i, j.By)
	}
	for i := range s.Supplies {
		c.supply(&s.Supplies[i], fmt.Sprintf("supply %d", i))
	}
	for i, x := range s.Inputs {
		c.want(x.Area == site.None || in(int(x.Area), len(s.Areas)), "input %d: area %d out of range", i, x.Area)
		c.want(x.Kind <= site.Failure, "input %d: kind %d unknown", i, x.Kind)
		c.want((x.Kind == site.Daylight) == (x.Sensor != "") && (x.Sensor == "") == (x.Lux == 0), "input %d: a sensor and lux of kind %d", i, x.Kind)
	}
	for i, b := range s.Bands {
		where := fmt.Sprintf("band %d", i)
		if b.Void {
			c.want(b.FromSun != nil || b.ToSun != nil, "%s: void without the sun", where)
		} else {
			c.timeOfDay(b.From, where)
			c.timeOfDay(b.To, where)
			c.want(b.From != b.To, "%s: empty", where)
		}
		c.days(b.Days, where)
	}
	for i, cover := range s.Covers {
		for _, b := range cover.Bands {
			c.want(in(int(b), len(s.Bands)), "cover %d: band %d out of range", i, b)
		}
	}
	for i := range s.Circuits {
		c.circuit(&s.Circuits[i], fmt.Sprintf("circuit %d", i))
	}
	for i, g := range s.Groups {
		c.circuits(g.Circuits, fmt.Sprintf("group %d", i))
	}
}

func (c *checker) supply(s *site.Supply, where string) {
	c.supplyID(s.ChargedBy, where)
	c.expr(s.Dead, where+" dead", allow{plant: true})
	if s.Battery {
		c.want(s.Health == site.None, "%s: a battery with a health input", where)
		c.want(s.Capacity == 0 || s.ChargedBy == site.None || in(int(s.Flat), len(c.s.Inputs)) && c.s.Inputs[s.Flat].Kind == site.Flatness,
			"%s: a battery without an input that tells that it is flat", where)
	} else if s.Dead != nil {
		c.want(s.Health == site.None, "%s: a supply with a health input and another rule", where)
	} else if c.want(in(int(s.Health), len(c.s.Inputs)), "%s: health input %d out of range", where, s.Health) {
		c.want(c.s.Inputs[s.Health].Kind == site.SupplyHealth, "%s: health input of another kind", where)
	}
}

func (c *checker) circuit(x *site.Circuit, where string) {
	if x.Colour {
		c.want(in(int(x.Light), len(c.s.Circuits)) && !c.s.Circuits[x.Light].Colour && !c.s.Circuits[x.Light].Output, "%s: a colour of circuit %d", where, x.Light)
		c.want(x.Area == site.None && x.FedBy == site.None && x.Power == 0 && !x.Output && !x.Switched, "%s: a colour with an area, a feed or power", where)
	} else if x.Output {
		c.want(x.Area == site.None && x.FedBy == site.None && x.Fade == 0 && x.Switched, "%s: an output with an area, a feed, a fade or a range", where)
	} else {
		c.want(in(int(x.Area), len(c.s.Areas)), "%s: area %d out of range", where, x.Area)
		c.want(x.Notice == "", "%s: a notice that is no output", where)
	}
	c.supplyID(x.FedBy, where)
	c.want(x.Fade >= 0 && (x.Fade == 0 || !x.Switched), "%s: fade %d", where, x.Fade)
	c.expr(x.Dead, where+" dead", allow{plant: true})
	c.expr(x.Cut, where+" cut", allow{plant: true})
	c.want(x.Adds >= 0 && x.SeenAfter >= 0 && (x.SeenAfter == 0 || x.Adds > 0), "%s: adds %d lux, seen after %d", where, x.Adds, x.SeenAfter)
	for _, l := range []*site.Level{x.Fail, x.PowerOn} {
		c.want(l == nil || 0 <= *l && *l <= site.Full && x.Clamp(*l) == *l, "%s: a level of its own that it can not take", where)
	}
	if !x.Switched && !x.Colour {
		c.want(1 <= x.Min && x.Min <= x.Max && x.Max <= site.Full, "%s: range %d..%d", where, x.Min, x.Max)
	}
}

func (c *checker) circuits(ids []site.CircuitID, where string) {
	c.want(len(ids) > 0, "%s: no circuits", where)
	for _, id := range ids {
		c.want(in(int(id), len(c.s.Circuits)), "%s: circuit %d out of range", where, id)
	}
}

func (c *checker) stepOrder() {
	place := make([]int, len(c.s.Modes))
	for i := range place {
		place[i] = -1
	}
	for i, m := range c.s.StepOrder {
		if !c.want(in(int(m), len(place)), "step order: mode %d out of range", m) {
			return
		}
		c.want(place[m] < 0, "step order: mode %d twice", m)
		place[m] = i
	}
	if !c.want(len(c.s.StepOrder) == len(c.s.Modes), "step order: %d of %d modes", len(c.s.StepOrder), len(c.s.Modes)) {
		return
	}
	for i := 1; i < len(place); i++ {
		c.want(!c.s.Modes[c.s.StepOrder[i]].Plant || c.s.Modes[c.s.StepOrder[i-1]].Plant, "step order: mode %d of the plant after one of the controller", c.s.StepOrder[i])
	}
	for i := range c.s.Modes {
		for _, e := range modeExprs(&c.s.Modes[i]) {
			for _, d := range e.Modes() {
				c.want(in(int(d), len(place)) && place[d] < place[i], "step order: mode %d stands before mode %d, which it names", i, d)
			}
		}
	}
}

// modeExprs lists every condition of a mode.
func modeExprs(m *site.Mode) []*site.Expr {
	out := []*site.Expr{m.Cond}
	for _, ts := range [][]site.Trigger{m.Starts, m.Ends} {
		for _, t := range ts {
			out = append(out, t.On, t.If)
		}
	}
	for _, t := range m.Transitions {
		out = append(out, t.Trigger.On, t.Trigger.If)
	}
	for _, st := range m.States {
		for _, sg := range st.Stages {
			for _, se := range sg.Settings {
				for _, ca := range se.Cases {
					out = append(out, ca.When)
				}
			}
		}
	}
	return out
}

func (c *checker) precedence() {
	p, n := &c.s.Precedence, len(c.s.Modes)
	if !c.want(len(p.Above) == n && len(p.Equal) == n, "precedence: tables are not of size %d", n) {
		return
	}
	for i := range n {
		if !c.want(len(p.Above[i]) == n && len(p.Equal[i]) == n, "precedence: row %d is not of size %d", i, n) {
			return
		}
	}
	for i := range n {
		c.want(!p.Above[i][i], "precedence: mode %d is above itself", i)
		for j := range n {
			c.want(p.Equal[i][j] == p.Equal[j][i], "precedence: the rule of %d and %d is not symmetric", i, j)
			c.want(p.Equal[i][j] == site.NoRule || !p.Above[i][j], "precedence: %d is above %d and there is a rule", i, j)
			for k := range n {
				c.want(!p.Above[i][j] || !p.Above[j][k] || p.Above[i][k], "precedence: not closed over %d > %d > %d", i, j, k)
			}
		}
	}
}
