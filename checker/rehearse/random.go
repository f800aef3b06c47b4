// Random scripts that keep the assumptions, for long rehearsals.
//
// Uniform times would hardly ever hit what breaks sites: two things at one instant, or a hair apart. So the times are
// drawn near what is due next (at it, one nanosecond before, one after), at the first instant that the assumptions
// allow, in quick clusters, and only else at large.

package rehearse

import (
	"cmp"
	"errors"
	"math/rand/v2"
	"slices"

	"lampwarden/lang/site"
)

// reactionsPerEvent bounds how long a random script lets timers run between two events (a flash without end would
// otherwise fill it).
const reactionsPerEvent = 40

// RandomScript makes a script of n events that keeps the site's assumptions, with lamp moves and choices. It has fewer
// events if the assumptions let no input change any more. The same random numbers give the same script. The error is
// for a site that cannot be played.
func RandomScript(s *site.Site, rng *rand.Rand, n int) (Script, error) {
	d := &dice{rng: rng}
	var err error
	if d.player, err = newPlayer(s, d.startTime(s)); err != nil {
		return Script{}, err
	}
	d.script.Start = d.start
	if err := d.startUp(); err != nil {
		return Script{}, err
	}
	for len(d.script.Events) < n {
		ev, ok := d.nextEvent()
		if !ok {
			break
		}
		if err := d.play(ev); err != nil {
			return Script{}, err
		}
	}
	err = d.tail()
	return d.script, err
}

// dice is a random script in the making, played along.
type dice struct {
	*player
	rng    *rand.Rand
	env    *environment
	script Script
}

// chance is true once in n times.
func (d *dice) chance(n int) bool { return d.rng.IntN(n) == 0 }

// near gives a nanosecond before, at, or after; now and then a millisecond.
func (d *dice) near(at Nanos) Nanos {
	return at + [...]Nanos{0, 0, -1, 1, -Milli, Milli}[d.rng.IntN(6)]
}

// gap is a time between a nanosecond and some hours, each order of magnitude as likely.
func (d *dice) gap(low, high int) Nanos {
	g := Nanos(1)
	for range low + d.rng.IntN(high-low) {
		g *= 10
	}
	return g + Nanos(d.rng.Int64N(9*int64(g)))
}

// startTime is any time of the week, half the times near a clock time that the site names, on one of its days or
// another one.
func (d *dice) startTime(s *site.Site) Nanos {
	at := Nanos(d.rng.Int64N(int64(Week)))
	if p, err := newPlan(s); err == nil && d.chance(2) {
		var named []Nanos
		p.dues(rest(s), clock{}, func(t Nanos, c Cause) {
			if c.Kind == ClockDue || c.Kind == BandBegins || c.Kind == BandEnds {
				named = append(named, t)
			}
		})
		if len(named) > 0 {
			at = d.near(named[d.rng.IntN(len(named))])
			if d.chance(2) {
				at += Day * Nanos(d.rng.IntN(7))
			}
		}
	}
	return (at + Week) % Week
}

// startUp draws the inputs that are true at start-up and plays it.
func (d *dice) startUp() error {
	s := d.s
	d.env = newEnvironment(s, nil)
	for _, i := range d.rng.Perm(len(s.Inputs)) {
		if s.Inputs[i].Kind.IsEvent() || !d.chance(3) {
			continue
		}
		if d.env.values[i] = true; d.env.checkStart() != nil {
			d.env.values[i] = false
			continue
		}
		d.script.Initial = append(d.script.Initial, site.InputID(i))
	}
	if err := d.env.checkStart(); err != nil {
		return err
	}
	_, err := d.react(0, nil, d.script.Initial, d.choose)
	return err
}

// choose settles an ambiguity.
func (d *dice) choose(at Nanos, c site.CircuitID, candidates []site.Level) (site.Level, error) {
	l := candidates[d.rng.IntN(len(candidates))]
	d.script.Choices = append(d.script.Choices, Choice{at, c, l})
	return l, nil
}

// earliest is the first instant at which the input may change, ok is false if it may not for now.
func (d *dice) earliest(in site.InputID) (at Nanos, ok bool) {
	at = d.last() + 1
	for i := range d.s.Assumptions {
		t, ok := d.env.earliest(&d.s.Assumptions[i], in)
		if !ok {
			return 0, false
		}
		at = max(at, t)
	}
	return at, true
}

// nextEvent draws an input that may change and a time for it.
func (d *dice) nextEvent() (Event, bool) {
	for _, i := range d.rng.Perm(len(d.s.Inputs)) {
		first, ok := d.earliest(site.InputID(i))
		if !ok {
			continue
		}
		ev := Event{At: d.time(first), Input: site.InputID(i)}
		switch k := d.s.Inputs[i].Kind; {
		case k == site.Button:
			ev.Gesture = site.Gesture(d.rng.IntN(int(site.LongPress) + 1))
		case !k.IsEvent():
			ev.Value = !d.env.values[i]
		}
		return ev, true
	}
	return Event{}, false
}

