// From a cause to successors: reaction, requests, lamps, observer, new zone.

package machine

import (
	"slices"

	"lampwarden/checker/explore"
	"lampwarden/checker/observe"
	"lampwarden/checker/zone"
	"lampwarden/lang/site"
)

// emitter carries one cause through a reaction and yields each way it can go.
// The frame s.work[0] is built up field by field; where the environment or the
// observer has a choice, the emitter branches and restores what it changed.
type emitter struct {
	s      *System
	z      *zone.DBM
	c      cause
	cost   int
	yield  func(explore.Succ) bool
	label  uint64
	branch uint64

	fresh  uint64
	began  bool // the observer's mode became active
	bad    bool
	record func(f *frame, fresh uint64, bad bool) // instead of yield, when a path is replayed
}

// reaction steps the modes and goes on to requests. It returns false when yield did.
func (e *emitter) reaction() bool {
	e.fresh = e.s.react(e.s.work[0], e.s.before, e.c)
	e.began = e.s.step.began
	return e.request(0)
}

// request resolves request i and the following ones.
func (e *emitter) request(i int) bool {
	s, f := e.s, e.s.work[0]
	if i == len(s.reqs) {
		return e.sight(0)
	}
	r := &s.reqs[i]
	if f.down {
		f.pick[i], s.want[i], s.over[i] = -1, noAsk, 0
		return e.request(i + 1)
	}
	top, open := s.asks(r, f, s.before, r.now[:0])
	f.pick[i] = -1
	bad := e.bad
	defer func() { e.bad = bad }()
	if open { // a free mode may decide, and may not: whatever the goal asks for can be
		s.want[i], s.over[i], s.mask[i] = anyAim, 0, ^uint64(0)
		if k := s.lampIndex(r.id); k >= 0 {
			s.mask[i] = s.unknown(r, &s.lamps[k], top)
		}
		e.bad = bad || r.id == s.goal.Ambiguous || s.freeWins(r, top)
		for _, a := range top {
			e.bad = e.bad || s.wins(r, top, a.level)
		}
		return e.request(i + 1)
	}
	if len(top) == 0 && s.site.Circuits[r.id].Colour {
		s.want[i], s.over[i] = noAsk, 0
		return e.request(i + 1)
	}
	if level, ok := s.resolve(f, r, top); ok {
		s.want[i], s.over[i] = int16(level), ramp(top, level)
		e.bad = bad || s.wins(r, top, level)
		return e.request(i + 1)
	}
	stands := s.stands(i, top, e.c.start)
	for k, a := range top {
		if stands && s.before.pick[i] != int16(a.level) || seen(top[:k], a.level) {
			continue
		}
		f.pick[i], s.want[i], s.over[i] = int16(a.level), int16(a.level), ramp(top, a.level)
		e.bad = bad || r.id == s.goal.Ambiguous || s.wins(r, top, a.level)
		if !e.request(i + 1) {
			return false
		}
	}
	return true
}

// seen tells whether an earlier ask has the level.
func seen(top []ask, l site.Level) bool {
	for _, a := range top {
		if a.level == l {
			return true
		}
	}
	return false
}

// stands tells whether the choice made before at ambiguous request i still stands,
// because the asks between which it was made are the same.
func (s *System) stands(i int, top []ask, start bool) bool {
	if start || s.before.pick[i] < 0 {
		return false
	}
	r := &s.reqs[i]
	was, _ := s.asks(r, s.before, s.before, r.was[:0])
	return slices.EqualFunc(was, top, func(a, b ask) bool { return a.mode == b.mode && a.level == b.level })
}

// sight gives sight i and the following ones their targets.
func (e *emitter) sight(i int) bool {
	s, f := e.s, e.s.work[0]
	if i == len(s.sights) {
		return e.lamp(0)
	}
	v := &s.sights[i]
	tgt, fresh := f.tgt[i], e.fresh
	f.tgt[i] = s.target(v, f, tgt, e.c.start)
	if f.tgt[i] != tgt {
		e.fresh |= 1 << v.ck
	}
	on := e.sight(i + 1)
	f.tgt[i], e.fresh = tgt, fresh
	return on
}

