// "Can always return to P within D": for every moment some way on.
//
// The search for an error is a search over what the environment does, but here the environment is on our side. So one way
// on is fixed (observe.Waits): wait, with nothing happening, until P is true or can be made true at once by events alone
// (machine.Quick). If that leads to P in time from every moment, the requirement holds. If it does not from some
// moment, all ways on from the states that its path can be in are searched: if none reaches P in time, the requirement
// fails there. If one does, the answer is open: this way is not always the right one, and the tool knows no better.

package checker

import (
	"context"
	"slices"

	"lampwarden/checker/explore"
	"lampwarden/checker/machine"
	"lampwarden/checker/observe"
	"lampwarden/checker/zone"
	"lampwarden/lang/site"
)

// whyNoWay is the reason of an answer that stays open.
const whyNoWay = "from some moment waiting, and then acting at once, does not lead back in time, but something else may"

// wayBack is decideOn for a "can always return" requirement.
func (p *prover) wayBack(ctx context.Context, s *site.Site, q question) (a answer, err error) {
	a.site = s
	r := q.back
	sl := p.slice(s, q, nil)
	sys, err := machine.New(sl, q.piece.Observer, q.goal)
	if err == nil {
		sys.Quick, err = machine.NewQuick(sl, r.P)
	}
	if err != nil {
		a.why = err.Error()
		return a, nil
	}
	a.focus = sys.Lamps()
	if err := p.once(ctx, sys, &a); err != nil || a.state != reached {
		return a, err
	}
	return a, p.noWayBack(ctx, sl, sys, r, &a)
}

// noWayBack searches all ways on from the moment at which the wait of a's path begins.
func (p *prover) noWayBack(ctx context.Context, sl *machine.Slice, sys *machine.System, r *site.Requirement, a *answer) error {
	key, z, ok := sys.Follow(a.labels, func(s observe.State) bool { return sys.Calm(s) })
	path := a.path
	a.state, a.path = undecided, nil
	if !ok {
		a.why = whyNoWay
		return nil
	}
	reach, err := machine.New(sl, observe.Reaches(r.P, r.D), machine.NoGoal())
	if err != nil {
		a.why = err.Error()
		return nil
	}
	opt := p.limits(p.budget)
	opt.StopAtBad = true
	res := explore.Run(ctx, from{reach, key, z}, opt)
	a.count(res.Stats)
	switch {
	case res.BadSeen:
		a.why = whyNoWay
	case res.Status == explore.Exhausted:
		a.state, a.path = reached, path
	default:
		a.why, a.more = res.Status.String(), p.budgeted(res.Status)
	}
	return nil
}

// from is a model that starts in one symbolic state of another.
type from struct {
	explore.Model
	key []byte
	z   *zone.DBM
}

// Initial implements explore.Model.
func (f from) Initial(yield func(explore.Succ) bool) {
	yield(explore.Succ{Key: slices.Clone(f.key), Zone: f.z})
}
