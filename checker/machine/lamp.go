// Lamps: levels as regions between the thresholds that the question reads.

package machine

import (
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
	dead    site.InputID // true while the feed is dead; None if it never is
	free    bool         // some setter is free: the request may be unknown
	req     int          // index in System.reqs
	ck      int          // its clock, or -1
	visited []uint8      // the regions that the lamp can be in (a switched one is off or full)
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
	for _, e := range exprs {
		e.Walk(func(x *site.Expr) {
			if x.Op == site.OpLight && x.Circuit == c {
				cuts = append(cuts, x.Lo, x.Hi+1)
			}
		})
	}
	cuts = slices.DeleteFunc(cuts, func(l site.Level) bool { return l < 0 || l > site.Full })
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	l := lamp{id: c, ck: -1, cuts: cuts, paces: newPaces(s, c), dead: deadInput(s, c)}
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

// between tells whether a lamp in region r that moves to region aim may be seen
// in region x next.
func between(r, x, aim uint8) bool {
	return r < x && x <= aim || aim <= x && x < r
}

// follow lets the lamp follow its request after a reaction (lang/SEMANTICS.md,
// section 2, step 4). want is the requested level, or anyAim, over the time of its
// ramp. It returns whether a movement starts. For anyAim the caller chooses the region.
//
// A lamp that is in the region of its aim counts as arrived: from there a movement
// with a fresh due time can do all that one with an older due time can, and the
// environment may let it arrive.
func (l *lamp) follow(f *frame, i int, want int16, over site.Millis, arrives bool) (starts bool) {
	if arrives {
		f.reg[i], f.aim[i] = l.region(site.Level(f.aim[i])), settled
	}
	if l.dead != site.None && f.in[l.dead] {
		want, over = 0, 0
		f.reg[i] = l.region(0)
	}
	if want == anyAim {
		f.aim[i], f.pace[i] = anyAim, 0
		return false
	}
	p := l.paceOf(over)
	switch region := l.region(site.Level(want)); {
	case l.paces[p].t == 0 && f.aim[i] != want || f.reg[i] == region:
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

// mayBeOnItsWay tells whether a lamp whose request was unknown may be on its way to the known one already, by an older
// and slower movement than follow would start: a free mode may have asked for the same level, and a request that does
// not change starts nothing. It gives the slowest pace, which can do all that any other can. Where all movements take
// the same time, the one that follow starts stands for it.
func (l *lamp) mayBeOnItsWay(f *frame, i int, want int16) (slow uint8, may bool) {
	if f.aim[i] != anyAim || want == anyAim || len(l.paces) == 1 || !l.moves() || l.dead != site.None && f.in[l.dead] ||
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
