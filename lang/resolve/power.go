// Batteries that may run flat, and what the passes share about supplies.

package resolve

import (
	"math/big"
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// supplyNotes is what the passes share about supplies and restarts.
type supplyNotes struct {
	recharge map[site.SupplyID]site.Millis   // of batteries, where it is written
	backs    map[site.SupplyID]site.SupplyID // the mains supply behind a generator
	runUp    map[site.SupplyID]site.Millis   // the time that it takes to run up
	running  map[site.SupplyID]site.ModeID   // its mode
	returns  map[site.CircuitID]returnDelay
	boot     site.Millis // the controller `starts within` this; 0 if not given
}

// returnDelay is how long a circuit stays dead after its feed has come back.
type returnDelay struct {
	after site.Millis
	span  source.Span
}

func newSupplyNotes() supplyNotes {
	return supplyNotes{
		recharge: map[site.SupplyID]site.Millis{},
		backs:    map[site.SupplyID]site.SupplyID{},
		runUp:    map[site.SupplyID]site.Millis{},
		running:  map[site.SupplyID]site.ModeID{},
		returns:  map[site.CircuitID]returnDelay{},
	}
}

// The time that a battery takes from flat to full if it is not given: EN 60598-2-22 and EN 50171 ask for 24 h (from
// memory).
const defaultRecharge = 24 * 60 * 60 * 1000

// maxBattery bounds how long a battery is taken to last: the greatest duration that can be written.
const maxBattery = 366 * site.Day

// declareBattery enters a battery, and its input "NAME flat" if it can run flat: it has a capacity and a charger.
func (r *resolver) declareBattery(d *syntax.BatteryDecl) {
	s := r.site
	r.at[d] = len(s.Supplies)
	b := site.Supply{Name: d.Name.Name, Battery: true, Health: site.None, Flat: site.None, ChargedBy: site.None,
		Usable: site.Full, Span: d.Name.Span}
	capacity, charger := false, false
	for _, it := range d.Items {
		capacity = capacity || it.Capacity != nil
		charger = charger || it.ChargedBy != nil
	}
	if capacity && charger {
		b.Flat = site.InputID(len(s.Inputs))
		s.Inputs = append(s.Inputs, site.Input{Name: d.Name.Name + " flat", Kind: site.Flatness, Area: site.None, Span: d.Name.Span})
	}
	s.Supplies = append(s.Supplies, b)
	r.declare(d.Name, kindBattery, len(s.Supplies)-1)
}

func (r *resolver) battery(d *syntax.BatteryDecl) {
	b := &r.site.Supplies[r.at[d]]
	given := seen{}
	for _, it := range d.Items {
		switch {
		case it.Capacity != nil && r.first(given, "the capacity", it.Span):
			if b.Capacity = it.Capacity.MilliwattHour; b.Capacity == 0 {
				e := r.errorf(source.EmptyBattery, it.Span, "a battery of no capacity feeds nothing")
				e.Suggestion = "leave the capacity out to say that the battery never runs flat"
			}
		case it.Usable != nil && r.first(given, "the usable share", it.Span):
			b.Usable, _ = r.percent(it.Usable)
		case it.Standing != nil && r.first(given, "the standing load", it.Span):
			b.Standing = it.Standing.Milliwatts
		case it.ChargedBy != nil && r.first(given, "`charged by`", it.Span):
			if s := r.find(it.ChargedBy, kindSupply, kindGenerator); s != nil {
				b.ChargedBy = site.SupplyID(s.id)
			}
		case it.Recharge != nil && r.first(given, "`recharge`", it.Span):
			r.power.recharge[site.SupplyID(r.at[d])] = r.duration(it.Recharge)
		}
	}
}

// lostInput gives the input that is true while the mains behind a charger are lost. Behind a generator these are the
// mains that it backs: a battery that the set charges is not counted as charged before the mains return, which errs
// on the safe side.
func (r *resolver) lostInput(charger site.SupplyID) site.InputID {
	if mains, ok := r.power.backs[charger]; ok {
		charger = mains
	}
	return r.site.Supplies[charger].Health
}

// knownLoads reports circuits without a power on batteries that may run flat: they would count as nothing, and the battery
// would seem to last longer than it does.
func (r *resolver) knownLoads() {
	for i := range r.site.Supplies {
		b := &r.site.Supplies[i]
		if fed := r.fedBy(site.SupplyID(i)); b.Flat != site.None && !r.takenFull(site.SupplyID(i)) && len(r.drawsOf(fed)) < len(fed) {
			d := r.noPower(b.Span, fed)
			d.Notes = append(d.Notes, "so nothing tells how long the battery `"+b.Name+"` lasts")
			d.Suggestion = "write, in its braces, `power 40 W`"
		}
	}
}

// batteries makes the assumption of every battery that can run flat: how long it lasts at least, from full, with all
// that it feeds at the greatest level at which it ever rests.
func (r *resolver) batteries() {
	var loads []*big.Int // milliwatts times Full
	for i := range r.site.Supplies {
		b := &r.site.Supplies[i]
		if b.Flat == site.None || r.takenFull(site.SupplyID(i)) {
			continue
		}
		if loads == nil {
			loads = r.greatestLoads()
		}
		load := new(big.Int).Mul(big.NewInt(b.Standing), big.NewInt(int64(site.Full)))
		load.Add(load, loads[i])
		lasts := maxBattery
		if load.Sign() > 0 {
			// milliwatt-hours times hundredths of a per cent, in ms
			e := new(big.Int).Mul(big.NewInt(b.Capacity), big.NewInt(int64(b.Usable)))
			e.Mul(e, big.NewInt(3_600_000))
			if e.Div(e, load); e.IsInt64() {
				lasts = min(lasts, site.Millis(e.Int64()))
			}
		}
		recharge, ok := r.power.recharge[site.SupplyID(i)]
		if !ok {
			recharge = defaultRecharge
		}
		r.assume(site.Assumption{Kind: site.Charge, Inputs: []site.InputID{b.Flat, r.lostInput(b.ChargedBy)}, D: lasts,
			Recharge: recharge, Span: b.Span})
	}
}

// takenFull tells whether the site assumes that a battery is never flat. Its feed then never dies, and nothing need be
// said of how long it lasts, which spares every proof an input and two clocks.
func (r *resolver) takenFull(id site.SupplyID) bool {
	return slices.ContainsFunc(r.site.Assumptions, func(a site.Assumption) bool {
		return a.Kind == site.AtMost && a.N == 0 && slices.Contains(a.Inputs, r.site.Supplies[id].Flat)
	})
}

// feedDead is site.FeedDead, but for a battery that is taken never to be flat.
func (r *resolver) feedDead(id site.SupplyID) *site.Expr {
	if id != site.None && r.site.Supplies[id].Battery && r.takenFull(id) {
		return nil
	}
	return r.site.FeedDead(id)
}

// greatestLoads sums for every supply the power of its circuits times the greatest level at which each may rest
// (what site.Rests ends with).
func (r *resolver) greatestLoads() []*big.Int {
	most := make([]site.Level, len(r.site.Circuits))
	for i := range r.site.Circuits {
		for _, l := range []*site.Level{r.site.Circuits[i].Fail, r.site.Circuits[i].PowerOn} {
			if l != nil {
				most[i] = max(most[i], *l)
			}
		}
	}
	for m := range r.site.Modes {
		for _, st := range r.site.Modes[m].States {
			for _, stage := range st.Stages {
				for _, set := range stage.Settings {
					level := site.Level(0)
					for _, c := range set.Cases {
						level = max(level, c.Level)
					}
					for _, c := range set.Circuits {
						most[c] = max(most[c], r.site.Circuits[c].Clamp(level))
					}
				}
			}
		}
	}
	out := make([]*big.Int, len(r.site.Supplies))
	for i := range out {
		out[i] = new(big.Int)
	}
	for i := range r.site.Circuits {
		if c := &r.site.Circuits[i]; c.FedBy != site.None {
			out[c.FedBy].Add(out[c.FedBy], new(big.Int).Mul(big.NewInt(c.Power), big.NewInt(int64(most[i]))))
		}
	}
	return out
}

// batteryAtom is `ups flat` or `ups charged`.
func (r *resolver) batteryAtom(a *syntax.NameAtom, s *symbol) *site.Expr {
	b := &r.site.Supplies[s.id]
	flat := &site.Expr{Op: site.OpInput, Input: b.Flat, Span: a.Span}
	switch {
	case len(a.In) > 0 || a.Stage != nil || a.Light != nil || a.State != "flat" && a.State != "charged":
		if a.State == "" && len(a.In) == 0 && a.Stage == nil && a.Light == nil {
			d := r.errorf(source.WrongKind, a.Name.Span, "`%s` is a battery, which is no condition", s.name)
			relate(d, s.span, "declared here")
			d.Suggestion = "write `" + s.name + " flat` or `" + s.name + " charged`"
			return poison(a.Span)
		}
		return r.wrongWord(a, s, "`flat` or `charged`")
	case b.Flat == site.None:
		r.neverFlat(a.Span, s)
		return poison(a.Span)
	case a.State == "charged":
		return not(flat, a.Span)
	}
	return flat
}

// neverFlat reports words on a battery of which nothing says that it can run flat.
func (r *resolver) neverFlat(sp source.Span, s *symbol) {
	d := r.errorf(source.NeverFlat, sp, "the battery `%s` is taken never to run flat", s.name)
	relate(d, s.span, "declared here")
	d.Suggestion = "give it its `capacity 600 Wh` and `charged by mains`"
}
