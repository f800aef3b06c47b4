// The words for what modes and lights do, each way once.

package report

import (
	"bytes"
	"strings"
	"testing"

	"lampwarden/checker/rehearse"
)

// A site in which one scenario makes every kind of step happen.
const everyStep = `site "Every Step"
supply mains
area hall : escape
circuit spots in hall { dims 10 % to 80 %  fed by mains  fade 2 s }
circuit lamp in hall { switches }
presence pir in hall
button key in hall
switch sw in hall
contact door in hall
bell ring
band night_time 22:00 to 06:00
mode slow { while pir, on delay 3 s, off delay 4 s  spots at 30 % }
mode pulsed { while sw, pulse 5 s  lamp full }
mode timed { starts on ring rings, at 22:30  ends at 23:00  for 10 s  spots full }
mode steps { states a, b  on tap key: a -> b  on double tap key: b -> b  after 20 s: b -> a  in b: first for 2 s lamp full  then lamp off }
mode low { while night_time  spots at 20 % }
precedence timed > slow > low
precedence pulsed > steps
scenario "all" {
    start 21:59:50
    at 21:59:51 pir
    at 21:59:52 not pir
    at 21:59:53 pir
    at 22:00:01 not pir
    at 22:00:03 pir
    at 22:00:05 not pir
    at 22:00:20 sw on
    at 22:00:21 sw off
    at 22:00:27 sw on
    at 22:00:40 sw off
    at 22:01:00 tap key
    at 22:01:05 double tap key
    at 22:01:06 door open
    at 22:02:00 ring rings
    at 22:02:01 mains lost
    at 22:02:15 mains live
    at 22:30:20 ring rings
    expect spots at full within 2 s
}
`

func TestEveryStepHasWords(t *testing.T) {
	s, set := read(t, everyStep)
	tl, xs, err := rehearse.Rehearse(s, &s.Scenarios[0])
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := TellRehearsal(&s.Scenarios[0], tl, xs, set).Text(&b, Options{Width: 200}); err != nil {
		t.Fatal(err)
	}
	checkText(t, b.String(), 200)
	for _, want := range []string{
		"slow waits for its on delay of 3 s", "slow gives up waiting", "slow starts", "slow holds for its off delay of 4 s",
		"slow goes on without a gap", "slow ends", "the on delay of slow (3 s) is over", "the off delay of slow (4 s) is over",
		"pulsed starts its pulse of 5 s", "pulsed ends: its pulse is spent", "pulsed is ready for the next pulse",
		"the pulse of pulsed (5 s) is over", "the 10 s of timed are over", "the clock shows 22:30, a time in timed",
		"steps goes from a to b", "steps enters stage 2", "a time of steps is over", "night_time begins", "sw on", "door open",
		"tap key", "double tap key", "ring rings", "steps enters b anew",
		"dark at once, as supply mains is lost", "fed by mains (line 4)", "stays dark, though asked for 20 %", "supply mains is back; now towards", "now towards", "towards full (80 %)",
		"timed comes before it", "no mode asks for it",
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("nothing says %q", want)
		}
	}
	if t.Failed() {
		t.Log(b.String())
	}
}
