// Moves of lamps between reactions.

package certify

// drifts gives what may come of lamps that move with nothing due and no event: one lamp on its way, or any of those whose requests
// are not known, at once, since one thing that is not known may move them all.
func (m *model) drifts(s *state) (out []successor) {
	moved := func(t *state) {
		moments := []truth{m.truth(t, -1)}
		out = m.observed(out, successor{state: t}, [2]bool{}, false, moments)
	}
	together := []*state{s}
	for i := range m.lamps {
		l := &m.lamps[i]
		is := s.lamps[i]
		regions := regionsIn(l.drift(is))
		if is.doing == unknown {
			base := together
			for r := range regions {
				for _, b := range base {
					t := b.clone()
					t.lamps[i] = l.settled(is, r)
					together = append(together, t)
				}
				if m.wide = m.wide || len(together) > maxWays; m.wide {
					return nil
				}
			}
			continue
		}
		for r := range regions {
			t := s.clone()
			t.lamps[i] = l.settled(is, r)
			moved(t)
		}
	}
	for _, t := range together[1:] {
		moved(t)
	}
	return out
}
