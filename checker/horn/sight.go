// Sensors that see lamps.

package horn

import "lampwarden/lang/site"

// sight is at what level a circuit is seen.
type sight struct {
	id    site.CircuitID
	after term
	seen  heightCells
	timer cell
}

func (e *encoder) newSight(id site.CircuitID) *sight {
	c := &e.s.Circuits[id]
	return &sight{id: id, after: e.length(c.SeenAfter), seen: e.heightCells(len(e.lamps[id].rungs)-1, "circuit "+c.Name+": seen"),
		timer: e.timer("circuit " + c.Name + ": what is left until it is seen")}
}

// see is the first step of a reaction: a circuit whose seeing is due is seen at its target.
func (e *encoder) see(x *sight, pre, st state, d term) {
	due := e.eq(pre[x.timer], d)
	x.seen.put(st, e.pick(due, e.lamps[x.id].aim.get(pre), x.seen.get(pre)))
	st[x.timer] = e.ite(e.lt(d, pre[x.timer]), e.sub(pre[x.timer], d), e.zero)
}

// look is its last one: if the target is another the seeing timer starts anew.
func (e *encoder) look(x *sight, pre, st state) {
	l := e.lamps[x.id]
	aim := l.aim.get(st)
	anew := e.not(e.equalHeights(aim, l.aim.get(pre)))
	differs := e.not(e.equalHeights(aim, x.seen.get(st)))
	st[x.timer] = e.ite(anew, e.ite(differs, x.after, e.zero), st[x.timer])
}
