// Mutants of what modes ask for: settings, cases, levels, stages, rhythms.

package strength

import (
	"cmp"
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// stage makes the mutants of one stage of a state.
func (b *builder) stage(id site.ModeID, i, j int) {
	m := &b.s.Modes[id]
	g := &m.States[i].Stages[j]
	name := cmp.Or(m.Template, m.Name)
	if m.States[i].Name != "" {
		name += " in " + m.States[i].Name
	}
	if len(m.States[i].Stages) > 1 {
		name += fmt.Sprintf(", stage %d", j+1)
	}
	of := func(s *site.Site) *site.Stage { return &s.Modes[id].States[i].Stages[j] }
	if g.For > 0 && (g.Flash == nil || g.Flash.Times == 0) {
		k := b.ofMode(b.rule(TimerRule, g.Span, fmt.Sprint(name, " for"), name+": for "+g.For.String()), id)
		k.span(g.For, "without an end", func(s *site.Site, d site.Millis) { of(s).For = d })
	}
	if g.Flash != nil {
		b.flash(b.ofMode(b.rule(FlashRule, g.Span, name, name+": "+flashText(g.Flash)), id), g, of)
	}
	for k := range g.Settings {
		b.setting(id, i, j, k, name)
	}
}

// Hazard is the seeded fault of every rhythm: five flashes a second, within the 3 to 30 a second at which seizures are
// common (Epilepsy Society, UK) and above the three of WCAG 2.2, success criterion 2.3.1.
const hazard site.Millis = 100

// flash makes the mutants of a rhythm. A slower one, one that is still slow, and steady light endanger nobody.
func (b *builder) flash(k *maker, g *site.Stage, of func(*site.Site) *site.Stage) {
	k.safety = NoSafety
	rhythm := func(what string, safety Safety, on, off site.Millis) {
		if on <= 0 || off <= 0 {
			return
		}
		k.addAs(what, "", safety, func(s *site.Site) {
			g := of(s)
			if g.Flash.On, g.Flash.Off = on, off; g.Flash.Times > 0 {
				g.For = site.Millis(g.Flash.Times) * (on + off)
			}
		})
	}
	f := g.Flash
	if f.On > hazard || f.Off > hazard {
		rhythm(fmt.Sprintf("%s on, %s off", hazard, hazard), Flashing, hazard, hazard)
	}
	rhythm("twice as fast", NoSafety, f.On/2, f.Off/2)
	rhythm("half as fast", NoSafety, 2*f.On, 2*f.Off)
	k.add("steady", "", func(s *site.Site) {
		g := of(s)
		g.Flash = nil
		for i := range g.Settings {
			g.Settings[i].Flashing = false
		}
	})
	if f.Times > 0 {
		times := func(n int) func(*site.Site) {
			return func(s *site.Site) {
				g := of(s)
				if g.Flash.Times, g.For = n, site.Millis(n)*(f.On+f.Off); n == 0 {
					g.For = 0
				}
			}
		}
		k.add("without an end", "", times(0))
		k.add(fmt.Sprintf("%d times instead of %d", 2*f.Times, f.Times), "", times(2*f.Times))
	}
}

// setting makes the mutants of one setting.
func (b *builder) setting(id site.ModeID, i, j, n int, name string) {
	g := &b.s.Modes[id].States[i].Stages[j]
	set := &g.Settings[n]
	if len(set.Circuits) == 0 {
		return
	}
	of := func(s *site.Site) *site.Setting { return &s.Modes[id].States[i].Stages[j].Settings[n] }
	k := b.ofMode(b.rule(SettingRule, set.Span, fmt.Sprint(name, " setting ", b.colour(set)), name+": "+b.settingText(set)), id)
	if k.safety = b.counts(id, set.Circuits); b.colour(set) {
		k.safety = NoSafety
	}
	k.add("left out", b.sameFor(set.Circuits, func(c site.CircuitID) string {
		return cmp.Or(b.covered(g, n, c), b.darkAnyway(id, g, n, c), b.deadThen(id, c))
	}), func(s *site.Site) {
		g := &s.Modes[id].States[i].Stages[j]
		g.Settings = slices.Delete(g.Settings, n, n+1)
	})
	for x := range set.Cases {
		c := &set.Cases[x]
		if len(set.Cases) > 1 {
			k.add("\""+b.caseText(set, x)+"\" left out", b.sameCase(set, x), func(s *site.Site) {
				set := of(s)
				set.Cases = slices.Delete(set.Cases, x, x+1)
			})
		}
		other := b.other(set, c.Level)
		what := fmt.Sprintf("%s instead of %s", b.levelText(set.Circuits[0], other), b.levelText(set.Circuits[0], c.Level))
		if len(set.Cases) > 1 {
			what = "\"" + b.caseText(set, x) + "\": " + b.levelText(set.Circuits[0], other) + " instead"
		}
		k.add(what, b.sameFor(set.Circuits, func(id2 site.CircuitID) string {
			if cir := &b.s.Circuits[id2]; cir.Clamp(other) == cir.Clamp(c.Level) {
				return "the lamps know no other level"
			}
			return cmp.Or(b.covered(g, n, id2), b.deadThen(id, id2))
		}), func(s *site.Site) { of(s).Cases[x].Level = other })
		if c.Over > 0 {
			t := b.ofMode(b.rule(TimerRule, c.Span, name+" ramp", name+": ramp over "+c.Over.String()), id)
			t.safety = k.safety
			t.span(c.Over, "at once", func(s *site.Site, d site.Millis) { of(s).Cases[x].Over = d })
		}
	}
}

// colour tells whether a setting is of colours; those of a light and its colour stand at one place of the text.
func (b *builder) colour(set *site.Setting) bool { return b.s.Circuits[set.Circuits[0]].Colour }

// other gives the level on the other side: full for off and what is below half, off for the rest; for a colour another one.
func (b *builder) other(set *site.Setting, l site.Level) site.Level {
	switch {
	case b.colour(set) && l >= site.LeastKelvin && l < 3500:
		return 6500
	case b.colour(set) && l >= site.LeastKelvin:
		return 2200
	case b.colour(set):
		return max(1, (l+1)%site.Level(len(site.Colours)))
	case l < site.Full/2:
		return site.Full
	}
	return 0
}
