// Lamps: levels as regions, and how they follow requests (lang/SEMANTICS.md, section 2, step 4).

package certify

import (
	"iter"
	"math/bits"
	"slices"

	"lampwarden/lang/site"
)

// lampDef is a circuit whose level is kept.
type lampDef struct {
	id       site.CircuitID
	cuts     []site.Level // first level of each region
	top      site.Level   // the greatest level there is
	paces    []pace       // the circuit's own first
	switched bool
	colour   bool
	light    int // of a colour: the place of its light
	clock    int // -1 if no movement takes time
	reach    reach
}

// pace is a time that a movement may take.
type pace struct {
	over site.Millis // of the ramp that gives it, 0: the circuit's own
	time site.Millis
	soft bool // with a fade or a ramp: what comes after it starts anew
}

// takeLamps notes the lamps and their regions.
func (m *model) takeLamps() {
	var ids []site.CircuitID
	for _, l := range m.c.lamps {
		ids = append(ids, l.circuit)
	}
	places(m, "circuit", ids, len(m.site.Circuits))
	if m.err != nil {
		return
	}
	m.want(slices.IsSorted(ids) && len(slices.Compact(slices.Clone(ids))) == len(ids), "the lamps must ascend")
	for _, line := range m.c.lamps {
		cir := &m.site.Circuits[line.circuit]
		l := lampDef{id: line.circuit, cuts: line.cuts, top: site.Full, paces: m.paces(line.circuit), switched: cir.Switched, colour: cir.Colour, light: -1, clock: -1}
		all := m.site.Rests(line.circuit)
		l.top = max(l.top, all[len(all)-1], l.cuts[len(l.cuts)-1])
		m.want(l.cuts[0] == 0 && len(l.cuts) <= 64, "the regions of circuit %s must begin at 0 and be no more than 64", cir.Name)
		m.want(slices.Contains(m.c.requests, l.id), "the light of %s is kept, but not its request", cir.Name)
		m.lamps = append(m.lamps, l)
	}
	for i := range m.lamps {
		l := &m.lamps[i]
		if !l.colour {
			continue
		}
		_, has := slices.BinarySearch(l.cuts, site.LeastKelvin)
		m.want(has, "a region of %s holds named colours and colour temperatures", m.circuitName(l.id))
		l.light = m.lampAt(m.site.Circuits[l.id].Light)
		if m.want(l.light >= 0, "the colour %s is kept, but not its light", m.circuitName(l.id)) {
			_, has := slices.BinarySearch(m.lamps[l.light].cuts, 1)
			m.want(has, "the first region of %s must be dark", m.circuitName(m.lamps[l.light].id))
		}
	}
}

// lampAt gives the place of a lamp, -1 if it is not kept.
func (m *model) lampAt(c site.CircuitID) int {
	return slices.IndexFunc(m.lamps, func(l lampDef) bool { return l.id == c })
}

// paces lists the times that a movement of a circuit may take.
func (m *model) paces(c site.CircuitID) []pace {
	reacts, fade := m.site.Controller.ReactsWithin, m.site.Circuits[c].Fade
	out := []pace{{0, reacts + fade, fade > 0}}
	for k := range m.site.Modes {
		eachSetting(&m.site.Modes[k], c, func(_, _ int, set *site.Setting) {
			for i := range set.Cases {
				o := set.Cases[i].Over
				if !slices.ContainsFunc(out, func(p pace) bool { return p.over == o }) {
					out = append(out, pace{o, reacts + o, true})
				}
			}
		})
	}
	return out
}

// regionOf gives the region of a level, bounds the first and last level of a region, all the set of all regions.
func (l *lampDef) regionOf(x site.Level) uint8 {
	r := 0
	for r+1 < len(l.cuts) && l.cuts[r+1] <= x {
		r++
	}
	return uint8(r)
}

func (l *lampDef) bounds(r int) (lo, hi site.Level) {
	if r+1 < len(l.cuts) {
		return l.cuts[r], l.cuts[r+1] - 1
	}
	return l.cuts[r], l.top
}

func (l *lampDef) all() uint64 { return 1<<len(l.cuts) - 1 }

// instant tells whether some movement takes no time, slow whether some takes time.
func (l *lampDef) instant() bool {
	return slices.ContainsFunc(l.paces, func(p pace) bool { return p.time == 0 })
}

func (l *lampDef) slow() bool {
	return slices.ContainsFunc(l.paces, func(p pace) bool { return p.time > 0 })
}

// on tells the regions in which a lamp on its way from one region to another may be seen next: any on the way, the end among
// them. A switched circuit has no level on the way, nor has a colour unless both ends are colour temperatures.
func (l *lampDef) way(from, to uint8) (regions uint64) {
	if from == to {
		return 0
	}
	jumps := l.switched || l.colour && (l.cuts[from] < site.LeastKelvin || l.cuts[to] < site.LeastKelvin)
	for r := range l.cuts {
		between := int(from) < r && r < int(to) || int(to) < r && r < int(from)
		if r == int(to) || between && !jumps {
			regions |= 1 << r
		}
	}
	return regions
}

