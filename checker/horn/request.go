// Requests: what the modes ask of a circuit, and which of them counts.

package horn

import (
	"lampwarden/lang/site"
)

// ask is what one mode asks of one circuit.
type ask struct {
	mode  site.ModeID
	does  term
	level height
	ramps []ramp
	in    term // it is one of those that count
}

// ramp is the time that a setting gives, with the condition under which it is the one that asks.
type ramp struct {
	when term
	over site.Millis
}

// asks lists what each mode asks of a circuit at a moment.
func (e *encoder) asks(l *lamp, v *view, down term) []ask {
	var out []ask
	for _, id := range l.modes {
		a := ask{mode: id}
		if e.in.free[id] {
			a = e.freeAsk(l, id)
		} else {
			a = e.askOf(l, id, v)
		}
		a.does = e.and(a.does, e.not(down))
		out = append(out, a)
	}
	for i := range out {
		outranked := no
		for j := range out {
			if e.s.Precedence.Outranks(out[j].mode, out[i].mode) {
				outranked = e.or(outranked, out[j].does)
			}
		}
		out[i].in = e.and(out[i].does, e.not(outranked))
	}
	return out
}

func (e *encoder) askOf(l *lamp, id site.ModeID, v *view) ask {
	m := e.modes[id]
	a := ask{mode: id, level: make(height, len(l.rungs)-1)}
	here := yes
	if m.m.Kind != site.States {
		here = e.active(id, v.st)
	}
	for s := range m.m.States {
		inState := here
		if m.m.Kind == site.States {
			inState = e.get(m.place, v.st)[s]
		}
		stages := m.m.States[s].Stages
		if m.seq != nil {
			stages = stages[:len(m.seq.states[s])]
		} else if len(stages) > 1 {
			stages = stages[:1] // steady
		}
		for j := range stages {
			inStage := inState
			if m.seq != nil {
				inStage = e.and(inState, e.get(m.seq.stage, v.st)[j])
			}
			e.askOfStage(l, m, &stages[j], inStage, v, &a)
		}
	}
	return a
}

// askOfStage adds what a stage asks while it lasts: the last setting with a case that holds.
func (e *encoder) askOfStage(l *lamp, m *mode, sg *site.Stage, open term, v *view, a *ask) {
	for k := len(sg.Settings) - 1; k >= 0; k-- {
		set := &sg.Settings[k]
		if !lists(set, l.id) {
			continue
		}
		for i := range set.Cases {
			cs := &set.Cases[i]
			counts := e.and(open, e.holds(cs.When, v))
			open = e.and(open, e.not(counts))
			level := l.height(l.c.Clamp(cs.Level))
			lit := counts
			switch {
			case set.Flashing && e.in.loose:
				lit = e.and(counts, e.any(isBool))
			case set.Flashing:
				lit = e.and(counts, v.st[m.seq.on])
			}
			for r := range level {
				a.level[r] = e.or(a.level[r], e.and(lit, level[r]))
			}
			a.does = e.or(a.does, counts)
			a.ramps = append(a.ramps, ramp{counts, cs.Over})
		}
	}
}

func lists(set *site.Setting, c site.CircuitID) bool {
	for _, x := range set.Circuits {
		if x == c {
			return true
		}
	}
	return false
}

// freeAsk is any of a mode's levels, or none.
func (e *encoder) freeAsk(l *lamp, id site.ModeID) ask {
	a := ask{mode: id, does: e.any(isBool), level: make(height, len(l.rungs)-1)}
	type way struct {
		level site.Level
		over  site.Millis
	}
	var ways []way
	add := func(w way) {
		for _, x := range ways {
			if x == w {
				return
			}
		}
		ways = append(ways, w)
	}
	eachSetting(&e.s.Modes[id], l.id, func(_, _ int, set *site.Setting) {
		for _, cs := range set.Cases {
			add(way{l.c.Clamp(cs.Level), cs.Over})
			if set.Flashing {
				add(way{0, cs.Over})
			}
		}
	})
	picks := e.anyOf(len(ways))
	for i, w := range ways {
		h := l.height(w.level)
		for r := range h {
			a.level[r] = e.or(a.level[r], e.and(picks[i], h[r]))
		}
		a.ramps = append(a.ramps, ramp{picks[i], w.over})
	}
	return a
}

// rule is the rule for two modes at a circuit.
func (e *encoder) rule(l *lamp, a, b site.ModeID) site.Rule {
	r := e.s.Precedence.RuleFor(a, b)
	if r == site.Highest && l.c.Colour {
		return site.Latest
	}
	return r
}

// mayBeAmbiguous tells whether rules leave open which of the modes counts.
func (e *encoder) mayBeAmbiguous(ms []site.ModeID) bool {
	highest, latest := false, false
	for i, a := range ms {
		for _, b := range ms[:i] {
			p := &e.s.Precedence
			if p.Outranks(a, b) || p.Outranks(b, a) {
				continue
			}
			switch p.RuleFor(a, b) {
			case site.NoRule:
				return true
			case site.Highest:
				highest = true
			case site.Latest:
				latest = true
			}
		}
	}
	return highest && latest
}

