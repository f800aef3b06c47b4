// Random scripts that keep the assumptions, for long rehearsals.
//
// Uniform times would hardly ever hit what breaks sites: two things at one instant, or a hair apart. So the times are
// drawn near what is due next (at it, one nanosecond before, one after), at the first instant that the assumptions
// allow, in quick clusters, and only else at large.

package rehearse

import (
	"errors"
	"math/rand/v2"

	"lampwarden/lang/site"
)

// reactionsPerEvent bounds how long a random script lets timers run between two events (a flash without end would
// otherwise fill it).
const reactionsPerEvent = 40

// RandomScript makes a script of n events that keeps the site's assumptions, with lamp moves, choices and changes of the
// clock, and without faults. It has fewer events if the assumptions let no input change any more. The same random numbers
// give the same script. The error is for a site that cannot be played.
func RandomScript(s *site.Site, rng *rand.Rand, n int) (Script, error) {
	return RandomScriptFor(s, nil, rng, n)
}

// RandomScriptFor is RandomScript for one requirement: the script counts for it (Script.CheckFaults), and the faults that it
// lists may strike. r may be nil.
func RandomScriptFor(s *site.Site, r *site.Requirement, rng *rand.Rand, n int) (Script, error) {
	d := &dice{rng: rng}
	var err error
	if d.player, err = newPlayer(s, d.startTime(s)); err != nil {
		return Script{}, err
	}
	d.env = newEnvironment(s, nil)
	d.faults = faults{s: s, r: r, values: d.env.values}
	d.script.Start = d.start
	if err := d.startUp(); err != nil {
		return Script{}, err
	}
	d.drawJump()
	for try := 0; len(d.script.Events) < n && try < 2*n+20; try++ { // some events are given up
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
	faults faults // reads the environment's values
	script Script
}

// chance is true once in n times.
func (d *dice) chance(n int) bool { return d.rng.IntN(n) == 0 }

// startUp draws the inputs that are true at start-up and plays it.
func (d *dice) startUp() error {
	s := d.s
	for _, i := range d.rng.Perm(len(s.Inputs)) {
		if s.Inputs[i].Kind.IsEvent() || !d.chance(3) || d.faults.refuses(site.InputID(i)) != "" {
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

// nextEvent draws an input that may change and a time for it.
func (d *dice) nextEvent() (Event, bool) {
	for _, i := range d.rng.Perm(len(d.s.Inputs)) {
		in := site.InputID(i)
		w, ok := d.window(in)
		if !ok {
			continue
		}
		ev := Event{At: d.time(in, w), Input: in}
		switch k := d.s.Inputs[i].Kind; {
		case k == site.Button:
			ev.Gesture = site.Gesture(d.rng.IntN(int(site.Release) + 1))
		case !k.IsEvent():
			ev.Value = !d.env.values[i]
		}
		return ev, true
	}
	return Event{}, false
}

// play plays what is due before the event, lamps moving in between, then the event. If too much is due, the event
// comes sooner, but not before the assumptions allow it; one that has its time is given up.
func (d *dice) play(ev Event) error {
	w, ok := d.window(ev.Input)
	if !ok {
		return errors.New("rehearse: an event was drawn that an assumption excludes")
	}
	for played := 0; ; played++ {
		due, ok := d.due()
		if played >= reactionsPerEvent {
			if d.s.Inputs[ev.Input].Kind == site.Calendar {
				return nil
			}
			ev.At = min(ev.At, max(w.from, d.last()+1+Nanos(d.rng.IntN(int(Milli)))))
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
	if j := d.jump; j != nil && j.At == at {
		d.script.Jumps = []Jump{*j}
		d.script.End = max(d.script.End, at)
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
