// Discrete states of a slice: their fields and their packed form.

package machine

import (
	"encoding/binary"

	"lampwarden/checker/observe"
	"lampwarden/lang/site"
)

// Locations of While modes. Latch modes use locOff and locOn; States modes use
// the state's index.
const (
	locOff = iota
	locOn
	locWaiting
	locHolding
	locPulsing
	locSpent
)

// Values of frame.aim that are no level.
const (
	settled = -1 // not moving
	anyAim  = -2 // the request is unknown (a free mode may ask): any light at any moment
	noAsk   = -3 // of a colour: no mode asks for one, so that it stays as it is
)

// noSeg is the segment before start-up: no band holds.
const noSeg = -1

// frame is an unpacked discrete state. Slices over modes and inputs are indexed
// by the site's own ids; parts outside the slice stay zero.
type frame struct {
	in    []bool
	seg   int
	loc   []uint8
	ph    []uint16      // phase of the present sequence (phase.go)
	aft   []uint8       // how many of the state's "after" times have passed
	rec   []site.ModeID // recency, latest first; only modes under a latest rule
	reg   []uint8       // region of each lamp's level (lamp.go)
	aim   []int16       // aim of a moving lamp, settled or anyAim
	may   []uint64      // of a lamp whose aim is anyAim: the regions that its request can be in
	pace  []uint8       // which of the lamp's times a movement takes
	pick  []int16       // chosen level of an ambiguous request, -1 if it is not ambiguous
	since []bool        // whether each assumption's clock runs
	full  []bool        // of a Charge assumption: the battery was full when its charger was lost, or is full
	tgt   []int16       // target of each sight: the level that its lamp is to go to
	seen  []int16       // and the level at which the sensors see it
	down  bool          // the controller does not run
	leapt bool          // the local clock has jumped
	cool  uint64        // cooling timers that can not be due yet (abstraction.go)
	obs   observe.State
}

func (s *System) newFrame() *frame {
	return &frame{
		in: make([]bool, len(s.site.Inputs)), seg: noSeg,
		loc: make([]uint8, len(s.site.Modes)), ph: make([]uint16, len(s.site.Modes)), aft: make([]uint8, len(s.site.Modes)),
		rec: make([]site.ModeID, 0, len(s.latest)),
		reg: make([]uint8, len(s.lamps)), aim: make([]int16, len(s.lamps)), may: make([]uint64, len(s.lamps)), pace: make([]uint8, len(s.lamps)), pick: make([]int16, len(s.reqs)),
		since: make([]bool, len(s.assume)), full: make([]bool, len(s.assume)),
		tgt: make([]int16, len(s.sights)), seen: make([]int16, len(s.sights)),
	}
}

func (f *frame) copyFrom(g *frame) {
	copy(f.in, g.in)
	f.seg = g.seg
	copy(f.loc, g.loc)
	copy(f.ph, g.ph)
	copy(f.aft, g.aft)
	f.rec = append(f.rec[:0], g.rec...)
	copy(f.reg, g.reg)
	copy(f.aim, g.aim)
	copy(f.may, g.may)
	copy(f.pace, g.pace)
	copy(f.pick, g.pick)
	if len(f.since) > 0 {
		copy(f.since, g.since)
		copy(f.full, g.full)
	}
	if len(f.tgt) > 0 {
		copy(f.tgt, g.tgt)
		copy(f.seen, g.seen)
	}
	f.cool, f.obs, f.down, f.leapt = g.cool, g.obs, g.down, g.leapt
}

// mayBe is may of lamp i, 0 where it has no meaning.
func (f *frame) mayBe(i int) uint64 {
	if f.aim[i] == anyAim {
		return f.may[i]
	}
	return 0
}

