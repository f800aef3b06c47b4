// Findings that hang on more than the order of the modes.

package checker_test

import (
	"testing"

	"lampwarden/checker"
)

// TestWinsWhenTheSequenceAboveIsOver: a mode that comes first and is active whenever the other one is asks for nothing any
// more when its stages are over; from then on the other one decides.
func TestWinsWhenTheSequenceAboveIsOver(t *testing.T) {
	site := func(flash string) string {
		return `
			area hall
			circuit lamp in hall { dims }
			switch go
			mode low { while go  lamp at 40 % }
			mode high { while low  first flash lamp ` + flash + ` 1 s on, 1 s off }
			precedence high > low`
	}
	if rep := prove(t, load(t, site("2 times,")), checker.Options{}); len(rep.Findings) > 0 {
		t.Errorf("findings %+v", rep.Findings)
	}
	rep := prove(t, load(t, site("at 50 %,")), checker.Options{})
	if len(rep.Findings) != 1 || rep.Findings[0].Code != checker.CodeNeverWins || rep.Findings[0].Mode != 0 {
		t.Errorf("under a flash without end: findings %+v", rep.Findings)
	}
}
