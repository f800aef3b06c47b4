// Lamps: where their level is among the levels that matter, their aim, the movement between.

package horn

import (
	"slices"

	"lampwarden/lang/site"
)

// rung is a stretch of levels that no threshold divides.
type rung struct{ lo, hi site.Level }

// lamp is what is remembered of a circuit.
type lamp struct {
	id    site.CircuitID
	c     *site.Circuit
	rungs []rung
	level heightCells
	aim   heightCells // the same cells as level if it follows at once
	moves bool        // it may take time
	timer cell        // what is left of the movement, if it moves
	slow  cell        // the running movement has a fade or a ramp; with mixed
	mixed bool        // some movements have one and some not
	modes []site.ModeID

	coarse    bool // a rung may stand for several resting levels
	ambiguous bool // more than one level may be chosen
	chosen    heightCells

	reacts, fade term // times, in full
	overs        map[site.Millis]term
}

func (e *encoder) newLamp(id site.CircuitID) *lamp {
	l := &lamp{id: id, c: &e.s.Circuits[id], modes: asking(e.s, id), overs: map[site.Millis]term{}}
	base := e.s.Controller.ReactsWithin
	l.reacts, l.fade = e.length(base), e.length(base+l.c.Fade)
	l.moves = base+l.c.Fade > 0
	ramps, plain := false, false
	for _, m := range l.modes {
		eachSetting(&e.s.Modes[m], id, func(_, _ int, set *site.Setting) {
			for _, cs := range set.Cases {
				if cs.Over > 0 {
					ramps, l.moves = true, true
					l.overs[cs.Over] = e.length(base + cs.Over)
				}
			}
		})
	}
	plain = l.c.Fade == 0
	l.mixed = ramps && plain
	l.coarse = e.in.coarse && l.moves && !ramps && !l.c.Switched && !l.c.Colour && !e.in.summed[id]
	l.rungs = e.rungs(l)
	name := "circuit " + l.c.Name
	l.level = e.heightCells(len(l.rungs)-1, name+": level")
	l.aim = l.level
	if l.moves {
		l.aim = e.heightCells(len(l.rungs)-1, name+": aim")
		l.timer = e.timer(name + ": what is left of the movement")
		if l.mixed {
			l.slow = e.flag(name + ": the movement is slow")
		}
	}
	if l.ambiguous = e.mayBeAmbiguous(l.modes); l.ambiguous {
		l.chosen = e.heightCells(len(l.rungs)-1, name+": request")
	}
	return l
}