// pack appends the frame's key to b. Fields that the slice can not change are
// left out; the layout is the same for every state of a System.
func (s *System) pack(b []byte, f *frame) []byte {
	var bits byte
	n := 0
	put := func(v bool) {
		if v {
			bits |= 1 << (n & 7)
		}
		if n++; n&7 == 0 {
			b = append(b, bits)
			bits = 0
		}
	}
	for _, i := range s.levels {
		put(f.in[i])
	}
	for i, v := range f.since {
		put(v)
		if s.assume[i].Kind == site.Charge {
			put(f.full[i])
		}
	}
	put(f.down)
	put(f.leapt)
	put(f.obs.Prev)
	b = append(b, bits)
	if s.clocked {
		b = binary.BigEndian.AppendUint16(b, uint16(f.seg))
	}
	if s.cooling != 0 {
		b = binary.BigEndian.AppendUint64(b, f.cool)
	}
	for i := range s.modes {
		m := &s.modes[i]
		b = append(b, f.loc[m.id])
		if m.phased {
			b = binary.BigEndian.AppendUint16(b, f.ph[m.id])
		}
		if m.hasAfter {
			b = append(b, f.aft[m.id])
		}
	}
	for i := range s.latest {
		if i < len(f.rec) {
			b = binary.BigEndian.AppendUint16(b, uint16(f.rec[i]))
		} else {
			b = append(b, 0xff, 0xff)
		}
	}
	for i := range s.lamps {
		b = append(b, f.reg[i])
		if s.lamps[i].moves() || s.lamps[i].free {
			b = binary.BigEndian.AppendUint16(b, uint16(f.aim[i]))
		}
		if s.lamps[i].free {
			b = binary.BigEndian.AppendUint64(b, f.mayBe(i))
		}
		if len(s.lamps[i].paces) > 1 {
			b = append(b, f.pace[i])
		}
	}
	for i := range s.sights {
		b = binary.BigEndian.AppendUint16(b, uint16(f.tgt[i]))
		b = binary.BigEndian.AppendUint16(b, uint16(f.seen[i]))
	}
	for i := range s.reqs {
		if s.reqs[i].ambiguous {
			b = binary.BigEndian.AppendUint16(b, uint16(f.pick[i]))
		}
	}
	return binary.BigEndian.AppendUint32(append(b, f.obs.Loc), f.obs.Count)
}

// unpack is the inverse of pack.
func (s *System) unpack(f *frame, b []byte) {
	n, base := 0, 0
	get := func() bool {
		v := b[base+n>>3]>>(n&7)&1 == 1
		n++
		return v
	}
	for _, i := range s.levels {
		f.in[i] = get()
	}
	for i := range f.since {
		f.since[i] = get()
		if s.assume[i].Kind == site.Charge {
			f.full[i] = get()
		}
	}
	f.down = get()
	f.leapt = get()
	f.obs.Prev = get()
	b = b[n>>3+1:]
	word := func() int16 {
		v := int16(binary.BigEndian.Uint16(b))
		b = b[2:]
		return v
	}
	octet := func() uint8 {
		v := b[0]
		b = b[1:]
		return v
	}
	f.seg, f.cool = noSeg, 0
	if s.clocked {
		f.seg = int(word())
	}
	if s.cooling != 0 {
		f.cool = binary.BigEndian.Uint64(b)
		b = b[8:]
	}
	for i := range s.modes {
		m := &s.modes[i]
		f.loc[m.id] = octet()
		if m.phased {
			f.ph[m.id] = uint16(word())
		}
		if m.hasAfter {
			f.aft[m.id] = octet()
		}
	}
	f.rec = f.rec[:0]
	for range s.latest {
		if v := word(); v >= 0 {
			f.rec = append(f.rec, site.ModeID(v))
		}
	}
	for i := range s.lamps {
		f.reg[i], f.aim[i] = octet(), settled
		if s.lamps[i].moves() || s.lamps[i].free {
			f.aim[i] = word()
		}
		f.may[i] = 0
		if s.lamps[i].free {
			f.may[i] = binary.BigEndian.Uint64(b)
			b = b[8:]
		}
		f.pace[i] = 0
		if len(s.lamps[i].paces) > 1 {
			f.pace[i] = octet()
		}
	}
	for i := range s.sights {
		f.tgt[i], f.seen[i] = word(), word()
	}
	for i := range s.reqs {
		f.pick[i] = -1
		if s.reqs[i].ambiguous {
			f.pick[i] = word()
		}
	}
	f.obs.Loc, f.obs.Count = b[0], binary.BigEndian.Uint32(b[1:])
}
