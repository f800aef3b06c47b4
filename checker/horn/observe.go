// Observers: what is remembered of a run to see that it breaks the requirement.

package horn

import "lampwarden/lang/site"

// observer watches a run. It has cells of its own.
type observer interface {
	// pass lets time pass for its timers.
	pass(e *encoder, pre, st state, d term)
	// moment takes one moment into st. It gives the condition under which the requirement is broken at it.
	moment(e *encoder, st state, m *moment) term
	// broken tells whether the requirement is broken if nothing happens for d more than no time.
	broken(e *encoder, st state, d term) term
}

// moment is one at which something is looked at.
type moment struct {
	first bool // the first of the run: all that is true rises
	was   *view
	now   *view
	cause term
	over  func(c cell) term // the countdown has been over for some time
}

// rises tells whether a condition comes true.
func (e *encoder) rises(x *site.Expr, m *moment) term {
	if m.first {
		return e.holds(x, m.now)
	}
	return e.and(e.holds(x, m.now), e.not(e.holds(x, m.was)))
}

// eventful tells whether a condition reads an event.
func eventful(x *site.Expr) bool {
	found := false
	x.Walk(func(x *site.Expr) { found = found || x.Op == site.OpEvent })
	return found
}

func (e *encoder) newObserver() observer {
	r := e.r
	e.length(r.D)
	e.length(r.E)
	switch r.Form {
	case site.Whenever:
		switch {
		case r.E > 0:
			return &holding{until: e.flag("observer: a rise is followed"), runs: e.flag("observer: B has begun in time"),
				left: e.countdown("observer: until the deadline"), more: e.countdown("observer: for how long more")}
		case r.Until != nil:
			return &lasting{pending: e.flag("observer: B is owed"), left: e.countdown("observer: until the deadline")}
		}
		return &response{pending: e.flag("observer: B is owed"), left: e.countdown("observer: until the deadline")}
	case site.LastsAtMost:
		return &atMost{left: e.countdown("observer: how long P may last")}
	case site.LastsAtLeast:
		return &atLeast{left: e.countdown("observer: how long P has to last")}
	case site.AtMostTimes:
		o := &times{left: e.countdown("observer: what is left of the window")}
		o.count = e.finite(r.N+1, "observer: rises counted")
		return o
	case site.OnlyAfter:
		return &onlyAfter{seen: e.flag("observer: Q was since R")}
	case site.Settles:
		return &settles{left: e.countdown("observer: until it has settled")}
	case site.Always:
		return &never{negated: true}
	}
	return &never{}
}

// never sees a moment at which P is true (for Always: false).
type never struct{ negated bool }

func (o *never) pass(*encoder, state, state, term) {}

func (o *never) bad(e *encoder, v *view) term {
	p := e.holds(e.r.P, v)
	if o.negated {
		return e.not(p)
	}
	return p
}

func (o *never) moment(e *encoder, st state, m *moment) term {
	if eventful(e.r.P) {
		return o.bad(e, m.now)
	}
	return no // broken sees it
}

func (o *never) broken(e *encoder, st state, _ term) term { return o.bad(e, &view{st: st}) }

// response: B within D of each rise of A. The oldest rise without an answer counts: what answers it answers all.
type response struct {
	pending, left cell
}

func (o *response) pass(e *encoder, pre, st state, d term) { st[o.left] = e.passed(o.left, pre, d) }

func (o *response) moment(e *encoder, st state, m *moment) term {
	pending := e.or(st[o.pending], e.rises(e.r.A, m))
	answered := e.holds(e.r.B, m.now)
	left := e.ite(st[o.pending], st[o.left], e.length(e.r.D))
	st[o.left] = e.ite(e.and(pending, e.not(answered)), left, e.zero)
	st[o.pending] = e.and(pending, e.not(answered))
	return no
}

func (o *response) broken(e *encoder, st state, d term) term {
	return e.and(st[o.pending], e.lt(st[o.left], d))
}

// lasting: from D after each rise of A on, B until C. Again the oldest rise counts, as C ends what is owed to all.
type lasting struct {
	pending, left cell
}

func (o *lasting) pass(e *encoder, pre, st state, d term) { st[o.left] = e.passed(o.left, pre, d) }

func (o *lasting) moment(e *encoder, st state, m *moment) term {
	was := st[o.pending]
	over := e.and(was, m.over(o.left))
	ends := e.holds(e.r.Until, m.now)
	pending := e.and(e.or(was, e.rises(e.r.A, m)), e.not(ends))
	left := e.ite(was, st[o.left], e.length(e.r.D))
	st[o.left] = e.ite(pending, left, e.zero)
	st[o.pending] = pending
	if eventful(e.r.B) {
		return e.and(over, pending, e.not(e.holds(e.r.B, m.now)))
	}
	return no // broken sees it
}

func (o *lasting) broken(e *encoder, st state, d term) term {
	return e.and(st[o.pending], e.lt(st[o.left], d), e.not(e.holds(e.r.B, &view{st: st})))
}

// holding: within D of each rise of A a stretch of B of E begins, unless C comes. It follows one rise, any.
type holding struct {
	until, runs, left, more cell
}

func (o *holding) pass(e *encoder, pre, st state, d term) {
	st[o.left] = e.passed(o.left, pre, d)
	st[o.more] = e.passed(o.more, pre, d)
}

