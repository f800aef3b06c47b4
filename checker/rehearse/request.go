// Who asks for what, and who wins (lang/SEMANTICS.md section 2, step 3).

package rehearse

import (
	"slices"

	"lampwarden/lang/site"
)

// decision is the outcome of step 3 for one circuit, before an ambiguity is settled.
type decision struct {
	asks      []Ask // all modes that ask, in written order
	rest      []Ask // the set M
	rule      site.Rule
	ambiguous bool
	request   site.Level // not if ambiguous
}

// ask tells what one mode asks of the circuit: of the stage's settings that list it and have a case that holds, the
// last counts, with its first such case.
func (p *plan) ask(v view, a *asker, c site.CircuitID) (Ask, bool) {
	ms, m := v.now.modes[a.mode], &p.s.Modes[a.mode]
	if !ms.active() && m.Kind != site.States || ms.stage == Over {
		return Ask{}, false
	}
	for _, at := range slices.Backward(a.settings) {
		if at.state != ms.state || at.stage != ms.stage {
			continue
		}
		stage := &m.States[at.state].Stages[at.stage]
		set := &stage.Settings[at.setting]
		for i := range set.Cases {
			if !v.holds(set.Cases[i].When) {
				continue
			}
			ask := Ask{Mode: a.mode, State: at.state, Stage: at.stage, Setting: at.setting, Case: i,
				Level: p.s.Circuits[c].Clamp(set.Cases[i].Level), Ramp: set.Cases[i].Over, Setup: set.Span, Span: set.Cases[i].Span}
			if set.Flashing && stage.Flash != nil && !flashOn(stage.Flash, ms.stageSince, v.now.at) {
				ask.Level, ask.Ramp, ask.Dark = 0, 0, true
			}
			return ask, true
		}
	}
	return Ask{}, false
}

// decide resolves the circuit's request in the view of a reaction.
func (p *plan) decide(v view, c site.CircuitID) decision {
	var d decision
	if v.now.down { // no requests while the controller is down
		return d
	}
	for i := range p.askers[c] {
		if a, ok := p.ask(v, &p.askers[c][i], c); ok {
			d.asks = append(d.asks, a)
		}
	}
	d.rest = p.notOutranked(d.asks)
	switch {
	case len(d.rest) == 0:
		d.request = 0
	case len(levelsOf(d.rest)) == 1:
		d.request = d.rest[0].Level
	case p.everyPair(d.rest, c, site.Highest):
		d.rule = site.Highest
		for _, a := range d.rest {
			d.request = max(d.request, a.Level)
		}
	case p.everyPair(d.rest, c, site.Latest):
		d.rule = site.Latest
		d.request = latest(v.now, d.rest).Level
	default:
		d.ambiguous = true
	}
	return d
}

// notOutranked drops those outranked by another one that asks.
func (p *plan) notOutranked(asks []Ask) []Ask {
	var rest []Ask
	for _, a := range asks {
		if !slices.ContainsFunc(asks, func(b Ask) bool { return p.s.Precedence.Outranks(b.Mode, a.Mode) }) {
			rest = append(rest, a)
		}
	}
	return rest
}

// everyPair tells whether every pair has the rule.
func (p *plan) everyPair(asks []Ask, c site.CircuitID, rule site.Rule) bool {
	for i, a := range asks {
		for _, b := range asks[:i] {
			if p.read(c, p.s.Precedence.RuleFor(a.Mode, b.Mode)) != rule {
				return false
			}
		}
	}
	return true
}

// read is how a circuit reads a rule: for a colour, Highest is Latest, as codes have no order.
func (p *plan) read(c site.CircuitID, rule site.Rule) site.Rule {
	if p.s.Circuits[c].Colour && rule == site.Highest {
		return site.Latest
	}
	return rule
}

// latest is the ask of the mode with the greatest recency, between equal recencies the one written last.
func latest(st *state, asks []Ask) Ask {
	best := asks[0]
	for _, a := range asks[1:] { // in written order, so the later one wins a tie
		if st.modes[a.Mode].recency >= st.modes[best.Mode].recency {
			best = a
		}
	}
	return best
}

// levelsOf gives the different levels in the order of the asks.
func levelsOf(asks []Ask) []site.Level {
	var out []site.Level
	for _, a := range asks {
		if !slices.Contains(out, a.Level) {
			out = append(out, a.Level)
		}
	}
	return out
}

// want is what step 4 needs to know of the request beside its level.
type want struct {
	asked bool        // some mode asks
	ramp  site.Millis // of the setting that decides; 0: the circuit's own fade
}

// request is step 3 for one circuit: the decision, and the environment's choice where it is ambiguous, which is kept
// until the set M or one of its levels changes.
func (r *reaction) request(c site.CircuitID) (w want, err error) {
	d := r.decide(r.now(), c)
	cs := &r.after.circuits[c]
	if !d.ambiguous {
		cs.request, cs.ambiguous = d.request, nil
		return want{len(d.rest) > 0, rampOf(d.rest, cs.request)}, nil
	}
	m := contenders(d.rest)
	if !slices.Equal(m, r.before.circuits[c].ambiguous) { // else it is kept
		if cs.request, err = r.choose(r.at, c, levelsOf(d.rest)); err != nil {
			return want{}, err
		}
		cs.ambiguous = m
	}
	return want{true, rampOf(d.rest, cs.request)}, nil
}

// rampOf is the ramp of the request: of the several that ask for its level the mode written last counts, whether its
// setting has a ramp or not.
func rampOf(rest []Ask, request site.Level) site.Millis {
	for _, a := range slices.Backward(rest) { // in written order
		if a.Level == request {
			return a.Ramp
		}
	}
	return 0
}

// contenders is the set M with its levels.
func contenders(asks []Ask) []contender {
	out := make([]contender, len(asks))
	for i, a := range asks {
		out[i] = contender{a.Mode, a.Level}
	}
	return out
}
