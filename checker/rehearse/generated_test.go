// Random runs of random sites: everything plays, and what must hold of every run holds.

package rehearse_test

import (
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"lampwarden/checker/internal/sitegen"
	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

// longest is how far a run may go on a site with clock times of some hours' grain.
const longest = 40 * 24 * 3600 * 1000 * rehearse.Milli

func TestGeneratedSites(t *testing.T) {
	t.Run("plain", func(t *testing.T) { generated(t, 300, sitegen.Options{MaxModes: 4, Requirements: 4}) })
	everything := sitegen.Everything()
	everything.Requirements = 4
	t.Run("everything", func(t *testing.T) { generated(t, 300, everything) })
}

func generated(t *testing.T, n uint64, o sitegen.Options) {
	played, broken, triggered, witnessed := 0, 0, 0, 0
	for seed := range n {
		rng := rand.New(rand.NewPCG(seed, 3))
		s := sitegen.Generate(seed, o)
		if n := len(s.Dates); n > 0 {
			s = s.OnDate(rng.IntN(n))
		}
		which := &s.Requirements[rng.IntN(len(s.Requirements))] // the one whose faults may strike
		sc, err := rehearse.RandomScriptFor(s, which, rng, 40)
		if err != nil {
			t.Fatalf("%s: %v", sitegen.Print(s), err)
		}
		tl, err := rehearse.Run(s, sc)
		if err != nil {
			t.Fatalf("seed %d: %v\n%s", seed, err, sitegen.Print(s))
		}
		played++
		busy, other := crowded(t, s, sc)
		for i := range s.Requirements {
			r := &s.Requirements[i]
			a, err := rehearse.Judge(s, tl, r)
			if err != nil && r != which {
				continue // the run does not count for it
			}
			if err != nil {
				t.Fatal(err)
			}
			if a.Broken {
				broken++
				if len(a.False) == 0 && r.Form != site.Energy || a.At > sc.End || a.Since > a.At {
					t.Errorf("seed %d, requirement %d: %+v", seed, i, a)
				}
			}
			if a.Triggered {
				triggered++
			}
			if a.Witness {
				witnessed++
			}
			if other == nil {
				continue
			}
			b, err := rehearse.Judge(busy, other, r)
			if err != nil {
				t.Fatal(err)
			}
			ignore := cmpopts.IgnoreFields(rehearse.Judgement{}, "False", "Since")
			if d := cmp.Diff(a, b, ignore); d != "" {
				t.Errorf("seed %d, requirement %d: reactions without a change matter: %s\n%s", seed, i, d, sitegen.Print(s))
			}
		}
	}
	t.Logf("%d runs, %d requirements broken, %d triggered, %d witnessed", played, broken, triggered, witnessed)
	if broken < 50 || triggered < 50 || witnessed < 20 {
		t.Error("the runs decide too little")
	}
}

// crowded plays the script on the site with bands that nobody reads, nil if the run is too long for it.
func crowded(t *testing.T, s *site.Site, sc rehearse.Script) (*site.Site, *rehearse.Timeline) {
	t.Helper()
	if sc.End > longest {
		return nil, nil
	}
	busy := *s
	busy.Bands = append([]site.Band{}, s.Bands...)
	for i := range site.Millis(20) {
		from := (i * 7919 * 541) % site.Day
		busy.Bands = append(busy.Bands, site.Band{From: from, To: (from + i*1000 + 1) % site.Day})
	}
	tl, err := rehearse.Run(&busy, sc)
	if err != nil {
		t.Fatal(err)
	}
	return &busy, tl
}
