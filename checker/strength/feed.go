// Mutants of what circuits and the controller are fed by, where circuits stand without, and how soon they follow.

package strength

import (
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// slow is by how much a fade or the controller's reaction is lengthened: twice the 5 s within which EN 1838:2013, clause 4.2.6,
// asks for half of the light of an escape route.
const slow site.Millis = 10_000

// feeds makes the mutants of every circuit.
func (b *builder) feeds() {
	for i := range b.s.Circuits {
		id := site.CircuitID(i)
		c := &b.s.Circuits[i]
		if c.Output || c.Colour {
			continue
		}
		at := func(kind Kind, text string) *maker {
			k := b.rule(kind, c.Span, text, c.Name+": "+text)
			k.where = c.Name
			k.touches = touch{circuits: b.withColour(id)}
			return k
		}
		if c.FedBy != site.None {
			k := at(FeedRule, "fed by "+b.s.Supplies[c.FedBy].Name)
			for _, f := range b.otherFeeds(c.FedBy) {
				if k.safety = NoSafety; b.emergency(c.FedBy) && !b.emergency(f) {
					k.safety = b.light[i]
				}
				k.add("fed by "+b.s.Supplies[f].Name+" instead", b.sameFeed(c.FedBy, f), func(s *site.Site) { refeed(s, id, f) })
			}
		}
		b.stands(id, at)
		b.fade(id, at)
	}
}

// withColour gives a circuit and its colour.
func (b *builder) withColour(id site.CircuitID) []site.CircuitID {
	out := []site.CircuitID{id}
	for i := range b.s.Circuits {
		if c := &b.s.Circuits[i]; c.Colour && c.Light == id {
			out = append(out, site.CircuitID(i))
		}
	}
	return out
}

// stands makes the mutants of the levels at which a circuit stands when the controller does not reach it, and when its feed comes
// back.
func (b *builder) stands(id site.CircuitID, at func(Kind, string) *maker) {
	c := &b.s.Circuits[id]
	level := func(what string, l *site.Level, same string, safety Safety, of func(*site.Circuit) **site.Level) {
		if l == nil {
			return
		}
		other := c.Clamp(site.Full - c.Clamp(*l)/site.Full*site.Full) // off for full, else full
		k := at(FeedRule, what+" "+b.levelText(id, *l))
		k.safety = safety
		k.add("left out", same, func(s *site.Site) { *of(&s.Circuits[id]) = nil })
		k.add(b.levelText(id, other)+" instead", same, func(s *site.Site) { *of(&s.Circuits[id]) = &other })
	}
	same := ""
	if c.Cut == nil && b.s.Controller.Down == nil {
		same = "nothing takes the circuit out of the controller's reach"
	}
	level("system failure level", c.Fail, same, b.guarded(id), func(c *site.Circuit) **site.Level { return &c.Fail })
	same = ""
	if c.Dead == nil {
		same = "nothing takes the circuit's current away"
	}
	safety := NoSafety
	if feedDead(b.s, c.FedBy) != nil { // else the level is only taken after the lamp itself has failed
		safety = b.guarded(id)
	}
	level("power on level", c.PowerOn, same, safety, func(c *site.Circuit) **site.Level { return &c.PowerOn })
}

// fade makes the mutants of a fade. Where none is given a slow one is a change all the same.
func (b *builder) fade(id site.CircuitID, at func(Kind, string) *maker) {
	c := &b.s.Circuits[id]
	if c.Switched {
		return
	}
	text := "no fade"
	if c.Fade > 0 {
		text = "fade " + c.Fade.String()
	}
	k := at(SpeedRule, text)
	k.safety = b.guarded(id)
	k.add("fade "+(c.Fade+slow).String()+" instead", "", func(s *site.Site) { s.Circuits[id].Fade = c.Fade + slow })
}

// emergency tells whether a supply stands in for the mains: a battery, or a generator.
func (b *builder) emergency(id site.SupplyID) bool { return emergency(b.s, id) }

func emergency(s *site.Site, id site.SupplyID) bool {
	return id != site.None && (s.Supplies[id].Battery || s.Supplies[id].Dead != nil)
}

// otherFeeds gives those to try instead of a feed: the first of each kind (mains, generator, battery), and the mains
// behind an emergency supply.
func (b *builder) otherFeeds(fed site.SupplyID) (out []site.SupplyID) {
	kind := func(id site.SupplyID) int {
		switch f := &b.s.Supplies[id]; {
		case f.Battery:
			return 2
		case f.Dead != nil:
			return 1
		}
		return 0
	}
	seen := map[int]bool{}
	if behind := b.behind(fed); behind != site.None {
		out, seen[0] = append(out, behind), true
	}
	for i := range b.s.Supplies {
		id := site.SupplyID(i)
		if id == fed || seen[kind(id)] {
			continue
		}
		seen[kind(id)] = true
		out = append(out, id)
	}
	return out
}

// behind gives the mains supply that charges a battery or that a generator backs, else None.
func (b *builder) behind(id site.SupplyID) site.SupplyID {
	f := &b.s.Supplies[id]
	switch {
	case f.Battery && f.ChargedBy != site.None && b.emergency(f.ChargedBy):
		return b.behind(f.ChargedBy)
	case f.Battery:
		return f.ChargedBy
	}
	out := site.SupplyID(site.None)
	f.Dead.Walk(func(e *site.Expr) {
		for i := range b.s.Supplies {
			if g := &b.s.Supplies[i]; e.Op == site.OpInput && !g.Battery && g.Health == e.Input && out == site.None {
				out = site.SupplyID(i)
			}
		}
	})
	return out
}

// feedDead is when a supply gives no current; one that is assumed never to be flat always does.
func feedDead(s *site.Site, id site.SupplyID) *site.Expr {
	if id == site.None {
		return nil
	}
	if f := &s.Supplies[id]; f.Battery && f.Flat != site.None && slices.ContainsFunc(s.Assumptions, func(a site.Assumption) bool {
		return a.Kind == site.AtMost && a.N == 0 && slices.Contains(a.Inputs, f.Flat)
	}) {
		return nil
	}
	return s.FeedDead(id)
}

// sameFeed: both feeds live and die together.
func (b *builder) sameFeed(fed, other site.SupplyID) string {
	if equal(feedDead(b.s, fed), feedDead(b.s, other)) && !b.counted(fed) && !b.counted(other) {
		return "both supplies live and die together"
	}
	return ""
}

// refeed gives a circuit another feed. The delay of its return, if it has one, was that of the feed it had and goes with it.
func refeed(s *site.Site, id site.CircuitID, to site.SupplyID) {
	from := s.Circuits[id].FedBy
	old, now := feedDead(s, from), feedDead(s, to)
	for i := range s.Circuits {
		c := &s.Circuits[i]
		if site.CircuitID(i) == id || c.Colour && c.Light == id {
			c.Dead = replaced(s, c.Dead, old, now)
		}
	}
	recount(s, id, from, to)
}

// controller makes the mutants of what runs the modes.
func (b *builder) controller() {
	c := &b.s.Controller
	if c.FedBy != site.None {
		k := b.rule(FeedRule, c.Span, "", "controller fed by "+b.s.Supplies[c.FedBy].Name)
		k.touches = touch{all: true}
		for _, f := range b.otherFeeds(c.FedBy) {
			if k.safety = NoSafety; b.emergency(c.FedBy) && !b.emergency(f) && !b.held() {
				k.safety = WayOut
			}
			k.add("fed by "+b.s.Supplies[f].Name+" instead", b.sameFeed(c.FedBy, f), func(s *site.Site) { refeedController(s, f) })
		}
	}
	if c.ReactsWithin > 0 {
		k := b.rule(SpeedRule, c.Span, "", "controller reacts within "+c.ReactsWithin.String())
		k.touches, k.safety = touch{all: true}, WayOut
		k.add(fmt.Sprint(c.ReactsWithin+slow, " instead"), "", func(s *site.Site) { s.Controller.ReactsWithin += slow })
	}
	if c.Down != nil {
		rule := map[bool]string{true: "keeps", false: "forgets"}
		k := b.rule(RestartRule, c.Span, "", "restart "+rule[c.Keeps]+" modes")
		k.touches = touch{all: true}
		if !b.held() {
			k.safety = WayOut
		}
		k.add(rule[!c.Keeps]+" modes instead", "", func(s *site.Site) { s.Controller.Keeps = !s.Controller.Keeps })
	}
}

// refeedController gives the controller another feed, before the time that it takes to start.
func refeedController(s *site.Site, to site.SupplyID) {
	c := &s.Controller
	old, now := feedDead(s, c.FedBy), feedDead(s, to)
	c.FedBy = to
	if d := c.Down; d != nil && d.Op == site.OpMode && s.Modes[d.Mode].Hidden {
		m := &s.Modes[d.Mode]
		if m.Cond = replaced(s, m.Cond, old, now); m.Cond == nil {
			m.Cond = &site.Expr{Op: site.OpFalse, Span: m.Span}
		}
		return
	}
	c.Down = replaced(s, c.Down, old, now)
}

// replaced puts the condition of a feed in the place of another's in the condition of what they feed: that itself, or one
// of the causes among which it stands.
func replaced(s *site.Site, e, old, now *site.Expr) *site.Expr {
	switch {
	case equal(e, old) || e != nil && old != nil && e.Op == site.OpMode && isReturnDelay(&s.Modes[e.Mode], old):
		return now
	case old == nil && now == nil:
		return e
	case old == nil:
		return &site.Expr{Op: site.OpOr, Kids: []*site.Expr{now, e}, Span: e.Span}
	case e != nil && e.Op == site.OpOr:
		var kids []*site.Expr
		for _, k := range e.Kids {
			if k = replaced(s, k, old, now); k != nil {
				kids = append(kids, k)
			}
		}
		return &site.Expr{Op: site.OpOr, Kids: kids, Span: e.Span}
	}
	return e
}

// isReturnDelay tells whether a plant mode is the delay with which what a feed feeds comes back.
func isReturnDelay(m *site.Mode, dead *site.Expr) bool {
	return m.Hidden && m.Plant && m.Kind == site.While && m.OffDelay > 0 && equal(m.Cond, dead)
}
