// How daylight sensors see circuits (lang/SEMANTICS.md, section 2, step 5).

package certify

import "lampwarden/lang/site"

// sightDef is a circuit that sensors see.
type sightDef struct {
	circuit site.CircuitID
	after   site.Millis
	reach   reach
	clock   int
}

// look gives the target after a reaction; fresh tells that its timer starts.
func (d *sightDef) look(was sight, w want, h hold) (now sight, fresh bool) {
	now = was
	level, hears := d.reach.imposed(h)
	if level != nil {
		now.target = *level
	}
	if hears && w.kind == asks {
		now.target = w.level
	}
	return now, now.target != was.target && now.target != now.seen
}