// regionsIn lists the regions of a set.
func regionsIn(set uint64) iter.Seq[uint8] {
	return func(yield func(uint8) bool) {
		for ; set != 0; set &= set - 1 {
			if !yield(uint8(bits.TrailingZeros64(set))) {
				return
			}
		}
	}
}

// lampNext is where a lamp may be after a reaction; fresh tells that its movement starts then.
type lampNext struct {
	lamp  lamp
	fresh bool
}

// follow gives what a lamp may do in a reaction: due tells that its movement is due, atOnce that it takes no time in any case.
func (l *lampDef) follow(out []lampNext, was lamp, w want, h hold, due, atOnce bool) []lampNext {
	for r := range regionsIn(l.arrivals(was, due)) {
		now := was
		now.region = r
		if now.doing == moving && l.regionOf(now.aim) == r {
			now = lamp{region: r}
		}
		level, hears := l.reach.imposed(h)
		if level != nil {
			now = lamp{region: l.regionOf(*level)}
		}
		if !hears || w.kind == nothing {
			out = append(out, lampNext{lamp: now})
			continue
		}
		if w.kind == openly {
			if bits.OnesCount64(w.mask) == 1 && len(l.paces) == 1 && !l.paces[0].soft {
				w = want{kind: asks, level: l.cuts[bits.TrailingZeros64(w.mask)]} // which level of the region makes no difference
			} else {
				out = l.wander(out, now, w.mask, atOnce)
				continue
			}
		}
		out = l.obey(out, now, w, atOnce)
	}
	return out
}

// arrivals gives the regions that a lamp may be in when a reaction begins: a movement that is due arrives. Of one whose request
// is not known it is not known whether it is due.
func (l *lampDef) arrivals(was lamp, due bool) uint64 {
	switch {
	case was.doing == unknown && l.slow():
		return 1<<was.region | was.mask
	case was.doing == moving && due:
		return 1 << l.regionOf(was.aim)
	}
	return 1 << was.region
}

// wander is what a lamp does whose request is not known, but in one of the regions of mask.
func (l *lampDef) wander(out []lampNext, now lamp, mask uint64, atOnce bool) []lampNext {
	regions := uint64(1) << now.region
	switch {
	case !l.slow():
		regions = mask
	case atOnce || l.instant():
		regions |= mask
	}
	for r := range regionsIn(regions) {
		out = append(out, lampNext{lamp: lamp{region: r, doing: unknown, mask: mask}})
	}
	return out
}

// obey is what a lamp does that is asked for a level.
func (l *lampDef) obey(out []lampNext, now lamp, w want, atOnce bool) []lampNext {
	p := slices.IndexFunc(l.paces, func(p pace) bool { return p.over == w.over })
	region := l.regionOf(w.level)
	there := lampNext{lamp: lamp{region: region}}
	if now.region == region {
		return append(out, there) // what is left of a movement plays no part
	}
	begin := func(p int) lampNext {
		return lampNext{lamp{region: now.region, doing: moving, aim: w.level, pace: uint8(p)}, true}
	}
	if now.doing == moving {
		switch {
		case now.aim == w.level: // it is on its way there
			return append(out, lampNext{lamp: now})
		case !l.paces[p].soft && !l.paces[now.pace].soft && l.paces[p].time > 0 && !atOnce:
			now.aim = w.level
			return append(out, lampNext{lamp: now})
		}
	}
	starts := l.paces[p].time > 0 && !atOnce
	if starts {
		out = append(out, begin(p))
	} else {
		out = append(out, there)
	}
	if now.doing == unknown {
		// It may be on its way there already. A movement that starts now by the slowest pace may do all that one can which
		// started earlier, or by another pace.
		slowest := p
		for k := range l.paces {
			if l.paces[k].time > l.paces[slowest].time {
				slowest = k
			}
		}
		if (slowest != p || !starts) && l.paces[slowest].time > 0 {
			out = append(out, begin(slowest))
		}
	}
	return out
}

// drift gives the regions in which a lamp may be seen next between two reactions, with no reaction that the model knows of.
func (l *lampDef) drift(is lamp) (regions uint64) {
	switch is.doing {
	case moving:
		return l.way(is.region, l.regionOf(is.aim))
	case unknown:
		if !l.slow() {
			return is.mask &^ (1 << is.region)
		}
		for r := range regionsIn(is.mask) {
			regions |= l.way(is.region, r)
		}
	}
	return regions
}

// settled is the lamp in a region that it has come to.
func (l *lampDef) settled(is lamp, region uint8) lamp {
	is.region = region
	if is.doing == moving && l.regionOf(is.aim) == region {
		return lamp{region: region}
	}
	return is
}
