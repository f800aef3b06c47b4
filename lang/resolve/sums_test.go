package resolve_test

// Sums of light: written out, they say what daylight and lamps together come to.

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"lampwarden/lang/site"

	"pgregory.net/rapid"
)

// lampLit is a moment: the daylight, and the level of each circuit. Levels lie between a resting level (low) and the next (high).
type lampLit struct {
	day       int64
	low, high []site.Level
}

// holds evaluates a condition on daylight, sums and lights.
func (m lampLit) holds(s *site.Site, e *site.Expr) bool {
	switch e.Op {
	case site.OpNot:
		return !m.holds(s, e.Kids[0])
	case site.OpAnd:
		return !slices.ContainsFunc(e.Kids, func(k *site.Expr) bool { return !m.holds(s, k) })
	case site.OpOr:
		return slices.ContainsFunc(e.Kids, func(k *site.Expr) bool { return m.holds(s, k) })
	case site.OpInput:
		return m.day >= s.Inputs[e.Input].Lux
	case site.OpSum:
		return m.sum(e.Terms, e.Up) >= e.Need
	}
	panic(fmt.Sprint("operator ", e.Op))
}

func (m lampLit) sum(terms []site.Term, up bool) int64 {
	n := int64(0)
	for _, t := range terms {
		l := m.low[t.Circuit]
		if up {
			l = m.high[t.Circuit]
		}
		n += t.Weight * int64(l)
	}
	return n
}

// labSite is a hall with circuits that rest at several levels each.
func labSite(adds []int, levels [][]int, more string) string {
	var b strings.Builder
	b.WriteString("area hall\nalarm fire\nswitch key\ndaylight hall_lux in hall\n")
	for i, n := range adds {
		fmt.Fprintf(&b, "circuit c%d in hall { dims  adds %d lux }\n", i, n)
		for k, l := range levels[i] {
			fmt.Fprintf(&b, "mode m%d_%d { while key  c%d at %d %% }\n", i, k, i, l)
		}
	}
	return b.String() + more
}

