// The player: the state of a run and the two things that can happen to it, a reaction and a move.

package rehearse

import (
	"fmt"
	"time"

	"lampwarden/lang/site"
)

// player is a run in progress.
type player struct {
	*plan
	clock
	now    *state
	number int // of the next reaction
}

// newPlayer is a site before start-up.
func newPlayer(s *site.Site, start Nanos, jumps ...Jump) (*player, error) {
	if start < 0 || start >= Week {
		return nil, fmt.Errorf("the time of the week at start-up, %s, is not in a week of seven days from Monday 00:00", start)
	}
	p, err := newPlan(s)
	if err != nil {
		return nil, err
	}
	out := &player{plan: p, clock: clock{start: start}, now: rest(s)}
	if len(jumps) > 0 {
		out.jump = &jumps[0]
	}
	return out, nil
}

// react plays the reaction at the time. given are the inputs that are true at start-up, nil at any other reaction.
func (p *player) react(at Nanos, ev *Event, given []site.InputID, choose chooser) (*reaction, error) {
	r := &reaction{plan: p.plan, number: p.number, at: at, tow: p.timeOfWeek(at), startUp: p.number == 0,
		event: ev, before: p.now, choose: choose}
	if err := r.run(given); err != nil {
		return nil, err
	}
	p.now = r.after
	p.number++
	return r, nil
}

// due is the time of the next reaction without an input change.
func (p *player) due() (Nanos, bool) { return p.nextDue(p.now, p.clock) }

// String writes a time as Go writes durations.
func (n Nanos) String() string { return time.Duration(n).String() }