// rungs cuts the levels at every resting level and at every threshold that the requirement has.
func (e *encoder) rungs(l *lamp) []rung {
	rests := e.s.Rests(l.id)
	var out []rung
	if !l.moves || l.c.Switched {
		for _, r := range rests {
			out = append(out, rung{r, r})
		}
		return out
	}
	cuts := []site.Level{0}
	for i, r := range rests {
		if l.coarse {
			break
		}
		cuts = append(cuts, r)
		if i+1 < len(rests) {
			cuts = append(cuts, r+1)
		}
	}
	top := rests[len(rests)-1]
	for _, x := range conditions(e.r) {
		x.Walk(func(x *site.Expr) {
			if x.Op == site.OpLight && x.Circuit == l.id {
				for _, t := range []site.Level{x.Lo, x.Hi + 1} {
					if t > 0 && t <= top {
						cuts = append(cuts, t)
					}
				}
			}
		})
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	for i, lo := range cuts {
		hi := top
		if i+1 < len(cuts) {
			hi = cuts[i+1] - 1
		}
		out = append(out, rung{lo, hi})
	}
	return out
}

// height is that of a resting level.
func (l *lamp) height(v site.Level) height {
	i := slices.IndexFunc(l.rungs, func(r rung) bool { return r.lo <= v && v <= r.hi })
	return at(i, len(l.rungs)-1)
}

// wide tells whether a height may stand for more than one level at which the lamp can rest.
func (e *encoder) wide(l *lamp, h height) term {
	out := no
	for i, r := range l.rungs {
		if l.coarse && r.lo < r.hi {
			out = e.or(out, e.is(h, i))
		}
	}
	return out
}

// dead tells of a circuit at a moment.
func (e *encoder) dead(l *lamp, v *view) term {
	if l.c.Dead == nil {
		return no
	}
	return e.holds(l.c.Dead, v)
}

// told is what a circuit is asked for, and how.
type told struct {
	request height
	time    term // T
	slow    term // a fade or a ramp
	quick   term // T is 0
	keeps   term // a colour that nothing asks for: the aim stays
}

// stepLamp lets the lamp react.
func (e *encoder) stepLamp(l *lamp, pre, st state, d term, before, now *view, down term, t told) {
	level, aim := l.level.get(pre), l.aim.get(pre)
	running, left, slowBefore := no, e.zero, no
	if l.moves {
		due := e.eq(pre[l.timer], d)
		running = e.and(e.lt(e.zero, pre[l.timer]), e.not(due))
		left = e.sub(pre[l.timer], d)
		level = e.pick(due, aim, level)
		switch {
		case l.mixed:
			slowBefore = pre[l.slow]
		case l.c.Fade > 0 || l.reacts == e.zero:
			slowBefore = yes
		}
	}
	top := len(l.rungs) - 1
	dead, wasDead := e.dead(l, now), no
	if !before.rest {
		wasDead = e.dead(l, before)
	}
	cut := down
	if l.c.Cut != nil {
		cut = e.or(cut, e.holds(l.c.Cut, now))
	}
	// Power is back: the level that the lamp itself takes then.
	base, baseAim, baseRuns := level, aim, running
	if l.c.PowerOn != nil {
		back := e.and(wasDead, e.not(dead))
		base = e.pick(back, l.height(*l.c.PowerOn), level)
		baseAim = e.pick(back, l.height(*l.c.PowerOn), aim)
		baseRuns = e.and(running, e.not(back))
	}
	// Told anew.
	t.request = e.pick(t.keeps, baseAim, t.request)
	anew := e.not(e.equalHeights(t.request, baseAim))
	if l.coarse { // two levels of one rung may differ
		anew = e.or(anew, e.and(e.wide(l, baseAim), e.any(isBool)))
	}
	liveAim, liveLevel := t.request, base
	liveRuns, liveLeft, liveSlow := no, e.zero, no
	if !l.moves {
		liveLevel = t.request
	} else {
		liveLevel = e.pick(e.and(anew, t.quick), t.request, base)
		goes := e.not(e.equalHeights(liveLevel, liveAim))
		if l.coarse {
			goes = e.or(goes, e.and(e.wide(l, liveAim), e.either(anew, e.any(isBool), baseRuns)))
		}
		restarts := e.or(e.not(baseRuns), slowBefore, t.slow)
		liveRuns = goes
		liveLeft = e.ite(e.and(anew, restarts), t.time, left)
		liveSlow = e.either(e.and(anew, restarts), t.slow, slowBefore)
	}
	cutLevel, cutAim, cutRuns := base, baseAim, baseRuns
	if l.c.Fail != nil {
		cutLevel, cutAim, cutRuns = l.height(*l.c.Fail), l.height(*l.c.Fail), no
	}
	newLevel := e.pick(dead, at(0, top), e.pick(cut, cutLevel, liveLevel))
	newAim := e.pick(dead, at(0, top), e.pick(cut, cutAim, liveAim))
	if !l.moves {
		l.level.put(st, newLevel)
		return
	}
	runs := e.and(e.not(dead), e.either(cut, cutRuns, liveRuns))
	l.level.put(st, newLevel)
	l.aim.put(st, newAim)
	st[l.timer] = e.ite(runs, e.ite(cut, left, liveLeft), e.zero)
	if l.mixed {
		st[l.slow] = e.and(runs, e.either(cut, slowBefore, liveSlow))
	}
}

// wanders lets the level of a lamp move towards its aim, as far as it likes. It gives the condition on the choice.
func (e *encoder) wanders(l *lamp, pre, st state) term {
	level, aim := l.level.get(pre), l.aim.get(pre)
	var to height
	ok := []term{e.not(e.equalHeights(level, aim))}
	if l.c.Colour {
		reach := e.any(isBool)
		named := func(h height) term { return e.not(e.reaches(l, h, site.LeastKelvin)) }
		ok = append(ok, e.or(reach, e.not(e.or(named(level), named(aim)))))
		to = e.between(level, aim, &ok)
		to = e.pick(reach, aim, to)
	} else if l.coarse {
		// It may move within a rung, of which nothing is seen but that it arrives.
		ok[0] = e.lt(e.zero, pre[l.timer])
		to = e.between(level, aim, &ok)
	} else {
		to = e.between(level, aim, &ok)
		ok = append(ok, e.not(e.equalHeights(to, level)))
	}
	l.level.put(st, to)
	arrives := e.equalHeights(to, aim)
	if l.coarse {
		arrives = e.and(arrives, e.or(e.not(e.wide(l, aim)), e.any(isBool)))
	}
	st[l.timer] = e.ite(arrives, e.zero, st[l.timer])
	if l.mixed {
		st[l.slow] = e.and(pre[l.slow], e.not(arrives))
	}
	return e.and(ok...)
}

// between is any height between two.
func (e *encoder) between(level, aim height, ok *[]term) height {
	to := make(height, len(level))
	for i := range to {
		x := e.any(isBool)
		to[i] = e.either(e.iff(level[i], aim[i]), level[i], x)
		if i > 0 {
			*ok = append(*ok, e.implies(to[i], to[i-1]))
		}
	}
	return to
}
