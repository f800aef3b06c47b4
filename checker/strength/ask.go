// Whom to ask about a mutant, and in which order.

package strength

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"sync"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// least is the number of successors that a search may compute in any case.
const least = 250_000

// most is the number of successors that a search may compute on the site itself; what takes more is left out of the survey.
const most = 20_000_000

// work gives the most successors of a search for a requirement: what the user says, else four times what it took on the site
// itself, in coarse steps so that equal questions have equal limits.
func (v *survey) work(i int) int {
	if v.opt.Work > 0 {
		return v.opt.Work
	}
	n := least
	for n < 4*v.base[i].work {
		n *= 4
	}
	return n
}

// ask lists the requirements that can see the change of a mutant: of one that counts for safety first those of packs, which
// so are known to catch it or not; then those that caught a mutant of the same rule, or are another instance of
// one that did; then the cheap ones.
func (v *survey) ask(m *Mutant, hints []int) (out []int) {
	for i := range v.base {
		if b := &v.base[i]; b.holds && b.sight.sees(&m.touches, v.setters) {
			out = append(out, i)
		}
	}
	rank := func(i int) int {
		r := &v.Site.Requirements[i]
		n := 2
		for _, h := range hints {
			if i == h {
				n = 0
			} else if v.Site.Requirements[h].Span == r.Span {
				n = min(n, 1)
			}
		}
		if m.Safety != NoSafety && !OfPack(r) {
			n += 3
		}
		return n
	}
	slices.SortStableFunc(out, func(i, j int) int {
		return cmp.Or(cmp.Compare(rank(i), rank(j)), cmp.Compare(v.base[i].work, v.base[j].work))
	})
	return out
}

// Vacuous is the code of the check that a requirement says something.
const Vacuous = "vacuous"

// findingKey tells findings apart.
type findingKey struct {
	code string
	mode site.ModeID
	span source.Span
}

func keyOf(f *Finding) findingKey { return findingKey{f.Code, f.Mode, f.Span} }

// originalChecks notes what the built-in checks find on the site itself.
func (v *survey) originalChecks(ctx context.Context) {
	v.checks = map[findingKey]bool{}
	if v.opt.NoChecks {
		return
	}
	found, err := v.judge.Checks(ctx, v.Site, cmp.Or(v.opt.Work, most), func(Check) bool { return true })
	if err != nil {
		v.fail(err)
	}
	for i := range found {
		v.checks[keyOf(&found[i])] = true
	}
}

// check does the built-in checks that can see the change of a mutant, and gives the code of the first new finding.
func (v *survey) check(ctx context.Context, m *Mutant, s *site.Site) (code string, open bool, err error) {
	work := v.opt.Work
	if work == 0 {
		work = least
	}
	found, err := v.judge.Checks(ctx, s, work, func(c Check) bool { return v.looks.of(&c).sees(&m.touches, v.setters) })
	for i := range found {
		f := &found[i]
		switch {
		case v.checks[keyOf(f)]:
		case f.Open:
			open = true
		case code == "":
			code = f.Code
		}
	}
	return code, open, err
}

// looks remembers what the built-in checks can see.
type looks struct {
	s       *site.Site
	setters [][]site.ModeID
	mu      sync.Mutex
	known   map[string]*sight
}

// of gives what a check can see.
func (l *looks) of(c *Check) *sight {
	key := fmt.Sprint(c.Mode, c.Circuit, c.Circuits, len(c.Circuits) > 0 || c.Code == "ambiguous")
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.known[key] == nil {
		requests := c.Circuits
		var exprs []*site.Expr
		if c.Code == "ambiguous" {
			requests = []site.CircuitID{c.Circuit}
		} else {
			exprs = append(exprs, &site.Expr{Op: site.OpMode, Mode: c.Mode})
		}
		v := sightOf(l.s, l.setters, exprs, requests, nil)
		l.known[key] = &v
	}
	return l.known[key]
}
