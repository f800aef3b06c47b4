// A copy of a site that can be changed.

package strength

import (
	"slices"

	"lampwarden/lang/site"
)

// copySite copies all tables that a mutant changes. Expressions are shared: they are replaced, never changed.
func copySite(s *site.Site) *site.Site {
	out := *s
	out.Circuits = slices.Clone(s.Circuits)
	out.Bands = slices.Clone(s.Bands)
	out.Requirements = slices.Clone(s.Requirements)
	out.Assumptions = slices.Clone(s.Assumptions)
	out.Modes = slices.Clone(s.Modes)
	for i := range out.Modes {
		m := &out.Modes[i]
		m.Starts, m.Ends = slices.Clone(m.Starts), slices.Clone(m.Ends)
		m.Transitions = slices.Clone(m.Transitions)
		m.States = slices.Clone(m.States)
		for j := range m.States {
			m.States[j].Stages = copyStages(m.States[j].Stages)
		}
	}
	out.Precedence.Above = copySquare(s.Precedence.Above)
	out.Precedence.Equal = copySquare(s.Precedence.Equal)
	return &out
}

func copyStages(in []site.Stage) []site.Stage {
	out := slices.Clone(in)
	for i := range out {
		g := &out[i]
		if g.Flash != nil {
			f := *g.Flash
			g.Flash = &f
		}
		g.Settings = slices.Clone(g.Settings)
		for k := range g.Settings {
			g.Settings[k].Cases = slices.Clone(g.Settings[k].Cases)
		}
	}
	return out
}

func copySquare[T any](in [][]T) [][]T {
	out := slices.Clone(in)
	for i := range out {
		out[i] = slices.Clone(out[i])
	}
	return out
}
