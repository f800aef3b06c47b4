// The levels at which a circuit may rest.

package site

import "slices"

// Rests lists the levels at which the circuit may come to rest, ascending: 0, whatever some setting asks of
// it (clamped), and its failure and power on levels.
func (s *Site) Rests(c CircuitID) []Level {
	cir := &s.Circuits[c]
	out := []Level{0}
	if cir.Fail != nil {
		out = append(out, *cir.Fail)
	}
	if cir.PowerOn != nil {
		out = append(out, *cir.PowerOn)
	}
	for m := range s.Modes {
		for _, st := range s.Modes[m].States {
			for _, sg := range st.Stages {
				for _, set := range sg.Settings {
					if slices.Contains(set.Circuits, c) {
						for _, cs := range set.Cases {
							out = append(out, cir.Clamp(cs.Level))
						}
					}
				}
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// Round gives the resting level that stands for level l in a sum: the least that is not below l if up, else
// the greatest that is not above it. rests is what Rests gives; l lies within it.
func Round(rests []Level, l Level, up bool) Level {
	i, found := slices.BinarySearch(rests, l)
	if !found && !up {
		i--
	}
	return rests[min(max(i, 0), len(rests)-1)]
}
