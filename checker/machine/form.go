// The canonical form of a system: equal systems have equal forms, whatever the rooms are called.

package machine

import (
	"encoding/binary"
	"slices"

	"lampwarden/lang/site"
)

// Form writes down everything that a search of the system reads, with modes, inputs, circuits and bands numbered by
// their place in the slice. Two systems with the same form behave the same, label by label: a path of one is a path of
// the other, with its own names in the same places. (Nothing is hashed: forms are compared as a whole. Two slices
// that are alike but list their parts in another order have different forms and are searched separately.)
//
// Whoever gives the System a new field that a search reads writes it here.
func (s *System) Form() string {
	w := former{s: s}
	w.environment()
	w.modes()
	w.circuits()
	w.question()
	return string(w.b)
}

// former writes a form.
type former struct {
	s *System
	b []byte
}

func (w *former) num(ns ...int) {
	for _, n := range ns {
		w.b = binary.AppendVarint(w.b, int64(n))
	}
}

func (w *former) ms(ds ...site.Millis) {
	for _, d := range ds {
		w.b = binary.AppendVarint(w.b, int64(d))
	}
}

func (w *former) flag(vs ...bool) {
	for _, v := range vs {
		n := 0
		if v {
			n = 1
		}
		w.num(n)
	}
}

// input gives an input's place among the kept level inputs, -1 if it is not kept, so that it stays at rest.
func (w *former) input(i site.InputID) int { return slices.Index(w.s.levels, i) }

// event tells the input of an assumption, which may have events: each event index that is one of its.
func (w *former) anyInput(i site.InputID) {
	w.num(w.input(i))
	for k, e := range w.s.events {
		if e.input == i {
			w.num(k)
		}
	}
	w.num(-1)
}

func (w *former) environment() {
	s := w.s
	w.num(len(s.levels))
	for _, i := range s.levels {
		w.num(int(s.site.Inputs[i].Kind))
	}
	w.num(len(s.events))
	for _, e := range s.events {
		w.flag(e.level)
		w.num(w.input(e.input), int(e.gesture))
	}
	w.num(s.order...)
	w.num(-1, len(s.segs), s.period)
	w.flag(s.clocked, s.weekly)
	for _, g := range s.segs {
		w.ms(g.from, g.len)
	}
	if s.clocked {
		w.num(len(s.site.Jumps))
		for _, j := range s.site.Jumps {
			w.ms(j.At, j.By)
		}
		w.flag(s.jumps...)
		w.ms(s.shorter)
	}
	w.num(len(s.assume))
	for i := range s.assume {
		a := &s.assume[i]
		w.num(int(a.Kind), a.N, a.ck, len(a.Inputs))
		w.flag(a.Value, a.clocked)
		w.ms(a.D, a.Recharge)
		for _, in := range a.Inputs {
			w.anyInput(in)
		}
	}
	w.num(len(s.clocks))
	for _, c := range s.clocks {
		w.num(int(c.kind), c.id)
	}
	w.ms(s.unit, s.horizon)
	w.flag(s.site.Controller.Keeps, s.events2)
	w.node(s.down)
}

func (w *former) modes() {
	s := w.s
	w.num(len(s.modes))
	for i := range s.modes {
		m := &s.modes[i]
		d := m.def
		w.num(int(d.Kind), m.locCk, m.phaseCk, len(d.States), len(d.Transitions))
		w.flag(d.Plant, m.phased, m.latest, m.hasAfter)
		w.ms(d.OnDelay, d.OffDelay, d.Pulse, d.For)
		w.node(m.cond)
		w.triggers(m.starts)
		w.triggers(m.ends)
		for k := range m.leave {
			w.num(len(m.leave[k]))
			for _, t := range m.leave[k] {
				w.trigger(t.trigger)
				w.ms(t.after)
				w.num(t.to)
			}
			w.num(len(m.after[k]))
			w.ms(m.after[k]...)
		}
		for _, q := range m.seqs {
			w.num(len(q))
			for _, p := range q {
				w.num(p.stage, p.next)
				w.flag(p.off)
				w.ms(p.dur)
			}
		}
		for k := range s.modes { // the order of their ids decides between equals
			w.flag(m.id < s.modes[k].id)
		}
	}
	w.num(len(s.latest))
	for _, m := range s.latest {
		w.num(s.byID[m])
	}
}

func (w *former) triggers(ts []trigger) {
	w.num(len(ts))
	for _, t := range ts {
		w.trigger(t)
	}
}

func (w *former) trigger(t trigger) {
	w.node(t.on)
	w.node(t.guard)
	w.ms(t.at)
	w.num(int(t.days))
	w.flag(t.void)
}

