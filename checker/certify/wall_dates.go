// Whether the clock of one date stands for that of another.

package certify

import (
	"cmp"
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// countsFor tells whether what is found with this wall is as good for another dated site: the same things happen there in the
// same order, at the same distances if they matter. It may begin the day elsewhere in that order.
func (w *wall) countsFor(other *site.Site, clock dayClock) error {
	if own, _ := w.boundaries(w.kept.jumps); !slices.Equal(own, w.starts) {
		return fmt.Errorf("segments start where nothing happens, so that they say nothing of other dates")
	}
	o := &wall{s: other, kept: w.kept, cycle: w.cycle, period: w.period, watches: w.watches}
	var byDay bool
	o.starts, byDay = o.boundaries(o.kept.jumps)
	n := len(w.starts)
	if byDay && w.cycle == site.Day {
		return fmt.Errorf("something happens there on some days of the week only")
	}
	if len(o.starts) != n {
		return fmt.Errorf("there are %d segments instead of %d", len(o.starts), n)
	}
	if n == 0 {
		return nil
	}
	if err := o.leavesOut(clock); err != nil {
		return err
	}
	var first error
	for turn := range n {
		var err error
		for i := 0; i < n && err == nil; i++ {
			err = w.alike(i, o, (i+turn)%n, turn, clock)
		}
		if err == nil {
			return nil
		}
		first = cmp.Or(first, err)
	}
	return first
}
