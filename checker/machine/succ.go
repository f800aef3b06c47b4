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
	mask       []uint64      // of anyAim: the regions that it can be in
	wanted     []int16       // the same of the branch that a replay picked
	overs      []site.Millis
	before     *frame // of the state being expanded
	rest       *frame // as before start-up
	work       []*frame
	runs       []running
	regions    []uint8
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
	s.rest = s.newFrame()
	s.blank(s.rest)
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
	s.want, s.over, s.mask = make([]int16, len(s.reqs)), make([]site.Millis, len(s.reqs)), make([]uint64, len(s.reqs))
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
		if r.due || r.two {
			s.u = append(s.u, r.d)
		} else {
			s.u = append(s.u, zone.NoBound)
		}
	}
	return s.l, s.u
}

// Initial implements explore.Model: every start-up that the assumptions allow, those with fewer inputs away from rest first.
func (s *System) Initial(yield func(explore.Succ) bool) {
	f := s.newFrame()
	for away := range len(s.levels) + 1 {
		if !s.starts(f, 0, away, 0, yield) {
			return
		}
	}
}

// starts yields the start-ups in which just so many inputs, from index k of s.order on, are away from rest beside those of set, which f has.
func (s *System) starts(f *frame, k, away int, set uint64, yield func(explore.Succ) bool) bool {
	if away == 0 {
		return s.initial(set, yield)
	}
	for ; k <= len(s.order)-away; k++ {
		in := s.levels[s.order[k]]
		if s.site.Inputs[in].Kind == site.Flatness {
			continue
		}
		f.in[in] = true
		// What is not allowed is not with more inputs away from rest, either.
		on := !s.allowed(f) || s.starts(f, k+1, away-1, set|1<<s.order[k], yield)
		if f.in[in] = false; !on {
			return false
		}
	}
	return true
}

// rungsInOrder lists the indices of the level inputs, the rungs of a ladder from below.
func (s *System) rungsInOrder() (order []int) {
	for i := range s.assume {
		if a := &s.assume[i]; a.Kind == site.Ladder {
			for _, in := range a.Inputs {
				if k := slices.Index(s.levels, in); k >= 0 && !slices.Contains(order, k) {
					order = append(order, k)
				}
			}
		}
	}
	for k := range s.levels {
		if !slices.Contains(order, k) {
			order = append(order, k)
		}
	}
	return order
}

// initial yields the start-ups with the given inputs away from rest.
func (s *System) initial(set uint64, yield func(explore.Succ) bool) bool {
	segs := 1
	if s.clocked {
		segs = s.cycle()
	}
	for sg := range segs {
		s.startUp(set, sg)
		z := s.zones[0]
		z.SetUniverse(1)
		s.runs = s.runs[:0]
		if s.clocked && (s.relaxed|s.cooling)&1 == 0 { // the day clock is clock 0
			z.SetUniverse(2)
			z.Constrain(1, 0, zone.LT(int32(s.segs[sg].len/s.unit)))
			s.runs = append(s.runs, running{ck: 0})
		}
		e := emitter{s: s, z: z, c: cause{start: true}, cost: costInitial * bits.OnesCount64(set), yield: yield,
			label: startLabel(set, sg)}
		if !e.reaction() {
			return false
		}
	}
	return true
}

// startUp sets s.before to the frame before start-up, and work[0] to the inputs
// and segment at start-up.
func (s *System) startUp(set uint64, sg int) {
	s.blank(s.before)
	f := s.work[0]
	s.blank(f)
	for i, in := range s.levels {
		f.in[in] = set>>i&1 == 1
	}
	if s.clocked {
		f.seg = sg
	}
	for i := range s.assume {
		a := &s.assume[i]
		if f.full[i] = a.Kind == site.Charge; f.full[i] && f.in[a.Inputs[1]] {
			f.since[i] = s.relaxed>>a.ck&1 == 0
		}
	}
}

