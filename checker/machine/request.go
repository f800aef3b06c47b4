// Requests: which mode decides what a circuit is asked for.

package machine

import (
	"slices"

	"lampwarden/lang/site"
)

// request is a circuit whose request matters, with what may decide it.
type request struct {
	id        site.CircuitID
	askers    []asker // kept setters, in mode order
	free      []site.ModeID
	freeMask  []uint64 // of each of them, the regions of the lamp for which it may ask
	ambiguous bool     // two equals without a deciding rule exist
	now, was  []ask    // working memory
}

// asker is a mode's settings on one circuit, per state and stage, the last
// written first.
type asker struct {
	mode site.ModeID
	sets [][][]setting
}

type setting struct {
	index    int // in the stage's Settings
	flashing bool
	cases    []levelCase
}

type levelCase struct {
	when  *node
	level site.Level  // clamped
	over  site.Millis // time of a ramp, 0: none
}

// ask is what one mode asks for now.
type ask struct {
	mode    site.ModeID
	level   site.Level
	state   int
	stage   int
	setting int
	over    site.Millis // time of a ramp, 0: none
}

func (s *System) keepRequests() {
	for _, c := range s.sl.Requests {
		r := request{id: c, free: s.sl.Free[c]}
		for i := range s.modes {
			if a, any := s.newAsker(&s.modes[i], c); any {
				r.askers = append(r.askers, a)
			}
		}
		slices.SortFunc(r.askers, func(a, b asker) int { return int(a.mode - b.mode) })
		r.ambiguous = !s.decided(c, r.askers)
		if l := s.lampIndex(c); l >= 0 {
			s.lamps[l].free, s.lamps[l].req = len(r.free) > 0, len(s.reqs)
			for _, m := range r.free {
				r.freeMask = append(r.freeMask, s.asksFor(&s.lamps[l], m))
			}
		}
		if v := slices.Index(s.sl.Seen, c); v >= 0 {
			s.sights[v].req = len(s.reqs)
		}
		r.now, r.was = make([]ask, 0, len(r.askers)), make([]ask, 0, len(r.askers))
		s.reqs = append(s.reqs, r)
	}
}

// asksFor gives the regions of the levels for which a mode may ever ask of the lamp.
func (s *System) asksFor(l *lamp, m site.ModeID) (mask uint64) {
	for _, st := range s.site.Modes[m].States {
		for _, sg := range st.Stages {
			for _, set := range sg.Settings {
				if !slices.Contains(set.Circuits, l.id) {
					continue
				}
				if set.Flashing {
					mask |= 1 << l.region(0)
				}
				for _, cs := range set.Cases {
					mask |= 1 << l.region(s.site.Circuits[l.id].Clamp(cs.Level))
				}
			}
		}
	}
	return mask
}

// unknown gives the regions in which the request of a lamp can be where free modes may decide: those of the kept modes
// that ask (any of which may decide, if a free mode outranks another), those of the free ones that none of them
// outranks, and dark if no kept mode asks. Of a colour that no kept mode asks for anything can be.
func (s *System) unknown(r *request, l *lamp, top []ask) (mask uint64) {
	if len(top) == 0 && l.colour {
		return 1<<len(l.cuts) - 1
	}
	if len(top) == 0 {
		mask = 1 << l.region(0)
	}
	for _, a := range top {
		mask |= 1 << l.region(a.level)
	}
	for i, m := range r.free {
		if !slices.ContainsFunc(top, func(a ask) bool { return s.site.Precedence.Outranks(a.mode, m) }) {
			mask |= r.freeMask[i]
		}
	}
	return mask
}

// decided tells whether every two incomparable askers share one rule, so that no
// set of them can be ambiguous.
func (s *System) decided(c site.CircuitID, as []asker) bool {
	rules := [3]bool{}
	for i, a := range as {
		for _, b := range as[i+1:] {
			p := &s.site.Precedence
			if !p.Outranks(a.mode, b.mode) && !p.Outranks(b.mode, a.mode) {
				rules[s.ruleFor(c, a.mode, b.mode)] = true
			}
		}
	}
	return !rules[site.NoRule] && !(rules[site.Highest] && rules[site.Latest])
}

// ruleFor gives the rule between two equals on a circuit: of two colours none is the higher.
func (s *System) ruleFor(c site.CircuitID, a, b site.ModeID) site.Rule {
	r := s.site.Precedence.RuleFor(a, b)
	if r == site.Highest && s.site.Circuits[c].Colour {
		return site.Latest
	}
	return r
}

