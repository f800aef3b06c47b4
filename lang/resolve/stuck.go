// Inputs that stick: what the modes see of them. Requirements see what is really so.

package resolve

import "lampwarden/lang/site"

// stickInputs puts the faults of inputs into everything that modes read.
func (r *resolver) stickInputs() {
	f := &r.faults
	if len(f.stuckOn)+len(f.stuckOff)+len(f.stuck) == 0 {
		return
	}
	for i := range r.site.Modes {
		m := &r.site.Modes[i]
		r.stick(m.Cond)
		r.stickTriggers(m.Starts)
		r.stickTriggers(m.Ends)
		for k := range m.Transitions {
			r.stick(m.Transitions[k].Trigger.On)
			r.stick(m.Transitions[k].Trigger.If)
		}
		for _, st := range m.States {
			for _, stage := range st.Stages {
				for _, set := range stage.Settings {
					for _, c := range set.Cases {
						r.stick(c.When)
					}
				}
			}
		}
	}
}

func (r *resolver) stickTriggers(ts []site.Trigger) {
	for _, t := range ts {
		r.stick(t.On)
		r.stick(t.If)
	}
}

// stick changes a condition in place: a level input becomes (it or stuck on) and not stuck off, an event becomes it and
// not stuck.
func (r *resolver) stick(e *site.Expr) {
	if e == nil {
		return
	}
	for _, k := range e.Kids {
		r.stick(k)
	}
	if e.Op != site.OpInput && e.Op != site.OpEvent {
		return
	}
	self := *e
	out := &self
	if in, ok := r.faults.stuckOn[e.Input]; ok && e.Op == site.OpInput {
		out = &site.Expr{Op: site.OpOr, Kids: []*site.Expr{out, r.faultExpr(in)}, Span: e.Span}
	}
	off, ok := r.faults.stuckOff[e.Input]
	if e.Op == site.OpEvent {
		off, ok = r.faults.stuck[e.Input]
	}
	if ok {
		out = &site.Expr{Op: site.OpAnd, Kids: []*site.Expr{out, not(r.faultExpr(off), e.Span)}, Span: e.Span}
	}
	*e = *out
}
