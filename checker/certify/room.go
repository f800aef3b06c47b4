// Room for states, which are made by the million and last for a moment.

package certify

import "lampwarden/lang/site"

// slab cuts many small pieces from larger ones.
type slab[T any] struct{ left []T }

// take gives a piece of n zero values.
func (s *slab[T]) take(n int) []T {
	if n > len(s.left) {
		s.left = make([]T, max(n, 512))
	}
	out := s.left[:n:n]
	s.left = s.left[n:]
	return out
}

// copied gives a piece with the values of another one.
func (s *slab[T]) copied(of []T) []T {
	if len(of) == 0 {
		return nil
	}
	out := s.take(len(of))
	copy(out, of)
	return out
}

// room is where the states of a model, and what belongs to them, lie.
type room struct {
	states slab[state]
	flags  slab[bool]
	places slab[place]
	lamps  slab[lamp]
	levels slab[site.Level]
	sights slab[sight]
	order  slab[int]

	successors slab[successor]
	arrivals   slab[arrival]
	running    slab[running]

	// What is used up before it is needed again.
	wants     []want
	lampNexts []lampNext
}
