// Lamps: levels as regions between the thresholds that the question reads.

package machine

import (
	"math/bits"
	"slices"

	"lampwarden/lang/site"
)

// lamp is a tracked circuit. Its level is known only as a region: an interval
// between the thresholds that occur in the question. A movement passes from
// region to region towards its aim, at any moment; since a movement is monotone
// and otherwise free, and comparisons see only the region, this is exact.
type lamp struct {
	id      site.CircuitID
	cuts    []site.Level // first level of each region, ascending, cuts[0] = 0
	paces   []pace       // the times that a movement can take, the circuit's own first
	reach   reach        // what takes its current or the controller's reach away
	colour  bool         // its levels are codes of colours
	light   int          // of a colour: the index of its light in System.lamps, else -1
	free    bool         // some setter is free: the request may be unknown
	req     int          // index in System.reqs
	ck      int          // its clock, or -1
	visited []uint8      // the regions that the lamp can be in (a switched one is off or full)
}

// reach is what takes a circuit's current or the controller's reach away, and the levels taken then.
type reach struct {
	dead, cut     *node // nil: never
	fail, powerOn *site.Level
}

// hold is how a circuit is reached in a reaction.
type hold struct {
	dead, cut bool
	revived   bool // it was dead before and is not now
}

// newReach compiles the conditions of a circuit.
func (s *System) newReach(c site.CircuitID) reach {
	cir := &s.site.Circuits[c]
	return reach{s.compile(cir.Dead), s.compile(cir.Cut), cir.Fail, cir.PowerOn}
}

// holds tells how a circuit is reached in f.
func (s *System) holds(r *reach, f, before *frame, start bool) (h hold) {
	h.dead = r.dead != nil && s.eval(r.dead, f, before, 0)
	h.cut = f.down || r.cut != nil && s.eval(r.cut, f, before, 0)
	h.revived = !h.dead && !start && r.dead != nil && s.eval(r.dead, before, before, 0)
	return h
}

// imposed gives the level that a circuit takes at once, whatever is asked, if there is one, and whether the request
// plays no part in this reaction.
func (r *reach) imposed(h hold) (level site.Level, at bool, closed bool) {
	switch {
	case h.dead:
		return 0, true, true
	case h.cut && r.fail != nil:
		return *r.fail, true, true
	case h.revived && r.powerOn != nil:
		return *r.powerOn, true, h.cut
	}
	return 0, false, h.cut
}

// pace is a time that a movement can take.
type pace struct {
	over site.Millis // of the ramp that gives it, 0: the circuit's own
	t    site.Millis // ReactsWithin and the fade or ramp
	soft bool        // with a fade or ramp: a new aim starts the movement anew
}

// moves tells whether the lamp ever takes time.
func (l *lamp) moves() bool {
	return slices.ContainsFunc(l.paces, func(p pace) bool { return p.t > 0 })
}

// paceOf gives the pace of a ramp, 0: the circuit's own.
func (l *lamp) paceOf(over site.Millis) uint8 {
	return uint8(slices.IndexFunc(l.paces, func(p pace) bool { return p.over == over }))
}

// newPaces lists the circuit's own pace and one for each ramp set on it.
func newPaces(s *site.Site, c site.CircuitID) []pace {
	r, fade := s.Controller.ReactsWithin, s.Circuits[c].Fade
	out := []pace{{0, r + fade, fade > 0}}
	for m := range s.Modes {
		for _, st := range s.Modes[m].States {
			for _, sg := range st.Stages {
				for _, set := range sg.Settings {
					for _, cs := range set.Cases {
						known := slices.ContainsFunc(out, func(p pace) bool { return p.over == cs.Over })
						if !known && slices.Contains(set.Circuits, c) {
							out = append(out, pace{cs.Over, r + cs.Over, true})
						}
					}
				}
			}
		}
	}
	return out
}

// newLamp cuts the levels of circuit c at the thresholds of its comparisons in exprs.
func newLamp(s *site.Site, c site.CircuitID, exprs []*site.Expr) lamp {
	cuts := []site.Level{0}
	if s.Circuits[c].Colour {
		cuts = append(cuts, site.LeastKelvin)
	}
	for _, e := range exprs {
		e.Walk(func(x *site.Expr) {
			if x.Op == site.OpLight && x.Circuit == c {
				cuts = append(cuts, x.Lo, x.Hi+1)
			}
			if x.Op == site.OpSum && !x.Seen && slices.ContainsFunc(x.Terms, func(t site.Term) bool { return t.Circuit == c }) {
				for _, l := range s.Rests(c) {
					cuts = append(cuts, l, l+1)
				}
			}
		})
	}
	if slices.ContainsFunc(s.Circuits, func(o site.Circuit) bool { return o.Colour && o.Light == c }) {
		cuts = append(cuts, 1) // whether it is dark decides how its colour changes
	}
	cuts = slices.DeleteFunc(cuts, func(l site.Level) bool { return l < 0 || l > site.Full })
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	l := lamp{id: c, ck: -1, cuts: cuts, paces: newPaces(s, c), colour: s.Circuits[c].Colour, light: -1}
	for r := range cuts {
		if !s.Circuits[c].Switched || uint8(r) == l.region(0) || uint8(r) == l.region(site.Full) {
			l.visited = append(l.visited, uint8(r))
		}
	}
	return l
}

