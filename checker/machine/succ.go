// The system as a model for the explorer: initial states, symbolic successors.

package machine

import (
	"math/bits"
	"slices"

	"lampwarden/checker/explore"
	"lampwarden/checker/observe"
	"lampwarden/checker/zone"
	"lampwarden/lang/site"
)

// Costs of a step for the search order: first the number of departures that the
// environment makes (an input away from rest at start-up counts one and a half, so
// that a story that starts at rest is found first), then the number of steps, where
// an event at the very instant at which something is due counts three times.
const (
	costEvent   = 1 << 16
	costInitial = 3 << 15
	costStep    = 1
)

// scratch is a System's working memory; a System serves one goroutine.
type scratch struct {
	step       stepper
	top        []ask
	want       []int16       // requested level of each request, or anyAim
	over       []site.Millis // and the time of its ramp
	wanted     []int16       // the same of the branch that a replay picked
	overs      []site.Millis
	before     *frame // of the state being expanded
	work       []*frame
	runs       []running
	loose      []int
	looseZones []*zone.DBM
	newRuns    []running
	zones      []*zone.DBM
	out        *zone.DBM
	spare      *zone.DBM
	from       []int
	key        []byte
	l, u       []int32
	nexts      []observe.Next
	moments    []observe.Values
}

func (s *System) initScratch() {
	most := 0
	for i := range s.reqs {
		most = max(most, len(s.reqs[i].askers))
	}
	s.top = make([]ask, most+1)
	s.before = s.newFrame()
	for range 3 { // being built, being emitted, being asked for its bounds
		s.work = append(s.work, s.newFrame())
	}
	for range s.clocks {
		s.looseZones = append(s.looseZones, zone.Universe(1))
	}
	for range len(s.clocks) + 3 {
		s.zones = append(s.zones, zone.Universe(1))
	}
	s.out, s.spare = zone.Universe(1), zone.Universe(1)
	s.want, s.over = make([]int16, len(s.reqs)), make([]site.Millis, len(s.reqs))
}

// Bounds implements explore.Model: a timer's clock has its duration as lower and
// upper bound, an assumption's clock only as a lower one.
func (s *System) Bounds(key []byte) (l, u []int32) {
	f := s.work[len(s.work)-1]
	s.unpack(f, key)
	s.newRuns = s.clocksOf(f, s.newRuns[:0])
	s.l, s.u = append(s.l[:0], zone.NoBound), append(s.u[:0], zone.NoBound)
	for _, r := range s.newRuns {
		s.l = append(s.l, r.d)
		if r.due {
			s.u = append(s.u, r.d)
		} else {
			s.u = append(s.u, zone.NoBound)
		}
	}
	return s.l, s.u
}

// Initial implements explore.Model: every start-up, those at rest first.
func (s *System) Initial(yield func(explore.Succ) bool) {
	n := len(s.levels)
	for away := 0; away <= n; away++ {
		for set := uint32(0); set < 1<<n; set++ {
			if bits.OnesCount32(set) == away && !s.initial(set, yield) {
				return
			}
		}
	}
}

// initial yields the start-ups with the given inputs away from rest.
func (s *System) initial(set uint32, yield func(explore.Succ) bool) bool {
	segs := 1
	if s.clocked {
		segs = len(s.segs)
	}
	for sg := range segs {
		if !s.startUp(set, sg) {
			return true
		}
		z := s.zones[0]
		z.SetUniverse(1)
		s.runs = s.runs[:0]
		if s.clocked && (s.relaxed|s.cooling)&1 == 0 { // the day clock is clock 0
			z.SetUniverse(2)
			z.Constrain(1, 0, zone.LT(int32(s.segs[sg].len/s.unit)))
			s.runs = append(s.runs, running{ck: 0})
		}
		e := emitter{s: s, z: z, c: cause{start: true}, cost: costInitial * bits.OnesCount32(set), yield: yield,
			label: startLabel(set, sg)}
		if !e.reaction() {
			return false
		}
	}
	return true
}

// startUp sets s.before to the frame before start-up, and work[0] to the inputs
// and segment at start-up. It returns false if an assumption forbids them.
func (s *System) startUp(set uint32, sg int) bool {
	s.blank(s.before)
	f := s.work[0]
	s.blank(f)
	for i, in := range s.levels {
		f.in[in] = set>>i&1 == 1
	}
	if s.clocked {
		f.seg = sg
	}
	return s.allowed(f)
}

// blank makes f the frame before start-up.
func (s *System) blank(f *frame) {
	clear(f.in)
	clear(f.loc)
	clear(f.ph)
	clear(f.aft)
	clear(f.reg)
	clear(f.pace)
	clear(f.since)
	f.seg, f.cool, f.rec, f.obs = noSeg, 0, f.rec[:0], observe.State{}
	for i := range f.aim {
		f.aim[i] = settled
	}
	for i := range f.pick {
		f.pick[i] = -1
	}
}

// allowed checks the at-most assumptions.
func (s *System) allowed(f *frame) bool {
	for i := range s.assume {
		a := &s.assume[i]
		if a.Kind != site.AtMost {
			continue
		}
		n := 0
		for _, in := range a.Inputs {
			if f.in[in] {
				n++
			}
		}
		if n > a.N {
			return false
		}
	}
	return true
}

