// How strong the requirements are, as data: which rules some requirement depends on.

package report

import (
	"slices"

	"lampwarden/checker/strength"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// Strength is a survey of mutants as data.
type Strength struct {
	Version int            `json:"version"`
	Site    string         `json:"site"`
	Rules   []StrengthRule `json:"rules"`
	Total   StrengthCount  `json:"total"`
	// Safety counts the mutants that touch what lights do under an alarm, a lost supply or a fault, by what they touch.
	Safety []StrengthCount `json:"safety"`
	// Unfit are requirements that notice nothing, because the site itself does not hold to them or that is not decided.
	Unfit    []string `json:"unfitRequirements,omitempty"`
	Stopped  bool     `json:"stopped"`
	Cautions []string `json:"cautions"`
}

// StrengthRule is a rule of the site.
type StrengthRule struct {
	Kind  string `json:"kind"`
	Text  string `json:"text"`
	Place string `json:"place,omitempty"` // file:line:column
	// Requirements depend on the rule: each caught a mutant of it.
	Requirements []string         `json:"requirements"`
	Mutants      []StrengthMutant `json:"mutants"`

	place string // for text
}

// StrengthMutant is one changed rule and what became of it.
type StrengthMutant struct {
	Change string   `json:"change"`
	Where  string   `json:"where,omitempty"` // which instance
	Fate   string   `json:"fate"`
	By     string   `json:"by,omitempty"`     // the requirement, or the code of the built-in check
	Why    string   `json:"why,omitempty"`    // of an equivalent one
	Open   []string `json:"open,omitempty"`   // requirements that are undecided for it
	Safety string   `json:"safety,omitempty"` // what it touches under an alarm, a lost supply or a fault

	fate strength.Fate
}

// StrengthCount counts mutants by fate.
type StrengthCount struct {
	Of         string `json:"of,omitempty"`
	Mutants    int    `json:"mutants"`
	Caught     int    `json:"caught"`
	ByPacks    int    `json:"caughtByPacks"` // of those, by a requirement of a pack
	ByChecks   int    `json:"caughtByBuiltInChecks"`
	Survive    int    `json:"survive"`
	Undecided  int    `json:"undecided"`
	Equivalent int    `json:"equivalent"`
	NotReached int    `json:"notReached"`
}

// Seen is how many of them somebody may notice.
func (c *StrengthCount) Seen() int { return c.Mutants - c.Equivalent }

// TellStrength puts a survey into words. Sources may be nil.
func TellStrength(r *strength.Report, sources *source.Set) *Strength {
	t := newTeller(r.Site, sources)
	d := &Strength{
		Version: Version, Site: source.Escape(r.Site.Name), Stopped: r.Stopped, Cautions: cautions(r.Site), Rules: []StrengthRule{},
		Total: countOf(r, "", func(*strength.Mutant) bool { return true }), Safety: []StrengthCount{},
	}
	for k := strength.WayOut; k <= strength.OtherLight; k++ {
		c := countOf(r, k.String(), func(m *strength.Mutant) bool { return m.Safety == k })
		if c.Mutants > 0 {
			d.Safety = append(d.Safety, c)
		}
	}
	for _, i := range r.Unfit {
		d.Unfit = append(d.Unfit, t.named(i))
	}
	for i := range r.Rules {
		d.Rules = append(d.Rules, t.strengthRule(r, i))
	}
	return d
}

func (t *teller) named(requirement int) string {
	return source.Escape(t.s.Requirements[requirement].Name)
}

func (t *teller) strengthRule(r *strength.Report, i int) StrengthRule {
	rule := &r.Rules[i]
	out := StrengthRule{
		Kind: rule.Kind.String(), Text: source.Escape(rule.Text), Place: t.fullPlace(rule.Span), place: t.place(rule.Span),
		Requirements: []string{}, Mutants: []StrengthMutant{},
	}
	for _, q := range r.Depends(i) {
		out.Requirements = append(out.Requirements, t.named(q))
	}
	for _, k := range rule.Mutants {
		m, o := &r.Mutants[k], &r.Outcomes[k]
		x := StrengthMutant{
			Change: source.Escape(m.What), Where: source.Escape(m.Where), Fate: o.Fate.String(), By: o.Check, Safety: m.Safety.String(),
			fate: o.Fate,
		}
		if o.Requirement != site.None {
			x.By = t.named(o.Requirement)
		}
		if o.Fate == strength.Same {
			x.Why = m.Same
		}
		for _, q := range o.Open {
			x.Open = append(x.Open, t.named(q))
		}
		out.Mutants = append(out.Mutants, x)
	}
	return out
}

func countOf(r *strength.Report, of string, wanted func(*strength.Mutant) bool) StrengthCount {
	c := r.Count(wanted)
	return StrengthCount{
		Of: of, Mutants: c.All, Caught: c.By[strength.Caught], ByPacks: c.ByPack, ByChecks: c.By[strength.CaughtByCheck],
		Survive: c.By[strength.Survives], Undecided: c.By[strength.Undecided], Equivalent: c.By[strength.Same],
		NotReached: c.By[strength.NotReached],
	}
}

// standing groups rules by how requirements depend on them.
type ruleStanding uint8

const (
	independent ruleStanding = iota // no requirement depends on it
	inPart                          // some of its mutants go unnoticed
	wholly
	invisible // nobody can see any of its mutants
	unreached
)

func (r *StrengthRule) standing() ruleStanding {
	has := func(fates ...strength.Fate) bool {
		return slices.ContainsFunc(r.Mutants, func(m StrengthMutant) bool { return slices.Contains(fates, m.fate) })
	}
	unnoticed := has(strength.CaughtByCheck, strength.Survives, strength.Undecided)
	switch {
	case len(r.Requirements) > 0 && unnoticed:
		return inPart
	case len(r.Requirements) > 0:
		return wholly
	case unnoticed:
		return independent
	case has(strength.NotReached):
		return unreached
	}
	return invisible
}