// blank makes f the frame before start-up.
func (s *System) blank(f *frame) {
	clear(f.in)
	clear(f.loc)
	clear(f.ph)
	clear(f.aft)
	clear(f.reg)
	clear(f.may)
	clear(f.pace)
	clear(f.since)
	clear(f.full)
	clear(f.tgt)
	clear(f.seen)
	f.down, f.leapt = false, false
	f.seg, f.cool, f.rec, f.obs = noSeg, 0, f.rec[:0], observe.State{}
	for i := range f.aim {
		f.aim[i] = settled
	}
	for i := range f.pick {
		f.pick[i] = -1
	}
}

// allowed checks the at-most assumptions and the ladders.
func (s *System) allowed(f *frame) bool {
	for i := range s.assume {
		a := &s.assume[i]
		if a.Kind == site.Ladder && !s.climbs(a, f) {
			return false
		}
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

// climbs tells whether the kept rungs of a ladder are true from the first up to one of them. (Those left out are above
// and can stay at rest.)
func (s *System) climbs(a *assumption, f *frame) bool {
	ok := true
	for _, in := range a.Inputs {
		if !s.sl.Inputs[in] {
			continue
		}
		if f.in[in] && !ok {
			return false
		}
		ok = f.in[in]
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
	calm := s.obs.Calm != nil && s.obs.Calm(s.before.obs)
	leaps := 0
	if s.clocked && due&1 == 1 && !calm {
		leaps = len(s.site.Jumps)
	}
	for leap := range leaps + 1 {
		if !s.mayLeap(s.before, leap) {
			continue
		}
		if due != 0 {
			c := cause{due: due, leap: leap}
			e := emitter{s: s, z: z, c: c, cost: costStep, yield: yield, label: reactionLabel(c)}
			if leap > 0 {
				e.cost += costEvent
			}
			s.work[0].copyFrom(s.before)
			if !e.reaction() {
				return false
			}
		}
		for ev := 1; ev <= len(s.events) && !calm; ev++ {
			if !s.event(z, cause{ev: ev, due: due, leap: leap}, yield) {
				return false
			}
		}
	}
	return due != 0 || s.hidden(z, yield) && s.drift(z, yield)
}

// hidden yields the reactions to what the slice does not keep: a free mode may change its mind about several lamps at once, and
// nobody need see one of them move before the other. (One lamp's move is a drift.)
func (s *System) hidden(z *zone.DBM, yield func(explore.Succ) bool) bool {
	open := 0
	for i := range s.lamps {
		if s.before.aim[i] == anyAim {
			open++
		}
	}
	if open < 2 {
		return true
	}
	s.work[0].copyFrom(s.before)
	e := emitter{s: s, z: z, cost: costStep, yield: yield, label: reactionLabel(cause{})}
	return e.reaction()
}

// event yields the reactions to one event. Where it takes away the charger of batteries that may be full again, each way that
// can be is one.
func (s *System) event(z *zone.DBM, c cause, yield func(explore.Succ) bool) bool {
	in := s.events[c.ev-1]
	if !s.may(in, c) {
		return true
	}
	full, open := s.fullNow(in)
	for more := uint8(0); ; more = (more - open) & open { // every subset of open
		c.full = full | more
		if !s.react1(z, c, yield) {
			return false
		}
		if more == open {
			return true
		}
	}
}

// fullNow tells which batteries (by their place in System.charges) are full when the event takes away their charger, and of which it
// hangs on their clock. A label says so, because a path that is replayed keeps the clock that the search has dropped.
func (s *System) fullNow(e event) (full, open uint8) {
	for k, i := range s.charges {
		a := &s.assume[i]
		if a.Inputs[1] != e.input || s.before.in[e.input] {
			continue
		}
		running := s.cooling>>a.ck&1 == 0 && slices.ContainsFunc(s.runs, func(r running) bool { return r.ck == a.ck })
		switch {
		case s.before.full[i]:
			full |= 1 << k
		case running && !s.before.in[a.Inputs[0]]: // a battery that is full is not flat
			open |= 1 << k
		}
	}
	return full, open
}

// may tells whether the event may happen in s.before, as far as that does not hang on clocks.
func (s *System) may(in event, c cause) bool {
	if !in.level {
		return true
	}
	f := s.before
	f.in[in.input] = !f.in[in.input]
	defer func() { f.in[in.input] = !f.in[in.input] }()
	if !s.allowed(f) {
		return false
	}
	if s.site.Inputs[in.input].Kind == site.Calendar {
		return s.clocked && c.due&1 == 1 && s.segs[s.nextSeg(s.before.seg, c.leap)].from%site.Day == 0
	}
	for i := range s.assume {
		a := &s.assume[i]
		if a.Kind != site.Charge {
			continue
		}
		flat, lost := a.Inputs[0], a.Inputs[1]
		if in.input == flat && f.in[flat] != f.in[lost] || in.input == lost && f.in[lost] && f.in[flat] && f.full[i] {
			return false
		}
	}
	return true
}

// react1 yields the reactions to one event, under the constraints of the assumptions' clocks.
func (s *System) react1(z *zone.DBM, c cause, yield func(explore.Succ) bool) bool {
	in := s.events[c.ev-1]
	s.work[0].copyFrom(s.before)
	g := s.zones[len(s.zones)-1]
	g.CopyFrom(z)
	for i, r := range s.runs {
		if s.clocks[r.ck].kind != assumeClock {
			continue
		}
		switch s.delays(r.ck, in, c) {
		case atLeast:
			if !g.Constrain(0, i+1, zone.LE(-r.d)) {
				return true
			}
		case lessThan:
			if !g.Constrain(i+1, 0, zone.LT(r.d)) {
				return true
			}
		}
	}
	cost := costEvent + costStep
	if c.due != 0 {
		cost += 2 * costStep
	}
	if c.leap > 0 {
		cost += costEvent
	}
	e := emitter{s: s, z: g, c: c, cost: cost, yield: yield, label: reactionLabel(c)}
	return e.reaction()
}

// What the clock of an assumption must show for an event.
const (
	anyTime = iota
	atLeast
	lessThan
)

// delays tells what the running clock ck of an assumption must show for the event.
func (s *System) delays(ck int, e event, c cause) int {
	i := s.clocks[ck].id
	a := &s.assume[i]
	if !slices.Contains(a.Inputs, e.input) {
		return anyTime
	}
	switch {
	case a.Kind != site.Charge:
		return atLeast // a running dwell clock means that the input has the value that must last
	case e.input == a.Inputs[0] && s.before.in[a.Inputs[1]]:
		return atLeast // flat not before the autonomy is over
	case e.input == a.Inputs[1] && !s.before.in[a.Inputs[1]] && c.full>>slices.Index(s.charges, i)&1 == 1:
		return atLeast
	case e.input == a.Inputs[1] && !s.before.in[a.Inputs[1]] && s.cooling>>ck&1 == 0:
		return lessThan
	}
	return anyTime
}

// drift yields the moves of lamps between reactions.
func (s *System) drift(z *zone.DBM, yield func(explore.Succ) bool) bool {
	for i := range s.lamps {
		for _, r := range s.reachable(i) {
			f := s.work[0]
			f.copyFrom(s.before)
			s.move(f, i, r)
			e := emitter{s: s, z: z, cost: costStep, yield: yield, label: driftLabel(i, r)}
			if !e.observe(f, 0, cause{}) {
				return false
			}
		}
	}
	return true
}

// reachable lists the regions in which lamp i of s.before may be seen next.
func (s *System) reachable(i int) []uint8 {
	l, aim := &s.lamps[i], s.before.aim[i]
	s.regions = s.regions[:0]
	if aim == settled {
		return nil
	}
	for _, r := range l.visited {
		if r != s.before.reg[i] && (aim < 0 && l.hull(s.before.reg[i], s.before.may[i])>>r&1 == 1 || aim >= 0 && l.passes(s.before.reg[i], r, l.region(site.Level(aim)))) {
			s.regions = append(s.regions, r)
		}
	}
	return s.regions
}

// move puts lamp i of f into region r, where it has arrived if that is the region of its aim.
func (s *System) move(f *frame, i int, r uint8) {
	f.reg[i] = r
	if f.aim[i] >= 0 && r == s.lamps[i].region(site.Level(f.aim[i])) {
		f.aim[i], f.pace[i] = settled, 0
	}
}
