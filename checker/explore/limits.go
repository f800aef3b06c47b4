// When a search must stop before it is done.

package explore

import (
	"context"
	"time"
)

// checkEvery is the number of successors between two looks at the clock and the
// context; comparing with so many zones in a list counts as one.
const (
	checkEvery   = 1024
	perSuccessor = 64
)

// limits watches the context and the limits of a search.
type limits struct {
	ctx      context.Context
	opt      Options
	start    time.Time
	untilDue int
	polls    int
}

// newLimits starts the clock.
func newLimits(ctx context.Context, opt Options) limits {
	return limits{ctx: ctx, opt: opt, start: time.Now()}
}

// poll is called at every successor and expansion; it looks at the clock and the
// context at the first call and every so often after that.
func (l *limits) poll() Status {
	if l.polls++; l.opt.MaxTransitions > 0 && l.polls > l.opt.MaxTransitions {
		return LimitWork
	}
	if l.untilDue > 0 {
		l.untilDue--
		return Exhausted
	}
	l.untilDue = checkEvery
	if l.ctx.Err() != nil {
		return Cancelled
	}
	if l.opt.MaxTime > 0 && time.Since(l.start) > l.opt.MaxTime {
		return LimitTime
	}
	return Exhausted
}

// compared brings the next look nearer by what it costs to go through a list of n zones.
func (l *limits) compared(n int) { l.untilDue -= n / perSuccessor }

// room tells whether another state may be stored.
func (l *limits) room(stored int, st *store) Status {
	if l.opt.MaxStates > 0 && stored > l.opt.MaxStates {
		return LimitStates
	}
	if l.opt.MaxBytes > 0 && st.size() > l.opt.MaxBytes || st.full() {
		return LimitMemory
	}
	return Exhausted
}
