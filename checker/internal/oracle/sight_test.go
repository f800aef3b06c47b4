// Known verdicts about daylight, what sensors see, sums and hunting, worked out by
// hand from lang/SEMANTICS.md.

package oracle_test

import (
	"testing"

	"lampwarden/checker/internal/oracle"
	"lampwarden/lang/site"
)

const rung0, rung1 = extra, extra + 1

// lit by day: a sensor with two rungs that sees the lamp after 2 s.
func sensed(modes ...site.Mode) *site.Site {
	s := added(build(modes...), site.Input{Name: "lux100", Kind: site.Daylight, Lux: 100, Sensor: "lux"},
		site.Input{Name: "lux200", Kind: site.Daylight, Lux: 200, Sensor: "lux"})
	s.Circuits[lamp].Adds, s.Circuits[lamp].SeenAfter = 150, 2*second
	return assuming(s, site.Assumption{Kind: site.Ladder, Inputs: []site.InputID{rung0, rung1}})
}

func TestSeenLight(t *testing.T) {
	bright := func() site.Mode { return plant(while(sum(10000, false, true))) }
	s := func() *site.Site { return sensed(bright(), asks(while(input(sw)), level(site.Full))) }
	half := sensed(bright(), asks(while(input(sw)), level(5000)))
	flashing := func(on site.Millis) *site.Site {
		return sensed(bright(), asks(while(not(mode(0))), flash(0, on, second)))
	}
	fading := s()
	fading.Circuits[0].Fade = 9 * second
	unfed := dead(s(), input(mains))
	deaf := s()
	deaf.Circuits[0].SeenAfter = 0
	ladder := func() *site.Site { return sensed(plant(while(and(input(rung1), not(input(rung0)))))) }
	decide(t, []known{
		{"a lamp is seen after its time", s(), atMost(and(input(sw), not(mode(0))), 2*second), holds},
		{"not before", s(), atMost(and(input(sw), not(mode(0))), second), broken},
		{"and is seen a while after it went out", s(), atMost(and(not(input(sw)), mode(0)), 2*second), holds},
		{"", s(), atMost(and(not(input(sw)), mode(0)), second), broken},
		{"a lamp that goes on and off again in no time is not seen", s(), onlyAfter(mode(0), mode(1), nil), holds},
		{"one that flashes quickly is not seen", flashing(second), possible(mode(0)), noWitness},
		{"one that flashes slowly is", flashing(2 * second), possible(mode(0)), witness},
		{"what it is asked for counts, not its level", fading, possible(and(mode(0), not(atFull()))), witness},
		{"half the light is not all", half, possible(mode(0)), noWitness},
		{"a lamp without a feed goes out of sight", unfed, atMost(and(input(mains), mode(0)), 2*second), holds},
		{"a lamp without a time is never seen", deaf, possible(mode(0)), noWitness},
		{"no rung without the one below", ladder(), possible(mode(0)), noWitness},
		{"nor in between", sensed(while(input(rung1)), while(input(rung0))), never(and(mode(0), not(mode(1)))), holds},
	})
}

func TestSums(t *testing.T) {
	s := build(asks(while(input(sw)), level(6000)))
	s.Circuits[0].Fade = 2 * second
	between := light(1, 5999)
	decide(t, []known{
		{"rounded up it is there at once", s, never(and(between, not(sum(6000, true, false)))), holds},
		{"rounded down it is not there yet", s, never(and(between, sum(1, false, false))), holds},
		{"at rest both are right", s, never(and(light(6000, 6000), not(sum(6000, false, false)))), holds},
		{"nothing is more", s, possible(sum(6001, true, false)), noWitness},
		{"nothing is at least nothing", s, never(not(sum(0, false, false))), holds},
	})
}

func TestHunting(t *testing.T) {
	o := oracle.Options{}
	dim := func(lit int) site.Mode { return asks(while(not(mode(0))), level(site.Full)) }
	// The sensor is bright by the lamp's own light alone: it goes off and on for ever.
	own := sensed(plant(while(or(input(rung1), sum(10000, false, true)))), dim(0))
	answer(t, witness)(oracle.CanHunt(t.Context(), own, 0, o))
	// Bright by daylight on the upper rung, and dark below the lower one, the lamp's light or not.
	hysteresis := site.Mode{Name: "m", Kind: site.Latch, Starts: []site.Trigger{{On: input(rung1)}},
		Ends: []site.Trigger{{On: not(or(input(rung0), sum(10000, false, true)))}}}
	answer(t, noWitness)(oracle.CanHunt(t.Context(), sensed(plant(hysteresis), dim(0)), 0, o))
	// The lamp is lit by hand: each start has a cause.
	byHand := sensed(plant(while(sum(10000, false, true))), asks(while(input(sw)), level(site.Full)))
	answer(t, noWitness)(oracle.CanHunt(t.Context(), byHand, 0, o))
	// A flash is no cause.
	flashing := sensed(plant(while(sum(10000, false, true))), asks(while(input(sw)), flash(0, 3*second, 3*second)))
	answer(t, witness)(oracle.CanHunt(t.Context(), flashing, 0, o))
	twice := sensed(plant(while(sum(10000, false, true))), asks(while(input(sw)), flash(1, 3*second, 3*second)))
	answer(t, noWitness)(oracle.CanHunt(t.Context(), twice, 0, o))
	// A latch that no end stops becomes active once.
	once := sensed(plant(latch(sum(10000, false, true))), asks(while(input(sw)), flash(0, 3*second, 3*second)))
	answer(t, noWitness)(oracle.CanHunt(t.Context(), once, 0, o))
	if _, err := oracle.CanHunt(t.Context(), byHand, 1, o); err == nil {
		t.Error("a mode that sees nothing can not hunt")
	}
}