func (w *former) circuits() {
	s := w.s
	w.num(len(s.lamps))
	for i := range s.lamps {
		l := &s.lamps[i]
		w.num(len(l.cuts), len(l.paces), len(l.visited), l.light, l.req, l.ck)
		for _, c := range l.cuts {
			w.num(int(c))
		}
		for _, p := range l.paces {
			w.ms(p.over, p.t)
			w.flag(p.soft)
		}
		for _, r := range l.visited {
			w.num(int(r))
		}
		w.flag(l.colour, l.free, s.site.Circuits[l.id].Switched)
		w.reach(&l.reach)
	}
	w.num(len(s.sights))
	for i := range s.sights {
		v := &s.sights[i]
		w.num(v.req, v.ck)
		w.ms(s.site.Circuits[v.id].SeenAfter)
		w.reach(&v.reach)
	}
	w.num(len(s.reqs))
	for i := range s.reqs {
		w.request(&s.reqs[i])
	}
}

func (w *former) reach(r *reach) {
	w.node(r.dead)
	w.node(r.cut)
	for _, l := range []*site.Level{r.fail, r.powerOn} {
		if l == nil {
			w.num(-1)
		} else {
			w.num(int(*l))
		}
	}
}

func (w *former) request(r *request) {
	s := w.s
	w.num(len(r.askers), len(r.free))
	for _, m := range r.freeMask {
		w.b = binary.AppendUvarint(w.b, m)
	}
	w.flag(r.ambiguous, s.site.Circuits[r.id].Colour)
	for i := range r.askers {
		a := &r.askers[i]
		w.num(s.byID[a.mode], len(a.sets))
		for _, state := range a.sets {
			w.num(len(state))
			for _, stage := range state {
				w.num(len(stage))
				for _, set := range stage {
					w.setting(set)
				}
			}
		}
		for k := range r.askers {
			b := r.askers[k].mode
			w.flag(s.site.Precedence.Outranks(a.mode, b))
			w.num(int(s.ruleFor(r.id, a.mode, b)))
		}
		for _, f := range r.free {
			w.flag(s.site.Precedence.Outranks(a.mode, f))
		}
	}
}

func (w *former) setting(set setting) {
	w.num(set.index, len(set.cases))
	w.flag(set.flashing)
	for _, c := range set.cases {
		w.node(c.when)
		w.num(int(c.level))
		w.ms(c.over)
	}
}

// question writes the observer and the goal. An observer is told by its name, its times and its expressions.
func (w *former) question() {
	s := w.s
	o := &s.obs
	w.b = append(append(w.b, o.Name...), 0)
	w.num(o.N)
	w.ms(o.D[0], o.D[1])
	w.num(s.obsCk[0], s.obsCk[1], len(s.exprs))
	for _, n := range s.exprs {
		w.node(n)
	}
	w.flag(o.Quick, o.Began != nil, s.caused != nil)
	if o.Began != nil {
		w.num(s.byID[*o.Began])
	}
	if s.caused != nil {
		w.flag(s.caused.events...)
		w.flag(s.caused.segs...)
	}
	w.num(slices.IndexFunc(s.reqs, func(r request) bool { return r.id == s.goal.Ambiguous }))
	g := s.goal.Win
	if w.flag(g != nil); g != nil {
		at := slices.IndexFunc(s.reqs, func(r request) bool { return r.id == g.Circuit })
		w.num(at, s.byID[g.Mode], g.State, g.Stage, g.Setting)
		w.num(slices.Index(s.reqs[at].free, g.Mode))
	}
}

// node writes an expression with its look-ups numbered within the slice.
func (w *former) node(n *node) {
	if n == nil {
		w.num(-1)
		return
	}
	id := n.id
	switch n.op {
	case site.OpInput:
		id = w.input(site.InputID(n.id))
	case site.OpMode, site.OpState, site.OpStage:
		id = w.s.byID[n.id]
	}
	w.num(int(n.op), len(n.kids), n.n, id, n.state, len(n.terms))
	w.b = binary.AppendUvarint(w.b, n.mask)
	w.b = binary.AppendVarint(w.b, n.need)
	w.num(len(n.segs))
	w.flag(n.segs...)
	for _, t := range n.terms {
		w.num(t.id, len(t.counts))
		w.b = binary.AppendVarint(w.b, t.weight)
		for _, c := range t.counts {
			w.b = binary.AppendVarint(w.b, c)
		}
	}
	for _, k := range n.kids {
		w.node(k)
	}
}
