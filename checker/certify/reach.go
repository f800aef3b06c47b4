// What takes a circuit's current or the controller's reach away (lang/SEMANTICS.md, section 2, step 4).

package certify

import (
	"slices"

	"lampwarden/lang/site"
)

// reach is what takes a circuit's current or control away.
type reach struct {
	dead, cut     *cond // nil: never
	fail, powerOn *site.Level
}

// hold is how a circuit is reached in a reaction.
type hold struct{ dead, cut, revived bool }

// compileReach looks up what takes the controller down, and lamps and circuits that are seen out of its reach.
func (m *model) compileReach() {
	if m.site.Controller.Down != nil && (len(m.requests) > 0 || slices.ContainsFunc(m.modes, func(d mode) bool { return !d.def.Plant })) {
		m.down = m.compile(m.site.Controller.Down)
	}
	for i := range m.lamps {
		m.lamps[i].reach = m.reach(m.lamps[i].id)
	}
	places(m, "circuit", m.c.seen, len(m.site.Circuits))
	for _, id := range m.c.seen {
		if m.err != nil {
			return
		}
		m.want(slices.Contains(m.c.requests, id), "how the sensors see %s is kept, but not its request", m.circuitName(id))
		m.sights = append(m.sights, sightDef{circuit: id, after: m.site.Circuits[id].SeenAfter, reach: m.reach(id), clock: -1})
	}
}

func (m *model) reach(c site.CircuitID) reach {
	cir := &m.site.Circuits[c]
	return reach{m.compile(cir.Dead), m.compile(cir.Cut), cir.Fail, cir.PowerOn}
}

// held tells how a circuit is reached in the state after a reaction. Before start-up nothing is dead.
func (r *reach) held(m *model, before, s *state, start bool) (h hold) {
	is := func(c *cond, in *state) bool { return c != nil && c.holds(m, moment{in, in, -1}) }
	h.dead = is(r.dead, s)
	h.cut = s.down || is(r.cut, s)
	h.revived = !h.dead && !start && is(r.dead, before)
	return h
}

// imposed gives the level taken at once whatever is asked, if any; hears tells whether the circuit follows its request.
func (r *reach) imposed(h hold) (level *site.Level, hears bool) {
	zero := site.Level(0)
	switch {
	case h.dead:
		return &zero, false
	case h.cut && r.fail != nil:
		return r.fail, false
	case h.revived && r.powerOn != nil:
		return r.powerOn, !h.cut
	}
	return nil, !h.cut
}