// needRecency makes the variables that tell which of two modes is the more recent.
func (e *encoder) needRecency(l *lamp) {
	for i, a := range l.modes {
		for _, b := range l.modes[i+1:] {
			p := pair{a, b}
			if _, ok := e.newer[p]; ok || e.rule(l, a, b) != site.Latest || e.in.free[a] || e.in.free[b] {
				continue
			}
			e.newer[p] = e.flag("mode " + e.s.Modes[a].Name + " is more recent than mode " + e.s.Modes[b].Name)
		}
	}
}

// decide finds what the circuit is told. before is nil where there was nothing to keep.
func (e *encoder) decide(l *lamp, pre, st state, now *view, down term, before []ask, light term) told {
	as := e.asks(l, now, down)
	same, highest, latest := yes, yes, yes
	for i := range as {
		for j := range as[:i] {
			both := e.and(as[i].in, as[j].in)
			same = e.and(same, e.or(e.not(both), e.equalHeights(as[i].level, as[j].level)))
			r := e.rule(l, as[j].mode, as[i].mode)
			if r != site.Highest {
				highest = e.and(highest, e.not(both))
			}
			if r != site.Latest {
				latest = e.and(latest, e.not(both))
			}
		}
	}
	n := len(l.rungs) - 1
	greatest := make(height, n)
	some := no
	for _, a := range as {
		some = e.or(some, a.in)
		for r := range greatest {
			greatest[r] = e.or(greatest[r], e.and(a.in, a.level[r]))
		}
	}
	request := greatest
	if latest != yes || highest == no || same != yes { // there may be more than one
		recent := make(height, n)
		for i, a := range as {
			wins := a.in
			for j, b := range as {
				if i != j {
					wins = e.and(wins, e.or(e.not(b.in), e.beats(a.mode, b.mode, st)))
				}
			}
			for r := range recent {
				recent[r] = e.or(recent[r], e.and(wins, a.level[r]))
			}
		}
		rest := recent
		if l.ambiguous {
			rest = e.pick(latest, recent, e.choose(l, pre, as, before))
		}
		request = e.pick(e.or(same, highest), greatest, rest)
	}
	if l.ambiguous {
		l.chosen.put(st, request)
	}
	t := e.timing(l, as, request, light)
	if l.c.Colour {
		t.keeps = e.not(some)
	}
	return t
}

// beats tells whether, of two modes, the first counts as the latest.
func (e *encoder) beats(a, b site.ModeID, st state) term {
	if a > b {
		return e.not(e.beats(b, a, st))
	}
	if c, ok := e.newer[pair{a, b}]; ok {
		return st[c]
	}
	return e.any(isBool) // one is free, or there is no rule and nobody asks
}

// choose is the environment's choice among the levels asked for: the one that it made before, if all is as it was.
func (e *encoder) choose(l *lamp, pre state, as, before []ask) height {
	n := len(l.rungs) - 1
	chosen := make(height, n)
	open, later := yes, make([]term, len(as))
	rest := no
	for i := len(as) - 1; i >= 0; i-- {
		later[i] = rest
		rest = e.or(rest, as[i].in)
	}
	for i, a := range as {
		takes := e.and(open, a.in, e.or(e.any(isBool), e.not(later[i])))
		open = e.and(open, e.not(takes))
		for r := range chosen {
			chosen[r] = e.or(chosen[r], e.and(takes, a.level[r]))
		}
	}
	if before == nil {
		return chosen
	}
	keeps := yes
	for i, a := range as {
		if e.in.free[a.mode] {
			return chosen
		}
		keeps = e.and(keeps, e.iff(a.in, before[i].in), e.or(e.not(a.in), e.equalHeights(a.level, before[i].level)))
	}
	return e.pick(keeps, l.chosen.get(pre), chosen)
}

// timing finds how long the circuit may take: of the settings that decide, that of the mode written last counts.
func (e *encoder) timing(l *lamp, as []ask, request height, light term) told {
	t := told{request: request, time: l.fade, slow: boolean(l.c.Fade > 0), quick: boolean(e.s.Controller.ReactsWithin+l.c.Fade == 0)}
	if !l.moves {
		return t
	}
	for _, a := range as { // a later one is outermost
		decides := e.and(a.in, e.equalHeights(a.level, request))
		time, slow, quick := l.fade, boolean(l.c.Fade > 0), boolean(e.s.Controller.ReactsWithin+l.c.Fade == 0)
		for _, r := range a.ramps {
			if r.over > 0 {
				time = e.ite(r.when, l.overs[r.over], time)
				slow = e.or(r.when, slow)
				quick = e.and(e.not(r.when), quick)
			}
		}
		t.time = e.ite(decides, time, t.time)
		t.slow = e.either(decides, slow, t.slow)
		t.quick = e.either(decides, quick, t.quick)
	}
	if l.c.Colour { // in the dark it follows at once
		t.quick = e.or(t.quick, e.not(light))
	}
	return t
}
