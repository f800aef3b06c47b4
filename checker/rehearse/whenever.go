// The response form: "whenever A then within D B", with until C, for E, or both (lang/SEMANTICS.md section 5).

package rehearse

// whenever judges each rise of A on its own; the break that is known first counts.
func (j *judge) whenever() Judgement {
	as := rises(j.truth(j.r.A))
	b, c := j.truth(j.r.B), j.truth(j.r.Until)
	best := Judgement{Triggered: len(as) > 0}
	for _, rise := range as {
		var v Judgement
		switch {
		case j.r.E > 0:
			v = j.lasting(rise, b, c)
		case j.r.Until != nil:
			v = j.until(rise, b, c)
		default:
			v = j.within(rise, b)
		}
		if v.Broken && (!best.Broken || v.At < best.At) {
			v.Triggered = true
			best = v
		}
	}
	return best
}

// broken makes the judgement for the rise, with the parts of B that are false at the time.
func (j *judge) broken(rise int, at Nanos, part Part, v view) Judgement {
	since := j.moments[rise].at
	return Judgement{Broken: true, At: at, Since: since, Deadline: since + j.d, Part: part, False: v.blame(j.r.B)}
}

// deadline is the latest time in time for the rise; known tells whether the run reaches it. "A run that ends before
// the deadline breaks nothing."
func (j *judge) deadline(rise int) (at Nanos, known bool) {
	at = j.moments[rise].at + j.d
	return at, at <= j.end
}

// within: "there is a moment at time t, a <= t <= a + D, not before the rise, with B true."
func (j *judge) within(rise int, b []bool) Judgement {
	deadline, known := j.deadline(rise)
	if !known {
		return Judgement{}
	}
	for t := rise; t < len(j.moments) && j.moments[t].at <= deadline; t++ {
		if b[t] {
			return Judgement{}
		}
	}
	return j.broken(rise, deadline, NotInTime, j.viewAt(deadline))
}

// until: "at no moment at a time >= a + D is B false, unless C was true at the rise or at a later moment up to and
// including that one. At time a + D itself only the state after the reaction counts." The state at a + D is that of
// the last moment up to then, whether or not anything happens at a + D.
func (j *judge) until(rise int, b, c []bool) Judgement {
	deadline, known := j.deadline(rise)
	if !known {
		return Judgement{}
	}
	for t := rise; t < len(j.moments); t++ {
		if c[t] {
			return Judgement{} // the obligation is over
		}
		last := t+1 == len(j.moments) || j.moments[t+1].at > deadline // the state at the deadline, or later
		if !last || b[t] {
			continue
		}
		if at := j.moments[t].at; at > deadline {
			return j.broken(rise, at, NotKept, j.moments[t].view)
		}
		return j.broken(rise, deadline, NotInTime, j.moments[t].view)
	}
	return Judgement{}
}

// lasting: "there is a time t, a <= t <= a + D, such that B is true from t to t + E (at t + E itself it may already
// end); with until C as well, no longer needed once C is true. A B that began before the rise counts from the rise."
// If any t will do, then so will the first moment of its stretch of B not before the rise.
func (j *judge) lasting(rise int, b, c []bool) Judgement {
	deadline, known := j.deadline(rise)
	if !known {
		return Judgement{}
	}
	out := j.broken(rise, deadline, NotInTime, j.viewAt(deadline))
	for t := rise; t < len(j.moments) && j.moments[t].at <= deadline; t++ {
		if c[t] {
			return Judgement{} // no longer needed
		}
		if !b[t] || t > rise && b[t-1] {
			continue // no stretch begins here
		}
		end, ended := falls(b, t)
		for k := t; k <= end && k < len(c); k++ {
			if c[k] { // up to and including the moment at which B ends
				return Judgement{}
			}
		}
		if !ended || j.moments[end].at-j.moments[t].at >= FromMillis(j.r.E) {
			return Judgement{}
		}
		out = j.broken(rise, max(deadline, j.moments[end].at), NotKept, j.moments[end].view)
	}
	return out
}
