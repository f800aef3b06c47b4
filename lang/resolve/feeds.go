// What takes a circuit's current, its control or the controller away: supplies and faults, put into the conditions
// of circuits, controller and modes. This is done when all faults have been named.

package resolve

import (
	"fmt"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// feeds sets when each circuit is dead or cut, and when the controller is down.
func (r *resolver) feeds() {
	r.generatorFaults()
	r.deadCircuits()
	r.feedColours()
	r.controllerDown()
	r.stickInputs()
}

// deadCircuits: a circuit is dead with its feed, for as long after that as its return is delayed, and while it has
// failed.
func (r *resolver) deadCircuits() {
	type lateReturn struct {
		feed  site.SupplyID
		after site.Millis
	}
	late := map[lateReturn]site.ModeID{}
	for i := range r.site.Circuits {
		c := &r.site.Circuits[i]
		c.Dead = r.feedDead(c.FedBy)
		if d, ok := r.power.returns[site.CircuitID(i)]; ok && c.Dead != nil {
			key := lateReturn{c.FedBy, d.after}
			if _, ok := late[key]; !ok {
				late[key] = r.addPlant(fmt.Sprintf("%s return delay %s", r.site.Supplies[c.FedBy].Name, d.after), c.Dead, d.after, d.span)
			}
			c.Dead = &site.Expr{Op: site.OpMode, Mode: late[key], Span: d.span}
		}
		if in, ok := r.faults.failed[site.CircuitID(i)]; ok {
			c.Dead = either(c.Dead, r.faultExpr(in))
		}
		if r.faults.bus != site.None && !c.Output {
			c.Cut = r.faultExpr(r.faults.bus)
		}
	}
}

// controllerDown: the controller is down with its feed and by the fault "controller down", and for its starting time
// after both.
func (r *resolver) controllerDown() {
	c := &r.site.Controller
	c.Down = r.feedDead(c.FedBy)
	if r.faults.down != site.None {
		c.Down = either(c.Down, r.faultExpr(r.faults.down))
	}
	if c.Down != nil && r.power.boot > 0 {
		id := r.addPlant("controller starting", c.Down, r.power.boot, c.Span)
		c.Down = &site.Expr{Op: site.OpMode, Mode: id, Span: c.Span}
	}
}

// addPlant makes a plant mode that is active while the condition holds and for some time after it.
func (r *resolver) addPlant(name string, cond *site.Expr, after site.Millis, sp source.Span) site.ModeID {
	id := r.addMode(site.Mode{Name: name, Kind: site.While, Plant: true, Hidden: true, Cond: cond, OffDelay: after, Span: sp})
	r.needsOf(id, cond)
	return id
}

// generatorFaults: a generator that fails to start does not run.
func (r *resolver) generatorFaults() {
	for id, in := range r.faults.noStart {
		m := &r.site.Modes[r.power.running[id]]
		m.Cond = &site.Expr{Op: site.OpAnd, Kids: []*site.Expr{m.Cond, not(r.faultExpr(in), m.Span)}, Span: m.Span}
	}
}

// either joins two conditions by "or"; the first may be nil.
func either(a, b *site.Expr) *site.Expr {
	if a == nil {
		return b
	}
	return &site.Expr{Op: site.OpOr, Kids: []*site.Expr{a, b}, Span: a.Span}
}

// feedNamed finds what something is fed by.
func (r *resolver) feedNamed(id *syntax.Ident) site.SupplyID {
	if s := r.find(id, kindSupply, kindBattery, kindGenerator); s != nil {
		return site.SupplyID(s.id)
	}
	return site.None
}

// stands takes the level at which a circuit stands when something is lost. It is clamped when the range is known.
func (r *resolver) stands(l *syntax.Level) *site.Level {
	level := r.level(l)
	if l.Colour != nil {
		d := r.errorf(source.WrongWord, l.Colour.Span, "a circuit that is out of control tells its level only, no colour")
		d.Suggestion = "leave it out"
	}
	return &level
}

// clampStands brings the levels at which circuits stand into their ranges, when these are known.
func (r *resolver) clampStands() {
	clamped := func(c *site.Circuit, l *site.Level) *site.Level {
		if l == nil {
			return nil
		}
		level := c.Clamp(*l)
		return &level
	}
	for i := range r.site.Circuits {
		c := &r.site.Circuits[i]
		c.Fail, c.PowerOn = clamped(c, c.Fail), clamped(c, c.PowerOn)
	}
}

// returnsAfter notes the delay with which the circuits of a declaration come back; fed tells that a feed is given.
func (r *resolver) returnsAfter(items []*syntax.CircuitItem, fed bool, ids []site.CircuitID) {
	var item *syntax.CircuitItem
	for _, it := range items {
		fed = fed || it.FedBy != nil
		if item == nil && it.ReturnsAfter != nil {
			item = it
		}
	}
	if item == nil {
		return
	}
	if !fed {
		e := r.errorf(source.MissingClause, item.Span, "nothing says what the circuit waits for: it has no `fed by`")
		e.Suggestion = "write `fed by mains`"
	}
	delay := returnDelay{after: r.duration(item.ReturnsAfter), span: item.Span}
	for _, id := range ids {
		r.power.returns[id] = delay
	}
}
