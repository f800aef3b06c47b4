// Which part of a requirement failed, when, and what the lights in question were doing then.

package report

import (
	"fmt"
	"slices"
	"strings"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

// Failure is the failing part of a requirement.
type Failure struct {
	Part     string         `json:"part"`
	At       rehearse.Nanos `json:"atNs"`
	Clock    string         `json:"clock"` // wall-clock stamp of At
	Day      int            `json:"day"`
	Weekday  string         `json:"weekday,omitempty"`
	Since    rehearse.Nanos `json:"sinceNs"`
	Deadline rehearse.Nanos `json:"deadlineNs"`
	Text     string         `json:"text"` // one sentence
	// Responsible are the smallest parts of the condition that made it so: as they had to be, if the condition had
	// to be true, else as they are.
	Responsible []string `json:"responsible"`
	// LastCauses are what last might have made the lights change, if they have not settled in time.
	LastCauses []string `json:"lastCauses,omitempty"`
	Sums       []Sum    `json:"sums,omitempty"`   // of the conditions on power or illuminance among the responsible
	Energy     *Energy  `json:"energy,omitempty"` // what was used from Since to At, if that is too much
	Faults     []Fault  `json:"faults,omitempty"` // that the requirement speaks of and that struck
	// Lights says what the circuits among them were doing, and who decided it.
	Lights []Standing `json:"lights,omitempty"`

	mayFault bool
}

// shownAt is the time of a judgement as it is shown: the nanosecond at which a sum passes its limit is of no use.
func shownAt(j *rehearse.Judgement) rehearse.Nanos {
	if j.Part == rehearse.TooMuch {
		return roundUp(j.At)
	}
	return j.At
}

// partName gives the words for a rehearse.Part in JSON.
func partName(p rehearse.Part) string {
	return [...]string{"none", "forbidden", "not in time", "not kept", "too long", "too short", "too often", "too soon", "unsettled",
		"too much"}[p]
}

// noWayBack is the part of a "can always return" that fails.
const noWayBack = "no way back"

// failure tells a judgement that is broken, or of a witness.
func (t *teller) failure(tl *rehearse.Timeline, r *site.Requirement, j *rehearse.Judgement) Failure {
	f := Failure{
		Part: partName(j.Part), At: j.At, Clock: stampAt(tl, shownAt(j)), Day: dayOf(tl, j.At), Weekday: t.weekday(tl, j.At),
		Since: j.Since, Deadline: j.Deadline, Text: t.verdict(tl, r, j),
	}
	if j.Branching {
		f.Part = noWayBack
	}
	conds := conditions(r)
	f.Responsible = t.responsible(tl, conds, j, required(r, j))
	f.Sums = t.sums(tl, conds, j.False, j.At)
	switch j.Part {
	case rehearse.Unsettled:
		f.LastCauses = t.causesAt(tl, &r.Causes, j.Since)
	case rehearse.TooMuch:
		f.Energy = t.energy(tl, r, j.Since, j.At)
	}
	f.Faults, f.mayFault = t.struck(tl, r, j.At), len(r.Faults) > 0
	f.Lights = t.standings(tl, t.standingCircuits(tl, r, j), j.At)
	return f
}

// standingCircuits lists the circuits that a failure shows: those of the responsible conditions. Of many that add up to too
// much, those that add to it.
func (t *teller) standingCircuits(tl *rehearse.Timeline, r *site.Requirement, j *rehearse.Judgement) []site.CircuitID {
	if j.Part == rehearse.TooMuch {
		return nil // its energy says more
	}
	step, parts := stepAt(tl, j.At), t.wholes(t.phrasesOf(conditions(r)), j.False)
	return slices.DeleteFunc(t.lightsOf(circuitsOf(parts)), func(c site.CircuitID) bool {
		alone := slices.ContainsFunc(j.False, func(e *site.Expr) bool { return e.Op != site.OpSum && names(e, c) })
		return !alone && step >= 0 && !required(r, j) && tl.Level(step, c) == 0 && t.colourOf(c) == site.None
	})
}

// names tells whether a condition reads the level of a circuit.
func names(e *site.Expr, c site.CircuitID) bool {
	return slices.Contains(circuitsOf([]*site.Expr{e}), c)
}

// circuitsOf lists the circuits that conditions speak of, each once.
func circuitsOf(es []*site.Expr) (out []site.CircuitID) {
	add := func(c site.CircuitID) {
		if !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	for _, e := range es {
		e.Walk(func(x *site.Expr) {
			if x.Op == site.OpLight {
				add(x.Circuit)
			}
			if x.Op == site.OpSum && !x.Seen {
				for _, term := range x.Terms {
					add(term.Circuit)
				}
			}
		})
	}
	return out
}

// causesAt tells the causes at a time that are among some.
func (t *teller) causesAt(tl *rehearse.Timeline, of *site.Causes, at rehearse.Nanos) (out []string) {
	for i := range tl.Steps {
		if tl.Steps[i].At != at {
			continue
		}
		for _, c := range tl.Steps[i].Causes {
			switch {
			case c.Kind == rehearse.StartUp, c.Kind == rehearse.ClockJumps,
				c.Kind == rehearse.InputChange && slices.Contains(of.Inputs, c.Input),
				(c.Kind == rehearse.BandBegins || c.Kind == rehearse.BandEnds) && slices.Contains(of.Bands, c.Band),
				c.Kind == rehearse.ClockDue && slices.Contains(of.Modes, c.Mode):
				out = append(out, t.cause(tl, c))
			}
		}
	}
	return out
}

// verdict says in a sentence what was broken.
func (t *teller) verdict(tl *rehearse.Timeline, r *site.Requirement, j *rehearse.Judgement) string {
	at, since := moment(tl, j.At), moment(tl, j.Since)
	parts := t.parts(tl, r, j)
	if j.Branching {
		return fmt.Sprintf("From %s on nothing that can happen leads back to this within %s: %s. The run shown waits; the search "+
			"went through every other way on as well.", since, r.D, t.expr(r.P))
	}
	switch j.Part {
	case rehearse.Forbidden:
		if r.Form == site.Always {
			return fmt.Sprintf("At %s this must hold, and does not: %s.", at, parts)
		}
		return fmt.Sprintf("At %s this holds, and must never: %s.", at, parts)
	case rehearse.NotInTime:
		return fmt.Sprintf("This came true at %s: %s. By %s, %s later, this had to be so and was not: %s.",
			since, t.expr(r.A), moment(tl, j.Deadline), span(j.Deadline-j.Since), parts)
	case rehearse.NotKept:
		return t.notKept(tl, r, j, parts)
	case rehearse.TooLong:
		return fmt.Sprintf("Since %s without a break: %s. It may last %s, which was over at %s.",
			since, t.expr(r.P), r.D, moment(tl, j.Deadline))
	case rehearse.TooShort:
		return fmt.Sprintf("From %s to %s, for only %s: %s. It has to last %s.",
			since, at, span(j.At-j.Since), t.expr(r.P), r.D)
	case rehearse.TooOften:
		return fmt.Sprintf("From %s to %s, within %s, this came true %d times: %s. Allowed within %s: %s.",
			since, at, span(j.At-j.Since), r.N+1, t.expr(r.P), r.D, count(r.N, "time"))
	case rehearse.TooSoon:
		return t.tooSoon(tl, r, j)
	case rehearse.Unsettled:
		return t.unsettled(tl, r, j)
	case rehearse.TooMuch:
		return t.tooMuch(tl, r, j)
	}
	return fmt.Sprintf("At %s: %s.", at, t.expr(r.P))
}

func (t *teller) notKept(tl *rehearse.Timeline, r *site.Requirement, j *rehearse.Judgement, parts string) string {
	kept := "has to stay so"
	if r.Until != nil {
		kept += " until " + t.expr(r.Until)
	}
	if r.E > 0 {
		kept = "has to stay so for " + r.E.String()
	}
	return fmt.Sprintf("At %s this is not so, and from %s on it %s: %s.", moment(tl, j.At), moment(tl, j.Deadline), kept, parts)
}

func (t *teller) tooSoon(tl *rehearse.Timeline, r *site.Requirement, j *rehearse.Judgement) string {
	since := "start-up"
	if r.Since != nil && j.Since > 0 {
		since = fmt.Sprintf("%s, which was last so at %s", t.expr(r.Since), moment(tl, j.Since))
	}
	return fmt.Sprintf("At %s this is so: %s. It may be so only after %s since %s.", moment(tl, j.At), t.expr(r.P), t.expr(r.Q), since)
}

func (t *teller) unsettled(tl *rehearse.Timeline, r *site.Requirement, j *rehearse.Judgement) string {
	change := "comes true"
	if !rehearse.Holds(t.s, tl, r.P, j.At) {
		change = "ends"
	}
	return fmt.Sprintf("At %s this %s: %s. The last that may cause it was at %s: %s. By %s, %s later, it had to be settled.",
		moment(tl, j.At), change, t.expr(r.P), moment(tl, j.Since), someOf(t.causesAt(tl, &r.Causes, j.Since)), moment(tl, j.Deadline), r.D)
}

// required tells whether the condition that failed had to be true (then its responsible parts are told as they had to
// be) or had to be false (then as they are).
func required(r *site.Requirement, j *rehearse.Judgement) bool {
	return j.Branching || j.Part == rehearse.NotInTime || j.Part == rehearse.NotKept || j.Part == rehearse.Forbidden && r.Form == site.Always
}

// responsible tells the responsible parts: as they had to be, or as they are.
func (t *teller) responsible(tl *rehearse.Timeline, conds []*site.Expr, j *rehearse.Judgement, hadToBe bool) []string {
	out := []string{}
	for _, e := range t.wholes(t.phrasesOf(conds), j.False) {
		if rehearse.Holds(t.s, tl, e, j.At) == hadToBe {
			e = opposite(e)
		}
		out = append(out, t.expr(e))
	}
	return out
}

// opposite is the contrary of a condition, for a comparison of light in its own words: "lit" of "off", "at most 10 %"
// of "above 10 %".
func opposite(e *site.Expr) *site.Expr {
	out := *e
	switch {
	case e.Op == site.OpLight && e.Lo > 0 && e.Hi == site.Full:
		out.Lo, out.Hi = 0, e.Lo-1
	case e.Op == site.OpLight && e.Lo == 0 && e.Hi < site.Full:
		out.Lo, out.Hi = e.Hi+1, site.Full
	case e.Op == site.OpNot:
		return e.Kids[0]
	default:
		return &site.Expr{Op: site.OpNot, Kids: []*site.Expr{e}, Span: e.Span}
	}
	return &out
}

// parts joins the responsible parts. Those of which one would have been enough are joined by "or".
func (t *teller) parts(tl *rehearse.Timeline, r *site.Requirement, j *rehearse.Judgement) string {
	words := t.responsible(tl, conditions(r), j, required(r, j))
	whole := r.P
	if r.Form == site.Whenever {
		whole = r.B
	}
	if required(r, j) && whole != nil && whole.Op == site.OpOr && len(words) == len(whole.Kids) {
		return strings.Join(words, " or ")
	}
	return someOf(words)
}

// someOf joins a list; a long one is cut short.
func someOf(words []string) string {
	const most = 4
	if n := len(words); n > most+1 {
		words = append(slices.Clone(words[:most]), fmt.Sprintf("%d more like these", n-most))
	}
	return joined(words)
}
