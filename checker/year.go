// A question that reads the sun, on every date of the year.

package checker

import (
	"context"

	"lampwarden/checker/machine"
	"lampwarden/lang/site"
)

// decideYear answers a question on all dates of the site. A question that reads no time of the sun has one answer. Else
// the dates are taken in groups in which the same things happen in the same order in the day: if a question is safe on
// one of them whatever the lengths of the stretches between (no clock of the day was needed), it is on all of the
// group; otherwise every date with lengths of its own is decided by itself. The first date on which the bad state is
// reached is the answer.
func (p *prover) decideYear(ctx context.Context, q question) (a answer, err error) {
	if !readsSun(p.slice(p.site, q, nil)) {
		return p.decideOn(ctx, p.date(0), q)
	}
	settled := map[string]bool{} // skeletons that are safe whatever the lengths
	known := map[string]bool{}   // skeletons with lengths that have been decided
	var open *answer
	all := answer{state: safe, site: p.date(0)}
	for i := range p.site.Dates {
		s := p.date(i)
		sys, err := machine.New(p.slice(s, q, nil), q.piece.Observer, q.goal)
		if err != nil {
			return answer{why: err.Error(), site: s}, nil
		}
		skeleton := sys.Skeleton()
		if key := skeleton + sys.Lengths(); settled[skeleton] || known[key] {
			continue
		} else {
			known[key] = true
		}
		one, err := p.decideOn(ctx, s, q)
		if err != nil {
			return one, err
		}
		all.stats.Add(one.stats)
		for k := range one.proofs {
			one.proofs[k].date = i
		}
		all.proofs = append(all.proofs, one.proofs...)
		switch {
		case one.state == reached:
			one.stats = all.stats
			return one, nil
		case one.state == undecided && open == nil:
			open = &one
		case one.state == safe && !one.timed:
			settled[skeleton] = true
		}
		if p.stopped(ctx) && open == nil {
			open = &answer{more: true, far: "the date " + s.Date, site: s}
		}
		if open != nil { // no other date can make it safe
			open.stats = all.stats
			if open.more {
				return *open, nil
			}
		}
	}
	if open != nil {
		return *open, nil
	}
	return all, nil
}

// date gives the site on one of its dates.
func (p *prover) date(i int) *site.Site {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.dates == nil {
		p.dates = make([]*site.Site, len(p.site.Dates))
	}
	if p.dates[i] == nil {
		p.dates[i] = p.site.OnDate(i)
	}
	return p.dates[i]
}

// readsSun tells whether a slice reads a time that the sun gives.
func readsSun(sl *machine.Slice) bool {
	for b, kept := range sl.Bands {
		if bd := &sl.Site.Bands[b]; kept && (bd.FromSun != nil || bd.ToSun != nil) {
			return true
		}
	}
	for m, kept := range sl.Modes {
		if kept && sunTriggers(&sl.Site.Modes[m]) {
			return true
		}
	}
	return false
}

func sunTriggers(m *site.Mode) bool {
	for _, ts := range [][]site.Trigger{m.Starts, m.Ends} {
		for _, t := range ts {
			if t.Sun != nil {
				return true
			}
		}
	}
	for _, t := range m.Transitions {
		if t.Trigger.Sun != nil {
			return true
		}
	}
	return false
}
