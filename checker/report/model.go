// A whole report as data: what the text and the JSON renderer lay out.

package report

import (
	"slices"

	"lampwarden/checker"
	"lampwarden/checker/rehearse"
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
	// Stats is what the whole run cost, Checks the share of the built-in checks in it.
	Stats  *Stats `json:"stats,omitempty"`
	Checks *Stats `json:"statsOfChecks,omitempty"`
}

// Version of the JSON form.
const Version = 2

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
	Name  string   `json:"name"`
	Place string   `json:"place,omitempty"` // file:line:column
	Text  []string `json:"text"`
	// Faults may strike, at most FaultsAtMost of them at a time; Even says so in short.
	Faults       []string `json:"faults,omitempty"`
	FaultsAtMost int      `json:"faultsAtMost,omitempty"`
	Even         string   `json:"even,omitempty"`

	Verdict string   `json:"verdict"`
	Reason  string   `json:"reason,omitempty"` // of an undecided one
	Story   *Story   `json:"story,omitempty"`  // counterexample or witness
	Failure *Failure `json:"failure,omitempty"`
	// AnyTime: the story needs no particular time of day.
	AnyTime bool   `json:"anyTimeOfDay,omitempty"`
	Stats   *Stats `json:"stats,omitempty"`

	verdict checker.Verdict
	marks   []Entry
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
	// Lights says what the circuits in question are doing where the story ends, and who decides it.
	Lights []Standing `json:"lights,omitempty"`
	Cycle  *Cycle     `json:"cycle,omitempty"`  // of hunting
	Reason []string   `json:"reason,omitempty"` // why, and what to do, with the figures of this site

	clock string // of the story's end
	marks []Entry
}

// Related is another place that belongs to a finding.
type Related struct {
	Place string `json:"place"`
	Label string `json:"label"`
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
		d.Stats, d.Checks = statsOf(r.Stats), statsOf(r.Checks)
		d.Stats.Equal, d.Stats.Spared, d.Stats.Recalled = r.Stats.Equal, r.Stats.Spared, r.Stats.Recalled
	}
	return d
}

// toldAlready tells whether a finding says no more than another line of the report: "vacuous" than that verdict of a
// requirement, "never-wins" than that the setting's mode is never active.
func toldAlready(r *checker.Report, f *checker.Finding) bool {
	switch f.Code {
	case checker.CodeVacuous:
		return slices.ContainsFunc(r.Outcomes, func(o checker.Outcome) bool {
			a := r.Site.Requirements[o.Requirement].A
			return o.Verdict == checker.Vacuous && a != nil && a.Span == f.Span
		})
	case checker.CodeNeverWins:
		return !f.Undecided && slices.ContainsFunc(r.Findings, func(g checker.Finding) bool {
			return g.Code == checker.CodeNeverActive && !g.Undecided && g.Mode == f.Mode
		})
	}
	return false
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
	if len(r.Faults) > 0 {
		out.Faults, out.FaultsAtMost, out.Even = t.faults(r), r.AtMost, t.even(r, mostFaultsShort)
	}
	cx := oc.Counterexample
	if cx == nil || cx.Timeline == nil {
		return out
	}
	tl, j := cx.Timeline, &cx.Judgement
	st := t.story(tl, t.focusOf(cx, r), j.At)
	out.Story, out.AnyTime = &st, anyTime(cx)
	if j.Broken || j.Witness || j.Branching {
		f := t.failure(tl, r, j)
		out.Failure, out.marks = &f, t.marks(tl, r, j)
	}
	return out
}

// anyTime tells whether a story needs no particular time of day.
func anyTime(cx *trace.Counterexample) bool { return !cx.Clock && len(cx.Script.Jumps) == 0 }

// marks are the last words of a requirement's story.
func (t *teller) marks(tl *rehearse.Timeline, r *site.Requirement, j *rehearse.Judgement) []Entry {
	switch {
	case j.Branching:
		return []Entry{t.mark(tl, j.Since, "from here on nothing leads back in time"),
			t.mark(tl, j.At, r.D.String()+" later it is still not so")}
	case j.Witness:
		return []Entry{t.mark(tl, j.At, "here it is so")}
	}
	return []Entry{t.mark(tl, shownAt(j), "here the requirement is broken")}
}

func (t *teller) finding(f *checker.Finding) Finding {
	out := Finding{Code: f.Code, Message: source.Escape(f.Message), Place: t.fullPlace(f.Span), Undecided: f.Undecided}
	for _, rel := range f.Related {
		out.Related = append(out.Related, Related{t.fullPlace(rel.Span), source.Escape(rel.Label)})
	}
	cx := f.Counterexample
	switch {
	case cx == nil || cx.Timeline == nil:
	case f.Code == checker.CodeHunting:
		t.hunting(f, &out)
	case f.Code != checker.CodeAmbiguous:
		st := t.story(cx.Timeline, t.focusOf(cx, nil), cx.Timeline.Script.End)
		out.Story, out.AnyTime = &st, anyTime(cx)
	default:
		tl, at := cx.Timeline, ambiguousAt(cx)
		st := t.story(tl, t.focusOf(cx, nil), at)
		out.Story, out.AnyTime = &st, anyTime(cx)
		out.clock, out.Lights = moment(tl, at), t.standings(tl, t.lightsOf(cx.Focus), at)
		out.marks = []Entry{t.mark(tl, at, "here nothing decides")}
	}
	return out
}

// ambiguousAt is the first time at which one of the circuits in question is ambiguous, else the end of the run.
func ambiguousAt(cx *trace.Counterexample) rehearse.Nanos {
	for i := range cx.Timeline.Steps {
		for _, c := range cx.Focus {
			if cx.Timeline.Ambiguous(i, c) {
				return cx.Timeline.Steps[i].At
			}
		}
	}
	return cx.Timeline.Script.End
}

// focusOf is what a counterexample is about. What the judgement holds responsible is closer to the point than all
// that the requirement ranges over; a requirement on energy is about all that it counts.
func (t *teller) focusOf(cx *trace.Counterexample, r *site.Requirement) focus {
	circuits := slices.Clone(cx.Focus)
	if len(circuits) == 0 {
		circuits = circuitsOf(cx.Judgement.False)
	}
	var conds []*site.Expr
	if r != nil {
		conds = conditions(r)
		for _, d := range r.Draws {
			circuits = append(circuits, d.Circuit)
		}
	}
	return aimedAt(t.s, t.lightsOf(circuits), conds...)
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