func (o *holding) moment(e *encoder, st state, m *moment) term {
	r := e.r
	was, runs := st[o.until], st[o.runs]
	done := e.and(was, runs, e.le(st[o.more], e.zero))
	over := e.and(was, m.over(o.left))
	begins := e.and(e.or(e.not(was), done), e.rises(r.A, m), e.any(isBool))
	goesOn := e.and(was, e.not(done))
	ends := e.holds(r.Until, m.now)
	if r.Until == nil {
		ends = no
	}
	follows := e.and(e.or(begins, goesOn), e.not(ends))
	b := e.holds(r.B, m.now)
	ran := e.and(goesOn, runs)
	st[o.left] = e.ite(follows, e.ite(begins, e.length(r.D), st[o.left]), e.zero)
	st[o.until] = follows
	st[o.more] = e.ite(e.and(follows, b), e.ite(ran, st[o.more], e.length(r.E)), e.zero)
	st[o.runs] = e.and(follows, b)
	if eventful(r.B) {
		return e.and(goesOn, over, runs, e.not(ends), e.not(b))
	}
	return no // broken sees it
}

func (o *holding) broken(e *encoder, st state, d term) term {
	return e.and(st[o.until], e.not(st[o.runs]), e.lt(st[o.left], d))
}

// atMost: no stretch of P is longer than D.
type atMost struct{ left cell }

func (o *atMost) pass(e *encoder, pre, st state, d term) { st[o.left] = e.passed(o.left, pre, d) }

func (o *atMost) moment(e *encoder, st state, m *moment) term {
	p := e.holds(e.r.P, m.now)
	st[o.left] = e.ite(p, e.ite(e.rises(e.r.P, m), e.length(e.r.D), st[o.left]), e.zero)
	return no
}

func (o *atMost) broken(e *encoder, st state, d term) term {
	return e.and(e.holds(e.r.P, &view{st: st}), e.lt(st[o.left], d))
}

// atLeast: no stretch of P is shorter than D.
type atLeast struct{ left cell }

func (o *atLeast) pass(e *encoder, pre, st state, d term) { st[o.left] = e.passed(o.left, pre, d) }

func (o *atLeast) moment(e *encoder, st state, m *moment) term {
	p := e.holds(e.r.P, m.now)
	falls := no
	if !m.first {
		falls = e.and(e.holds(e.r.P, m.was), e.not(p))
	}
	bad := e.and(falls, e.lt(e.zero, st[o.left]))
	st[o.left] = e.ite(p, e.ite(e.rises(e.r.P, m), e.length(e.r.D), st[o.left]), e.zero)
	return bad
}

func (o *atLeast) broken(*encoder, state, term) term { return no }

// times: of N+1 rises of P the last is D or more after the first. It follows one rise, any, as the first.
type times struct {
	count finite
	left  cell
}

func (o *times) pass(e *encoder, pre, st state, d term) { st[o.left] = e.passed(o.left, pre, d) }

func (o *times) moment(e *encoder, st state, m *moment) term {
	n := e.r.N
	rise := e.rises(e.r.P, m)
	if n == 0 {
		return rise
	}
	count := e.get(o.count, st)
	expired := e.le(st[o.left], e.zero)
	none := e.or(count[0], expired)
	begins := e.and(none, rise, e.any(isBool))
	out := make(choice, n+1)
	for i := 1; i <= n; i++ {
		stays := e.and(count[i], e.not(expired), e.not(rise))
		comes := begins
		if i > 1 {
			comes = e.and(count[i-1], e.not(expired), rise)
		}
		out[i] = e.or(stays, comes)
	}
	bad := e.and(count[n], e.not(expired), rise)
	out[0] = e.not(e.or(out[1:]...))
	e.put(o.count, st, out)
	st[o.left] = e.ite(begins, e.length(e.r.D), e.ite(out[0], e.zero, st[o.left]))
	return bad
}

func (o *times) broken(*encoder, state, term) term { return no }

// onlyAfter: P only if Q was true since R was.
type onlyAfter struct{ seen cell }

func (o *onlyAfter) pass(*encoder, state, state, term) {}

func (o *onlyAfter) moment(e *encoder, st state, m *moment) term {
	since := no
	if e.r.Since != nil {
		since = e.holds(e.r.Since, m.now)
	}
	st[o.seen] = e.or(e.holds(e.r.Q, m.now), e.and(st[o.seen], e.not(since)))
	return e.and(e.holds(e.r.P, m.now), e.not(st[o.seen]))
}

func (o *onlyAfter) broken(*encoder, state, term) term { return no }

// settles: later than D after the last cause P does not change.
type settles struct{ left cell }

func (o *settles) pass(e *encoder, pre, st state, d term) { st[o.left] = e.passed(o.left, pre, d) }

func (o *settles) moment(e *encoder, st state, m *moment) term {
	st[o.left] = e.ite(m.cause, e.length(e.r.D), st[o.left])
	if m.first {
		return no
	}
	return e.and(e.not(m.cause), m.over(o.left), e.differ(e.holds(e.r.P, m.was), e.holds(e.r.P, m.now)))
}

func (o *settles) broken(*encoder, state, term) term { return no }