// TestTotalLight holds what is written out for "the illuminance is at least X" against the sum itself: exactly for a few resting
// levels, and on the strict side for very many.
func TestTotalLight(t *testing.T) {
	exact, rough := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(1, 4).Draw(rt, "circuits")
		most := rapid.SampledFrom([]int{1, 2, 5}).Draw(rt, "levels")
		var adds []int
		var levels [][]int
		for i := range n {
			adds = append(adds, rapid.IntRange(1, 400).Draw(rt, fmt.Sprint("adds", i)))
			levels = append(levels, rapid.SliceOfN(rapid.IntRange(1, 100), 1, most).Draw(rt, fmt.Sprint("levels", i)))
		}
		limit := int64(rapid.IntRange(1, 1000).Draw(rt, "limit"))
		keep := ""
		if rapid.Bool().Draw(rt, "keeps") {
			keep = fmt.Sprintf("mode keeping { while key  keep hall at %d lux in %d steps }\n", rapid.IntRange(1, 1000).Draw(rt, "kept"),
				rapid.IntRange(1, 12).Draw(rt, "steps"))
		}
		s, ds := load(labSite(adds, levels, keep+fmt.Sprintf(`
require "good" { always illuminance of hall at least %[1]d lux }
require "bad" { never illuminance of hall at least %[1]d lux }
require "seen" { never hall_lux at least %[1]d lux }
require "most" { always illuminance of hall at most %[1]d lux }
require "inside" { always illuminance of hall between 0 lux and %[1]d lux }
`, limit)))
		if s == nil {
			rt.Fatal(ds)
		}
		var m lampLit
		m.day = int64(rapid.IntRange(0, 1200).Draw(rt, "day"))
		combos := 1
		for i := range n {
			rests := s.Rests(site.CircuitID(i))
			combos *= len(rests)
			k := rapid.IntRange(0, len(rests)-1).Draw(rt, fmt.Sprint("rest", i))
			j := min(k+rapid.IntRange(0, 1).Draw(rt, fmt.Sprint("moving", i)), len(rests)-1)
			m.low, m.high = append(m.low, rests[k]), append(m.high, rests[j])
		}
		terms := termsOf(s)
		least := m.day*10000+m.sum(terms, false) >= limit*10000
		more := m.day*10000+m.sum(terms, true) >= limit*10000
		over := m.day*10000+m.sum(terms, true) > limit*10000
		good, bad := m.holds(s, s.Requirements[0].P), m.holds(s, s.Requirements[1].P)
		seen := m.holds(s, s.Modes[s.Requirements[2].P.Mode].Cond)
		within := m.holds(s, s.Requirements[3].P)
		if good && !least || !bad && more || !seen && least || within && over {
			rt.Fatalf("%d lux: good %t, bad %t, seen %t, at most %t", limit, good, bad, seen, within)
		}
		if combos <= 16 {
			exact++
			if good != least || bad != more || seen != least || within == over {
				rt.Fatalf("%d lux with few levels: good %t want %t, bad %t want %t, seen %t, at most %t", limit, good, least, bad, more, seen, within)
			}
		} else {
			rough++
			slack := int64(10000) // a coarse sum is less than two fifteenths of all lamps off, its daylight a hundredth
			for _, a := range adds {
				slack += int64(a)*10000*2/15 + int64(a)*100 + 1
			}
			if !good && m.day*10000+m.sum(terms, false) >= limit*10000+slack || bad && m.day*10000+m.sum(terms, true) < limit*10000-slack {
				rt.Fatalf("%d lux: good %t, bad %t though by far", limit, good, bad)
			}
		}
		if m.holds(s, s.Requirements[4].P) != within {
			rt.Fatal("between 0 and a value is not the same as at most that value")
		}
	})
	if exact == 0 || rough == 0 {
		t.Errorf("%d exact sums, %d coarse ones were seen", exact, rough)
	}
}

func termsOf(s *site.Site) []site.Term {
	var out []site.Term
	for i := range s.Circuits {
		if a := s.Circuits[i].Adds; a > 0 {
			out = append(out, site.Term{Circuit: site.CircuitID(i), Weight: a})
		}
	}
	return out
}

// TestOwnLight: a sensor sees the lamps around it once they have stood as long as it takes to respond, with a hysteresis or
// without. (A lamp of 200 lux that goes on and off at 300 lux hunts: control reasoning, no source.)
func TestOwnLight(t *testing.T) {
	s := must(t, `
area house
area hall, loft in house
circuit spots in hall { dims  adds 200 lux }
circuit bulb in loft { switches  adds 40 lux }
circuit lamp in house { switches }
daylight house_lux in house { responds within 3 s }
daylight loft_lux in loft
mode m { while daylight in hall below 300 lux  spots full, lamp full }
mode n { while loft_lux below 90 lux hysteresis 20 lux  bulb full }
`)
	var plant []string
	for i := range s.Modes {
		if s.Modes[i].Plant {
			plant = append(plant, plantText(s, &s.Modes[i]))
		}
	}
	want := []string{
		"house_lux above 300 lux: while or(house_lux at least 300 lux and(seen[200 spots 40 bulb]>=40 house_lux at least 260 lux) " +
			"and(seen[200 spots 40 bulb]>=200 house_lux at least 100 lux) and(seen[200 spots 40 bulb]>=240 house_lux at least 60 lux))",
		"loft_lux above 110 lux hysteresis 20 lux: starts or(loft_lux at least 110 lux and(seen[40 bulb]>=40 loft_lux at least 70 lux)), " +
			"ends not(or(loft_lux at least 90 lux and(seen[40 bulb]>=40 loft_lux at least 50 lux)))",
	}
	if !slices.Equal(plant, want) {
		t.Errorf("the plant is\n%s\nwant\n%s", strings.Join(plant, "\n"), strings.Join(want, "\n"))
	}
	for name, want := range map[string]site.Millis{"spots": 3000, "bulb": 1000, "lamp": 0} {
		if got := s.Circuits[s.CircuitNamed(name)].SeenAfter; got != want {
			t.Errorf("%s is seen after %s, want %s", name, got, want)
		}
	}
	checkSite(t, s)
}

