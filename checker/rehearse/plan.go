// What a player looks up again and again in a site, worked out once.

package rehearse

import (
	"cmp"
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// plan is a site with its look-up tables. What it tells never changes.
type plan struct {
	// lazy is for scenarios, which ask what surely holds: every movement takes all the time that it may take, also one
	// that might have ended before, so that what holds when it is due holds whatever the lamps did.
	lazy bool
	s    *site.Site
	// askers lists, for each circuit, the modes that may ask for it, in written order.
	askers [][]asker
	rests  rests
}

// asker is one mode with its settings that list one circuit, in written order.
type asker struct {
	mode     site.ModeID
	settings []place
}

// place says where a setting stands in its mode.
type place struct{ state, stage, setting int }

// newPlan checks that the site's tables fit together and builds the look-up tables.
func newPlan(s *site.Site) (*plan, error) {
	if err := checkTables(s); err != nil {
		return nil, err
	}
	p := &plan{
		s:      s,
		askers: make([][]asker, len(s.Circuits)),
		rests:  make(rests, len(s.Circuits)),
	}
	for id := range s.Modes {
		p.addAsker(site.ModeID(id))
	}
	return p, nil
}

// addAsker enters the settings of one mode.
func (p *plan) addAsker(id site.ModeID) {
	for i, st := range p.s.Modes[id].States {
		for j, stage := range st.Stages {
			for k, set := range stage.Settings {
				for _, c := range set.Circuits {
					p.askers[c] = addPlace(p.askers[c], id, place{i, j, k})
				}
			}
		}
	}
}

// addPlace adds a setting of the mode, which is the last one added or a new one.
func addPlace(as []asker, id site.ModeID, at place) []asker {
	if n := len(as); n > 0 && as[n-1].mode == id {
		as[n-1].settings = append(as[n-1].settings, at)
		return as
	}
	return append(as, asker{id, []place{at}})
}

// checkTables refuses a site whose tables cannot be played. A resolved site always passes.
func checkTables(s *site.Site) error {
	n := len(s.Modes)
	seen := make([]bool, n)
	for _, id := range s.StepOrder {
		if int(id) < 0 || int(id) >= n || seen[id] {
			return fmt.Errorf("rehearse: the step order of the site names mode %d wrongly", id)
		}
		seen[id] = true
	}
	if slices.Contains(seen, false) {
		return fmt.Errorf("rehearse: the step order of the site lacks mode %d", slices.Index(seen, false))
	}
	if len(s.Precedence.Above) != n || len(s.Precedence.Equal) != n {
		return fmt.Errorf("rehearse: the precedence tables have %d and %d rows for %d modes",
			len(s.Precedence.Above), len(s.Precedence.Equal), n)
	}
	for i := range s.Modes {
		if m := &s.Modes[i]; len(m.States) == 0 || m.Kind != site.States && len(m.States) != 1 {
			return fmt.Errorf("rehearse: mode %q has %d states", m.Name, len(m.States))
		}
	}
	return cmp.Or(checkDays(s), checkDated(s), checkShapes(s))
}

// checkDated refuses a site that stands for its dated sites.
func checkDated(s *site.Site) error {
	if len(s.Dates) > 0 {
		return fmt.Errorf("rehearse: site %q names the sun and has %d dates; play it as it is on one of them (Site.OnDate)",
			s.Name, len(s.Dates))
	}
	return nil
}

// checkShapes refuses tables that would be read beyond their ends.
func checkShapes(s *site.Site) error {
	for i := range s.Assumptions {
		if a := &s.Assumptions[i]; a.Kind == site.Charge && len(a.Inputs) != 2 {
			return fmt.Errorf("rehearse: the battery of assumption %d has %d inputs, not flat and lost", i, len(a.Inputs))
		}
	}
	for i := range s.Circuits {
		if c := &s.Circuits[i]; c.Colour && (c.Light < 0 || int(c.Light) >= len(s.Circuits)) {
			return fmt.Errorf("rehearse: the colour %q is that of no circuit", c.Name)
		}
	}
	return nil
}

// checkDays refuses sets with days that no week has: what is due on such a day alone would never come.
func checkDays(s *site.Site) error {
	wrong := func(d site.Days) bool { return d>>7 != 0 }
	for i := range s.Bands {
		if wrong(s.Bands[i].Days) {
			return fmt.Errorf("rehearse: band %q begins on an eighth day of the week", s.Bands[i].Name)
		}
	}
	for i := range s.Modes {
		m := &s.Modes[i]
		bad := slices.ContainsFunc(slices.Concat(m.Starts, m.Ends), func(t site.Trigger) bool { return wrong(t.Days) })
		bad = bad || slices.ContainsFunc(m.Transitions, func(t site.Transition) bool { return wrong(t.Trigger.Days) })
		if bad {
			return fmt.Errorf("rehearse: mode %q has a trigger on an eighth day of the week", m.Name)
		}
	}
	return nil
}
