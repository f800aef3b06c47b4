// When a battery can be flat (lang/SEMANTICS.md section 3, Charge).

package rehearse

import (
	"fmt"

	"lampwarden/lang/site"
)

// charge is what a Charge assumption remembers of its battery. Being flat needs no mark of its own: it begins while the
// charger is lost, and the end of that sets fullAt anew.
type charge struct {
	fullAt    Nanos // while the charger works: full from then on
	lostSince Nanos // while the charger is lost: since when
	wasFull   bool  // and whether the battery was full then
}

// change follows an input change.
func (b *charge) change(a *site.Assumption, ev Event) {
	switch {
	case ev.Input != a.Inputs[1]:
	case ev.Value:
		b.lostSince, b.wasFull = ev.At, ev.At >= b.fullAt
	default:
		b.fullAt = ev.At + FromMillis(a.Recharge)
	}
}

// when is window for a Charge, assumption i.
func (b *charge) when(e *environment, i int, in site.InputID) (w window, why string) {
	a := &e.s.Assumptions[i]
	flat, lost := a.Inputs[0], a.Inputs[1]
	w = anyTime()
	switch {
	case in == lost && !e.values[lost] && e.values[flat]: // "Lost may not become true while the battery is full and flat"
		w.before = b.fullAt
	case in == lost:
	case e.values[flat] && e.values[lost]:
		return w, fmt.Sprintf("would become false while %s is true", e.name(lost))
	case e.values[flat]:
	case !e.values[lost]:
		return w, fmt.Sprintf("would become true while %s is false", e.name(lost))
	case b.wasFull:
		w.from = b.lostSince + FromMillis(a.D)
	}
	return w, ""
}