// Successors implements explore.Model.
func (s *System) Successors(key []byte, z *zone.DBM, yield func(explore.Succ) bool) {
	s.unpack(s.before, key)
	s.runs = s.clocksOf(s.before, s.runs[:0])
	s.loose = s.looseOf(s.before, s.loose[:0])
	s.zones[0].CopyFrom(z)
	s.branchDue(0, 0, yield)
}

// branchDue splits the zone s.zones[i] by whether timer i is due, and so on, and
// expands each feasible set of due timers. Those with nothing due come first.
func (s *System) branchDue(i int, due uint64, yield func(explore.Succ) bool) bool {
	for i < len(s.runs) && !s.runs[i].due {
		s.zones[i+1].CopyFrom(s.zones[i])
		i++
	}
	if i == len(s.runs) {
		return s.branchLoose(0, s.zones[i], due, yield)
	}
	r, next := s.runs[i], s.zones[i+1]
	next.CopyFrom(s.zones[i])
	if next.Constrain(i+1, 0, zone.LT(r.d)) && !s.branchDue(i+1, due, yield) {
		return false
	}
	next.CopyFrom(s.zones[i])
	if next.Constrain(0, i+1, zone.LE(-r.d)) {
		return s.branchDue(i+1, due|1<<r.ck, yield)
	}
	return true
}

// branchLoose adds each set of timers without exact clocks to the due ones: those
// that still cool can be due only where their clock has reached the horizon.
func (s *System) branchLoose(i int, z *zone.DBM, due uint64, yield func(explore.Succ) bool) bool {
	if i == len(s.loose) {
		return s.expand(z, due, yield)
	}
	if !s.branchLoose(i+1, z, due, yield) {
		return false
	}
	ck := s.loose[i]
	if s.cooling&s.before.cool>>ck&1 == 1 {
		k := slices.IndexFunc(s.runs, func(r running) bool { return r.ck == ck })
		s.looseZones[i].CopyFrom(z)
		z = s.looseZones[i]
		if !z.Constrain(0, k+1, zone.LE(-s.runs[k].d)) {
			return true
		}
	}
	return s.branchLoose(i+1, z, due|1<<ck, yield)
}

// expand yields the successors in zone z with exactly the timers in due being due.
func (s *System) expand(z *zone.DBM, due uint64, yield func(explore.Succ) bool) bool {
	if due != 0 {
		e := emitter{s: s, z: z, c: cause{due: due}, cost: costStep, yield: yield, label: reactionLabel(0, due)}
		s.work[0].copyFrom(s.before)
		if !e.reaction() {
			return false
		}
	}
	for ev := 1; ev <= len(s.events); ev++ {
		if !s.event(z, ev, due, yield) {
			return false
		}
	}
	return due != 0 || s.drift(z, yield)
}

// event yields the reactions to one event.
func (s *System) event(z *zone.DBM, ev int, due uint64, yield func(explore.Succ) bool) bool {
	f := s.work[0]
	f.copyFrom(s.before)
	in := s.events[ev-1]
	if in.level {
		f.in[in.input] = !f.in[in.input]
		ok := s.allowed(f)
		f.in[in.input] = !f.in[in.input]
		if !ok {
			return true
		}
	}
	g := s.zones[len(s.zones)-1]
	g.CopyFrom(z)
	for i, r := range s.runs {
		if s.clocks[r.ck].kind == assumeClock && s.holdsBack(r.ck, in) && !g.Constrain(0, i+1, zone.LE(-r.d)) {
			return true
		}
	}
	cost := costEvent + costStep
	if due != 0 {
		cost += 2 * costStep
	}
	e := emitter{s: s, z: g, c: cause{ev: ev, due: due}, cost: cost, yield: yield, label: reactionLabel(ev, due)}
	return e.reaction()
}

// holdsBack tells whether the assumption with clock ck delays the event.
func (s *System) holdsBack(ck int, e event) bool {
	a := s.assume[s.clocks[ck].id]
	for _, in := range a.Inputs {
		if in == e.input {
			return true // a running dwell clock means that the input has the value that must last
		}
	}
	return false
}

// drift yields the moves of lamps between reactions.
func (s *System) drift(z *zone.DBM, yield func(explore.Succ) bool) bool {
	for i := range s.lamps {
		l := &s.lamps[i]
		aim := s.before.aim[i]
		if aim == settled {
			continue
		}
		for _, r := range l.visited {
			if r == s.before.reg[i] || aim >= 0 && !between(s.before.reg[i], r, l.region(site.Level(aim))) {
				continue
			}
			f := s.work[0]
			f.copyFrom(s.before)
			f.reg[i] = r
			if aim >= 0 && r == l.region(site.Level(aim)) {
				f.aim[i] = settled
			}
			e := emitter{s: s, z: z, cost: costStep, yield: yield, label: driftLabel(i, r)}
			if !e.observe(f, 0, 0, 0) {
				return false
			}
		}
	}
	return true
}
