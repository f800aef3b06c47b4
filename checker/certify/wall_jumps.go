// Changes of the local clock that a certificate leaves out.

package certify

import (
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// leavesOut checks the jumps that are not kept: none may pass over a time at which something happens, forward, or come to one again,
// backward. Then it only makes one segment shorter or longer, which does not matter if enough of it is left. (A start at
// which the clock could only make a jump does not count: there is one jump in a run.)
func (w *wall) leavesOut(clock dayClock) error {
	happens, _ := w.boundaries(nil)
	for k := range w.s.Jumps {
		j := &w.s.Jumps[k]
		if slices.Contains(w.kept.jumps, k) {
			continue
		}
		if clock.exact {
			return fmt.Errorf("the change of the clock at %s is not kept, but the clock of the day is exact", w.clock(j.At))
		}
		from, length := j.At, j.By
		if j.By < 0 {
			from, length = j.At+j.By, -j.By
		}
		for i, t := range w.starts {
			if _, does := slices.BinarySearch(happens, t); does && round(t-from, site.Day) < length {
				return fmt.Errorf("the change of the clock at %s is not kept, but concerns %s", w.clock(j.At), w.clock(t))
			}
			// At comes in this segment if it comes sooner after its start than the next start; forward, it is shorter then.
			in := round(j.At-t, site.Day) < w.length(i) || w.length(i) > site.Day
			if left := w.length(i) - j.By; in && left < min(w.length(i), clock.counts) {
				return fmt.Errorf("the change of the clock at %s is not kept, but makes the segment from %s too short", w.clock(j.At), w.clock(t))
			}
		}
	}
	return nil
}
