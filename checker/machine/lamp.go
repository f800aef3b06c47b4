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
	fades   bool         // a new aim starts the movement anew
	t       site.Millis  // time of a movement, ReactsWithin + Fade
	dead    site.InputID // true while the feed is dead; None if it never is
	free    bool         // some setter is free: the request may be unknown
	req     int          // index in System.reqs
	ck      int          // its clock, or -1
	visited []uint8      // the regions that the lamp can be in (a switched one is off or full)
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
	l := lamp{id: c, ck: -1, fades: s.Circuits[c].Fade > 0, cuts: cuts, t: s.Controller.ReactsWithin + s.Circuits[c].Fade, dead: deadInput(s, c)}
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
// section 2, step 4). want is the requested level, or anyAim. It returns whether
// a movement starts. For anyAim the caller chooses the region.
func (l *lamp) follow(f *frame, i int, want int16, arrives bool) (starts bool) {
	if arrives {
		f.reg[i], f.aim[i] = l.region(site.Level(f.aim[i])), settled
	}
	switch {
	case l.dead != site.None && f.in[l.dead]:
		f.reg[i], f.aim[i] = l.region(0), settled
	case want == anyAim:
		f.aim[i] = anyAim
	case l.t == 0 || f.reg[i] == l.region(site.Level(want)):
		f.reg[i], f.aim[i] = l.region(site.Level(want)), settled
	case l.fades && f.aim[i] != want:
		f.aim[i] = want
		return true
	case !l.fades:
		// Which level of its region the aim is makes no difference. A lamp that is in the
		// region of its aim counts as arrived: from there a movement with a fresh due time
		// can do all that one with an older due time can, and the environment may let it arrive.
		starts = f.aim[i] < 0
		f.aim[i] = int16(l.cuts[l.region(site.Level(want))])
	}
	return starts
}
