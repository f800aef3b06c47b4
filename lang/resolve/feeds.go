// What takes a circuit's current away.

package resolve

import "lampwarden/lang/site"

// feeds sets when each circuit is dead, once all supplies are known.
func (r *resolver) feeds() {
	for i := range r.site.Circuits {
		c := &r.site.Circuits[i]
		if c.FedBy != site.None && !r.site.Supplies[c.FedBy].Battery {
			c.Dead = r.site.FeedDead(c.FedBy)
		}
	}
}
