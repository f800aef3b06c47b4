// The check itself: every start-up is in the set, and so is all that can come of what is in the set.

package certify

import (
	"context"
	"fmt"
)

// stored is a state of the set with its zones.
type stored struct {
	line  int
	state *state
	in    []running
	loose []int
	zones []*zone
}

// closure checks a set.
type closure struct {
	m     *model
	set   []*stored
	byKey map[string]*stored
	steps int
	key   []byte // room for the key of a state

	// missing, if set, is given what is not in the set, in place of an error. Tests let a set grow with it.
	missing func(s *state, z *zone)
}

// newClosure reads the states and zones.
func newClosure(m *model) (*closure, error) {
	k := &closure{m: m, byKey: map[string]*stored{}}
	for i := range m.c.states {
		lines := &m.c.states[i]
		s, err := m.stateOf(lines.tokens)
		if err != nil {
			return nil, reject(lines.line, "%v", err)
		}
		e := &stored{line: lines.line, state: s}
		e.in, e.loose = m.zoneClocks(s), m.looseClocks(s)
		key := string(s.key(nil))
		if k.byKey[key] != nil {
			return nil, reject(lines.line, "this state stands in line %d already", k.byKey[key].line)
		}
		for j, z := range lines.zones {
			line := lines.line + 1 + j
			n := len(e.in) + 1
			if len(z) != n*n {
				return nil, reject(line, "expected the %d bounds of %d clocks, not %d", n*n, n-1, len(z))
			}
			read, ok := zoneOf(n, z)
			if !ok {
				return nil, reject(line, "the zone is empty")
			}
			e.zones = append(e.zones, read)
		}
		lines.tokens, lines.zones = nil, nil
		k.byKey[key] = e
		k.set = append(k.set, e)
	}
	return k, nil
}

// check checks start-ups and steps.
func (k *closure) check(ctx context.Context) error {
	if err := k.starts(ctx); err != nil {
		return err
	}
	for _, e := range k.set {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := k.from(ctx, e); err != nil {
			return err
		}
	}
	return k.tooWide()
}

// starts checks that every start-up is in the set: at any time of the day, with any values of the inputs that are allowed.
func (k *closure) starts(ctx context.Context) error {
	m := k.m
	for seg := range max(m.segments(), 1) {
		s := m.atRest.clone()
		if m.segments() > 0 {
			s.segment = seg
		}
		if err := k.startsWith(ctx, s, 0); err != nil {
			return err
		}
	}
	return nil
}

// startsWith goes through the values of the inputs from the given one on.
func (k *closure) startsWith(ctx context.Context, s *state, from int) error {
	m := k.m
	if from < len(s.inputs) {
		if err := ctx.Err(); err != nil {
			return err
		}
		for _, v := range []bool{false, true} {
			s.inputs[from] = v
			if v && !m.mayStart(s, from) {
				continue
			}
			if err := k.startsWith(ctx, s, from+1); err != nil {
				return err
			}
		}
		s.inputs[from] = false
		return nil
	}
	draft := s.clone()
	if !m.fit(s.inputs) || !m.startAssumptions(draft) {
		return nil
	}
	for _, x := range k.arrivals(nil, m.react(m.atRest, draft, 0, cause{start: true, event: -1, jump: -1}), true) {
		if x.broken {
			return reject(0, "at start-up: the requirement is broken in the state %q", m.text(x.state))
		}
		if err := k.arrive(nil, &x); err != nil {
			return reject(0, "at start-up: %v", err)
		}
	}
	return k.tooWide()
}

// mayStart tells whether some start-up may have the inputs up to the given one: false where later ones can not help.
func (m *model) mayStart(s *state, upTo int) bool {
	for _, f := range m.few {
		n, below := 0, true
		for _, at := range f.inputs {
			if at > upTo {
				below = true
				continue
			}
			if f.ladder && s.inputs[at] && !below {
				return false
			}
			if below = s.inputs[at]; below {
				n++
			}
		}
		if !f.ladder && n > f.n {
			return false
		}
	}
	return true
}

// bad rejects a step that breaks the requirement.
func (k *closure) bad(e *stored, c cause, s *state) error {
	return reject(0, "%s: the requirement is broken in the state %q", k.how(e, c), k.m.text(s))
}

// how tells of a step in words.
func (k *closure) how(e *stored, c cause) string {
	m := k.m
	out := fmt.Sprintf("from the state %q of line %d", m.text(e.state), e.line)
	for ck := range m.clocks {
		if c.due>>ck&1 == 1 {
			out += fmt.Sprintf(", clock %d (%s) due", ck, m.c.clocks[ck].name)
		}
	}
	if c.jump >= 0 {
		out += fmt.Sprintf(", jump %d", c.jump)
	}
	if c.due == 0 && c.event < 0 {
		out += ", a lamp moves"
	}
	if c.event >= 0 {
		ev := m.events[c.event]
		out += fmt.Sprintf(", event of input %d (%s)", ev.input, m.inputName(ev.input))
		if !ev.level {
			out += fmt.Sprintf(" with gesture %d", ev.gesture)
		}
	}
	return out
}
