// Built-in findings: what is always checked, with no requirement written.

package checker

import (
	"lampwarden/checker/strength"
	"lampwarden/lang/site"
)

// finder is one built-in check of one thing. It starts with what is to be said if it never gets its turn, so that
// nothing counts as checked by omission.
type finder struct {
	run   task
	found []Finding
	stats Stats
}

// notStarted is the reason why a question is open that never got its turn.
const notStarted = "not started before the run was stopped"

// soFar says why a check is open. If it may get another turn, this stands only if the run is stopped before that.
func (p *prover) soFar(a *answer) string {
	if a.more {
		return "the run was stopped after " + a.far
	}
	return p.reason(a)
}

// wants tells whether a check is to be done.
func (p *prover) wants(c strength.Check) bool { return p.opt.Checks == nil || p.opt.Checks(c) }

// findings prepares the checks, in the order in which their results are reported.
func (p *prover) findings() (out []*finder) {
	if p.opt.NoFindings {
		return nil
	}
	out = append(out, p.uncovered()...)
	out = append(out, p.vanishing()...)
	out = append(out, p.clockChange()...)
	out = append(out, p.ambiguities()...)
	out = append(out, p.hunting()...)
	out = append(out, p.neverActive()...)
	return append(out, p.neverWins()...)
}

// vacuity tells of a "whenever" that never happens.
func (o *outcome) vacuity(p *prover) *Finding {
	if o.rise == nil || o.rise.state != safe {
		return nil
	}
	return &Finding{
		Code: CodeVacuous,
		Mode: site.None,
		Message: "requirement \"" + o.req.Name + "\" says nothing: \"" + p.site.ExprText(o.req.A) +
			"\" never comes true in any run",
		Span: o.req.A.Span,
	}
}

// everything gives expressions that together name every mode, input and band.
func everything(s *site.Site) (out []*site.Expr) {
	for m := range s.Modes {
		out = append(out, &site.Expr{Op: site.OpMode, Mode: site.ModeID(m)})
	}
	for b := range s.Bands {
		out = append(out, &site.Expr{Op: site.OpBand, Band: site.BandID(b)})
	}
	for i := range s.Inputs {
		if s.Inputs[i].Kind.IsEvent() {
			out = append(out, &site.Expr{Op: site.OpEvent, Input: site.InputID(i)})
		} else {
			out = append(out, &site.Expr{Op: site.OpInput, Input: site.InputID(i)})
		}
	}
	return out
}
