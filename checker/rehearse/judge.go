// Requirements over one finite run, by their definitions (lang/SEMANTICS.md section 5).

package rehearse

import "lampwarden/lang/site"

// Judge tells whether the requirement is broken in the run. What is not decided by the run's end is not broken. The
// site is the timeline's own. The error is a *FaultError for a run that does not count for the requirement.
func Judge(s *site.Site, tl *Timeline, r *site.Requirement) (Judgement, error) {
	if err := tl.Script.CheckFaults(s, r); err != nil {
		return Judgement{}, err
	}
	j := judge{tl: tl, r: r, moments: momentsOf(tl), end: tl.Script.End, d: FromMillis(r.D)}
	return j.judge(), nil
}

// judge goes by the form.
func (j *judge) judge() Judgement {
	switch j.r.Form {
	case site.Never:
		return j.forbidden(true)
	case site.Always:
		return j.forbidden(false)
	case site.Whenever:
		return j.whenever()
	case site.LastsAtMost:
		return j.lastsAtMost()
	case site.LastsAtLeast:
		return j.lastsAtLeast()
	case site.AtMostTimes:
		return j.atMostTimes()
	case site.OnlyAfter:
		return j.onlyAfter()
	case site.Possible:
		return j.possible()
	case site.Settles:
		return j.settles()
	case site.CanReturn:
		return Judgement{Branching: true}
	case site.Energy:
		return j.energy()
	}
	return Judgement{}
}

// moment is a moment of section 4: a reaction's instant (its event true), what is after it, or a move.
type moment struct {
	at   Nanos
	step int // index into the timeline's steps
	view view
}

// momentsOf lists the moments of a run. A reaction without an event has an instant like its after; it is left out, as
// no verdict can depend on it.
func momentsOf(tl *Timeline) []moment {
	out := make([]moment, 0, len(tl.Steps)+len(tl.Script.Events))
	for i := range tl.Steps {
		st, v := &tl.Steps[i], tl.after(i)
		if st.Event != nil {
			instant := v
			instant.event = st.Event
			out = append(out, moment{st.At, i, instant})
		}
		out = append(out, moment{st.At, i, v})
	}
	return out
}

// judge is one requirement on one run.
type judge struct {
	tl      *Timeline
	r       *site.Requirement
	moments []moment
	end     Nanos
	d       Nanos
}

// truth evaluates an expression at every moment; nil (no until, no since) is never true.
func (j *judge) truth(e *site.Expr) []bool {
	out := make([]bool, len(j.moments))
	if e == nil {
		return out
	}
	for i, m := range j.moments {
		out[i] = m.view.holds(e)
	}
	return out
}

// rises lists the moments at which the truth comes: true there and false at the moment before; what is true at the
// first moment rises there.
func rises(truth []bool) []int {
	var out []int
	for i, t := range truth {
		if t && (i == 0 || !truth[i-1]) {
			out = append(out, i)
		}
	}
	return out
}

// falls gives the first moment after i at which the truth is gone; ok is false if it lasts to the run's end.
func falls(truth []bool, i int) (at int, ok bool) {
	for k := i + 1; k < len(truth); k++ {
		if !truth[k] {
			return k, true
		}
	}
	return len(truth), false
}

// forbidden: "Never/Always P: P is false/true at every moment." value is the one that must not be.
func (j *judge) forbidden(value bool) Judgement {
	for _, m := range j.moments {
		if m.view.holds(j.r.P) == value {
			return Judgement{Broken: true, At: m.at, Since: m.at, Deadline: m.at, Part: Forbidden,
				False: m.view.blame(j.r.P)}
		}
	}
	return Judgement{}
}

// lastsAtMost: "P is never true throughout a stretch longer than D."
func (j *judge) lastsAtMost() Judgement {
	p := j.truth(j.r.P)
	for _, i := range rises(p) {
		since, until := j.moments[i].at, j.end
		if k, ok := falls(p, i); ok {
			until = j.moments[k].at
		}
		if until-since > j.d {
			return Judgement{Broken: true, At: since + j.d, Since: since, Deadline: since + j.d, Part: TooLong,
				False: j.viewAt(since + j.d).blame(j.r.P)}
		}
	}
	return Judgement{}
}

// viewAt is the state at a time, after all that happened then.
func (j *judge) viewAt(at Nanos) view { return j.tl.after(j.tl.stepAt(at)) }

// lastsAtLeast: "no P that has risen becomes false less than D later."
func (j *judge) lastsAtLeast() Judgement {
	p := j.truth(j.r.P)
	for _, i := range rises(p) {
		k, ok := falls(p, i)
		if !ok {
			continue
		}
		if since, until := j.moments[i].at, j.moments[k].at; until-since < j.d {
			return Judgement{Broken: true, At: until, Since: since, Deadline: since + j.d, Part: TooShort,
				False: j.moments[k].view.blame(j.r.P)}
		}
	}
	return Judgement{}
}

// atMostTimes: "of any N+1 rises of P the last is D or more after the first."
func (j *judge) atMostTimes() Judgement {
	rs := rises(j.truth(j.r.P))
	for i := range rs {
		if i+j.r.N >= len(rs) {
			break
		}
		first, last := j.moments[rs[i]], j.moments[rs[i+j.r.N]]
		if last.at-first.at < j.d {
			return Judgement{Broken: true, At: last.at, Since: first.at, Deadline: first.at + j.d, Part: TooOften,
				False: last.view.blame(j.r.P)}
		}
	}
	return Judgement{}
}

// onlyAfter: "at no moment is P true without Q having been true at that moment or earlier, and not earlier than the
// last moment with R true (at one moment R counts before Q)."
func (j *judge) onlyAfter() Judgement {
	p, q, r := j.truth(j.r.P), j.truth(j.r.Q), j.truth(j.r.Since)
	for i := range j.moments {
		if !p[i] {
			continue
		}
		from := 0 // the last moment with R true, or the first of the run
		for k := i; k > 0; k-- {
			if r[k] {
				from = k
				break
			}
		}
		found := false
		for k := from; k <= i; k++ {
			found = found || q[k]
		}
		if !found {
			at := j.moments[i].at
			return Judgement{Broken: true, At: at, Since: j.moments[from].at, Deadline: at, Part: TooSoon,
				False: j.moments[i].view.blame(j.r.Q)}
		}
	}
	return Judgement{}
}

// possible: "some run has a moment with P true." A run without is not a break.
func (j *judge) possible() Judgement {
	for _, m := range j.moments {
		if m.view.holds(j.r.P) {
			return Judgement{Witness: true, At: m.at, Since: m.at, Deadline: m.at}
		}
	}
	return Judgement{}
}
