// Hand-made parts of later features.

package oracle_test

import (
	"slices"

	"lampwarden/lang/site"
)

// plant makes a mode one of the plant. Such modes stand first in hand-made sites.
func plant(m site.Mode) site.Mode { m.Plant = true; return m }

func delayed(m site.Mode, on, off site.Millis) site.Mode {
	m.OnDelay, m.OffDelay = on, off
	return m
}

func held(m site.Mode, d site.Millis) site.Mode { m.For = d; return m }

// at is a latch that a clock time starts.
func at(t, lasts site.Millis) site.Mode {
	return site.Mode{Name: "m", Kind: site.Latch, Starts: []site.Trigger{{At: t}}, For: lasts}
}

// above puts each later mode above the earlier ones.
func above(s *site.Site) *site.Site {
	for i := range s.Modes {
		for j := range i {
			s.Precedence.Above[i][j] = true
		}
	}
	return s
}

// with changes a site.
func with(s *site.Site, f func(*site.Site)) *site.Site {
	f(s)
	return s
}

// added adds inputs; the first has number 4.
func added(s *site.Site, ins ...site.Input) *site.Site {
	for _, in := range ins {
		in.Area = site.None
		s.Inputs = append(s.Inputs, in)
	}
	return s
}

const extra site.InputID = 4 // the first input added

// down takes the controller down while sw2 is on.
func down(s *site.Site, keeps bool) *site.Site {
	s.Controller.Down, s.Controller.Keeps = input(sw2), keeps
	return s
}

func dead(s *site.Site, e *site.Expr) *site.Site { s.Circuits[lamp].Dead = e; return s }

func reacting(s *site.Site, d site.Millis) *site.Site { s.Controller.ReactsWithin = d; return s }

func or(es ...*site.Expr) *site.Expr { return &site.Expr{Op: site.OpOr, Kids: es} }

// sum compares the lamp's level.
func sum(need int64, up, seen bool) *site.Expr {
	return &site.Expr{Op: site.OpSum, Terms: []site.Term{{Circuit: lamp, Weight: 1}}, Need: need, Up: up, Seen: seen}
}

func faulty(r site.Requirement, atMost int, ids ...site.InputID) site.Requirement {
	r.Faults, r.AtMost = slices.Clone(ids), atMost
	return r
}

func settles(p *site.Expr, d site.Millis, c site.Causes) site.Requirement {
	return site.Requirement{Form: site.Settles, P: p, D: d, Causes: c}
}

func canReturn(p *site.Expr, d site.Millis) site.Requirement {
	return site.Requirement{Form: site.CanReturn, P: p, D: d}
}

// energy is of the lamp, which at full draws 1 Wh a second.
func energy(mWh int64, d site.Millis, during *site.Expr) site.Requirement {
	return site.Requirement{Form: site.Energy, Draws: []site.Term{{Circuit: lamp, Weight: 3_600_000}}, Limit: mWh, D: d, During: during}
}
