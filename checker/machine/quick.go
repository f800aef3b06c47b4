// What can be reached at once, by events and lamp movements alone.

package machine

import (
	"lampwarden/checker/observe"
	"lampwarden/lang/site"
)

// maxQuick bounds the states looked at from one state.
const maxQuick = 20_000

// Quick tells from which discrete states a condition can be reached without waiting for any timer: by events that no
// assumption with a clock can delay, and by moves of lamps, which may come as close together as the environment
// likes. It is asked from a System of the same slice and with the same expression.
type Quick struct {
	sys   *System
	known map[string]bool
}

// NewQuick prepares the question whether p can be reached at once in the slice.
func NewQuick(sl *Slice, p *site.Expr) (*Quick, error) {
	sys, err := New(sl, observe.Goal(p), NoGoal())
	if err != nil {
		return nil, err
	}
	return &Quick{sys, map[string]bool{}}, nil
}

// reaches tells whether p is true in f, or can be made true at once.
func (q *Quick) reaches(f *frame) bool {
	s := q.sys
	g := s.newFrame()
	g.copyFrom(f)
	g.obs, g.cool = observe.State{}, 0
	start := string(s.pack(nil, g))
	if v, ok := q.known[start]; ok {
		return v
	}
	list, from := []string{start}, map[string]int{start: -1}
	for i := 0; i < len(list) && len(list) < maxQuick; i++ {
		found := q.next(list[i], func(key string) {
			if _, ok := from[key]; !ok {
				from[key] = i
				list = append(list, key)
			}
		})
		if found || q.known[list[i]] {
			for k := i; k >= 0; k = from[list[k]] {
				q.known[list[k]] = true
			}
			return true
		}
	}
	if len(list) < maxQuick { // all that can be reached has been looked at
		for _, k := range list {
			q.known[k] = false
		}
	}
	return false
}

// next tells whether p is true in a state or at the instant of an event in it, and lists the states after its events and moves.
func (q *Quick) next(key string, add func(string)) (found bool) {
	s := q.sys
	s.unpack(s.before, []byte(key))
	if s.eval(s.exprs[0], s.before, s.before, 0) {
		return true
	}
	e := emitter{s: s, record: func(f *frame, _ uint64, bad bool) {
		found = found || bad
		g := *f
		g.obs = observe.State{}
		add(string(s.pack(nil, &g)))
	}}
	for ev := range s.events {
		in := s.events[ev]
		if c := (cause{ev: ev + 1}); !s.clockless(in) || !s.may(in, c) {
			continue
		} else {
			s.work[0].copyFrom(s.before)
			e.c = c
			e.reaction()
		}
	}
	for i := range s.lamps {
		for _, r := range s.reachable(i) {
			f := s.work[0]
			f.copyFrom(s.before)
			s.move(f, i, r)
			e.observe(f, 0, cause{})
		}
	}
	return found
}

// clockless tells whether no assumption with a clock speaks of the event's input.
func (s *System) clockless(e event) bool {
	for i := range s.assume {
		a := &s.assume[i]
		if a.Kind == site.AtMost || a.Kind == site.Ladder {
			continue
		}
		for _, in := range a.Inputs {
			if in == e.input {
				return false
			}
		}
	}
	return true
}
