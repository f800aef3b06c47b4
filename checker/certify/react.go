// A reaction (lang/SEMANTICS.md, section 2).

package certify

import "lampwarden/lang/site"

// cause is what makes a reaction.
type cause struct {
	start bool
	due   uint64 // timers, by clock
	event int    // index into the model's events, -1 for none
	jump  int    // of the local clock, index into Site.Jumps, -1 for none
}

// maxWays bounds what may come of one step, so that a certificate that leaves nearly everything open is refused in little time.
const maxWays = 1 << 14

// successor is a state after a step.
type successor struct {
	state  *state
	fresh  uint64 // clocks that start from zero
	broken bool   // the requirement is broken in the step
}

// react gives what may come of a reaction. At start-up before is blank, and draft has the segment, the inputs and what assumptions
// remember of them; else the draft is before with what assumptions remember of the event. Its clocks that start are fresh.
func (m *model) react(before, draft *state, fresh uint64, c cause) []successor {
	s := draft.clone()
	ticked := false
	for ck := range m.clocks {
		if c.due>>ck&1 == 0 {
			continue
		}
		switch cl := m.clocks[ck]; cl.kind {
		case ofDay:
			next, ok := m.wall.next(before.segment, c.jump)
			if !ok {
				return nil
			}
			s.segment, ticked = next, true
			s.leapt = s.leapt || c.jump >= 0
			fresh |= 1 << ck
		case ofSight:
			s.sights[cl.at].seen = s.sights[cl.at].target
		}
	}
	level := false
	if c.event >= 0 {
		if e := m.events[c.event]; e.level {
			at := m.inputAt[e.input]
			if m.site.Inputs[e.input].Kind == site.Calendar && !(ticked && m.wall.midnight(s.segment)) {
				return nil
			}
			s.inputs[at] = !s.inputs[at]
			level = true
		}
	}
	fresh |= m.stepModes(before, s, c, ticked)
	out := m.ask(before, s, fresh, c)
	caused := c.start || m.causes(c, ticked, s)
	event := c.event
	if level {
		event = -1 // no expression names it
	}
	return m.watch(before, out, c, caused, event)
}

// stepModes lets the modes step, and gives the clocks that start.
func (m *model) stepModes(before, s *state, c cause, ticked bool) (fresh uint64) {
	s.down = false
	var latest []int // modes whose recency is now
	turn := func(at int, view moment, forgetful, rearmed bool) {
		d := &m.modes[at]
		x := stepping{m: m, view: view, ticked: ticked && !forgetful && !rearmed}
		if !forgetful && !rearmed {
			x.due = d.clock >= 0 && c.due>>d.clock&1 == 1
			x.phase = d.phase >= 0 && c.due>>d.phase&1 == 1
		}
		q, e := d.step(s.modes[at], x)
		s.modes[at] = q
		anew := rearmed || forgetful // as at start-up, that of a first state, too
		if (e.timer || anew) && d.clock >= 0 {
			fresh |= 1 << d.clock
		}
		if (e.phase || anew) && d.phase >= 0 {
			fresh |= 1 << d.phase
		}
		if d.latest && (e.mode || e.stage) {
			latest = append(latest, at)
		}
	}
	view := moment{now: s, before: before, event: c.event}
	first := 0
	for ; first < len(m.order) && m.modes[m.order[first]].def.Plant; first++ {
		turn(m.order[first], view, false, false)
	}
	s.down = m.down != nil && m.down.holds(m, moment{s, before, -1})
	restarts := before.down && !s.down
	keeps := m.site.Controller.Keeps
	for _, at := range m.order[first:] {
		switch d := &m.modes[at]; {
		case s.down && keeps:
		case s.down:
			s.modes[at] = place{}
		case restarts && keeps:
			p := &s.modes[at]
			p.after = 0
			p.group = d.begin(*p)
			turn(at, view, false, true)
		case restarts:
			turn(at, moment{now: s, before: m.atRest, event: c.event}, true, false)
		default:
			turn(at, view, false, false)
		}
	}
	m.renew(s, latest)
	return fresh
}

