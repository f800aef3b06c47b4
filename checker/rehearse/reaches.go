// Whether a run gets somewhere in time: a witness for "can always return" (lang/SEMANTICS.md section 5).

package rehearse

import "lampwarden/lang/site"

// Reaches tells whether p is true in the run at from, after all that happened then, or at a moment at most within later,
// and when first. A run that does is a witness that from the state at from one can return to p; one that does not says
// nothing of the others. What is after the run's end is not seen.
func Reaches(tl *Timeline, p *site.Expr, from, within Nanos) (at Nanos, ok bool) {
	i := tl.stepAt(from)
	if i < 0 || from > tl.Script.End {
		return 0, false
	}
	if tl.after(i).holds(p) {
		return from, true
	}
	for _, m := range momentsOf(tl) {
		if m.step > i && m.at <= min(from+within, tl.Script.End) && m.view.holds(p) {
			return m.at, true
		}
	}
	return 0, false
}