// TestStrictJudging: a lamp on the move counts as what is worse for the requirement.
func TestStrictJudging(t *testing.T) {
	const dark, lit = "illuminance of hall below 50 lux", "illuminance of hall at least 50 lux"
	for text, want := range map[string]string{
		"never " + lit:                         "up",
		"always " + lit:                        "down",
		"never " + dark:                        "down",
		"always not (fire or not " + lit + ")": "down",
		"whenever " + lit + " then within 1 s " + lit + " until " + lit: "up down down",
		lit + " lasts at most 1 s":                                      "up",
		lit + " lasts at least 1 s":                                     "down",
		"at most 2 times " + lit + " within 1 s":                        "up",
		lit + " only after " + lit + " since " + lit:                    "up down up",
		lit + " is possible":                                            "down",
		"always illuminance of hall between 20 lux and 50 lux":          "down up",
		"whenever fire then within 1 s (" + dark + " or illuminance of hall above 9 lux) until not fire": "up down",
	} {
		s := must(t, "area hall\ncircuit c in hall { dims  adds 100 lux }\nalarm fire\nmode m { while fire  c full }\nrequire \"r\" { "+text+" }")
		q := s.Requirements[0]
		var got []string
		for _, e := range []*site.Expr{q.P, q.A, q.B, q.Until, q.Q, q.Since} {
			e.Walk(func(x *site.Expr) {
				if x.Op == site.OpSum {
					got = append(got, map[bool]string{true: "up", false: "down"}[x.Up])
				}
			})
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: judged %v, want %s", text, got, want)
		}
		checkSite(t, s)
	}
}

// TestRestingLevels: the resolver's table of resting levels is that of the site.
func TestRestingLevels(t *testing.T) {
	s := must(t, labSite([]int{300}, [][]int{{10, 100, 10, 55}}, `require "r" { always illuminance of hall at least 120 lux }`))
	var rungs []string
	for i := range s.Inputs {
		if s.Inputs[i].Kind == site.Daylight {
			rungs = append(rungs, fmt.Sprint(s.Inputs[i].Lux))
		}
	}
	if got := strings.Join(rungs, " "); got != "120 90" { // at 10 % of 300 lux 90 lux are missing, at 55 % none
		t.Errorf("rungs at %s", got)
	}
}

// TestKeptSums: two circuits that are kept together need few rungs, for all that they could make many sums.
func TestKeptSums(t *testing.T) {
	s := must(t, `
area hall
circuit spots in hall { dims  adds 200 lux }
circuit wall in hall { dims  adds 150 lux }
daylight hall_lux in hall
alarm fire
mode dim { while not fire  keep hall at 300 lux }
require "enough" { always illuminance of hall at least 300 lux }
`)
	rungs := 0
	for i := range s.Inputs {
		if s.Inputs[i].Kind == site.Daylight {
			rungs++
		}
	}
	m := lampLit{}
	for _, c := range s.Modes[0].States[0].Stages[0].Settings[0].Cases {
		day := int64(0)
		if c.When != nil {
			day = s.Inputs[c.When.Input].Lux
		}
		m = lampLit{day: day, low: []site.Level{c.Level, c.Level}, high: []site.Level{c.Level, c.Level}}
		if !m.holds(s, s.Requirements[0].P) {
			t.Errorf("with %d lux of daylight, lamps kept at %s are not enough", day, c.Level)
		}
	}
	if rungs > 17 {
		t.Errorf("%d rungs", rungs)
	}
}
