// Requirements on energy: how long a battery lasts, and what something uses.

package resolve

import (
	"math/big"
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// batteryLasts is `battery ups lasts at least 1 h`: from each time its charger is lost, what it feeds does not use up its
// capacity within that time. The battery is taken to be full when the charger is lost.
func (r *resolver) batteryLasts(b *syntax.BatteryLasts, q *site.Requirement) {
	q.Form, q.D = site.Energy, r.duration(b.D)
	s := r.find(b.Battery, kindBattery)
	if s == nil {
		return
	}
	bat := &r.site.Supplies[s.id]
	if bat.Flat == site.None {
		r.neverFlat(b.Battery.Span, s)
		return
	}
	if bat.ChargedBy == site.None {
		return // reported
	}
	fed := r.fedBy(site.SupplyID(s.id))
	if q.Draws, q.Standing = r.drawsOf(fed), bat.Standing; len(q.Draws) < len(fed) {
		r.noPower(b.Battery.Span, fed).Suggestion = "write, in its braces, `power 40 W`"
	}
	limit := new(big.Int).Mul(big.NewInt(bat.Capacity), big.NewInt(int64(bat.Usable)))
	q.Limit = limit.Div(limit, big.NewInt(int64(site.Full))).Int64()
	q.During = r.site.FeedDead(bat.ChargedBy)
}

// energyOf is `energy of TARGETS per 24 h at most 300 Wh`.
func (r *resolver) energyOf(sc scope, e *syntax.EnergyOf, q *site.Requirement) {
	q.Form, q.D, q.Limit = site.Energy, r.duration(e.D), e.Most.MilliwattHour
	ids, standing, sure := r.loadOf(sc, e.Targets)
	q.Draws, q.Standing = r.drawsOf(ids), standing
	switch {
	case !sure:
	case len(ids) == 0:
		r.errorf(source.EmptySelection, e.Targets.Span, "no circuit takes its power from this")
	case len(q.Draws) < len(ids):
		r.noPower(e.Targets.Span, ids)
	}
}

// loadOf lists the circuits that targets name, where the name of a supply means all that is fed by it, and the standing
// loads of the batteries among them, in milliwatts.
func (r *resolver) loadOf(sc scope, t *syntax.Targets) (ids []site.CircuitID, standing int64, sure bool) {
	var rest []*syntax.Target
	var supplies []site.SupplyID
	for _, x := range t.Terms {
		s := r.supplyOf(x)
		if s == site.None {
			rest = append(rest, x)
			continue
		}
		if slices.Contains(supplies, s) {
			r.errorf(source.ListedTwice, x.Span, "`%s` is listed twice", r.site.Supplies[s].Name)
			continue
		}
		supplies = append(supplies, s)
		ids = append(ids, r.fedBy(s)...)
		standing += r.site.Supplies[s].Standing
	}
	more, sure := r.terms(sc, rest)
	out, sureOut := r.terms(sc, t.Except)
	ids = without(unique(append(ids, more...)), out)
	return ids, standing, sure && sureOut && !r.unsure[kindCircuit]
}

// supplyOf gives the supply that a target names, or None.
func (r *resolver) supplyOf(x *syntax.Target) site.SupplyID {
	if x.Ref == nil || x.Ref.Numbers != nil {
		return site.None
	}
	s := r.names[x.Ref.Name.Name]
	if s == nil || s.kind != kindSupply && s.kind != kindBattery && s.kind != kindGenerator {
		return site.None
	}
	return site.SupplyID(s.id)
}

// fedBy lists the circuits that a supply feeds. (What a mains supply gives to charge a battery is not among them.)
func (r *resolver) fedBy(id site.SupplyID) []site.CircuitID {
	var out []site.CircuitID
	for i := range r.site.Circuits {
		if c := &r.site.Circuits[i]; c.FedBy == id && !c.Colour {
			out = append(out, site.CircuitID(i))
		}
	}
	return out
}

// drawsOf gives the power of each circuit that has one.
func (r *resolver) drawsOf(ids []site.CircuitID) []site.Term {
	var out []site.Term
	for _, id := range ids {
		if p := r.site.Circuits[id].Power; p > 0 {
			out = append(out, site.Term{Circuit: id, Weight: p})
		}
	}
	return out
}