// region gives the region of a level.
func (l *lamp) region(v site.Level) uint8 {
	i, ok := slices.BinarySearch(l.cuts, v)
	if !ok {
		i--
	}
	return uint8(i)
}

// mask gives the regions within lo..hi.
func (l *lamp) mask(lo, hi site.Level) (m uint64) {
	for r := range l.cuts {
		if l.cuts[r] >= lo && l.cuts[r] <= hi {
			m |= 1 << r
		}
	}
	return m
}

// bounds gives the first and the last level of a region.
func (l *lamp) bounds(r uint8) (lo, hi site.Level) {
	lo, hi = l.cuts[r], site.Full
	if int(r)+1 < len(l.cuts) {
		hi = l.cuts[r+1] - 1
	}
	return lo, hi
}

// passes tells whether the lamp in region r that moves to region aim may be seen
// in region x next.
func (l *lamp) passes(r, x, aim uint8) bool {
	if l.colour && (l.cuts[r] < site.LeastKelvin || l.cuts[aim] < site.LeastKelvin) {
		return x == aim && x != r
	}
	return r < x && x <= aim || aim <= x && x < r
}

// follow lets the lamp follow its request after a reaction (lang/SEMANTICS.md,
// section 2, step 4). want is the requested level, or anyAim (in one of the regions of mask), or noAsk, over the time of its
// ramp; atOnce lets it take no time. It returns whether a movement starts. For anyAim the caller chooses the region.
//
// A lamp that is in the region of its aim counts as arrived: from there a movement
// with a fresh due time can do all that one with an older due time can, and the
// environment may let it arrive.
func (l *lamp) follow(f *frame, i int, want int16, mask uint64, over site.Millis, h hold, arrives, atOnce bool) (starts bool) {
	if arrives {
		f.reg[i], f.aim[i], f.pace[i] = l.region(site.Level(f.aim[i])), settled, 0
	}
	level, at, closed := l.reach.imposed(h)
	if at {
		f.reg[i], f.aim[i], f.pace[i] = l.region(level), settled, 0
	}
	if closed || want == noAsk {
		return false
	}
	if want == anyAim && l.asGoodAsKnown(mask) {
		want, over = int16(l.cuts[bits.TrailingZeros64(mask)]), 0 // which level it is in the region makes no difference
	}
	if want == anyAim {
		f.aim[i], f.pace[i], f.may[i] = anyAim, 0, mask
		return false
	}
	p := l.paceOf(over)
	switch region := l.region(site.Level(want)); {
	case (l.paces[p].t == 0 || atOnce) && f.aim[i] != want || f.reg[i] == region:
		f.reg[i], f.aim[i], f.pace[i] = region, settled, 0
	case f.aim[i] == want: // on its way there already
	case f.aim[i] >= 0 && !l.paces[p].soft && !l.paces[f.pace[i]].soft:
		f.aim[i] = want // the running movement keeps its due time
	default:
		f.aim[i], f.pace[i] = want, p
		return true
	}
	return false
}

// asGoodAsKnown tells whether an unknown request in one of the regions of mask counts as known: there is one region, and all
// movements are alike.
func (l *lamp) asGoodAsKnown(mask uint64) bool {
	return bits.OnesCount64(mask) == 1 && len(l.paces) == 1 && !l.paces[0].soft
}

// hull gives the regions in which a lamp in region reg can be while its request is in one of the regions of mask: those,
// and what lies between, if it takes time to get there. A colour is where it was or in one of them, unless both are
// temperatures; that is left to the widest.
func (l *lamp) hull(reg uint8, mask uint64) (m uint64) {
	if !l.moves() {
		return mask
	}
	all := mask | 1<<reg
	lo, hi := bits.TrailingZeros64(all), 63-bits.LeadingZeros64(all)
	for r := lo; r <= hi; r++ {
		m |= 1 << r
	}
	return m
}

// mayBeOnItsWay tells whether a lamp whose request was unknown may be on its way to the known one already, by an older
// and slower movement than follow would start: a free mode may have asked for the same level, and a request that does
// not change starts nothing. It gives the slowest pace, which can do all that any other can. Where all movements take
// the same time, the one that follow starts stands for it, unless that one would take none (atOnce).
func (l *lamp) mayBeOnItsWay(f *frame, i int, want int16, h hold, atOnce bool) (slow uint8, may bool) {
	if f.aim[i] != anyAim || want < 0 || len(l.paces) == 1 && !atOnce || !l.moves() || h.dead || h.cut || h.revived && l.reach.powerOn != nil ||
		f.reg[i] == l.region(site.Level(want)) {
		return 0, false
	}
	for p := range l.paces {
		if l.paces[p].t > l.paces[slow].t {
			slow = uint8(p)
		}
	}
	return slow, true
}
