// A rehearsed scenario: its story, and how its expectations came out.

package report

import (
	"fmt"
	"io"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// Rehearsal is a rehearsed scenario as data.
type Rehearsal struct {
	Version      int           `json:"version"`
	Site         string        `json:"site"`
	Scenario     string        `json:"scenario"`
	Place        string        `json:"place,omitempty"`
	Story        Story         `json:"story"`
	Expectations []Expectation `json:"expectations"`
	Unmet        int           `json:"unmet"`
	Cautions     []string      `json:"cautions"`
}

// Expectation is one expectation of a scenario and how it came out.
type Expectation struct {
	Text  string     `json:"text"`
	Place string     `json:"place,omitempty"`
	Met   bool       `json:"met"`
	Clock string     `json:"clock"` // when it was met, or the end of its window
	Why   []string   `json:"why,omitempty"`
	Light []Standing `json:"lights,omitempty"`
}

// TellRehearsal puts a played scenario into words. Sources may be nil.
func TellRehearsal(sc *site.Scenario, tl *rehearse.Timeline, xs []rehearse.Expectation, sources *source.Set) *Rehearsal {
	t := newTeller(tl.Site, sources)
	out := &Rehearsal{
		Version: Version, Site: source.Escape(tl.Site.Name), Scenario: source.Escape(sc.Name),
		Place: t.fullPlace(sc.Span), Cautions: cautions(tl.Site), Expectations: []Expectation{},
		Story: t.story(tl, focus{}, tl.Script.End),
	}
	for _, x := range xs {
		e := t.expectation(tl, &sc.Steps[x.Step], x)
		if !e.Met {
			out.Unmet++
		}
		out.Expectations = append(out.Expectations, e)
	}
	return out
}

func (t *teller) expectation(tl *rehearse.Timeline, st *site.ScenarioStep, x rehearse.Expectation) Expectation {
	e := Expectation{Text: t.expr(st.Expect), Place: t.fullPlace(st.Span), Met: x.Met, Clock: moment(tl, x.At)}
	if st.Within > 0 {
		e.Text += " within " + st.Within.String()
	}
	if x.Met {
		return e
	}
	for _, why := range x.Why {
		e.Why = append(e.Why, t.expr(why))
	}
	e.Light = t.standings(tl, t.lightsOf(circuitsOf(x.Why)), x.At)
	return e
}

// Text writes the rehearsal for people: the story, then the expectations.
func (r *Rehearsal) Text(w io.Writer, o Options) error {
	p := newPage(o)
	p.line("", fmt.Sprintf("Scenario \"%s\"", r.Scenario))
	p.blank()
	r.Story.write(p, false, nil)
	p.blank()
	for i := range r.Expectations {
		r.Expectations[i].write(p)
	}
	if len(r.Expectations) > 0 {
		p.blank()
	}
	if o.Quiet {
		p.line("", shortCaution)
	} else {
		p.line("", "A rehearsal is one run with chosen times. It proves nothing about other orders and timings.")
		p.line("", "Cautions:")
		for _, c := range r.Cautions {
			p.line("  - ", c)
		}
		p.blank()
	}
	n := len(r.Expectations)
	p.line("", fmt.Sprintf("%s: of %s %d met, %d not met.", r.Scenario, count(n, "expectation"), n-r.Unmet, r.Unmet))
	_, err := io.WriteString(w, p.b.String())
	return err
}

func (e *Expectation) write(p *page) {
	if e.Met {
		p.styled(styleGood, "met", verdictColumn, e.Text+" (at "+e.Clock+")")
		return
	}
	p.styled(styleBad, "not met", verdictColumn, e.Text)
	if e.Place != "" {
		p.line(indent(verdictColumn), e.Place)
	}
	p.line(indent(verdictColumn), fmt.Sprintf("At %s this was not so: %s.", e.Clock, joined(e.Why)))
	for _, l := range e.Light {
		p.block(indent(verdictColumn), indent(verdictColumn+2), l.who+": "+l.What)
		for _, w := range l.Why {
			p.block(indent(verdictColumn)+"- ", indent(verdictColumn+2), w)
		}
	}
}

// JSON writes the rehearsal for programs.
func (r *Rehearsal) JSON(w io.Writer) error { return writeJSON(w, r) }
