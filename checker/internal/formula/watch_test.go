// An observer on a timeline: the moments of each reaction, and the observer's own timers.

package formula_test

import (
	"fmt"
	"slices"

	"lampwarden/checker/observe"
	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

// reaction is what an observer is told of one.
type reaction struct {
	at      rehearse.Nanos
	moments []observe.Values
	caused  bool
}

// branch is one way that an observer has gone.
type branch struct {
	state observe.State
	since [2]rehearse.Nanos
}

// watch tells whether the observer comes to its error on the timeline, whatever it guesses.
func watch(o *observe.Observer, tl *rehearse.Timeline) bool {
	ways := map[branch]bool{{}: true}
	var last []observe.Values
	step := func(r reaction, due bool) bool {
		next := map[branch]bool{}
		for b := range ways {
			fired := b.due(o, r.at)
			if due && fired == 0 {
				next[b] = true
				continue
			}
			if r.caused {
				fired |= observe.Caused
			}
			for _, n := range o.React(b.state, fired, r.moments, nil) {
				if n.Bad {
					return true
				}
				c := branch{n.State, b.since}
				for i := range c.since {
					if n.Fresh>>i&1 == 1 {
						c.since[i] = r.at
					}
				}
				next[c] = true
			}
		}
		ways = next
		return false
	}
	between := func(to rehearse.Nanos) bool { // the observer's own timers before a time
		for {
			at := to
			for b := range ways {
				for i := range o.D {
					if d := b.since[i] + rehearse.FromMillis(o.D[i]); o.Timers(b.state)>>i&1 == 1 && d < at {
						at = d
					}
				}
			}
			if at == to {
				return false
			}
			if step(reaction{at: at, moments: last}, true) {
				return true
			}
		}
	}
	for _, r := range reactionsOf(o, tl) {
		if between(r.at) || step(r, false) {
			return true
		}
		last = r.moments[len(r.moments)-1:]
	}
	return between(tl.Script.End + 1)
}

// due gives the timers that reach their duration at a time.
func (b branch) due(o *observe.Observer, at rehearse.Nanos) (out uint8) {
	for i := range o.D {
		if o.Timers(b.state)>>i&1 == 1 && b.since[i]+rehearse.FromMillis(o.D[i]) == at {
			out |= 1 << i
		}
	}
	return out
}

// reactionsOf gives the moments of each reaction: the instant and after it if there is an event, else one.
func reactionsOf(o *observe.Observer, tl *rehearse.Timeline) (out []reaction) {
	for i := range tl.Steps {
		st := &tl.Steps[i]
		r := reaction{at: st.At}
		if st.Event != nil && tl.Site.Inputs[st.Event.Input].Kind.IsEvent() {
			r.moments = append(r.moments, valuesAt(o, tl, i, st.Event))
		}
		r.moments = append(r.moments, valuesAt(o, tl, i, nil))
		r.caused = o.Causes != nil && (i == 0 || st.Event != nil && slices.Contains(o.Causes.Inputs, st.Event.Input))
		out = append(out, r)
	}
	return out
}

func valuesAt(o *observe.Observer, tl *rehearse.Timeline, i int, ev *rehearse.Event) (v observe.Values) {
	for k, e := range o.Exprs {
		if holds(e, tl, i, ev) {
			v |= 1 << k
		}
	}
	return v
}

// holds evaluates what the texts here have in their conditions.
func holds(e *site.Expr, tl *rehearse.Timeline, i int, ev *rehearse.Event) bool {
	kid := func(k int) bool { return holds(e.Kids[k], tl, i, ev) }
	switch e.Op {
	case site.OpNot:
		return !kid(0)
	case site.OpAnd, site.OpOr:
		for k := range e.Kids {
			if kid(k) == (e.Op == site.OpOr) {
				return e.Op == site.OpOr
			}
		}
		return e.Op == site.OpAnd
	case site.OpInput:
		return tl.Input(i, e.Input)
	case site.OpEvent:
		return ev != nil && ev.Input == e.Input && ev.Gesture == e.Gesture
	case site.OpMode:
		return tl.Mode(i, e.Mode).Active
	case site.OpState:
		return tl.Mode(i, e.Mode).State == e.State
	}
	panic(fmt.Sprintf("no such condition in these texts: %d", e.Op))
}
