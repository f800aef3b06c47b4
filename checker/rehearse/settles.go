// What makes lights change, and lights that change without it: "P settles within D" (lang/SEMANTICS.md section 5), and
// the finding "hunting" (section 6).

package rehearse

import (
	"slices"

	"lampwarden/lang/site"
)

// settles: "At no moment later than D after the last cause at or before it does P differ from the moment before."
func (j *judge) settles() Judgement {
	p := j.truth(j.r.P)
	cause := Nanos(0) // the last; start-up is one
	for i, m := range j.moments {
		if j.tl.causes(m.step, &j.r.Causes) {
			cause = m.at
		}
		if i > 0 && p[i] != p[i-1] && m.at-cause > j.d {
			return Judgement{Broken: true, At: m.at, Since: cause, Deadline: cause + j.d, Part: Unsettled, False: m.view.blame(j.r.P)}
		}
	}
	return Judgement{}
}

// causes tells whether the step is one of the causes: "start-up, a change or event of an input, a reaction at which a band
// begins or ends, or at which a clock-time trigger of a mode is due by the clock, and a jump of the clock".
func (tl *Timeline) causes(step int, of *site.Causes) bool {
	return slices.ContainsFunc(tl.Steps[step].Causes, func(c Cause) bool {
		switch c.Kind {
		case StartUp, ClockJumps:
			return true
		case InputChange:
			return slices.Contains(of.Inputs, c.Input)
		case BandBegins, BandEnds:
			return slices.Contains(of.Bands, c.Band)
		case ClockDue:
			return slices.Contains(of.Modes, c.Mode)
		}
		return false
	})
}

// Hunt is a mode that became active twice with no cause between.
type Hunt struct {
	Mode          site.ModeID
	First, Second Nanos
}

// Hunts looks for the finding "hunting" in a run, for one mode that reads seen light (ReadsSeen): it becomes active twice
// "with no cause (of all that can influence it) at or after the first time up to and including the second". ok tells
// whether it does; the error is a *FaultError for a run with faults, as findings are about runs without.
func Hunts(s *site.Site, tl *Timeline, m site.ModeID) (h Hunt, ok bool, err error) {
	if err := tl.Script.CheckFaults(s, nil); err != nil {
		return Hunt{}, false, err
	}
	of := CausesOf(s, m)
	since := noChange // the last time that it became active without a cause since
	for i := range tl.Steps {
		if tl.causes(i, &of) {
			since = noChange
			continue // also if it becomes active now: a cause at the first time counts
		}
		if !tl.becameActive(i, m) {
			continue
		}
		if since != noChange {
			return Hunt{m, since, tl.Steps[i].At}, true, nil
		}
		since = tl.Steps[i].At
	}
	return Hunt{}, false, nil
}

// becameActive tells whether the mode became active in the step. One that ended and started again did; a States mode
// leaves its first state.
func (tl *Timeline) becameActive(step int, m site.ModeID) bool {
	for _, c := range tl.Steps[step].Modes {
		if c.Mode == m {
			return c.To.Active && (!c.From.Active || c.Restarted && tl.Site.Modes[m].Kind != site.States)
		}
	}
	return false
}
