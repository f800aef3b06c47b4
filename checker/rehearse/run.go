// Playing a script to its end (lang/SEMANTICS.md section 1).

package rehearse

import (
	"slices"

	"lampwarden/lang/site"
)

// maxKept bounds what a timeline keeps, in modes and circuits over all steps (each some 60 bytes): a script that lets
// a flash run for weeks is refused rather than filling the memory.
const maxKept = 20_000_000

// stepCost is what a step keeps besides, in the same measure.
const stepCost = 8

// Run plays the script. The error is a *ScriptError for a script that breaks the rules of its form (times, values
// that are not a change, a move or choice that cannot be), an *AssumptionError for one that breaks an assumption.
func Run(s *site.Site, sc Script) (*Timeline, error) { return play(s, sc, false) }

// play is Run; lazy is explained at plan.lazy.
func play(s *site.Site, sc Script, lazy bool) (*Timeline, error) {
	return playWithin(s, sc, lazy, maxKept)
}

// playWithin is play with a bound of its own in place of maxKept.
func playWithin(s *site.Site, sc Script, lazy bool, room int) (*Timeline, error) {
	sc = sc.sorted()
	p, err := newPlayer(s, sc.Start, sc.Jumps...)
	if err != nil {
		return nil, err
	}
	p.lazy = lazy
	if err := sc.check(s); err != nil {
		return nil, err
	}
	tl := &Timeline{Site: s, Script: sc, plan: p.plan}
	run := &run{player: p, tl: tl, moves: sc.Moves, choices: sc.Choices, room: room}
	if err := run.play(); err != nil {
		return nil, err
	}
	return tl, nil
}

// run is a script being played: what is left of its moves and choices, and the timeline so far.
type run struct {
	*player
	tl      *Timeline
	moves   []Move
	choices []Choice
	last    *reaction
	room    int // what the timeline may still keep
}

// play plays the start-up, then each next reaction, the moves before it first.
func (r *run) play() error {
	sc := r.tl.Script
	if err := r.react(0, nil); err != nil {
		return err
	}
	events := sc.Events
	for {
		at, ev := sc.End+1, (*Event)(nil)
		if len(events) > 0 {
			at, ev = events[0].At, &events[0]
		}
		if due, ok := r.due(); ok && due < at {
			at, ev = due, nil
		}
		if err := r.movesUntil(min(at, sc.End)); err != nil {
			return err
		}
		if at > sc.End {
			break
		}
		if due, ok := r.due(); ev == nil && (!ok || due > at) {
			continue // what was due was a lamp that has arrived before
		}
		if err := r.react(at, ev); err != nil {
			return err
		}
		if ev != nil {
			events = events[1:]
		}
	}
	if len(r.choices) > 0 {
		return r.noChoice(r.choices[0])
	}
	return nil
}

// react plays one reaction and writes it down.
func (r *run) react(at Nanos, ev *Event) error {
	if len(r.choices) > 0 && r.choices[0].At < at {
		return r.noChoice(r.choices[0])
	}
	var given []site.InputID
	if at == 0 {
		given = r.tl.Script.Initial
	}
	re, err := r.player.react(at, ev, given, r.choose)
	if err != nil {
		return err
	}
	r.last = re
	return r.keep(re.describe(r.clock), re.before)
}

// keep adds a step to the timeline.
func (r *run) keep(st Step, before *state) error {
	if r.room -= stepCost + st.state.share(before); r.room < 0 {
		return badScript(st.At, "the run has more steps than can be kept, %d so far", len(r.tl.Steps))
	}
	r.tl.Steps = append(r.tl.Steps, st)
	return nil
}

// noChoice is the error for a choice that no ambiguity asks for.
func (r *run) noChoice(c Choice) error {
	return badScript(c.At, "there is nothing to choose for circuit %d", c.Circuit)
}

// movesUntil plays the moves up to the time.
func (r *run) movesUntil(at Nanos) error {
	for len(r.moves) > 0 && r.moves[0].At <= at {
		mv := r.moves[0]
		next, err := r.move(r.now, mv)
		if err != nil {
			return badScript(mv.At, "%v", err)
		}
		if err := r.keep(r.describeMove(r.timeOfWeek(mv.At), mv, next), r.now); err != nil {
			return err
		}
		r.now = next
		r.moves = r.moves[1:]
	}
	return nil
}

// choose takes the script's choice for the circuit, or the first candidate.
func (r *run) choose(at Nanos, c site.CircuitID, candidates []site.Level) (site.Level, error) {
	for i, ch := range r.choices {
		if ch.At > at {
			break
		}
		if ch.Circuit != c {
			continue
		}
		if !slices.Contains(candidates, ch.Level) {
			return 0, badScript(at, "circuit %q has no choice of %s", r.s.Circuits[c].Name,
				levelText(&r.s.Circuits[c], ch.Level))
		}
		r.choices = slices.Delete(slices.Clone(r.choices), i, i+1)
		return ch.Level, nil
	}
	return candidates[0], nil
}
