// Free modes: what a slice may not assume of them.

package checker_test

import (
	"testing"

	"lampwarden/checker"
)

// A mode that is named by another one is kept. It may be meant to be free, too; then what it asks for hangs on conditions that
// have to be kept with it, or it seems to outrank others when it asks for nothing.
const keptAndFree = `
site "Kept and free" { }
area hall
circuit lamp in hall { switches }
switch sw1, sw2 in hall
band evening 18:00 to 23:00
mode k {
    while sw1
    lamp: not evening full
}
mode h {
    while sw2
    lamp off
}
mode j {
    while k
}
precedence k > h
require "lit with j" { never j and lamp off }
`

// One free mode may move two lamps at once, so that nobody ever sees just one of them lit.
const twoAtOnce = `
site "Two at once" { }
area hall
circuit a in hall { switches }
circuit b in hall { switches }
button key in hall
mode both {
    starts on tap key
    ends on tap key
    a full
    b full
}
mode m {
    starts at 18:00
    ends at 20:00
}
require "not both for long" {
    whenever not m or a lit or b lit
    then within 1 s (not m or not (a lit and b lit))
}
`

func TestFreeModes(t *testing.T) {
	for _, text := range []string{keptAndFree, twoAtOnce} {
		s := load(t, text)
		rep := prove(t, s, checker.Options{NoFindings: true})
		if got := rep.Outcomes[0].Verdict; got != checker.Fails {
			t.Errorf("%s: %v, want fails", s.Name, got)
		}
	}
}
