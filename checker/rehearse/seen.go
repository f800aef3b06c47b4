// What the sensors see of the lamps (lang/SEMANTICS.md section 2, steps 1 and 5), and resting levels.

package rehearse

import (
	"sync/atomic"

	"lampwarden/lang/site"
)

// look is the part of step 1: "A circuit whose seeing timer is due is now seen at its target", the one of before.
func (l *circuitState) look(now Nanos) {
	if l.seeing && l.seenDue == now {
		l.seen, l.seeing, l.seenDue = l.aim, false, 0
	}
}

// see is step 5. The target of a circuit is its aim.
func (r *reaction) see(c site.CircuitID) {
	l, after := &r.after.circuits[c], r.s.Circuits[c].SeenAfter
	if after <= 0 || l.aim == r.before.circuits[c].aim {
		return
	}
	l.seeing, l.seenDue = false, 0
	if l.aim != l.seen {
		l.seeing, l.seenDue = true, r.at+FromMillis(after)
	}
}

// rests keeps the resting levels of each circuit, worked out when they are first asked for: most circuits stand in no
// sum, and to go through all settings for each of them would be slow on a large site.
type rests []atomic.Pointer[[]site.Level]

// rounded is the resting level that stands for the level in a sum.
func (p *plan) rounded(c site.CircuitID, l site.Level, up bool) site.Level {
	levels := p.rests[c].Load()
	if levels == nil {
		found := p.s.Rests(c)
		levels = &found
		p.rests[c].Store(levels)
	}
	return site.Round(*levels, l, up)
}
