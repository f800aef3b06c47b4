// The check itself: every start-up is in the set, and so is all that can come of what is in the set.

package certify

import (
	"context"
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// entry is a state of the set with its zones.
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
		e.in, e.loose = m.zoneClocks(s)
		key := s.key()
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

// arrival is a successor with what it means for zones.
type arrival struct {
	successor
	in   []running // the clocks of its zones
	from []int     // where in the zone before the step each of them comes from, 0: it starts from zero
	to   *stored   // the state in the set, nil if it is not there
}

// arrivals works out successors of a state whose zones have the given clocks; start tells that they come of a start-up.
func (k *closure) arrivals(in []running, all []successor, start bool) []arrival {
	out := make([]arrival, 0, len(all))
	for _, x := range all {
		x.state = k.younger(x, start)
		a := arrival{successor: x, to: k.byKey[x.state.key()]}
		if slices.ContainsFunc(out, func(b arrival) bool {
			return b.to != nil && b.to == a.to && b.fresh == a.fresh && !b.broken && !a.broken
		}) {
			continue
		}
		a.in, _ = k.m.zoneClocks(x.state)
		a.from = make([]int, len(a.in)+1)
		for i, r := range a.in {
			if x.fresh>>r.ck&1 == 0 {
				a.from[i+1] = 1 + slices.IndexFunc(in, func(o running) bool { return o.ck == r.ck })
			}
		}
		out = append(out, a)
	}
	return out
}

// arrive checks that a successor, with all that may become of its clocks, is in the set. z is the zone before the step, nil at start-up.
func (k *closure) arrive(z *zone, x *arrival) error {
	m := k.m
	k.steps++
	var next *zone
	if z != nil {
		next = z.pick(x.from)
	} else {
		next = universe(len(x.in) + 1)
		for i, r := range x.in {
			if m.clocks[r.ck].kind == ofDay {
				next.constrain(i+1, 0, lt(r.d))
			} else {
				next.constrain(i+1, 0, le(0))
			}
		}
	}
	next.later()
	for i, r := range x.in {
		if r.due && !next.constrain(i+1, 0, le(r.d)) {
			return fmt.Errorf("time is stopped in the state %q", m.text(x.state))
		}
	}
	s, next := k.ended(x.state, x.in, next)
	e := x.to
	if s != x.state || e == nil {
		e = k.byKey[s.key()]
	}
	if e != nil && slices.ContainsFunc(e.zones, next.within) {
		return nil
	}
	switch {
	case k.missing != nil:
		k.missing(s, next)
		return nil
	case e == nil:
		return fmt.Errorf("the state %q is missing", m.text(s))
	}
	return fmt.Errorf("the zone %s of the state %q of line %d is missing", next, m.text(s), e.line)
}

// younger gives the state with those cooling timers that can not be due yet: those that start in this step, and those that
// ran so before.
func (k *closure) younger(x successor, start bool) *state {
	m, s := k.m, x.state
	young := uint64(0)
	for ck, c := range m.clocks {
		if c.treat != cooling || c.kind == ofAssumption || m.length(s, ck) == 0 {
			continue
		}
		starts := x.fresh>>ck&1 == 1
		if start {
			starts = c.kind != ofDay // the time of day is anywhere in its segment
		}
		if starts || s.young>>ck&1 == 1 { // as it was copied from the state before
			young |= 1 << ck
		}
	}
	if young == s.young {
		return s
	}
	s = s.clone()
	s.young = young
	return s
}

// ended forgets the clocks that can not be less any more than what they are compared with, of assumptions and cooling timers.
func (k *closure) ended(s *state, in []running, z *zone) (*state, *zone) {
	m := k.m
	from := []int{0}
	changed := false
	for i, r := range in {
		assumes := m.clocks[r.ck].kind == ofAssumption
		if (assumes || r.ready) && z.lower(i+1) <= le(-r.d) {
			if !changed {
				s, changed = s.clone(), true
			}
			s.young &^= 1 << r.ck
			if assumes {
				m.endAssumption(s, m.clocks[r.ck].at)
			}
			continue
		}
		from = append(from, i+1)
	}
	if !changed {
		return s, z
	}
	return s, z.pick(from)
}

// endAssumption lets the clock of an assumption end. A battery that has been charging long enough is full.
func (m *model) endAssumption(s *state, i int) {
	a := &m.assumed[i]
	s.runs[i] = false
	if a.def.Kind == site.Charge && !m.input(s, a.def.Inputs[1]) && m.clocks[a.clock].treat == exact {
		s.full[i] = true
	}
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
