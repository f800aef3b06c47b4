// Which requirements the certificates of a folder prove together.

package certify

import (
	"fmt"

	"lampwarden/lang/site"
)

// Status tells whether a requirement is proved by the certificates that were confirmed. Reason says what is missing, "" if
// there is none of it at all.
type Status struct {
	Confirmed bool
	Reason    string
}

// Parts gives the number of parts of a requirement, 0 for one about energy; ok is false for a form that has no certificates.
func Parts(r *site.Requirement) (n int, ok bool) {
	if r.Form == site.Energy {
		return 0, true
	}
	ps, ok := parts(r)
	return len(ps), ok
}

// Coverage tells of each requirement of the site, the whole one if it has Dates, whether it is proved: each of its parts has a
// certificate, on each date its own or one of another date that counts for it. The results are those of Check for the site.
func Coverage(s *site.Site, results []*Result) []Status {
	c := &coverage{site: s, dated: make([]*site.Site, len(s.Dates))}
	out := make([]Status, len(s.Requirements))
	for i := range s.Requirements {
		if r := &s.Requirements[i]; r.Form == site.Energy {
			why := c.energy(i, r, results)
			out[i] = Status{Confirmed: why == "", Reason: why}
			continue
		}
		n, ok := Parts(&s.Requirements[i])
		byPart := make([][]*Result, n)
		some := false
		for _, r := range results {
			if ok && r.Requirement == i && r.Part < n {
				byPart[r.Part] = append(byPart[r.Part], r)
				some = true
			}
		}
		why := ""
		for k := 0; k < n && why == ""; k++ {
			why = c.part(byPart[k])
			if why != "" && n > 1 {
				why = fmt.Sprintf("part %d of %d: %s", k+1, n, why)
			}
		}
		out[i] = Status{Confirmed: ok && why == ""}
		if some {
			out[i].Reason = why
		}
	}
	return out
}

// coverage keeps the dated sites, as they are needed.
type coverage struct {
	site  *site.Site
	dated []*site.Site
}

// energy tells why the claims that were confirmed do not prove an energy requirement, "" if they do.
func (c *coverage) energy(index int, r *site.Requirement, results []*Result) string {
	dates := max(1, len(c.dated))
	for d := range dates {
		var claims []claim
		for _, x := range results {
			if x.Requirement == index && (len(c.dated) == 0 || x.Date == d || c.counts([]*Result{x}, d)) {
				claims = append(claims, *x.model.c.claim)
			}
		}
		if why := energy(c.site, r, claims); why != "" {
			return why
		}
	}
	return ""
}

// part tells why the certificates of a part do not prove it, "" if they do.
func (c *coverage) part(rs []*Result) string {
	if len(rs) == 0 {
		return "there is no certificate"
	}
	own := map[int]bool{}
	for _, r := range rs {
		own[r.Date] = true
	}
	for d := range c.dated {
		if !own[d] && !c.counts(rs, d) {
			return fmt.Sprintf("there is no certificate that counts for %s", c.site.Dates[d].Name)
		}
	}
	return ""
}

// counts tells whether one of the certificates counts for a date.
func (c *coverage) counts(rs []*Result, d int) bool {
	if c.dated[d] == nil {
		c.dated[d] = c.site.OnDate(d)
	}
	for _, r := range rs {
		if r.model.wall.countsFor(c.dated[d], r.model.c.dayClock()) == nil {
			return true
		}
	}
	return false
}
