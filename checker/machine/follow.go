// Following a path of labels symbolically.

package machine

import (
	"slices"

	"lampwarden/checker/explore"
	"lampwarden/checker/observe"
	"lampwarden/checker/zone"
)

// Calm tells whether the environment does nothing in a state of the observer.
func (s *System) Calm(o observe.State) bool { return s.obs.Calm != nil && s.obs.Calm(o) }

// Follow goes along the labels, with all clocks exact, up to the first state in which stop holds of the observer. It returns
// that state with all values of the clocks with which the labels can lead there, or false if they can not.
func (s *System) Follow(labels []uint64, stop func(observe.State) bool) (key []byte, z *zone.DBM, ok bool) {
	defer s.Abstract(s.relaxed, s.cooling)
	s.Abstract(0, 0)
	for k, l := range labels {
		var next []byte
		var nz *zone.DBM
		take := func(x explore.Succ) bool {
			if x.Label != l {
				return true
			}
			next, nz = slices.Clone(x.Key), zone.Universe(1)
			nz.CopyFrom(x.Zone)
			return false
		}
		if k == 0 {
			s.Initial(take)
		} else {
			s.Successors(key, z, take)
		}
		if next == nil {
			return nil, nil, false
		}
		key, z = next, nz
		f := s.newFrame()
		s.unpack(f, key)
		if stop(f.obs) {
			return key, z, true
		}
	}
	return nil, nil, false
}
