// Which part of a requirement failed, when, and what the lights in question were doing then.

package report

import (
	"fmt"
	"slices"
	"sort"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
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
	// Lights says what the circuits among them were doing, and who decided it.
	Lights []Standing `json:"lights,omitempty"`
}

// Standing is a light at one moment.
type Standing struct {
	Circuits []string `json:"circuits"`
	What     string   `json:"what"`
	Why      []string `json:"why,omitempty"`

	who string // the circuits in words
	ids []site.CircuitID
}

// partName gives the words for a rehearse.Part in JSON.
func partName(p rehearse.Part) string {
	return [...]string{"none", "forbidden", "not in time", "not kept", "too long", "too short", "too often", "too soon"}[p]
}

// failure tells a judgement that is broken.
func (t *teller) failure(tl *rehearse.Timeline, r *site.Requirement, j *rehearse.Judgement) Failure {
	f := Failure{
		Part: partName(j.Part), At: j.At, Clock: stamp(tl.Script.Start + j.At), Day: dayOf(tl, j.At), Weekday: t.weekday(tl, j.At),
		Since: j.Since, Deadline: j.Deadline, Text: t.verdict(tl, r, j),
	}
	f.Responsible = t.responsible(tl, j, required(r, j))
	f.Lights = t.standings(tl, circuitsOf(j.False), j.At)
	return f
}

// circuitsOf lists the circuits that conditions speak of, each once.
func circuitsOf(es []*site.Expr) (out []site.CircuitID) {
	for _, e := range es {
		e.Walk(func(x *site.Expr) {
			if x.Op == site.OpLight && !slices.Contains(out, x.Circuit) {
				out = append(out, x.Circuit)
			}
		})
	}
	return out
}

// verdict says in a sentence what was broken.
func (t *teller) verdict(tl *rehearse.Timeline, r *site.Requirement, j *rehearse.Judgement) string {
	at, since := moment(tl, j.At), moment(tl, j.Since)
	parts := someOf(t.responsible(tl, j, required(r, j)))
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

// required tells whether the condition that failed had to be true (then its responsible parts are told as they had to
// be) or had to be false (then as they are).
func required(r *site.Requirement, j *rehearse.Judgement) bool {
	return j.Part == rehearse.NotInTime || j.Part == rehearse.NotKept || j.Part == rehearse.Forbidden && r.Form == site.Always
}

// responsible tells the responsible parts: as they had to be, or as they are.
func (t *teller) responsible(tl *rehearse.Timeline, j *rehearse.Judgement, hadToBe bool) []string {
	out := []string{}
	for _, e := range j.False {
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
	default:
		return &site.Expr{Op: site.OpNot, Kids: []*site.Expr{e}, Span: e.Span}
	}
	return &out
}

// someOf joins a list; a long one is cut short.
func someOf(words []string) string {
	const most = 4
	if n := len(words); n > most+1 {
		words = append(slices.Clone(words[:most]), fmt.Sprintf("%d more like these", n-most))
	}
	return joined(words)
}

// standings tells what circuits are doing at a time, those alike taken together.
func (t *teller) standings(tl *rehearse.Timeline, circuits []site.CircuitID, at rehearse.Nanos) []Standing {
	step := sort.Search(len(tl.Steps), func(i int) bool { return tl.Steps[i].At > at }) - 1
	if step < 0 {
		return nil
	}
	var out []Standing
	for _, c := range circuits {
		st := t.standing(tl, step, c)
		same := slices.IndexFunc(out, func(o Standing) bool { return o.What == st.What && slices.Equal(o.Why, st.Why) })
		if same >= 0 {
			out[same].Circuits = append(out[same].Circuits, st.Circuits...)
			out[same].ids = append(out[same].ids, c)
			continue
		}
		out = append(out, st)
	}
	for i := range out {
		out[i].who = t.circuits(out[i].ids)
		if tl.Lamp(step, out[i].ids[0]).FeedOff {
			out[i].Why = t.hung(out[i].ids)
		}
	}
	return out
}

func (t *teller) standing(tl *rehearse.Timeline, step int, c site.CircuitID) Standing {
	lamp := tl.Lamp(step, c)
	st := Standing{Circuits: []string{t.circuit(c)}, ids: []site.CircuitID{c}}
	switch {
	case lamp.FeedOff:
		st.What = "dark, as supply " + t.feed(c) + " is lost"
		return st
	case lamp.Moving:
		st.What = fmt.Sprintf("on its way to %s, there by %s, and may still be %s",
			t.level(c, lamp.Aim), stamp(tl.Script.Start+lamp.Due), t.atLevel(c, lamp.Level))
	default:
		st.What = t.level(c, lamp.Level)
	}
	st.Why = t.why(&rehearse.CircuitChange{Circuit: c, To: lamp, Reason: tl.Reason(step, c)})
	return st
}

func (t *teller) feed(c site.CircuitID) string {
	if id := t.s.Circuits[c].FedBy; id != site.None {
		return source.Escape(t.s.Supplies[id].Name)
	}
	return ""
}
