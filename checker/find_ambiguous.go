// Finding: two modes ask for different light, and nothing decides between them.

package checker

import (
	"context"
	"fmt"
	"slices"

	"lampwarden/checker/machine"
	"lampwarden/checker/observe"
	"lampwarden/checker/rehearse"
	"lampwarden/checker/strength"
	"lampwarden/checker/trace"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

func (p *prover) ambiguities() (out []*finder) {
	for c := range p.site.Circuits {
		id := site.CircuitID(c)
		if !p.wants(strength.Check{Code: CodeAmbiguous, Circuit: id}) || !p.unordered(id) {
			continue
		}
		f := &finder{found: []Finding{p.ambiguityOpen(id, notStarted)}}
		f.run = func(ctx context.Context) (bool, error) { return p.ambiguous(ctx, id, f) }
		out = append(out, f)
	}
	return out
}

// unordered tells whether two setters of the circuit have neither order nor rule,
// or the rules between them are mixed.
func (p *prover) unordered(c site.CircuitID) bool {
	pr := &p.site.Precedence
	rules := map[site.Rule]bool{}
	for i, a := range p.setters[c] {
		for _, b := range p.setters[c][i+1:] {
			if !pr.Outranks(a, b) && !pr.Outranks(b, a) {
				rules[pr.RuleFor(a, b)] = true
			}
		}
	}
	return rules[site.NoRule] || len(rules) > 1
}

func (p *prover) ambiguous(ctx context.Context, c site.CircuitID, f *finder) (again bool, err error) {
	goal := machine.NoGoal()
	goal.Ambiguous = c
	a, err := p.decide(ctx, question{piece: observe.Piece{Observer: observe.None()}, goal: goal, requests: []site.CircuitID{c}})
	if err != nil {
		return false, err
	}
	f.stats.Add(a.stats)
	f.found = nil
	switch a.state {
	case undecided:
		f.found = []Finding{p.ambiguityOpen(c, p.soFar(&a))}
	case reached:
		ce, err := trace.Build(a.site, a.path, []site.CircuitID{c}, trace.Ambiguous(c), p.enough)
		if err != nil {
			return false, err
		}
		f.found = []Finding{p.ambiguity(c, ce)}
	}
	return a.more, nil
}

// ambiguityOpen says why it is undecided.
func (p *prover) ambiguityOpen(c site.CircuitID, why string) Finding {
	ct := &p.site.Circuits[c]
	return Finding{Code: CodeAmbiguous, Mode: site.None, Undecided: true, Span: ct.Span,
		Message: fmt.Sprintf("whether %s can be ambiguous is undecided: %s", ct.Name, why)}
}

// ambiguity words the finding with the asks between which nothing decides.
func (p *prover) ambiguity(c site.CircuitID, ce *trace.Counterexample) Finding {
	f := Finding{Code: CodeAmbiguous, Mode: site.None, Counterexample: ce}
	asks := equals(ce.Timeline, c)
	text := ""
	for i, a := range asks {
		m := &p.site.Modes[a.Mode]
		switch {
		case i == 0:
			f.Span = m.Span
		case i == len(asks)-1:
			text += " and "
		default:
			text += ", "
		}
		level := levelWord(a.Level)
		text += fmt.Sprintf("%s (%s)", m.Name, level)
		f.Related = append(f.Related, source.Related{Span: a.Span, Label: fmt.Sprintf("%s asks for %s here", m.Name, level)})
	}
	f.Message = fmt.Sprintf("%s is asked for different light by %s, and no precedence decides", p.site.Circuits[c].Name, text)
	return f
}

// levelWord gives "off", "full" or a percentage.
func levelWord(l site.Level) string {
	switch l {
	case 0:
		return "off"
	case site.Full:
		return "full"
	}
	return l.String()
}

// equals lists the asks between which the first ambiguity of the circuit lies.
func equals(tl *rehearse.Timeline, c site.CircuitID) []rehearse.Ask {
	for i := range tl.Steps {
		if !tl.Ambiguous(i, c) {
			continue
		}
		why := tl.Reason(i, c)
		asks := slices.Clone(why.Winners)
		for _, l := range why.Losers {
			if l.Why == rehearse.NotChosen {
				asks = append(asks, l.Ask)
			}
		}
		slices.SortFunc(asks, func(a, b rehearse.Ask) int { return int(a.Mode - b.Mode) })
		return asks
	}
	return nil
}
