// The memory of a search: discrete states, nodes, zones.

package explore

import (
	"bytes"
	"hash/maphash"
	"math"
	"unsafe"

	"lampwarden/checker/zone"
)

// none is the parent of an initial node.
const none int32 = -1

// node is a stored pair of discrete state and zone. A removed node keeps its
// parent and label for paths; its zone is reused.
type node struct {
	label   uint64
	zone    uint32 // offset in the zone arena
	parent  int32
	state   int32
	cost    int32
	removed bool
}

// entry is a node in the list of its discrete state.
type entry struct {
	size measure
	node int32
	cost int32
}

// keyEntry is one discrete state.
type keyEntry struct {
	hash   uint64
	off    uint32 // of the key in the key arena
	length uint32
	bounds uint32 // offset of L in the bounds arena; U follows
	clocks int32  // N of its zones
	list   []entry
}

// store holds everything that a search remembers.
type store struct {
	seed   maphash.Seed
	slots  []int32 // open addressing; state + 1, 0 is free
	keys   []keyEntry
	nodes  []node
	bytes  arena[byte]
	bounds arena[int32]
	zones  arena[zone.Bound]
	free   map[int][]uint32 // released zones, by number of bounds
	lists  int64            // bytes of all lists
}

// newStore is an empty store.
func newStore() *store {
	return &store{
		seed:  maphash.MakeSeed(),
		slots: make([]int32, 64),
		free:  map[int][]uint32{},
	}
}

// state gives the number of the discrete state with this key and this number of
// clocks, and whether it is new. Keys are compared in full.
func (s *store) state(key []byte, clocks int) (id int, isNew bool) {
	h := maphash.Bytes(s.seed, key)
	mask := uint64(len(s.slots) - 1)
	at := h & mask
	for s.slots[at] != 0 {
		id = int(s.slots[at] - 1)
		k := &s.keys[id]
		if k.hash == h && int(k.clocks) == clocks && bytes.Equal(s.key(id), key) {
			return id, false
		}
		at = (at + 1) & mask
	}
	id = len(s.keys)
	off := s.bytes.alloc(len(key))
	copy(s.bytes.at(off, len(key)), key)
	s.keys = append(s.keys, keyEntry{hash: h, off: off, length: uint32(len(key)), clocks: int32(clocks)})
	s.slots[at] = int32(id + 1)
	if 2*len(s.keys) > len(s.slots) {
		s.rehash()
	}
	return id, true
}

// rehash doubles the table.
func (s *store) rehash() {
	s.slots = make([]int32, 2*len(s.slots))
	mask := uint64(len(s.slots) - 1)
	for id := range s.keys {
		at := s.keys[id].hash & mask
		for s.slots[at] != 0 {
			at = (at + 1) & mask
		}
		s.slots[at] = int32(id + 1)
	}
}

// key is the key of a discrete state.
func (s *store) key(id int) []byte {
	k := &s.keys[id]
	return s.bytes.at(k.off, int(k.length))
}

// setBounds remembers the constants of a new discrete state.
func (s *store) setBounds(id int, l, u []int32) {
	k := &s.keys[id]
	n := int(k.clocks)
	k.bounds = s.bounds.alloc(2 * n)
	to := s.bounds.at(k.bounds, 2*n)
	for i := 1; i < n; i++ {
		to[i], to[n+i] = l[i], u[i]
	}
}

// lu gives the constants of a discrete state.
func (s *store) lu(id int) (l, u []int32) {
	k := &s.keys[id]
	n := int(k.clocks)
	b := s.bounds.at(k.bounds, 2*n)
	return b[:n], b[n:]
}

// zone is the zone of a node.
func (s *store) zone(id int32) []zone.Bound {
	n := int(s.keys[s.nodes[id].state].clocks)
	return s.zones.at(s.nodes[id].zone, n*n)
}

