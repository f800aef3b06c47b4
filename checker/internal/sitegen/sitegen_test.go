// Tests of the generator: its sites are valid, cover the data model, and come
// again from the same seed.

package sitegen

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestGeneratedSitesAreValid(t *testing.T) {
	for seed := range uint64(3000) {
		s := Generate(seed, Options{Requirements: 4})
		if err := Check(s); err != nil {
			t.Fatalf("seed %d: %v\n%s", seed, err, Print(s))
		}
	}
}

func TestSitesWithEverythingAreValid(t *testing.T) {
	for seed := range uint64(3000) {
		s := Generate(seed, Everything())
		if err := Check(s); err != nil {
			t.Fatalf("seed %d: %v\n%s", seed, err, Print(s))
		}
	}
}

func TestDrawnSitesAreValid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Sites(Options{MaxModes: 4, MaxInputs: 4}).Draw(t, "site")
		if err := Check(s); err != nil {
			t.Fatalf("%v\n%s", err, Print(s))
		}
	})
}

func TestSameSeedSameSite(t *testing.T) {
	for seed := range uint64(50) {
		if d := cmp.Diff(Generate(seed, Options{}), Generate(seed, Options{})); d != "" {
			t.Fatalf("seed %d: %s", seed, d)
		}
	}
}

func TestOptionsSteerTheSize(t *testing.T) {
	o := Options{MaxModes: 1, MaxCircuits: 1, MaxInputs: 1, MaxUnits: 2, Requirements: -1, ClockPercent: -1, OutputPercent: -1}
	for seed := range uint64(300) {
		s := Generate(seed, o)
		if len(s.Modes) != 1 || len(s.Circuits) != 1 || len(s.Inputs) > 2 || len(s.Requirements) != 0 || len(s.Bands) != 0 {
			t.Fatalf("seed %d does not keep to the options:\n%s", seed, Print(s))
		}
	}
}

// TestEveryConstructComesUp looks for each construct of the data model in a thousand seeds, and for those of the features
// in more.
func TestEveryConstructComesUp(t *testing.T) {
	got := map[string]bool{}
	come := func(n uint64, o Options) {
		o.Requirements = 4
		for seed := range n {
			for _, name := range Constructs(Generate(seed, o)) {
				got[name] = true
			}
		}
	}
	missing := func(names []string) {
		for _, want := range names {
			if !got[want] {
				t.Errorf("no site has %s", want)
			}
		}
	}
	come(1000, Options{})
	missing(strings.Fields(constructs))
	come(1500, Everything())
	missing(AllConstructs())
}
