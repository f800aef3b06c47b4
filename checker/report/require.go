// A requirement in words.

package report

import (
	"fmt"

	"lampwarden/lang/site"
)

// mostFaults is how many faults the text of a requirement names, and a line of the table.
const (
	mostFaults      = 8
	mostFaultsShort = 3
)

// requirement gives the lines of a requirement: its form with the conditions in the site's words, and its faults.
func (t *teller) requirement(r *site.Requirement) []string {
	lines := t.form(r)
	if even := t.even(r, mostFaults); even != "" {
		lines = append(lines, even)
	}
	return lines
}

func (t *teller) form(r *site.Requirement) []string {
	switch r.Form {
	case site.Never:
		return []string{"never " + t.expr(r.P)}
	case site.Always:
		return []string{"always " + t.expr(r.P)}
	case site.Whenever:
		return t.whenever(r)
	case site.LastsAtMost:
		return []string{fmt.Sprintf("%s lasts at most %s", t.expr(r.P), r.D)}
	case site.LastsAtLeast:
		return []string{fmt.Sprintf("%s lasts at least %s", t.expr(r.P), r.D)}
	case site.AtMostTimes:
		return []string{fmt.Sprintf("at most %d times %s within %s", r.N, t.expr(r.P), r.D)}
	case site.OnlyAfter:
		text := fmt.Sprintf("%s only after %s", t.expr(r.P), t.expr(r.Q))
		if r.Since != nil {
			text += " since " + t.expr(r.Since)
		}
		return []string{text}
	case site.Settles:
		return []string{fmt.Sprintf("%s settles within %s", t.expr(r.P), r.D)}
	case site.CanReturn:
		return []string{fmt.Sprintf("can always return to %s within %s", t.expr(r.P), r.D)}
	case site.Energy:
		return t.energyText(r)
	}
	return []string{t.expr(r.P) + " is possible"}
}

func (t *teller) whenever(r *site.Requirement) []string {
	lines := []string{"whenever " + t.expr(r.A), fmt.Sprintf("then within %s %s", r.D, t.expr(r.B))}
	if r.E > 0 {
		lines[1] += " for " + r.E.String()
	}
	if r.Until != nil {
		lines = append(lines, "until "+t.expr(r.Until))
	}
	return lines
}

// conditions lists the conditions of a requirement; nil ones are left out.
func conditions(r *site.Requirement) []*site.Expr {
	var out []*site.Expr
	for _, e := range []*site.Expr{r.P, r.A, r.B, r.Until, r.Q, r.Since, r.During} {
		if e != nil {
			out = append(out, e)
		}
	}
	return out
}
