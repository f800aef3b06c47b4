// Random conditions.

package sitegen

import "lampwarden/lang/site"

// scope says what an expression may contain.
type scope struct {
	modes  []site.ModeID // modes that it may name
	events bool
	was    bool
	lights bool
}

// cond makes an expression of at most the given depth of operators.
func (g *gen) cond(depth int, sc scope) *site.Expr {
	if depth > 0 && g.one(55, "compound") {
		return g.compound(depth, sc)
	}
	return g.atom(sc)
}

func (g *gen) compound(depth int, sc scope) *site.Expr {
	kids := func(n int) []*site.Expr {
		out := make([]*site.Expr, n)
		for i := range out {
			out[i] = g.cond(depth-1, sc)
		}
		return out
	}
	op := pick(g, []site.Op{site.OpNot, site.OpAnd, site.OpOr, site.OpNot, site.OpAnd, site.OpAtMost, site.OpAtLeast,
		site.OpWas, site.OpTrue}, "operator")
	switch op {
	case site.OpNot:
		return &site.Expr{Op: op, Kids: []*site.Expr{g.atom(sc)}}
	case site.OpAnd, site.OpOr:
		return &site.Expr{Op: op, Kids: kids(2)}
	case site.OpAtMost, site.OpAtLeast:
		n := 2 + g.c.Intn(2, "counted")
		return &site.Expr{Op: op, Kids: kids(n), N: 1 + g.c.Intn(n-1, "count")}
	case site.OpWas:
		if sc.was {
			return &site.Expr{Op: op, Kids: []*site.Expr{g.atom(g.wasScope())}}
		}
	case site.OpTrue:
		if g.one(20, "constant") {
			return &site.Expr{Op: pick(g, []site.Op{site.OpTrue, site.OpFalse}, "constant")}
		}
	}
	return g.atom(sc)
}

// wasScope allows every mode, complete or not, as OpWas makes no dependency.
func (g *gen) wasScope() scope {
	if g.plant {
		return scope{modes: g.known}
	}
	all := make([]site.ModeID, len(g.s.Modes))
	for i := range all {
		all[i] = site.ModeID(i)
	}
	return scope{modes: all}
}

func (g *gen) atom(sc scope) *site.Expr {
	if sc.lights && g.some(g.o.SumPercent, "sum") {
		return g.sum()
	}
	if special := g.special(); sc.lights && len(special) > 0 && g.one(35, "of a feature") {
		return pick(g, special, "of a feature")
	}
	var ops []site.Op
	levels, events := g.levelInputs(), g.eventInputs()
	add := func(ok bool, op site.Op, weight int) {
		for ; ok && weight > 0; weight-- {
			ops = append(ops, op)
		}
	}
	add(len(levels) > 0, site.OpInput, 3)
	add(sc.events && len(events) > 0, site.OpEvent, 5)
	add(len(g.s.Bands) > 0, site.OpBand, 2)
	add(sc.lights, site.OpLight, 5)
	add(len(sc.modes) > 0, site.OpMode, 2)
	add(len(sc.modes) > 0, site.OpState, 1)
	add(len(sc.modes) > 0, site.OpStage, 1)
	if len(ops) == 0 {
		return &site.Expr{Op: site.OpTrue}
	}
	switch op := pick(g, ops, "atom"); op {
	case site.OpInput:
		if len(g.fails) > 0 && g.one(25, "failed") {
			return &site.Expr{Op: op, Input: pick(g, g.fails, "fault")}
		}
		return &site.Expr{Op: op, Input: pick(g, levels, "input")}
	case site.OpEvent:
		return g.event(pick(g, events, "event"))
	case site.OpBand:
		return &site.Expr{Op: op, Band: site.BandID(g.c.Intn(len(g.s.Bands), "band"))}
	case site.OpLight:
		return g.light()
	default:
		return g.modeAtom(op, pick(g, sc.modes, "mode"))
	}
}

func (g *gen) event(in site.InputID) *site.Expr {
	e := &site.Expr{Op: site.OpEvent, Input: in}
	if g.s.Inputs[in].Kind == site.Button {
		e.Gesture = pick(g, []site.Gesture{site.Tap, site.Tap, site.DoubleTap, site.TripleTap, site.LongPress,
			site.Release}, "gesture")
	}
	return e
}

// modeAtom falls back to OpMode where the mode (which may be incomplete) has
// no states or stages to name.
func (g *gen) modeAtom(op site.Op, id site.ModeID) *site.Expr {
	m := &g.s.Modes[id]
	if op == site.OpState && m.Kind == site.States && len(m.States) > 1 {
		return &site.Expr{Op: op, Mode: id, State: g.c.Intn(len(m.States), "state")}
	}
	most := 0
	for _, st := range m.States {
		most = max(most, len(st.Stages))
	}
	if op == site.OpStage && most > 0 {
		return &site.Expr{Op: op, Mode: id, State: g.c.Intn(most, "stage")}
	}
	return &site.Expr{Op: site.OpMode, Mode: id}
}

func (g *gen) light() *site.Expr {
	ranges := [][2]site.Level{{1, site.Full}, {0, 0}, {site.Full, site.Full}, {1001, site.Full}, {0, 3000}, {3000, 3000},
		{500, 6000}}
	id := g.c.Intn(len(g.s.Circuits), "circuit")
	if g.s.Circuits[id].Output {
		ranges = [][2]site.Level{{site.Full, site.Full}, {0, 0}}
	}
	if g.s.Circuits[id].Colour {
		ranges = [][2]site.Level{{1, 1}, {2700, 2700}, {3000, site.Full}, {site.LeastKelvin, 3000}, {0, 0}}
	}
	r := pick(g, ranges, "range")
	return &site.Expr{Op: site.OpLight, Circuit: site.CircuitID(id), Lo: r[0], Hi: r[1]}
}
