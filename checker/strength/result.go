// What a survey found.

package strength

import "lampwarden/lang/site"

// Fate is what became of a mutant.
type Fate uint8

// The fates. The zero value is NotReached, so that nothing counts as looked at by omission.
const (
	NotReached    Fate = iota // the run was stopped before
	Caught                    // some requirement notices
	CaughtByCheck             // no requirement does, but a built-in check
	Survives                  // nothing notices
	Undecided                 // nothing has noticed, but some answers are open
	Same                      // it is proved that nobody can see the change
)

// String gives the word that reports use.
func (f Fate) String() string {
	return [...]string{"not reached", "caught", "caught by a built-in check", "survives", "undecided", "equivalent"}[f]
}

// Outcome is the fate of one mutant.
type Outcome struct {
	Fate        Fate
	Requirement int    // that caught it; else None
	Pack        bool   // that requirement is of a pack
	Check       string // the code of the check that caught it
	Open        []int  // requirements whose answer is open, in the order in which they were asked
}

// Report is a whole survey.
type Report struct {
	Site     *site.Site
	Rules    []Rule
	Mutants  []Mutant
	Outcomes []Outcome // of the mutants
	Unfit    []int     // requirements that notice nothing, because the site itself does not hold to them, or that is open
	Packs    int       // requirements of packs
	Stopped  bool      // the run was stopped early
}

// Count is how many mutants had which fate.
type Count struct {
	All    int
	By     [Same + 1]int
	ByPack int // of the caught ones, by a requirement of a pack
}

// Seen is the number of mutants that can be seen, as far as is known.
func (c *Count) Seen() int { return c.All - c.By[Same] }

// Count counts the mutants that are wanted.
func (r *Report) Count(wanted func(*Mutant) bool) (c Count) {
	for i := range r.Mutants {
		if !wanted(&r.Mutants[i]) {
			continue
		}
		o := &r.Outcomes[i]
		c.All++
		c.By[o.Fate]++
		if o.Fate == Caught && o.Pack {
			c.ByPack++
		}
	}
	return c
}

// Depends lists the requirements that caught a mutant of the rule, in order, each once.
func (r *Report) Depends(rule int) (out []int) {
	had := map[int]bool{}
	for _, m := range r.Rules[rule].Mutants {
		if o := &r.Outcomes[m]; o.Fate == Caught && !had[o.Requirement] {
			had[o.Requirement] = true
			out = append(out, o.Requirement)
		}
	}
	return out
}
