// Sites from their text: a scenario of a guest house, with the places that its reasons point to.

package rehearse_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"lampwarden/checker/rehearse"
	"lampwarden/lang"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

const inn = `
site "Inn" { place 53.27 N, 9.05 W  time zone "Europe/Dublin" }
supply mains
battery ups { capacity 600 Wh  usable 80 %  standing load 12 W  charged by mains }
controller { fed by ups  reacts within 300 ms }
area hall : escape
area bedroom : sleeping
circuit hall_spots in hall { dims 1 % to 100 %  power 42 W  fed by ups  fade 700 ms }
circuit bed in bedroom { dims  power 9 W  fed by mains }
presence hall_pir in hall
button bed_key in bedroom
alarm fire
band evening 17:00 to 22:00
band late 22:00 to 05:30
mode fire_alarm {
    while fire
    first flash all circuits 3 times, 500 ms on, 500 ms off
    then all circuits full
}
mode night { starts on triple tap bed_key  ends on triple tap bed_key, at 07:00  all circuits off }
mode welcome for each area a with presence {
    while presence in a, off delay 5 min
    circuits in a: evening 100 %, late 20 %, otherwise 40 %
}
mode keypad {
    states auto, bright
    on tap bed_key: auto -> bright -> auto
    in bright: circuits in bedroom full
}
precedence fire_alarm > night > welcome
precedence night > keypad
assume taps on bed_key at least 500 ms apart
assume never ups flat
require "full on fire" { whenever fire then within 4 s every circuit in escape areas at full until not fire }
require "too quick" { whenever fire then within 3 s every circuit in escape areas at full until not fire }
scenario "power cut at ten" {
    start 21:59
    given hall_pir
    expect hall_spots at full within 1 s
    at 22:00 mains lost
    expect hall_spots at full
    expect hall_spots at 20 % within 1 s
    at 22:00:05 tap bed_key
    expect keypad in bright and bed off
    expect bed lit within 1 s
    at 22:00:10 triple tap bed_key
    expect hall_spots off within 1 s
    at 22:00:20 fire
    expect hall_spots at full within 3 s
    expect hall_spots at full within 4 s
}
`

func TestScenarioFromText(t *testing.T) {
	p := lang.LoadText("inn.lamp", inn)
	if p.Site == nil {
		var b strings.Builder
		_ = p.WriteDiagnostics(&b, false)
		t.Fatal(b.String())
	}
	s := p.Site
	tl, xs, err := rehearse.Rehearse(s, &s.Scenarios[0])
	if err != nil {
		t.Fatal(err)
	}
	// The hall is surely full one second after it is asked (300 ms + 700 ms). The bed's feed is dead without mains. On
	// fire the flash's on part is shorter than that second, so the hall is full only when the stage after it has run one.
	want := []bool{true, true, true, true, false, true, false, true}
	if len(xs) != len(want) {
		t.Fatalf("%d expectations", len(xs))
	}
	for i, x := range xs {
		if x.Met != want[i] {
			t.Errorf("expectation %d: %s, want met %t", i, x, want[i])
		}
	}
	checkReason(t, p.Sources, s, tl)
	if j, err := rehearse.Judge(s, tl, &s.Requirements[0]); err != nil || j.Broken || !j.Triggered {
		t.Errorf("full on fire: %+v", j)
	}
}

// checkReason looks at the step at 22:00:20: the fire alarm wins the hall from night and welcome.
func checkReason(t *testing.T, set *source.Set, s *site.Site, tl *rehearse.Timeline) {
	t.Helper()
	for i := range tl.Steps {
		st := &tl.Steps[i]
		if st.Event == nil || s.Inputs[st.Event.Input].Name != "fire" {
			continue
		}
		for _, c := range st.Circuits {
			if s.Circuits[c.Circuit].Name != "hall_spots" {
				continue
			}
			r := c.Reason
			if len(r.Winners) != 1 || s.Modes[r.Winners[0].Mode].Name != "fire_alarm" || len(r.Losers) != 2 {
				t.Fatalf("reason %+v", r)
			}
			if pos, ok := set.Position(r.Winners[0].Span); !ok || pos.Line != 17 {
				t.Errorf("the deciding case is at %v", pos)
			}
			for _, l := range r.Losers {
				if len(l.Pairs) == 0 || l.Why != rehearse.Outranked {
					t.Errorf("loser %+v", l)
				} else if pos, ok := set.Position(l.Pairs[0].Span); !ok || pos.Line != 30 {
					t.Errorf("the precedence is at %v", pos)
				}
			}
			return
		}
	}
	t.Fatal("no step in which the fire changes the hall")
}

// A requirement that holds by arithmetic (3 s of flashes, 300 ms to react, 700 ms of fade) is never broken; one that is
// a second too strict is found broken.
func TestRandomRehearsalsFromText(t *testing.T) {
	s := lang.LoadText("inn.lamp", inn).Site
	if s == nil {
		t.Fatal("the inn does not resolve")
	}
	strict := 0
	for seed := range uint64(20) {
		sc, err := rehearse.RandomScript(s, rand.New(rand.NewPCG(seed, 11)), 200)
		if err != nil {
			t.Fatal(err)
		}
		tl, err := rehearse.Run(s, sc)
		if err != nil {
			t.Fatal(err)
		}
		if j, err := rehearse.Judge(s, tl, &s.Requirements[0]); err != nil || j.Broken {
			t.Errorf("seed %d: %+v", seed, j)
		}
		if j, err := rehearse.Judge(s, tl, &s.Requirements[1]); err == nil && j.Broken {
			strict++
		}
	}
	if strict == 0 {
		t.Error("the strict one is never broken")
	}
}
