// The examples: their mutants are sound, and the packs catch what touches the way out.

package strength_test

import (
	"flag"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/checker/rehearse"
	"lampwarden/checker/strength"
	"lampwarden/lang"
	"lampwarden/lang/site"
)

var (
	full = flag.Bool("strength-full", false, "try every mutant of the examples that counts for safety, with packs and with all requirements")
	seed = flag.Uint64("strength-seed", 1, "which mutants are tried by default")
)

var examples = []string{"flat", "guesthouse", "carehome", "office", "hut"}

func example(t *testing.T, name string) *site.Site {
	t.Helper()
	p, err := lang.Load([]string{filepath.Join("../../examples", name)})
	if err != nil {
		t.Fatal(err)
	}
	if p.Site == nil {
		_ = p.WriteDiagnostics(os.Stderr, false)
		t.Fatal(name)
	}
	return p.Site
}

// Making mutants leaves the site as it is, and every mutant is another site.
func TestMutantsAreApart(t *testing.T) {
	for _, name := range examples[:2] {
		s, again := example(t, name), example(t, name)
		_, mutants := strength.Seeded(s)
		if len(mutants) < 80 {
			t.Errorf("%s: only %d mutants", name, len(mutants))
		}
		for i := range mutants {
			if m := mutants[i].Site(s); mutants[i].Same == "" && reflect.DeepEqual(s, m) {
				t.Errorf("%s: %q changes nothing", name, mutants[i].What)
			}
		}
		if d := cmp.Diff(again, s); d != "" {
			t.Errorf("%s: a mutant has changed the site: %s", name, d)
		}
	}
}

// What is called equivalent lights the same lamps in random rehearsals.
func TestEquivalentMutantsLightAlike(t *testing.T) {
	tried := 0
	for _, name := range examples {
		s := example(t, name)
		rules, mutants := strength.Seeded(s)
		r := rand.New(rand.NewPCG(*seed, 2))
		for i := range mutants {
			m := &mutants[i]
			if m.Same == "" || !*full && r.IntN(5) > 0 {
				continue
			}
			tried++
			changed := m.Site(s)
			played := s
			if len(s.Dates) > 0 {
				played, changed = s.OnDate(0), changed.OnDate(0)
			}
			sc, err := rehearse.RandomScript(played, rand.New(rand.NewPCG(*seed, uint64(i))), 100)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(lit(t, played, sc), lit(t, changed, sc)); d != "" {
				t.Errorf("%s, %s, %s (%s): %s", name, rules[m.Rule].Text, m.What, m.Same, d)
			}
		}
	}
	if tried < 5 {
		t.Errorf("only %d tried", tried)
	}
}

// lit plays a script and tells the level of every circuit after every step of it.
func lit(t *testing.T, s *site.Site, sc rehearse.Script) map[rehearse.Nanos][]site.Level {
	t.Helper()
	tl, err := rehearse.Run(s, sc)
	if err != nil {
		t.Fatal(err)
	}
	out := map[rehearse.Nanos][]site.Level{}
	step := 0
	for _, e := range sc.Events {
		for step+1 < len(tl.Steps) && tl.Steps[step+1].At <= e.At {
			step++
		}
		var levels []site.Level
		for c := range s.Circuits {
			levels = append(levels, tl.Level(step, site.CircuitID(c)))
		}
		out[e.At] = levels
	}
	return out
}

// ofTheWayOut tells whether a mutant is of what the packs speak of.
func ofTheWayOut(m *strength.Mutant) bool {
	return m.Safety == strength.WayOut || m.Safety == strength.Flashing
}

// At least nine of ten mutants of the way out and of flashing are caught by packs alone, over the examples that use them. (The
// hut uses none of them: its way out may be dark when its one battery is flat, which they do not know.)
func TestPacksCatchWhatTouchesTheWayOut(t *testing.T) {
	caught, seen := 0, 0
	for _, name := range []string{"flat", "guesthouse", "carehome", "office"} {
		rep := survey(t, example(t, name), 0, strength.Options{
			NoChecks: true, Requirements: strength.OfPack,
			Only: func(i int, m *strength.Mutant) bool {
				h := rand.New(rand.NewPCG(*seed, uint64(i))).IntN(3)
				return ofTheWayOut(m) && (*full || h == 0)
			},
		})
		c, n := tally(t, rep, ofTheWayOut)
		t.Logf("%s: packs catch %d of %d", name, c, n)
		caught, seen = caught+c, seen+n
	}
	if seen < 30 || 10*caught < 9*seen {
		t.Errorf("packs catch %d of %d", caught, seen)
	}
}

// tally counts the mutants that were tried and can be seen, and those of them that a requirement caught.
func tally(t *testing.T, r *strength.Report, wanted func(*strength.Mutant) bool) (caught, seen int) {
	t.Helper()
	c := r.Count(wanted)
	for i := range r.Mutants {
		if m, o := &r.Mutants[i], &r.Outcomes[i]; wanted(m) && o.Fate != strength.Caught && o.Fate != strength.Same && o.Fate != strength.NotReached {
			t.Logf("%s: %s, %s %s: %s", r.Site.Name, r.Rules[m.Rule].Text, m.What, m.Where, o.Fate)
		}
	}
	return c.By[strength.Caught], c.Seen() - c.By[strength.NotReached]
}

// At least nine of ten of all mutants that count for safety are caught by all requirements, over the examples; of those of the way
// out and of flashing in each of them (only with -strength-full; minutes).
func TestRequirementsCatchWhatCountsForSafety(t *testing.T) {
	if !*full {
		t.Skip("only with -strength-full")
	}
	caught, seen := 0, 0
	for _, name := range examples {
		t.Run(name, func(t *testing.T) {
			rep := survey(t, example(t, name), 0, strength.Options{NoChecks: true,
				Only: func(_ int, m *strength.Mutant) bool { return m.Safety != strength.NoSafety }})
			for k := strength.WayOut; k <= strength.OtherLight; k++ {
				c, n := tally(t, rep, func(m *strength.Mutant) bool { return m.Safety == k })
				t.Logf("%s, %s: requirements catch %d of %d", name, k, c, n)
				caught, seen = caught+c, seen+n
				if 10*c < 9*n && k <= strength.Flashing {
					t.Errorf("%s, %s: requirements catch %d of %d", name, k, c, n)
				}
			}
		})
	}
	if t.Logf("requirements catch %d of %d", caught, seen); 10*caught < 9*seen {
		t.Errorf("requirements catch %d of %d", caught, seen)
	}
}

// OfPack goes by the names that packs give.
func TestOfPack(t *testing.T) {
	s := example(t, "flat")
	n := 0
	for i := range s.Requirements {
		if strength.OfPack(&s.Requirements[i]) != strings.Contains(s.Requirements[i].Name, " pack: ") {
			t.Error(s.Requirements[i].Name)
		}
		if strength.OfPack(&s.Requirements[i]) {
			n++
		}
	}
	if n == 0 {
		t.Error("no requirement of a pack")
	}
}
