// Known verdicts about colours, worked out by hand from lang/SEMANTICS.md section 2.

package oracle_test

import (
	"testing"

	"lampwarden/checker/internal/oracle"
	"lampwarden/lang/site"
)

const (
	hue  site.CircuitID = 1 // the colour of the lamp
	red  site.Level     = 1
	blue site.Level     = 6
)

// tinted asks for a level and a colour of the lamp.
func tinted(l, code site.Level) site.Stage {
	st := level(l)
	st.Settings = append(st.Settings, site.Setting{Circuits: []site.CircuitID{hue}, Cases: []site.Case{{Level: code}}})
	return st
}

func colour(lo, hi site.Level) *site.Expr {
	return &site.Expr{Op: site.OpLight, Circuit: hue, Lo: lo, Hi: hi}
}

// coloured gives the lamp a colour; the controller takes 2 s to react.
func coloured(modes ...site.Mode) *site.Site {
	s := reacting(above(build(modes...)), 2*second)
	s.Circuits = append(s.Circuits, site.Circuit{Name: "hue", Area: site.None, FedBy: site.None, Colour: true, Light: lamp})
	return s
}

func TestColours(t *testing.T) {
	two := func(a, b site.Level) *site.Site {
		return coloured(asks(while(input(sw)), tinted(site.Full, a)), asks(while(input(sw2)), tinted(site.Full, b)))
	}
	on := func(code site.Level) *site.Expr { return and(lit(), colour(code, code)) }
	equal := func(r site.Rule) *site.Site {
		s := rule(two(2700, red), r)
		s.Precedence.Above[1][0] = false
		return reacting(s, 0)
	}
	both := func(code site.Level) site.Requirement {
		return possible(and(input(sw), input(sw2), colour(code, code)))
	}
	back := two(2700, red)
	back.Circuits[hue].Dead, back.Circuits[hue].PowerOn = input(mains), levelOf(blue)
	decide(t, []known{
		{"a dark lamp takes its colour at once", two(2700, red), never(and(lit(), colour(0, 0))), holds},
		{"a lit one takes time", two(2700, red), possible(and(input(sw2), on(2700))), witness},
		{"at most the time to react", two(2700, red), atMost(and(input(sw2), on(2700)), 2*second), holds},
		{"and not less", two(2700, red), atMost(and(input(sw2), on(2700)), second), broken},
		{"a named colour does not pass through others", two(2700, red), possible(colour(2, 2699)), noWitness},
		{"nor do two of them", two(blue, red), possible(colour(2, 5)), noWitness},
		{"a temperature passes through others", two(2700, 4000), possible(colour(3000, 3500)), witness},
		{"but not from nothing", two(2700, 4000), possible(colour(1, 2699)), noWitness},
		{"nobody asks: it stays", two(2700, red), possible(and(not(mode(0)), not(mode(1)), not(lit()), colour(2700, 2700))), witness},
		{"for good", two(2700, 2700), onlyAfter(colour(0, 0), not(colour(2700, 2700)), colour(2700, 2700)), holds},
		{"highest is read as latest", equal(site.Highest), both(red), witness},
		{"and either may be", equal(site.Highest), both(2700), witness},
		{"as for latest", equal(site.Latest), both(red), witness},
		{"a power on colour stays if nobody asks", back, possible(and(not(mode(0)), not(mode(1)), colour(blue, blue))), witness},
		{"without a feed there is none", back, never(and(input(mains), colour(1, site.Full))), holds},
	})
	answer(t, noWitness)(oracle.CanBeAmbiguous(t.Context(), equal(site.Highest), hue, oracle.Options{}))
	answer(t, witness)(oracle.CanBeAmbiguous(t.Context(), equal(site.NoRule), hue, oracle.Options{}))
}

// TestColourOfALampThatGoesOut: what counts is the level just before the reaction.
func TestColourOfALampThatGoesOut(t *testing.T) {
	// While sw is on the lamp is red; sw2 makes it blue, from dark or from light.
	s := func() *site.Site {
		return coloured(asks(while(input(sw)), tinted(site.Full, red)), asks(while(input(sw2)), tinted(site.Full, blue)))
	}
	decide(t, []known{
		{"on its way out it may have reached 0", s(), possible(and(not(mode(0)), not(lit()), mode(1), colour(blue, blue))), witness},
		{"or be red yet", s(), possible(and(not(mode(0)), mode(1), lit(), colour(red, red))), witness},
		{"a lamp that lights up blue was never red since it was dark", s(),
			never(and(mode(1), not(mode(0)), not(lit()), colour(0, 0))), holds},
	})
}
