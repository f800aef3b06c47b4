// Modes: their definition and their step (lang/SEMANTICS.md, section 2, step 2).

package certify

import (
	"slices"

	"lampwarden/lang/site"
)

// mode is a kept mode.
type mode struct {
	id           site.ModeID
	def          *site.Mode
	cond         *cond
	starts, ends []trigger
	leave        [][]transition  // by state, in written order
	afterTimes   [][]site.Millis // by state, distinct, ascending
	sequences    [][]group       // by state
	latest       bool            // its recency is kept
	clock, phase int             // indices of its clocks, -1 if it has none
}

type trigger struct {
	on, guard *cond
	due       []bool // of a clock time: in which segments
}

type transition struct {
	trigger
	after site.Millis
	to    int
}

func (d *mode) active(p place) bool {
	if d.def.Kind == site.While {
		return p.at == on || p.at == holding || p.at == pulsing
	}
	return p.at != 0
}

// places is how many places there are.
func (d *mode) places() int {
	switch d.def.Kind {
	case site.While:
		return spent + 1
	case site.Latch:
		return 2
	}
	return len(d.def.States)
}

// state is the index of the state whose sequence is played.
func (d *mode) state(p place) int {
	if d.def.Kind == site.States {
		return int(p.at)
	}
	return 0
}

func (d *mode) sequence(p place) []group     { return d.sequences[d.state(p)] }
func (d *mode) group(p place) *group         { return &d.sequence(p)[p.group] }
func (d *mode) afters(p place) []site.Millis { return d.afterTimes[d.state(p)] }
func (d *mode) playing(p place) bool         { return d.def.Kind == site.States || d.active(p) }

// lasts is how long the place lasts until the mode's timer is due, 0 if none runs.
func (d *mode) lasts(p place) site.Millis {
	switch d.def.Kind {
	case site.While:
		switch p.at {
		case waiting:
			return d.def.OnDelay
		case holding:
			return d.def.OffDelay
		case pulsing:
			return d.def.Pulse
		}
	case site.Latch:
		if p.at == 1 {
			return d.def.For
		}
	case site.States:
		if a := d.afters(p); int(p.after) < len(a) {
			return a[p.after]
		}
	}
	return 0
}

// compileModes looks up the conditions of all kept modes.
func (m *model) compileModes() {
	for i := range m.modes {
		d := &m.modes[i]
		d.cond = m.compile(d.def.Cond)
		for k := range d.def.Starts {
			d.starts = append(d.starts, m.trigger(&d.def.Starts[k]))
		}
		for k := range d.def.Ends {
			d.ends = append(d.ends, m.trigger(&d.def.Ends[k]))
		}
		for st := range d.def.States {
			var leave []transition
			var after []site.Millis
			for k := range d.def.Transitions {
				t := &d.def.Transitions[k]
				if t.From != st && (t.From != site.None || t.To == st) {
					continue
				}
				leave = append(leave, transition{m.trigger(&t.Trigger), t.After, t.To})
				if t.After > 0 {
					after = append(after, t.After)
				}
			}
			slices.Sort(after)
			d.leave, d.afterTimes = append(d.leave, leave), append(d.afterTimes, slices.Compact(after))
		}
		m.want(len(d.def.States) > 0, "the mode %s has no state", d.def.Name)
	}
}

func (m *model) trigger(t *site.Trigger) trigger {
	out := trigger{on: m.compile(t.On), guard: m.compile(t.If)}
	for seg := range m.segments() {
		out.due = append(out.due, m.wall.due(t, seg))
	}
	return out
}

// stepping is what a step of a mode looks at.
type stepping struct {
	m      *model
	view   moment
	ticked bool // the clock of the day has come to a new segment, and counts
	due    bool // the mode's timer
	phase  bool // the timer of its sequence
}

// byClock tells whether a clock-time trigger fires.
func (x *stepping) byClock(t *trigger) bool {
	return x.ticked && t.on == nil && t.due[x.view.now.segment] && x.allows(t)
}

// byCause tells whether a trigger with an expression fires.
func (x *stepping) byCause(t *trigger) bool {
	return t.on != nil && t.on.rises(x.m, x.view) && x.allows(t)
}

func (x *stepping) allows(t *trigger) bool { return t.guard == nil || t.guard.holds(x.m, x.view) }

func (x *stepping) any(ts []trigger, fires func(*trigger) bool) bool {
	for i := range ts {
		if fires(&ts[i]) {
			return true
		}
	}
	return false
}

// entry tells what a mode entered in a step.
type entry struct {
	mode  bool // it became active, or entered a state: all its timers start from zero
	timer bool // its timer starts
	phase bool // a phase of its sequence begins
	stage bool // a stage begins
}

// step gives the place after a reaction.
func (d *mode) step(p place, x stepping) (q place, e entry) {
	was := d.active(p)
	switch d.def.Kind {
	case site.While:
		q = p
		q.at = d.follow(p.at, x)
		e.timer = q.at != p.at
		e.mode = d.active(q) && !was
	case site.Latch:
		q, e.mode = d.latch(p, x)
	default:
		q, e.mode = d.move(p, x)
	}
	switch {
	case e.mode:
		q.group = 0
		e.timer, e.phase, e.stage = true, true, true
	case !d.playing(q):
		q.group = 0
	case x.phase:
		from := d.group(q)
		q.group = uint16(from.next)
		to := d.group(q)
		e.phase, e.stage = true, to.stage != from.stage && to.stage != site.None
	}
	return q, e
}

// follow is the step of a While mode.
func (d *mode) follow(at uint8, x stepping) uint8 {
	is := d.cond.holds(x.m, x.view)
	switch at {
	case off:
		switch {
		case !is:
			return off
		case d.def.Pulse > 0:
			return pulsing
		case d.def.OnDelay > 0:
			return waiting
		}
		return on
	case waiting:
		switch {
		case !is:
			return off
		case x.due:
			return on
		}
	case on:
		switch {
		case is:
			return on
		case d.def.OffDelay > 0:
			return holding
		}
		return off
	case holding:
		switch {
		case is:
			return on
		case x.due:
			return off
		}
	case pulsing:
		switch {
		case !x.due:
			return pulsing
		case is:
			return spent
		}
		return off
	case spent:
		if !is {
			return off
		}
	}
	return at
}

// latch is the step of a Latch; began tells that it became active in it, perhaps after it ended.
func (d *mode) latch(p place, x stepping) (q place, began bool) {
	q = p
	if q.at == 1 {
		if x.due || x.any(d.ends, x.byClock) {
			q.at = 0
		}
	} else if x.any(d.starts, x.byClock) {
		q.at, began = 1, true
	}
	if q.at == 0 {
		if x.any(d.starts, x.byCause) {
			q.at, began = 1, true
		}
	} else if x.any(d.ends, x.byCause) {
		q.at, began = 0, false
	}
	return q, began
}

// move is the step of a States mode; entered tells that it entered a state.
func (d *mode) move(p place, x stepping) (q place, entered bool) {
	q = p
	if x.due {
		q.after++
	}
	for i := range d.leave[p.at] {
		t := &d.leave[p.at][i]
		late := t.after > 0 && x.due && t.after == d.afters(p)[p.after] && x.allows(&t.trigger)
		if late || t.after == 0 && x.byClock(&t.trigger) {
			q, entered = place{at: uint8(t.to)}, true
			break
		}
	}
	for i := range d.leave[q.at] {
		t := &d.leave[q.at][i]
		if t.after == 0 && x.byCause(&t.trigger) {
			return place{at: uint8(t.to)}, true
		}
	}
	return q, entered
}
