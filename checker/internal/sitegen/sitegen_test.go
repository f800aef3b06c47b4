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

// TestEveryConstructComesUp lists what a thousand seeds contain and compares it
// with the data model.
func TestEveryConstructComesUp(t *testing.T) {
	got := map[string]bool{}
	for seed := range uint64(1000) {
		survey(Generate(seed, Options{Requirements: 4}), got)
	}
	for _, want := range strings.Fields(`
		input:presence input:contact input:alarm input:switch input:supply input:button input:bell
		gesture:0 gesture:1 gesture:2 gesture:3
		op:0 op:1 op:2 op:3 op:4 op:5 op:6 op:7 op:8 op:9 op:10 op:11 op:12 op:13 op:14
		while:plain while:on while:off while:both while:pulse latch:for latch:at latch:on latch:if
		states:after states:at states:on states:any states:self states:if states:after-any
		stage:for stage:counted stage:endless stage:endless-for stage:last-for setting:cases setting:otherwise
		setting:twice circuit:switched circuit:min circuit:max circuit:fade circuit:mains circuit:battery circuit:nofeed
		reacts band:midnight band:plain band:days band:days-midnight cover battery output notice
		setting:ramp setting:ramp-cases setting:ramp-off latch:days states:days assume:0 assume:1 assume:2 dwell:true dwell:false
		form:0 form:1 form:2 form:3 form:4 form:5 form:6 form:7 until for until-for since
		above:total above:partial rule:1 rule:2 rule:none names-later-mode`) {
		if !got[want] {
			t.Errorf("no site has %s", want)
		}
	}
}

// TestEveryFeatureComesUp is the same for the features.
func TestEveryFeatureComesUp(t *testing.T) {
	got := map[string]bool{}
	o := Everything()
	o.Requirements = 4
	for seed := range uint64(1500) {
		survey(Generate(seed, o), got)
	}
	for _, want := range strings.Fields(`
		input:daylight input:calendar input:flatness input:failure input:fault assume:3 assume:4
		down:keeps down:forgets down:boots jump:forward jump:back
		sun:void-band sun:from sun:to sun:trigger sun:void-trigger
		circuit:returns circuit:generator circuit:cut circuit:fail circuit:power-on circuit:fail-dead-down circuit:seen
		circuit:colour circuit:colour-fades circuit:colour-power-on circuit:flat
		plant:0 plant:1 plant:on-delay plant:off-delay reads-plant
		op:15 sum:seen=true,up=false sum:seen=false,up=true sum:seen=false,up=false
		form:8 form:9 form:10 during faults:1 faults:2`) {
		if !got[want] {
			t.Errorf("no site has %s", want)
		}
	}
}
