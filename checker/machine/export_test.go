package machine

import "slices"

// Stand gives the labels that stand for those of an exact path while clocks are relaxed as now: it starts in the first of the
// segments that are not told apart then.
func (s *System) Stand(labels []uint64) []uint64 {
	out := slices.Clone(labels)
	if len(out) > 0 && s.clocked {
		sg := int(out[0] >> 14 & (1<<10 - 1))
		out[0] += uint64(sg%s.cycle()-sg) << 14
	}
	return out
}
