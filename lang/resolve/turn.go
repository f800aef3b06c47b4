// Lights in turn: `light step[1..8] in turn, 400 ms apart`.
//
// It becomes a stage for each circuit, in which that circuit and those before it are lit. What the stage before asked for
// goes on, but for flashes, so that `turn off ... in turn` leaves the other circuits as they are.

package resolve

import (
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// turnOf gives the turn that a stage is, or nil. A turn beside other settings is reported.
func (r *resolver) turnOf(a *syntax.Asks, i int) *syntax.Turn {
	st := a.Stages[i]
	at := slices.IndexFunc(st.Settings, func(s *syntax.Setting) bool { return s.Turn != nil })
	if at < 0 {
		return nil
	}
	t := st.Settings[at].Turn
	if len(st.Settings) == 1 {
		return t
	}
	d := r.errorf(source.StageOrder, t.Span, "lights in turn are stages of their own, with no settings beside them")
	if at > 0 {
		d.Suggestion = "write `then` before it"
	} else {
		relate(d, st.Settings[1].Span, "this stands beside them")
		d.Suggestion = "write `then` between them"
	}
	return nil
}

// inTurn makes the stages of a turn that follows the stages before. With `for` they take that long together; else the
// last takes as long as the others, or has no end if no stage follows.
func (r *resolver) inTurn(sc scope, st *syntax.Stage, t *syntax.Turn, before []site.Stage, last bool) []site.Stage {
	ids := r.targets(sc, t.Targets)
	level := t.Level
	switch {
	case t.Off:
		level = &syntax.Level{Node: t.Node, Word: "off"}
	case level == nil:
		level = &syntax.Level{Node: t.Node, Word: "full"}
	}
	r.suits(ids, level)
	apart, rest := r.duration(t.Apart), site.Millis(0)
	switch {
	case st.For != nil:
		rest = r.duration(st.For) - apart*site.Millis(len(ids)-1)
	case !last:
		rest = apart
	}
	if st.For != nil && rest <= 0 && len(ids) > 0 {
		d := r.errorf(source.TurnTooLong, t.Apart.Span, "%d circuits %s apart take longer than the stage", len(ids), apart)
		relate(d, st.For.Span, "this is its length")
		rest = apart
	}
	var out []site.Stage
	for k := range ids {
		stage := site.Stage{For: apart, Span: st.Span}
		if k == len(ids)-1 {
			stage.For = rest
		}
		if !r.spend(k+1, t.Span) {
			break
		}
		if len(before) > 0 {
			stage.Settings = r.carried(&before[len(before)-1], ids[:k+1], t.Span)
		}
		stage.Settings = append(stage.Settings, site.Setting{Circuits: slices.Clone(ids[:k+1]),
			Cases: []site.Case{{Level: r.level(level), Span: t.Span}}, Span: t.Span})
		if h := r.hueOf(r.colourOf(level)); h != nil {
			stage.Settings = append(stage.Settings, r.colourSettings(ids[:k+1], r.oneByOne(t.Targets), []shade{{hue: h}}, t.Span)...)
		}
		out = append(out, stage)
	}
	return out
}

// carried copies the settings of a stage that go on, less the circuits that are asked for something else now.
func (r *resolver) carried(from *site.Stage, now []site.CircuitID, sp source.Span) []site.Setting {
	var out []site.Setting
	for _, s := range from.Settings {
		c := s
		c.Circuits = without(s.Circuits, now)
		if s.Flashing || len(c.Circuits) == 0 || !r.spend(len(s.Circuits), sp) {
			continue
		}
		c.Cases = slices.Clone(s.Cases)
		for i := range c.Cases {
			c.Cases[i].When = clone(c.Cases[i].When)
		}
		out = append(out, c)
	}
	return out
}

// countStages finds how many stages the sequences of each mode have, before conditions that name them are resolved.
func (r *resolver) countStages() {
	for _, m := range r.modes {
		m.stages = make([]int, len(m.all()))
		for i := range m.stages {
			sc := scope{mode: site.None, area: site.None}
			if m.decl.Each != nil {
				sc.name, sc.area = m.decl.Each.Var.Name, m.areas[i]
			}
			for _, c := range m.decl.Clauses {
				switch {
				case c.Asks != nil:
					m.stages[i] = max(m.stages[i], r.stagesOf(sc, c.Asks))
				case c.In != nil && c.In.Asks != nil:
					m.stages[i] = max(m.stages[i], r.stagesOf(sc, c.In.Asks))
				}
			}
		}
	}
}

func (r *resolver) stagesOf(sc scope, a *syntax.Asks) int {
	n := 0
	for i := range a.Stages {
		if t := r.turnOf(a, i); t != nil {
			n += len(r.targets(sc, t.Targets))
		} else {
			n++
		}
	}
	return n
}
