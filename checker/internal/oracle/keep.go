// Keeping one part of a site and all that it reads.

package oracle

import (
	"slices"

	"lampwarden/lang/site"
)

func (k *kept) input(i site.InputID) {
	k.inputs[i] = k.may[i]
	if k.inputs[i] && k.s.Inputs[i].Kind == site.Calendar {
		k.clock = true
	}
}

// anyEvent keeps an input, of events at least one.
func (k *kept) anyEvent(i site.InputID) {
	k.input(i)
	for e := range k.events {
		if e.input == i {
			return
		}
	}
	if k.s.Inputs[i].Kind.IsEvent() {
		k.events[event{i, site.Tap}] = true
	}
}

func (k *kept) band(b site.BandID) {
	k.bands[b], k.clock = true, true
	k.days(k.s.Bands[b].Days)
}

// days keeps the day of the week if a set does not have them all.
func (k *kept) days(on site.Days) {
	const all = 1<<7 - 1
	k.weekly = k.weekly || on != 0 && on != all
}

func (k *kept) control() {
	if d := k.s.Controller.Down; d != nil && !k.down {
		k.down = true
		k.reads(d)
	}
}

func asksAny(m *site.Mode, circuits []bool) bool {
	for _, st := range m.States {
		for _, g := range st.Stages {
			for _, set := range g.Settings {
				if slices.ContainsFunc(set.Circuits, func(c site.CircuitID) bool { return circuits[c] }) {
					return true
				}
			}
		}
	}
	return false
}

// mode keeps a mode and everything it reads.
func (k *kept) mode(id site.ModeID) {
	if k.modes[id] {
		return
	}
	k.modes[id] = true
	m := &k.s.Modes[id]
	if !m.Plant {
		k.control()
	}
	eachClock(m, k.strikes)
	eachCondition(m, k.reads)
}

func (k *kept) strikes(t *site.Trigger) {
	k.clock = true
	k.days(t.Days)
}

func (k *kept) reads(e *site.Expr) {
	e.Walk(func(x *site.Expr) {
		switch x.Op {
		case site.OpInput:
			k.input(x.Input)
		case site.OpEvent:
			k.input(x.Input)
			k.events[event{x.Input, x.Gesture}] = true
		case site.OpBand:
			k.band(x.Band)
		case site.OpStage:
			k.sequences[x.Mode] = true
			k.mode(x.Mode)
		case site.OpMode, site.OpState:
			k.mode(x.Mode)
		case site.OpLight:
			k.lamps[x.Circuit], k.levels[x.Circuit] = true, true
		case site.OpSum:
			for _, t := range x.Terms {
				switch c := t.Circuit; {
				case !x.Seen:
					k.lamps[c], k.levels[c] = true, true
				case k.s.Circuits[c].SeenAfter > 0:
					k.lamps[c], k.seen[c] = true, true
				}
			}
		}
	})
}
