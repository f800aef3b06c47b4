// The step `controller restart` of a scenario.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// restartTime is how long the controller is down in a scenario's `controller restart`.
const restartTime site.Millis = 1000

// restart lets the controller go down and, a second later, up again. The step's time is when it goes down; what is
// expected after it is expected from the time when it is up.
func (r *resolver) restart(st *story, s *syntax.Step, f *syntax.FaultAtom) {
	in := r.wordFault(f)
	if st.true[in] {
		d := r.errorf(source.NoChange, s.Change.Span, "the controller is down already")
		relate(d, st.last[in], "since here")
		return
	}
	st.out.Steps = append(st.out.Steps, site.ScenarioStep{After: st.now, Input: in, Value: true, Span: s.Span})
	st.now, st.busy = st.now+restartTime, restartTime
	st.out.Steps = append(st.out.Steps, site.ScenarioStep{After: st.now, Input: in, Span: s.Span})
}
