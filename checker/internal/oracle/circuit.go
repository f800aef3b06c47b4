// Circuits in the state: aims, regions of the level.

package oracle

import (
	"slices"

	"lampwarden/lang/site"
)

// circuitPlace is a circuit whose request is resolved.
type circuitPlace struct {
	id          site.CircuitID
	sig, choice int // the ambiguity and what was chosen, plus one; 0: not ambiguous
	lamp        bool
	level       int // place of the level's region
	aim         int // place of the aim's index
	left        int // place of the ticks until the movement is due
	slow        int // place of: the running movement is a ramp; absent if that needs no telling
	seen        int // place of the index of the aim at which it is seen; absent if nothing sees it
	seeing      int // place of the ticks until it is seen at its aim
	seenAfter   int
	aims        []site.Level // the levels at which it may rest, ascending
	regions     []site.Level // lower ends, ascending
	looks       []int        // by region: regions that no comparison tells apart have the same number
}

func (m *model) circuitPlace(id site.CircuitID) circuitPlace {
	c := &m.s.Circuits[id]
	p := circuitPlace{id: id, sig: m.place(), choice: m.place(), lamp: m.k.lamps[id], slow: absent, seen: absent, seeing: absent,
		aims: m.s.Rests(id)}
	if !p.lamp {
		return p
	}
	p.level, p.aim, p.left = m.place(), m.place(), m.place()
	if c.Fade == 0 && m.k.levels[id] && m.ramps(id) {
		p.slow = m.place()
	}
	if m.k.seen[id] {
		p.seen, p.seeing, p.seenAfter = m.place(), m.place(), m.ticks(c.SeenAfter)
	}
	if p.regions, p.looks = []site.Level{0}, []int{0}; m.k.levels[id] {
		m.cut(&p)
	}
	return p
}

// ramps tells whether some setting reaches a level of the circuit by a ramp.
func (m *model) ramps(id site.CircuitID) bool {
	ramps := false
	for i := range m.s.Modes {
		eachCase(&m.s.Modes[i], func(set *site.Setting, ca *site.Case) {
			ramps = ramps || ca.Over > 0 && slices.Contains(set.Circuits, id)
		})
	}
	return ramps
}

// cut cuts the levels into regions.
func (m *model) cut(p *circuitPlace) {
	c := &m.s.Circuits[p.id]
	bounds := []site.Level{0}
	if m.k.dark[p.id] {
		bounds = append(bounds, 1) // whether it is dark decides how its colour moves
	}
	if c.Colour {
		bounds = append(bounds, site.LeastKelvin) // so does whether it has a temperature
	}
	for _, e := range m.q.exprs {
		e.Walk(func(x *site.Expr) {
			switch {
			case x.Op == site.OpLight && x.Circuit == p.id:
				bounds = append(bounds, x.Lo, x.Hi+1)
			case x.Op == site.OpSum && !x.Seen && mentions(x.Terms, p.id):
				bounds = append(bounds, rounded(p.aims, x.Up)...)
			}
		})
	}
	if mentions(m.q.draws, p.id) {
		bounds = append(bounds, rounded(p.aims, true)...)
	}
	slices.Sort(bounds)
	seen := slices.Compact(bounds)
	p.regions, p.looks = slices.Clone(seen), nil
	if c.Fade == 0 && m.s.Controller.ReactsWithin > 0 {
		// Whether a movement (with no ramp) has ended, its level being exactly at the aim, decides the
		// due time of the next one: each aim is a region of its own.
		for _, l := range p.aims {
			p.regions = append(p.regions, l, l+1)
		}
		slices.Sort(p.regions)
		p.regions = slices.Compact(p.regions)
	}
	for _, l := range p.regions {
		i, found := slices.BinarySearch(seen, l)
		if !found {
			i--
		}
		p.looks = append(p.looks, i)
	}
}

// rounded gives the lower ends of the stretches of level that count as one
// resting level in a sum.
func rounded(rests []site.Level, up bool) []site.Level {
	out := slices.Clone(rests)
	if up {
		for i := range out {
			out[i]++
		}
	}
	return out
}

func mentions(terms []site.Term, c site.CircuitID) bool {
	return slices.ContainsFunc(terms, func(t site.Term) bool { return t.Circuit == c })
}

// region gives the index of the region of a level.
func (p *circuitPlace) region(l site.Level) uint16 {
	i, found := slices.BinarySearch(p.regions, l)
	if !found {
		i--
	}
	return uint16(i)
}

// present gives a level of the region where the lamp is: no comparison and no
// rounding tells it from the others of the region.
func (p *circuitPlace) present(v []uint16) site.Level { return p.regions[v[p.level]] }

// aimIndex gives the index of a level among the aims.
func (p *circuitPlace) aimIndex(l site.Level) uint16 {
	i, _ := slices.BinarySearch(p.aims, l)
	return uint16(i)
}

// isAim tells whether a region is an aim alone.
func (p *circuitPlace) isAim(r int) bool {
	_, found := slices.BinarySearch(p.aims, p.regions[r])
	return found && r+1 < len(p.regions) && p.regions[r+1] == p.regions[r]+1
}
