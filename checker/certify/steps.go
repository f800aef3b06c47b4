// The steps from a stored state.

package certify

import "context"

// reaction is a cause with what the environment needs for it.
type reaction struct {
	cause
	allow permission
	draft *state
	next  []arrival // once worked out
	known bool
}

// maxWorked bounds for how many sets of due timers the reactions of a state are kept.
const maxWorked = 1 << 12

// from checks all steps from a state of the set.
func (k *closure) from(ctx context.Context, e *stored) error {
	m := k.m
	drifts := k.arrivals(e.in, m.drifts(e.state), false)
	plain := k.events(e)
	worked := map[uint64][]reaction{} // by what is due
	for i, z := range e.zones {
		err := k.eachDue(e, z, 0, 0, func(z *zone, due uint64) error {
			if err := ctx.Err(); err != nil {
				return err
			}
			if due == 0 {
				if err := k.all(e, z, drifts, cause{event: -1, jump: -1}); err != nil {
					return err
				}
			}
			rs := worked[due]
			if rs == nil {
				rs = k.reactions(e, plain, due)
				if len(worked) < maxWorked {
					worked[due] = rs
				}
			}
			for n := range rs {
				if err := k.react(e, z, &rs[n]); err != nil {
					return err
				}
			}
			return k.tooWide()
		})
		if err != nil {
			if r, ok := err.(*Rejected); ok && r.Line == 0 {
				r.Line = e.line + 1 + i
			}
			return err
		}
	}
	return nil
}

// tooWide is an error if more can come of a step than is looked at.
func (k *closure) tooWide() error {
	if k.m.wide {
		return reject(0, "more than %d things can come of one step", maxWays)
	}
	return nil
}

// eachDue calls f for each set of timers that may be due together at some valuation of z, with the valuations at which just these
// are. i counts the zone's clocks, then the loose timers.
func (k *closure) eachDue(e *stored, z *zone, i int, due uint64, f func(*zone, uint64) error) error {
	if i >= len(e.in) {
		at := i - len(e.in)
		if at >= len(e.loose) {
			return f(z, due)
		}
		if err := k.eachDue(e, z, i+1, due, f); err != nil {
			return err
		}
		return k.eachDue(e, z, i+1, due|1<<e.loose[at], f)
	}
	r := e.in[i]
	if !r.due && !r.ready {
		return k.eachDue(e, z, i+1, due, f)
	}
	not, ok := z, true
	if r.due {
		not, ok = z.cut(i+1, 0, lt(r.d))
	}
	if ok {
		if err := k.eachDue(e, not, i+1, due, f); err != nil {
			return err
		}
	}
	is, ok := z.cut(0, i+1, le(-r.d))
	if ok && r.due {
		is, ok = is.cut(i+1, 0, le(r.d))
	}
	if ok {
		return k.eachDue(e, is, i+1, due|1<<r.ck, f)
	}
	return nil
}

// events lists what the environment may do in a state: nothing, or one event in one of the ways that the assumptions allow.
func (k *closure) events(e *stored) (out []reaction) {
	m := k.m
	out = append(out, reaction{cause: cause{event: -1, jump: -1}, draft: e.state})
	for i, ev := range m.events {
		for _, p := range m.permit(e.state, ev) {
			draft := *e.state // what it shares with the state is copied by the reaction
			draft.runs, draft.full = p.runs, p.full
			out = append(out, reaction{cause: cause{event: i, jump: -1}, allow: p, draft: &draft})
		}
	}
	return out
}

// reactions lists the reactions with the given timers due.
func (k *closure) reactions(e *stored, plain []reaction, due uint64) (out []reaction) {
	m := k.m
	jumps := []int{-1}
	out = make([]reaction, 0, len(plain))
	for ck, c := range m.clocks {
		if c.kind == ofDay && due>>ck&1 == 1 && !e.state.leapt {
			jumps = append(jumps, m.c.jumps...)
		}
	}
	for _, p := range plain {
		if due == 0 && p.event < 0 {
			continue
		}
		for _, j := range jumps {
			if j >= 0 {
				if _, ok := m.wall.next(e.state.segment, j); !ok {
					continue
				}
			}
			r := p
			r.due, r.jump = due, j
			out = append(out, r)
		}
	}
	return out
}

// react checks what comes of a reaction in a zone.
func (k *closure) react(e *stored, z *zone, r *reaction) error {
	m := k.m
	if len(r.allow.guards) > 0 {
		z = z.clone()
		for _, g := range r.allow.guards {
			for i, c := range e.in {
				if c.ck != g.clock {
					continue
				}
				d := int64(g.d / m.c.unit)
				if g.less && !z.constrain(i+1, 0, lt(d)) || !g.less && !z.constrain(0, i+1, le(-d)) {
					return nil
				}
			}
		}
	}
	if !r.known {
		r.known = true
		r.next = k.arrivals(e.in, m.react(e.state, r.draft, r.allow.fresh, r.cause), false)
	}
	return k.all(e, z, r.next, r.cause)
}

// all checks successors of the part of a zone in which they can come.
func (k *closure) all(e *stored, z *zone, next []arrival, c cause) error {
	for i := range next {
		x := &next[i]
		if x.broken {
			return k.bad(e, c, x.state)
		}
		if err := k.arrive(z, x); err != nil {
			return reject(0, "%s: %v", k.how(e, c), err)
		}
	}
	return nil
}
