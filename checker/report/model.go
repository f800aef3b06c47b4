// A whole report as data: what the text and the JSON renderer lay out.

package report

import (
	"fmt"
	"slices"

	"lampwarden/checker"
	"lampwarden/checker/trace"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// Document is a whole report as data. Its JSON form carries Version, which grows when a field changes its meaning.
type Document struct {
	Version      int           `json:"version"`
	Site         string        `json:"site"`
	Verdict      string        `json:"verdict"` // "proved", "fails" or "undecided", over everything asked
	Counts       Counts        `json:"counts"`
	Requirements []Requirement `json:"requirements"`
	Findings     []Finding     `json:"findings"`
	Assumed      []string      `json:"assumed"`
	Cautions     []string      `json:"cautions"`
	Cancelled    bool          `json:"cancelled"`
	Stats        *Stats        `json:"stats,omitempty"`
}

// Version of the JSON form.
const Version = 1

// Counts of requirements by verdict, and of findings.
type Counts struct {
	Requirements int `json:"requirements"`
	Hold         int `json:"hold"` // proved or possible
	Fail         int `json:"fail"` // fails, impossible or vacuous
	Undecided    int `json:"undecided"`
	Findings     int `json:"findings"`
	OpenFindings int `json:"undecidedFindings"`
}

// Requirement is the verdict on one requirement.
type Requirement struct {
	Name    string   `json:"name"`
	Place   string   `json:"place,omitempty"` // file:line:column
	Text    []string `json:"text"`
	Verdict string   `json:"verdict"`
	Reason  string   `json:"reason,omitempty"` // of an undecided one
	Story   *Story   `json:"story,omitempty"`  // counterexample or witness
	Failure *Failure `json:"failure,omitempty"`
	// AnyTime: the story needs no particular time of day.
	AnyTime bool   `json:"anyTimeOfDay,omitempty"`
	Stats   *Stats `json:"stats,omitempty"`

	verdict checker.Verdict
}

// Finding is one finding of a built-in check.
type Finding struct {
	Code      string    `json:"code"`
	Message   string    `json:"message"`
	Place     string    `json:"place,omitempty"`
	Related   []Related `json:"related,omitempty"`
	Undecided bool      `json:"undecided,omitempty"`
	Story     *Story    `json:"story,omitempty"`
	AnyTime   bool      `json:"anyTimeOfDay,omitempty"`
}

// Related is another place that belongs to a finding.
type Related struct {
	Place string `json:"place"`
	Label string `json:"label"`
}

// Stats is what a proof cost.
type Stats struct {
	Slices        int   `json:"slices"`
	Stored        int   `json:"zonesStored"`
	Visited       int   `json:"zonesVisited"`
	Transitions   int   `json:"successors"`
	Bytes         int64 `json:"bytes"`
	Microseconds  int64 `json:"microseconds"`
	ByConditional int   `json:"byConditionalSlice"`
	ByHull        int   `json:"byJoinedZones"`
}

// Tell puts a proof run into words.
func Tell(r *checker.Report, o Options) *Document {
	t := newTeller(r.Site, r.Sources)
	d := &Document{
		Version: Version, Site: source.Escape(r.Site.Name), Cautions: cautions(r.Site), Cancelled: r.Cancelled,
		Requirements: []Requirement{}, Findings: []Finding{}, Assumed: []string{},
	}
	for _, a := range r.Assumed {
		d.Assumed = append(d.Assumed, source.Escape(a))
	}
	for i := range r.Outcomes {
		d.Requirements = append(d.Requirements, t.outcome(&r.Outcomes[i], o))
	}
	for i := range r.Findings {
		if !toldAlready(r, &r.Findings[i]) {
			d.Findings = append(d.Findings, t.finding(&r.Findings[i]))
		}
	}
	d.count()
	if o.Stats {
		d.Stats = statsOf(r.Stats)
	}
	return d
}

// toldAlready tells whether a finding says no more than the verdict "vacuous" of a requirement does.
func toldAlready(r *checker.Report, f *checker.Finding) bool {
	return f.Code == checker.CodeVacuous && slices.ContainsFunc(r.Outcomes, func(o checker.Outcome) bool {
		a := r.Site.Requirements[o.Requirement].A
		return o.Verdict == checker.Vacuous && a != nil && a.Span == f.Span
	})
}

func (t *teller) outcome(oc *checker.Outcome, o Options) Requirement {
	r := &t.s.Requirements[oc.Requirement]
	out := Requirement{
		Name: source.Escape(r.Name), Place: t.fullPlace(r.Span), Text: t.requirement(r),
		Verdict: oc.Verdict.String(), Reason: source.Escape(oc.Reason), verdict: oc.Verdict,
	}
	if o.Stats {
		out.Stats = statsOf(oc.Stats)
	}
	cx := oc.Counterexample
	if cx == nil || cx.Timeline == nil {
		return out
	}
	j := &cx.Judgement
	st := t.story(cx.Timeline, t.focusOf(cx, conditions(r)...), max(j.At, j.Deadline))
	out.Story, out.AnyTime = &st, !cx.Clock
	if j.Broken || j.Witness {
		f := t.failure(cx.Timeline, r, j)
		out.Failure = &f
	}
	return out
}

func (t *teller) finding(f *checker.Finding) Finding {
	out := Finding{Code: f.Code, Message: source.Escape(f.Message), Place: t.fullPlace(f.Span), Undecided: f.Undecided}
	for _, rel := range f.Related {
		out.Related = append(out.Related, Related{t.fullPlace(rel.Span), source.Escape(rel.Label)})
	}
	if cx := f.Counterexample; cx != nil && cx.Timeline != nil {
		st := t.story(cx.Timeline, t.focusOf(cx), cx.Timeline.Script.End)
		out.Story, out.AnyTime = &st, !cx.Clock
	}
	return out
}

// focusOf is what a counterexample is about. What the judgement holds responsible is closer to the point than all
// that the requirement ranges over.
func (t *teller) focusOf(cx *trace.Counterexample, conds ...*site.Expr) focus {
	circuits := slices.Clone(cx.Focus)
	if len(circuits) == 0 {
		circuits = circuitsOf(cx.Judgement.False)
	}
	return aimedAt(t.s, circuits, conds...)
}

func (d *Document) count() {
	d.Counts.Requirements = len(d.Requirements)
	for i := range d.Requirements {
		switch d.Requirements[i].verdict {
		case checker.Proved, checker.IsPossible:
			d.Counts.Hold++
		case checker.Undecided:
			d.Counts.Undecided++
		default:
			d.Counts.Fail++
		}
	}
	for _, f := range d.Findings {
		if f.Undecided {
			d.Counts.OpenFindings++
		} else {
			d.Counts.Findings++
		}
	}
	switch {
	case d.Counts.Fail > 0 || d.Counts.Findings > 0:
		d.Verdict = "fails"
	case d.Counts.Undecided > 0 || d.Counts.OpenFindings > 0 || d.Cancelled:
		d.Verdict = "undecided"
	default:
		d.Verdict = "proved"
	}
}

func statsOf(s checker.Stats) *Stats {
	return &Stats{
		Slices: s.Slices, Stored: s.Stored, Visited: s.Visited, Transitions: s.Transitions, Bytes: s.Bytes,
		Microseconds: s.Elapsed.Microseconds(), ByConditional: s.ByConditional, ByHull: s.ByHull,
	}
}

// text gives the figures as one sentence.
func (s *Stats) text() string {
	text := fmt.Sprintf("%s, %s, %s zones stored, %s successors", count(s.Slices, "question"),
		duration(s.Microseconds), thousands(int64(s.Stored)), thousands(int64(s.Transitions)))
	if s.Microseconds > 0 {
		text += fmt.Sprintf(" (%s a second)", thousands(int64(float64(s.Transitions)/float64(s.Microseconds)*1e6)))
	}
	if s.Bytes > 0 {
		text += fmt.Sprintf(", at most %d MB of zones", (s.Bytes+999_999)/1_000_000)
	}
	return text + fmt.Sprintf("; proved on a conditional slice %d, with joined zones %d",
		s.ByConditional, s.ByHull)
}

func duration(us int64) string {
	switch {
	case us < 1000:
		return fmt.Sprintf("%d us", us)
	case us < 1_000_000:
		return fmt.Sprintf("%.1f ms", float64(us)/1e3)
	}
	return fmt.Sprintf("%.2f s", float64(us)/1e6)
}

// thousands groups the digits of a number by blanks, as ISO 80000-1 does.
func thousands(n int64) string {
	text := fmt.Sprint(n)
	for i := len(text) - 3; i > 0; i -= 3 {
		text = text[:i] + " " + text[i:]
	}
	return text
}

// count gives "1 question", "2 questions".
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
