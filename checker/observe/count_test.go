// Counting beyond a byte.

package observe_test

import (
	"testing"

	"lampwarden/checker/observe"
	"lampwarden/lang/site"
)

// TestManyTimes follows the first of 301 rises: the 301st is one too many for 300.
func TestManyTimes(t *testing.T) {
	o := observe.AtMostTimes(&site.Expr{Op: site.OpInput}, 300, 1000)
	s, rises := observe.State{}, 0
	for {
		next := o.React(s, 0, []observe.Values{1}, nil)[0] // the branch that follows the first rise
		if rises++; next.Bad {
			break
		}
		if rises > 301 {
			t.Fatal("the count went round")
		}
		s = o.React(next.State, 0, []observe.Values{0}, nil)[0].State
	}
	if rises != 301 {
		t.Errorf("bad at rise %d, want 301", rises)
	}
}