// time draws a time not before first.
func (d *dice) time(first Nanos) Nanos {
	switch d.rng.IntN(8) {
	case 0:
		return first
	case 1, 2: // a quick cluster
		return first + d.gap(0, 9)
	case 3: // at large, on the grid of seconds or off it
		at := first + d.gap(8, 13)
		if d.chance(2) {
			at += 1000*Milli - (d.start+at)%(1000*Milli)
		}
		return at
	}
	var dues []Nanos // near one of the next dues, sooner ones more likely
	d.dues(d.now, d.clock, func(at Nanos, _ Cause) { dues = append(dues, at) })
	slices.Sort(dues)
	for _, at := range slices.Compact(dues) {
		if at >= first && d.chance(2) {
			return max(first, d.near(at))
		}
	}
	return first + d.gap(3, 12)
}

// play plays what is due before the event, lamps moving in between, then the event. If too much is due, the event
// comes sooner, but not before the assumptions allow it.
func (d *dice) play(ev Event) error {
	first, ok := d.earliest(ev.Input)
	if !ok {
		return errors.New("rehearse: an event was drawn that an assumption excludes")
	}
	for played := 0; ; played++ {
		due, ok := d.due()
		if played >= reactionsPerEvent {
			ev.At = min(ev.At, max(first, d.last()+1+Nanos(d.rng.IntN(int(Milli)))))
		}
		if !ok || due >= ev.At {
			break
		}
		if err := d.reaction(due, nil); err != nil {
			return err
		}
	}
	if err := d.env.check(ev); err != nil {
		return err
	}
	if err := d.reaction(ev.At, &ev); err != nil {
		return err
	}
	d.env.change(ev)
	d.script.Events = append(d.script.Events, ev)
	d.script.End = ev.At
	return nil
}

// reaction plays a reaction, and moves before it.
func (d *dice) reaction(at Nanos, ev *Event) error {
	if err := d.moves(at); err != nil {
		return err
	}
	if due, ok := d.due(); ev == nil && (!ok || due > at) {
		return nil // what was due was a lamp that has arrived before
	}
	_, err := d.react(at, ev, nil, d.choose)
	return err
}

// last is the time of the last reaction or move.
func (d *dice) last() Nanos {
	last := d.now.at
	if n := len(d.script.Moves); n > 0 {
		last = max(last, d.script.Moves[n-1].At)
	}
	return last
}

// moves draws moves of lamps strictly between the last reaction and the next one.
func (d *dice) moves(next Nanos) error {
	last := d.last()
	if next-last < 2 {
		return nil
	}
	var moves []Move
	for i, l := range d.now.circuits {
		for range 2 {
			if l.moving && d.chance(2) {
				moves = append(moves, Move{At: d.between(last, next), Circuit: site.CircuitID(i)})
			}
		}
	}
	slices.SortStableFunc(moves, func(a, b Move) int { return cmp.Compare(a.At, b.At) })
	for _, mv := range moves {
		l := d.now.circuits[mv.Circuit]
		if !l.moving {
			continue
		}
		mv.Level = d.onTheWay(mv.Circuit, l)
		after, err := d.move(d.now, mv)
		if err != nil {
			return err
		}
		d.now = after
		d.script.Moves = append(d.script.Moves, mv)
	}
	return nil
}

// between draws a time strictly between two, often next to one of them.
func (d *dice) between(last, next Nanos) Nanos {
	switch d.rng.IntN(4) {
	case 0:
		return last + 1
	case 1:
		return next - 1
	}
	return last + 1 + Nanos(d.rng.Int64N(int64(next-last-1)))
}

// onTheWay draws a level further on towards the aim, often the aim itself.
func (d *dice) onTheWay(c site.CircuitID, l circuitState) site.Level {
	if d.s.Circuits[c].Switched || d.chance(3) {
		return l.aim
	}
	if l.aim > l.level {
		return l.level + 1 + site.Level(d.rng.IntN(int(l.aim-l.level)))
	}
	return l.level - 1 - site.Level(d.rng.IntN(int(l.level-l.aim)))
}

// tail lets the run go on for a while after the last event.
func (d *dice) tail() error {
	d.script.End += d.gap(3, 13)
	for range reactionsPerEvent {
		due, ok := d.due()
		if !ok || due > d.script.End {
			return nil
		}
		if err := d.reaction(due, nil); err != nil {
			return err
		}
	}
	d.script.End = d.last()
	return nil
}