// lamp lets lamp i and the following ones follow their requests. A movement towards an unknown request may arrive at this very
// instant.
func (e *emitter) lamp(i int) bool {
	s, f := e.s, e.s.work[0]
	if i == len(s.lamps) {
		return e.observe(f, e.fresh, e.c)
	}
	l := &s.lamps[i]
	known := s.want[l.req] != anyAim || l.asGoodAsKnown(s.mask[l.req])
	if reg := f.reg[i]; f.aim[i] == anyAim && l.moves() && known {
		for _, r := range l.visited {
			if r == reg || f.may[i]>>r&1 == 0 {
				continue
			}
			f.reg[i] = r
			on := e.follow(i)
			if f.reg[i] = reg; !on {
				return false
			}
		}
	}
	return e.follow(i)
}

// follow lets lamp i follow from where it is.
func (e *emitter) follow(i int) bool {
	s, f := e.s, e.s.work[0]
	l := &s.lamps[i]
	h := s.holds(&l.reach, f, s.before, e.c.start)
	atOnce := l.colour && s.before.reg[l.light] == 0
	reg, aim, may, pace, fresh := f.reg[i], f.aim[i], f.may[i], f.pace[i], e.fresh
	if slow, maybe := l.mayBeOnItsWay(f, i, s.want[l.req], h, atOnce); maybe {
		f.aim[i], f.pace[i], e.fresh = s.want[l.req], slow, e.fresh|1<<l.ck
		on := e.lamp(i + 1)
		if f.aim[i], f.pace[i], e.fresh = aim, pace, fresh; !on {
			return false
		}
	}
	if l.follow(f, i, s.want[l.req], s.mask[l.req], s.over[l.req], h, l.ck >= 0 && e.c.due>>l.ck&1 == 1, atOnce) {
		e.fresh |= 1 << l.ck
	}
	on := true
	if f.aim[i] == anyAim {
		can := l.hull(f.reg[i], f.may[i])
		if f.reg[i] == reg && aim == anyAim && l.moves() {
			can |= may
		}
		for _, r := range l.visited {
			if can>>r&1 == 0 {
				continue
			}
			f.reg[i] = r
			if on = e.lamp(i + 1); !on {
				break
			}
		}
	} else {
		on = e.lamp(i + 1)
	}
	f.reg[i], f.aim[i], f.may[i], f.pace[i], e.fresh = reg, aim, may, pace, fresh
	return on
}

// observe lets the observer see the moments and emits each way it goes on.
func (e *emitter) observe(f *frame, fresh uint64, c cause) bool {
	s := e.s
	s.moments = s.moments[:0]
	if c.ev != 0 && s.events2 {
		s.moments = append(s.moments, s.values(f, c.ev, e.began))
	}
	s.moments = append(s.moments, s.values(f, 0, e.began))
	var dueObs uint8
	for i, ck := range s.obsCk {
		if ck >= 0 && c.due>>ck&1 == 1 {
			dueObs |= 1 << i
		}
	}
	if s.causes(f, c) {
		dueObs |= observe.Caused
	}
	s.nexts = s.obs.React(s.before.obs, dueObs, s.moments, s.nexts[:0])
	for _, n := range s.nexts {
		all := fresh
		for i, ck := range s.obsCk {
			if ck >= 0 && n.Fresh>>i&1 == 1 {
				all |= 1 << ck
			}
		}
		g := s.work[1]
		g.copyFrom(f)
		g.obs = n.State
		if n.Bad { // the end of this path: the observer's timers have no meaning any more
			g.obs = observe.State{}
		}
		if !e.emit(g, all, n.Bad) {
			return false
		}
	}
	return true
}