// addNode stores a node with a copy of the zone, in no list yet.
func (s *store) addNode(state int, z []zone.Bound, parent int32, label uint64, cost int32) int32 {
	var off uint32
	if f := s.free[len(z)]; len(f) > 0 {
		off = f[len(f)-1]
		s.free[len(z)] = f[:len(f)-1]
	} else {
		off = s.zones.alloc(len(z))
	}
	copy(s.zones.at(off, len(z)), z)
	id := int32(len(s.nodes))
	s.nodes = append(s.nodes, node{label: label, zone: off, parent: parent, state: int32(state), cost: cost})
	return id
}

// list puts a node into the list of its state.
func (s *store) list(id int32, size measure) {
	n := &s.nodes[id]
	k := &s.keys[n.state]
	was := cap(k.list)
	k.list = append(k.list, entry{size: size, node: id, cost: n.cost})
	s.lists += int64(cap(k.list)-was) * int64(unsafe.Sizeof(entry{}))
}

// release marks a node as removed and frees its zone; the caller takes it off
// the list.
func (s *store) release(id int32) {
	n := &s.nodes[id]
	n.removed = true
	size := int(s.keys[n.state].clocks)
	size *= size
	s.free[size] = append(s.free[size], n.zone)
}

// size is the memory in use, in bytes.
func (s *store) size() int64 {
	return int64(cap(s.slots))*4 +
		int64(cap(s.keys))*int64(unsafe.Sizeof(keyEntry{})) +
		int64(cap(s.nodes))*int64(unsafe.Sizeof(node{})) +
		s.bytes.size + s.bounds.size*4 + s.zones.size*4 + s.lists
}

// full reports whether an index is about to run out of its 32 bits.
func (s *store) full() bool {
	const margin = 1 << 24
	return len(s.nodes) > math.MaxInt32-margin || s.zones.next > math.MaxUint32-margin ||
		s.bytes.next > math.MaxUint32-margin || s.bounds.next > math.MaxUint32-margin
}

// path leads from an initial node to id.
func (s *store) path(id int32) []Step {
	length := 0
	for n := id; n != none; n = s.nodes[n].parent {
		length++
	}
	steps := make([]Step, length)
	for n := id; n != none; n = s.nodes[n].parent {
		length--
		rec := &s.nodes[n]
		steps[length] = Step{
			Key:   bytes.Clone(s.key(int(rec.state))),
			Label: rec.label,
			Cost:  int(rec.cost),
		}
	}
	return steps
}

// chunkBits sets the size of an arena's chunks, in elements.
const chunkBits = 16

// arena hands out runs of elements by offset. No run crosses a chunk, so none
// ever moves except in the first chunk, which starts small for the many searches
// that are.
type arena[T any] struct {
	chunks [][]T
	next   uint64 // offset of the next element
	size   int64  // elements of memory
}

// alloc gives the offset of n fresh elements.
func (a *arena[T]) alloc(n int) uint32 {
	const size = 1 << chunkBits
	used := int(a.next & (size - 1))
	if len(a.chunks) == 0 || a.next == uint64(len(a.chunks))*size || used+n > size {
		a.addChunk(n)
		used = 0
	}
	c := &a.chunks[a.next>>chunkBits]
	if used+n > len(*c) { // the first chunk, still small
		grown := make([]T, min(size, max(2*len(*c), used+n)))
		copy(grown, *c)
		a.size += int64(len(grown) - len(*c))
		*c = grown
	}
	off := a.next
	a.next += uint64(n)
	return uint32(off)
}

// addChunk starts a new chunk, or several in one piece for a run that needs more.
func (a *arena[T]) addChunk(n int) {
	const size = 1 << chunkBits
	a.next = uint64(len(a.chunks)) * size
	length := max(size, n)
	if len(a.chunks) == 0 && n <= size {
		length = max(n, 256)
	}
	a.chunks = append(a.chunks, make([]T, length))
	a.size += int64(length)
	for covered := size; covered < n; covered += size {
		a.chunks = append(a.chunks, nil)
	}
}

// at is the run of n elements at an offset.
func (a *arena[T]) at(off uint32, n int) []T {
	if n == 0 {
		return nil
	}
	const size = 1 << chunkBits
	at := int(off & (size - 1))
	return a.chunks[off>>chunkBits][at : at+n : at+n]
}
