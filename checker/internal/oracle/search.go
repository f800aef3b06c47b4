// Breadth first search over the states, by the number of reactions.

package oracle

import (
	"context"
	"fmt"

	"lampwarden/lang/site"
)

// node is a state that was seen. Its key holds the state's numbers, two bytes
// each.
type node struct {
	key    string
	parent int32
	ord    int32 // which of the parent's successors it is
	dist   int32 // reactions so far
	done   bool
}

// found is the best hit so far: the ord-th successor of a parent.
type found struct {
	parent, ord, dist int32
	ok                bool
}

type searcher struct {
	*explorer
	nodes    []node
	index    map[string]int32
	now      []int32 // nodes to expand with the present number of reactions
	next     []int32 // with one more
	hit      found
	from     int32
	ord      int32
	keyBytes []byte
	most     int
	full     bool
	graph    *graph // nil: the edges are not kept
}

// search walks all states that can be reached, by the number of reactions from
// start-up, and stops at the first hit.
func search(ctx context.Context, m *model, o Options) (Result, error) {
	s := newSearcher(m, o)
	if err := s.walk(ctx); err != nil {
		return Result{}, err
	}
	return s.result(), nil
}

func newSearcher(m *model, o Options) *searcher {
	s := &searcher{explorer: newExplorer(m), index: map[string]int32{}, most: o.MaxStates, from: -1}
	s.emit = s.add
	return s
}

func (s *searcher) walk(ctx context.Context) error {
	s.starts()
	v := make([]uint16, s.size)
	for steps := 0; !s.full && (len(s.now) > 0 || len(s.next) > 0); {
		if len(s.now) == 0 {
			if s.hit.ok {
				break
			}
			s.now, s.next = s.next, s.now[:0]
		}
		for i := 0; i < len(s.now) && !s.full; i++ {
			n := &s.nodes[s.now[i]]
			if n.done {
				continue
			}
			if s.hit.ok && s.hit.dist <= n.dist {
				break
			}
			n.done = true
			if steps++; steps%4096 == 0 && ctx.Err() != nil {
				return fmt.Errorf("oracle: stopped after %d states: %w", len(s.nodes), ctx.Err())
			}
			unpack(v, n.key)
			s.from, s.ord = s.now[i], 0
			s.expand(v)
		}
		s.now = s.now[:0]
		if s.hit.ok && len(s.next) > 0 && s.hit.dist <= s.nodes[s.next[0]].dist {
			break
		}
	}
	return nil
}

// add takes a successor from the explorer.
func (s *searcher) add(v []uint16, e *edge, hit bool) {
	dist := int32(0)
	if s.from >= 0 {
		dist = s.nodes[s.from].dist
	}
	if e.reaction {
		dist++
	}
	ord := s.ord
	s.ord++
	if hit {
		if !s.hit.ok || dist < s.hit.dist {
			s.hit = found{s.from, ord, dist, true}
		}
		return
	}
	s.keyBytes = pack(s.keyBytes[:0], v)
	id, seen := s.index[string(s.keyBytes)]
	if seen && s.graph != nil {
		s.graph.add(s.from, id)
	}
	if seen {
		n := &s.nodes[id]
		if n.done || n.dist <= dist {
			return
		}
		n.parent, n.ord, n.dist = s.from, ord, dist
	} else {
		if len(s.nodes) >= s.most {
			s.full = true
			return
		}
		id = int32(len(s.nodes))
		key := string(s.keyBytes)
		s.nodes = append(s.nodes, node{key: key, parent: s.from, ord: ord, dist: dist})
		s.index[key] = id
		if s.graph != nil {
			s.graph.add(s.from, id)
		}
	}
	if e.reaction {
		s.next = append(s.next, id)
	} else {
		s.now = append(s.now, id)
	}
}

func pack(b []byte, v []uint16) []byte {
	for _, x := range v {
		b = append(b, byte(x), byte(x>>8))
	}
	return b
}

func unpack(v []uint16, key string) {
	for i := range v {
		v[i] = uint16(key[2*i]) | uint16(key[2*i+1])<<8
	}
}

func (s *searcher) result() Result {
	r := Result{States: len(s.nodes), Ticks: s.per, Grain: s.grain}
	switch {
	case s.hit.ok:
		r.Verdict = Broken
		if s.q.reach {
			r.Verdict = Witness
		}
		r.Run, r.End = s.run()
	case s.full:
		r.Verdict = TooBig
	case s.q.reach:
		r.Verdict = NoWitness
	default:
		r.Verdict = Holds
	}
	return r
}

// run makes the hit's path again, each step by expanding its parent once more.
func (s *searcher) run() ([]Step, Micros) {
	type link struct{ parent, ord int32 }
	var path []link
	for at := (link{s.hit.parent, s.hit.ord}); ; {
		path = append(path, at)
		if at.parent < 0 {
			break
		}
		n := &s.nodes[at.parent]
		at = link{n.parent, n.ord}
	}
	t := &teller{searcher: s}
	for i := len(path) - 1; i >= 0; i-- {
		n := int32(0)
		s.emit = func(v []uint16, e *edge, _ bool) {
			if n == path[i].ord {
				t.tell(v, e)
			}
			n++
		}
		if path[i].parent < 0 {
			s.starts()
			continue
		}
		v := make([]uint16, s.size)
		unpack(v, s.nodes[path[i].parent].key)
		t.now++
		t.from = v
		s.expand(v)
	}
	return t.steps, t.micros()
}

// teller turns edges into the steps of a run.
type teller struct {
	*searcher
	steps []Step
	now   int      // ticks since start-up
	from  []uint16 // the state before the edge
}

func (t *teller) micros() Micros { return Micros(t.now) * Micros(t.grain) * 1000 / Micros(t.per) }

func (t *teller) tell(v []uint16, e *edge) {
	at := t.micros()
	for _, m := range e.moves {
		c := &t.circuits[m.circuit]
		t.steps = append(t.steps, Step{Kind: Move, At: at, Input: site.None, Circuit: c.id, Level: t.levelIn(c, m.region)})
	}
	if !e.reaction {
		return
	}
	st := Step{Kind: Quiet, At: at, Clock: -1, Input: site.None, Jump: e.jump, Choices: append([]Choice(nil), e.choices...)}
	switch {
	case len(t.steps) == 0:
		st.Kind, st.Initial = StartUp, append([]site.InputID(nil), e.initial...)
		if t.tod != absent {
			st.Clock = Micros(v[t.tod]) * Micros(t.grain) * 1000 / Micros(t.per)
		}
	case e.input != absent:
		st.Kind, st.Input, st.Gesture, st.Value = Change, t.changes[e.input].input, t.changes[e.input].gesture, e.value
	}
	t.steps = append(t.steps, st)
}

// levelIn gives a level of a region to which a lamp moves on its way: the aim
// if it is there, else the end of the region at which it arrives.
func (t *teller) levelIn(c *circuitPlace, region uint16) site.Level {
	aim := c.aims[t.from[c.aim]]
	switch to := c.region(aim); {
	case region == to:
		return aim
	case region < to:
		return c.regions[region]
	}
	return c.regions[region+1] - 1
}
