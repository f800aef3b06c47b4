// The local clock: the stretches between the times of the day that the question reads.

package horn

import (
	"slices"

	"lampwarden/lang/site"
)

// dayClock runs round a day, or a week if anything that is read has days. Its state is the stretch that it is in and
// what is left of it.
type dayClock struct {
	period site.Millis
	starts []site.Millis // of the stretches, ascending
	jumps  []site.Jump
	at     finite
	left   cell
	jumped cell // if there are jumps

	lengths []term
}

// newDayClock gives nil if nothing reads the clock.
func (e *encoder) newDayClock() *dayClock {
	c := &dayClock{period: site.Day}
	times := map[site.Millis]bool{}
	weekly := false
	for id := range e.in.bands {
		weekly = weekly || e.s.Bands[id].Days != 0
	}
	for _, t := range e.in.clocked {
		weekly = weekly || t.days != 0
	}
	days := 1
	if weekly {
		days, c.period = 7, site.Week
	}
	each := func(t site.Millis) {
		for d := range days {
			times[(site.Millis(d)*site.Day+t+c.period)%c.period] = true
		}
	}
	for id := range e.in.bands {
		if b := &e.s.Bands[id]; !b.Void {
			each(b.From)
			each(b.To)
		}
	}
	for _, t := range e.in.clocked {
		for d := range days {
			if t.days.Has(d) {
				times[site.Millis(d)*site.Day+t.at] = true
			}
		}
	}
	if len(times) == 0 {
		return nil
	}
	c.jumps = e.s.Jumps
	for _, j := range c.jumps {
		each(j.At)
		each(j.At + j.By)
	}
	for t := range times {
		c.starts = append(c.starts, t)
	}
	slices.Sort(c.starts)
	c.at = e.finite(len(c.starts), "stretch of the day or week")
	c.left = e.timer("what is left of it")
	if len(c.jumps) > 0 {
		c.jumped = e.flag("the clock was changed")
	}
	for i, t := range c.starts {
		next := c.starts[0] + c.period
		if i+1 < len(c.starts) {
			next = c.starts[i+1]
		}
		c.lengths = append(c.lengths, e.length(next-t))
	}
	return c
}

// band tells whether a band holds.
func (c *dayClock) band(e *encoder, id site.BandID, st state) term {
	if c == nil {
		return no // a void band
	}
	at := e.get(c.at, st)
	var out []term
	for i, t := range c.starts {
		if e.s.Bands[id].Holds(t) {
			out = append(out, at[i])
		}
	}
	return e.or(out...)
}

// start puts the clock anywhere; it gives the condition on the choice.
func (c *dayClock) start(e *encoder, st state) term {
	if c == nil {
		return yes
	}
	at, left := e.anyOf(len(c.starts)), e.any(isReal)
	e.put(c.at, st, at)
	st[c.left] = left
	if len(c.jumps) > 0 {
		st[c.jumped] = no
	}
	return e.and(e.lt(e.zero, left), e.le(left, c.length(e, at)))
}

func (c *dayClock) length(e *encoder, at choice) term {
	out := c.lengths[0]
	for i := 1; i < len(at); i++ {
		out = e.ite(at[i], c.lengths[i], out)
	}
	return out
}

// run lets a delay pass up to a reaction. It gives for each stretch whether it begins now, and whether the clock jumps.
func (c *dayClock) run(e *encoder, pre, st state, d term) (begins choice, jumps term) {
	if c == nil {
		return nil, no
	}
	due := e.eq(pre[c.left], d)
	at := e.get(c.at, pre)
	next := make(choice, len(at))
	for i := range at {
		next[(i+1)%len(at)] = at[i]
	}
	jumps = no
	if len(c.jumps) > 0 {
		wants := e.any(isBool)
		which := no
		picks := e.anyOf(len(c.jumps))
		target := make([][]term, len(at))
		for k, j := range c.jumps {
			for i, t := range c.starts {
				if t%site.Day != j.At {
					continue
				}
				goes := e.and(next[i], picks[k])
				which = e.or(which, goes)
				to := slices.Index(c.starts, ((t+j.By)%c.period+c.period)%c.period)
				target[to] = append(target[to], goes)
			}
		}
		jumps = e.and(due, wants, which, e.not(pre[c.jumped]))
		moved := make(choice, len(at))
		for i := range at {
			moved[i] = e.or(target[i]...)
		}
		next = e.mix(jumps, moved, next)
		st[c.jumped] = e.or(pre[c.jumped], jumps)
	}
	begins = make(choice, len(at))
	for i := range at {
		begins[i] = e.and(due, next[i])
	}
	e.put(c.at, st, e.mix(due, next, at))
	st[c.left] = e.ite(due, c.length(e, next), e.sub(pre[c.left], d))
	return begins, jumps
}

// strikes tells whether the clock comes to show the time on one of the days.
func (c *dayClock) strikes(e *encoder, begins choice, t site.Millis, days site.Days) term {
	if c == nil || begins == nil {
		return no
	}
	var out []term
	for i, s := range c.starts {
		if s%site.Day == t && days.Has(int(s/site.Day)) {
			out = append(out, begins[i])
		}
	}
	return e.or(out...)
}