// values evaluates the observer's expressions.
func (s *System) values(f *frame, ev int, began bool) (v observe.Values) {
	for i, n := range s.exprs {
		if s.eval(n, f, s.before, ev) {
			v |= 1 << i
		}
	}
	if s.obs.Began != nil && began {
		v |= 1 << observe.Begins
	}
	if s.obs.Quick && s.Quick != nil && s.Quick.reaches(f) {
		v |= 1 << observe.Quick
	}
	return v
}

// emit builds the successor's zone and yields it.
func (e *emitter) emit(g *frame, fresh uint64, bad bool) bool {
	s := e.s
	label := e.label | e.branch<<2
	if e.branch++; e.branch >= 1<<branchBits {
		s.tooManyBranches = true
	}
	if e.record != nil {
		e.record(g, fresh, bad || e.bad)
		return true
	}
	s.startCooling(g, fresh, e.c.start)
	s.newRuns = s.clocksOf(g, s.newRuns[:0])
	s.from = append(s.from[:0], 0)
	old := 0
	for _, r := range s.newRuns {
		for old < len(s.runs) && s.runs[old].ck < r.ck {
			old++
		}
		if old < len(s.runs) && s.runs[old].ck == r.ck && fresh>>r.ck&1 == 0 {
			s.from = append(s.from, old+1)
		} else {
			s.from = append(s.from, 0)
		}
	}
	zone.Select(s.out, e.z, s.from)
	s.out.UpStrict()
	for i, r := range s.newRuns {
		if r.due && !s.out.Constrain(i+1, 0, zone.LE(r.d)) {
			panic("machine: a timer that can not run")
		}
	}
	out := s.dropPast(g)
	s.key = s.pack(s.key[:0], g)
	return e.yield(explore.Succ{Key: s.key, Zone: out, Label: label, Cost: e.cost, Bad: bad || e.bad})
}

// dropPast drops the clocks that are only compared from below and surely are past
// that.
func (s *System) dropPast(g *frame) *zone.DBM {
	s.from = append(s.from[:0], 0)
	for i, r := range s.newRuns {
		if !r.due && s.out.Lower(i+1) <= zone.LE(-r.d) {
			if c := s.clocks[r.ck]; c.kind == assumeClock {
				s.pastClock(g, r.ck, c.id)
			} else {
				g.cool &^= 1 << r.ck
			}
		} else {
			s.from = append(s.from, i+1)
		}
	}
	if len(s.from) == len(s.newRuns)+1 {
		return s.out
	}
	zone.Select(s.spare, s.out, s.from)
	return s.spare
}

// pastClock notes that the clock of assumption i surely is past what it is compared with.
func (s *System) pastClock(g *frame, ck, i int) {
	g.since[i] = false
	if a := &s.assume[i]; a.Kind == site.Charge && !g.in[a.Inputs[1]] && s.cooling>>ck&1 == 0 {
		g.full[i] = true
	}
}

// Labels of steps: two bits of kind, twelve of branch, the rest by kind.
const (
	startKind = iota
	reactionKind
	driftKind

	branchBits = 12
)

func startLabel(set uint64, seg int) uint64 {
	return startKind | uint64(seg)<<14 | set<<24
}

func reactionLabel(c cause) uint64 {
	return reactionKind | uint64(c.ev)<<14 | c.due<<22 | uint64(c.full)<<56 | uint64(c.leap)<<60
}

// causeOf is the inverse of reactionLabel.
func causeOf(l uint64) cause {
	return cause{ev: int(l >> 14 & (1<<8 - 1)), due: l >> 22 & (1<<maxTimers - 1), full: uint8(l >> 56 & 15), leap: int(l >> 60)}
}

func driftLabel(lamp int, region uint8) uint64 {
	return driftKind | uint64(lamp)<<14 | uint64(region)<<24
}
