// Collecting rules and mutants.

package strength

import (
	"cmp"
	"fmt"
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// builder collects the rules of a site and their mutants.
type builder struct {
	s       *site.Site
	rules   []Rule
	mutants []Mutant
	at      map[place]int
	alarm   []bool             // alarm modes, and the plant modes behind alarms and supplies
	light   []Safety           // of circuits: why their light under an alarm counts
	sets    [][]site.CircuitID // by mode: what light hangs on it, of a plant mode through others
	setters [][]site.ModeID    // by circuit
	unseen  []bool             // modes that nobody reads
}

// place tells rules apart: one kind of thing at one place of the text. Number counts what stands at one place.
type place struct {
	kind   Kind
	span   source.Span
	number string
}

func newBuilder(s *site.Site) *builder {
	b := &builder{s: s, at: map[place]int{}}
	b.setters = settersOf(s)
	b.light, b.sets = lights(s), lightOf(s)
	b.alarm = alarmModes(s)
	b.unseen = unseen(s)
	return b
}

// rule gives the rule at a place; text is used when it is new.
func (b *builder) rule(kind Kind, sp source.Span, number string, text string) *maker {
	key := place{kind, sp, number}
	i, ok := b.at[key]
	if !ok {
		i = len(b.rules)
		b.at[key] = i
		b.rules = append(b.rules, Rule{Kind: kind, Text: text, Span: sp})
	}
	return &maker{b: b, rule: i}
}

// maker makes the mutants of one instance of a rule.
type maker struct {
	b       *builder
	rule    int
	where   string
	safety  Safety
	touches touch
	same    string // why no change of this instance can be seen
}

// add makes a mutant. same says why nobody can see the change, "" if that is not known.
func (k *maker) add(what, same string, change func(*site.Site)) {
	k.addAs(what, same, k.safety, change)
}

func (k *maker) addAs(what, same string, safety Safety, change func(*site.Site)) {
	b := k.b
	b.rules[k.rule].Mutants = append(b.rules[k.rule].Mutants, len(b.mutants))
	b.mutants = append(b.mutants, Mutant{Rule: k.rule, What: what, Where: k.where, Safety: safety, Same: cmp.Or(k.same, same),
		touches: k.touches, change: change})
}

// span makes the mutants of a duration: half, double, none. set changes it in a site; no removal if remove is "".
func (k *maker) span(d site.Millis, remove string, set func(*site.Site, site.Millis)) {
	if d/2 > 0 {
		k.add(fmt.Sprintf("%s instead of %s", d/2, d), "", func(s *site.Site) { set(s, d/2) })
	}
	k.add(fmt.Sprintf("%s instead of %s", 2*d, d), "", func(s *site.Site) { set(s, 2*d) })
	if remove != "" {
		k.add(remove, "", func(s *site.Site) { set(s, 0) })
	}
}

// ordered puts the rules in the order of the text, and the mutants in that of their rules.
func (b *builder) ordered() {
	order := make([]int, len(b.rules))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		p, q := &b.rules[i], &b.rules[j]
		return cmp.Or(cmp.Compare(p.Span.File, q.Span.File), cmp.Compare(p.Span.Start, q.Span.Start), cmp.Compare(p.Kind, q.Kind))
	})
	var rules []Rule
	var mutants []Mutant
	for _, i := range order {
		r := b.rules[i]
		if len(r.Mutants) == 0 {
			continue
		}
		for k, m := range r.Mutants {
			r.Mutants[k] = len(mutants)
			mutants = append(mutants, b.mutants[m])
			mutants[len(mutants)-1].Rule = len(rules)
		}
		rules = append(rules, r)
	}
	b.rules, b.mutants = rules, mutants
}

// settersOf lists for every circuit the modes that ask something of it.
func settersOf(s *site.Site) [][]site.ModeID {
	out := make([][]site.ModeID, len(s.Circuits))
	for m := range s.Modes {
		eachSetting(&s.Modes[m], func(_, _, _ int, set *site.Setting) {
			for _, c := range set.Circuits {
				if n := len(out[c]); n == 0 || out[c][n-1] != site.ModeID(m) {
					out[c] = append(out[c], site.ModeID(m))
				}
			}
		})
	}
	return out
}

// eachSetting calls f for every setting of a mode, with the indices of its state, stage and place.
func eachSetting(m *site.Mode, f func(state, stage, setting int, set *site.Setting)) {
	for i := range m.States {
		for j := range m.States[i].Stages {
			for k := range m.States[i].Stages[j].Settings {
				f(i, j, k, &m.States[i].Stages[j].Settings[k])
			}
		}
	}
}