func (s *System) newAsker(m *modeInfo, c site.CircuitID) (a asker, any bool) {
	a = asker{mode: m.id, sets: make([][][]setting, len(m.def.States))}
	for i, st := range m.def.States {
		a.sets[i] = make([][]setting, len(st.Stages))
		for j, sg := range st.Stages {
			for k := len(sg.Settings) - 1; k >= 0; k-- {
				if set := sg.Settings[k]; slices.Contains(set.Circuits, c) {
					a.sets[i][j] = append(a.sets[i][j], s.newSetting(k, set, c))
					any = true
				}
			}
		}
	}
	return a, any
}

func (s *System) newSetting(k int, set site.Setting, c site.CircuitID) setting {
	out := setting{index: k, flashing: set.Flashing}
	for _, cs := range set.Cases {
		out.cases = append(out.cases, levelCase{s.compile(cs.When), s.site.Circuits[c].Clamp(cs.Level), cs.Over})
	}
	return out
}

// asks collects what the kept modes ask of a request's circuit in f, leaves out
// those outranked by another, and tells whether a free mode may decide instead.
func (s *System) asks(r *request, f, before *frame, out []ask) (top []ask, open bool) {
	for i := range r.askers {
		if a, ok := s.asksNow(&r.askers[i], f, before); ok {
			out = append(out, a)
		}
	}
	p := &s.site.Precedence
	for _, m := range r.free {
		open = open || !slices.ContainsFunc(out, func(a ask) bool { return p.Outranks(a.mode, m) })
	}
	n := 0
	for _, a := range out {
		if !slices.ContainsFunc(out, func(b ask) bool { return p.Outranks(b.mode, a.mode) }) {
			s.top[n] = a
			n++
		}
	}
	return append(out[:0], s.top[:n]...), open
}

// asksNow gives what one mode asks for.
func (s *System) asksNow(a *asker, f, before *frame) (ask, bool) {
	def := &s.site.Modes[a.mode]
	state := 0
	if def.Kind == site.States {
		state = int(f.loc[a.mode])
	} else if !s.active(f, a.mode) {
		return ask{}, false
	}
	ph := s.phaseOf(f, a.mode)
	if ph.stage == site.None {
		return ask{}, false
	}
	for _, set := range a.sets[state][ph.stage] {
		for _, cs := range set.cases {
			if cs.when != nil && !s.eval(cs.when, f, before, 0) {
				continue
			}
			level := cs.level
			if set.flashing && ph.off {
				level = 0
			}
			return ask{a.mode, level, state, ph.stage, set.index, cs.over}, true
		}
	}
	return ask{}, false
}

// resolve decides between the asks that none outranks (lang/SEMANTICS.md, section
// 2, step 3). ok is false when the circuit is ambiguous.
func (s *System) resolve(f *frame, q *request, top []ask) (level site.Level, ok bool) {
	if len(top) == 0 {
		return 0, true
	}
	level = top[0].level
	same := true
	rule := site.NoRule
	uniform := true
	for i, a := range top {
		same = same && a.level == level
		for _, b := range top[i+1:] {
			r := s.ruleFor(q.id, a.mode, b.mode)
			uniform = uniform && r != site.NoRule && (rule == site.NoRule || r == rule)
			rule = r
		}
	}
	switch {
	case same:
		return level, true
	case !uniform:
		return 0, false
	case rule == site.Highest:
		for _, a := range top {
			level = max(level, a.level)
		}
		return level, true
	}
	return s.mostRecent(f, top).level, true
}

// ramp gives the time of the ramp that goes with a level: of the asks for it the one
// of the mode written last counts.
func ramp(top []ask, level site.Level) (over site.Millis) {
	for _, a := range top {
		if a.level == level {
			over = a.over
		}
	}
	return over
}

// mostRecent picks the ask of the latest mode; a mode without a recorded recency
// is older than all others, and among those the one written last counts.
func (s *System) mostRecent(f *frame, top []ask) ask {
	for _, m := range f.rec {
		for _, a := range top {
			if a.mode == m {
				return a
			}
		}
	}
	return top[len(top)-1]
}

// wins tells whether the goal's setting is among those that decide circuit r with
// the given level.
func (s *System) wins(r *request, top []ask, level site.Level) bool {
	w := s.goal.Win
	return w != nil && w.Circuit == r.id && slices.ContainsFunc(top, func(a ask) bool {
		return a.mode == w.Mode && a.state == w.State && a.stage == w.Stage && a.setting == w.Setting && a.level == level
	})
}

// freeWins tells whether the goal's setting is one of a free mode that may decide circuit r.
func (s *System) freeWins(r *request, top []ask) bool {
	w := s.goal.Win
	return w != nil && w.Circuit == r.id && slices.Contains(r.free, w.Mode) && !slices.ContainsFunc(top, func(a ask) bool {
		return s.site.Precedence.Outranks(a.mode, w.Mode)
	})
}