// renew brings the modes whose recency is now to the front, the one written last first, and forgets those that are not active.
func (m *model) renew(s *state, now []int) {
	if len(now)+len(s.recent) == 0 {
		return
	}
	var out []int
	for at := len(m.modes) - 1; at >= 0; at-- {
		for _, n := range now {
			if n == at {
				out = append(out, at)
			}
		}
	}
	for _, at := range s.recent {
		old := true
		for _, n := range now {
			old = old && n != at
		}
		if old {
			out = append(out, at)
		}
	}
	s.recent = nil
	for _, at := range out {
		d := &m.modes[at]
		never := d.def.Kind == site.States && s.down && !m.site.Controller.Keeps // as before start-up
		if d.playing(s.modes[at]) && !(never && !d.def.Plant) {
			s.recent = append(s.recent, at)
		}
	}
}

// ask settles the requests, and lets lamps and sensors follow.
func (m *model) ask(before, s *state, fresh uint64, c cause) []successor {
	all := append(m.room.successors.take(1)[:0], successor{state: s, fresh: fresh})
	for i := range m.requests {
		r := &m.requests[i]
		ws := m.wants(r, before, s)
		next := m.room.successors.take(len(all) * len(ws))[:0]
		for _, x := range all {
			for k, w := range ws {
				y := x
				if k < len(ws)-1 {
					y.state = x.state.clone()
				}
				next = m.obeyed(next, r, i, before, y, w, c)
			}
			if m.wide = m.wide || len(next) > maxWays; m.wide {
				return nil
			}
		}
		all = next
	}
	return all
}

// obeyed appends what comes of a want of one request. The state of x is changed.
func (m *model) obeyed(next []successor, r *request, i int, before *state, x successor, w want, c cause) []successor {
	s := x.state
	s.picks[i] = w.pick
	if r.sight >= 0 {
		d := &m.sights[r.sight]
		now, fresh := d.look(s.sights[r.sight], w, d.reach.held(m, before, s, c.start))
		s.sights[r.sight] = now
		if fresh {
			x.fresh |= 1 << d.clock
		}
	}
	if r.lamp < 0 {
		return append(next, x)
	}
	l := &m.lamps[r.lamp]
	due := l.clock >= 0 && c.due>>l.clock&1 == 1
	atOnce := l.colour && before.lamps[l.light].region == 0
	all := l.follow(m.room.lampNexts[:0], before.lamps[r.lamp], w, l.reach.held(m, before, s, c.start), due, atOnce)
	m.room.lampNexts = all
	for k, n := range all {
		y := x
		if k < len(all)-1 {
			y.state = s.clone()
		}
		y.state.lamps[r.lamp] = n.lamp
		if n.fresh {
			y.fresh |= 1 << l.clock
		}
		next = append(next, y)
	}
	return next
}

// causes tells whether a reaction is a cause of a Settles.
func (m *model) causes(c cause, ticked bool, s *state) bool {
	if !m.watcher.needsCauses() {
		return false
	}
	if c.event >= 0 {
		for _, id := range m.req.Causes.Inputs {
			if m.events[c.event].input == id {
				return true
			}
		}
	}
	return ticked && (c.jump >= 0 || m.wall.caused(s.segment))
}

// watch tells the observer.
func (m *model) watch(before *state, all []successor, c cause, caused bool, event int) (out []successor) {
	var due [2]bool
	for ck, cl := range m.clocks {
		if cl.kind == ofWatch && c.due>>ck&1 == 1 {
			due[cl.at] = true
		}
	}
	out = m.room.successors.take(len(all))[:0]
	for _, x := range all {
		moments := make([]truth, 0, 2)
		if m.instant && event >= 0 {
			moments = append(moments, m.truth(x.state, event))
		}
		moments = append(moments, m.truth(x.state, -1))
		out = m.observed(out, x, due, caused, moments)
	}
	return out
}

// observed appends the successors with what the observer makes of them.
func (m *model) observed(out []successor, x successor, due [2]bool, caused bool, moments []truth) []successor {
	all := m.watcher.next(x.state.watch, due, caused, moments)
	for k, n := range all {
		y := x
		if k < len(all)-1 {
			y.state = x.state.clone()
		}
		y.state.watch = n.state
		y.broken = n.broken
		for ck, cl := range m.clocks {
			if cl.kind == ofWatch && n.fresh[cl.at] {
				y.fresh |= 1 << ck
			}
		}
		out = append(out, y)
	}
	return out
}

// truth tells which of the observer's expressions hold.
func (m *model) truth(s *state, event int) (t truth) {
	for i, c := range m.watched {
		if c != nil && c.holds(m, moment{s, s, event}) {
			t |= 1 << i
		}
	}
	return t
}
