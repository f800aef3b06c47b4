// Reports on supplies, restarts, faults, colours, changes of the clock, and on the later forms of requirements.

package report

import (
	"bytes"
	"strings"
	"testing"

	"lampwarden/checker"
	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

// storyText lays a whole run out.
func (r rig) storyText(sc rehearse.Script) []byte {
	r.t.Helper()
	tl, err := rehearse.Run(r.s, sc)
	if err != nil {
		r.t.Fatal(err)
	}
	st := newTeller(r.s, r.rep.Sources).story(tl, focus{}, sc.End)
	r.neutral(&st)
	p := newPage(Options{})
	st.write(p, false, nil)
	return []byte(p.b.String())
}

// A night in which everything fails, one after the other; at 02:00 the clocks go forward.
func TestEverythingFails(t *testing.T) {
	r := newQuay(t)
	golden(t, "everything-fails.txt", r.storyText(rehearse.Script{Start: clock(1, 50), End: clock(1, 0),
		Initial: []site.InputID{r.s.InputNamed("room_pir")}, Jumps: []rehearse.Jump{{At: 600 * second, By: 3600_000}},
		Events: []rehearse.Event{
			r.at(10, "key", site.Tap), r.at(20, "key", site.DoubleTap), r.at(30, "controller down", true), r.at(40, "controller down", false),
			r.at(100, "key", site.Tap), r.at(110, "control bus lost", true), r.at(120, "control bus lost", false),
			r.at(200, "room_side failed", true), r.at(210, "room_side failed", false), r.at(300, "mains", true), r.at(330, "mains", false),
			r.at(700, "mains", true), r.at(705, "mains", false), r.at(800, "mains", true), r.at(850, "ups flat", true),
			r.at(860, "mains", false), r.at(870, "ups flat", false)}}))
}

// The clocks go back at 03:00: what was due between comes a second time; a controller that is down misses it.
func TestClocksGoBack(t *testing.T) {
	r := newQuay(t)
	r.s.Controller.Keeps = true
	text := string(r.storyText(rehearse.Script{Start: clock(1, 50), End: clock(3, 0), Jumps: []rehearse.Jump{{At: clock(1, 10), By: -3600_000}},
		Events: []rehearse.Event{r.at(10, "key", site.Tap), r.at(20, "key", site.DoubleTap), r.at(4205, "controller down", true)}}))
	for _, want := range []string{
		"the clocks change: 03:00 becomes 02:00", "the 02:30 of night comes a second time (line 12)", "the 02:45 of film comes a second time",
		"the controller goes down; it keeps where its modes are, and reaches no lamp", "takes its system failure level, full",
		"time in night (line 12), which is lost: the controller is down",
	} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
			t.Errorf("nothing says %q", want)
		}
	}
	if strings.Count(text, "  02:30 ") != 2 {
		t.Error("02:30 does not come twice")
	}
	if t.Failed() {
		t.Log(text)
	}
}

// brokenQuay is a report with a failure of each of the later kinds.
func brokenQuay(t *testing.T) rig {
	r := newQuay(t)
	r.story("the way out is lit at night", checker.Fails, rehearse.Script{Start: clock(22, 0), End: 60 * second, Events: []rehearse.Event{
		r.at(10, "key", site.Tap), r.at(10.5, "controller down", true), r.at(12, "controller down", false)}}, "hall_spots")
	r.story("the room settles", checker.Fails, rehearse.Script{Start: clock(12, 0), End: 60 * second,
		Events: []rehearse.Event{r.at(10, "room_pir", true)}}, "room_main")
	r.noWayBack("night ends", rehearse.Script{Start: clock(12, 0), End: clock(2, 0) + 10*second + 1,
		Events: []rehearse.Event{r.at(5, "room_pir", true), r.at(10, "key", site.Tap), {At: clock(2, 0) + 10*second, Input: r.s.InputNamed("room_pir")}}})
	r.story("the battery lasts", checker.Fails, rehearse.Script{Start: clock(20, 0), End: clock(3, 0), Events: []rehearse.Event{
		r.at(10, "mains", true), r.at(20, "control bus lost", true)}})
	r.story("the mains bill", checker.Fails, rehearse.Script{Start: clock(8, 0), End: clock(4, 0),
		Initial: []site.InputID{r.s.InputNamed("room_pir")}})
	r.story("the room's load", checker.Fails, rehearse.Script{Start: clock(8, 0), End: clock(1, 0),
		Events: []rehearse.Event{r.at(10, "room_pir", true)}})
	return r
}

func TestLaterForms(t *testing.T) {
	r := brokenQuay(t)
	d := Tell(r.rep, Options{})
	for i := range d.Requirements {
		r.neutral(d.Requirements[i].Story)
	}
	golden(t, "later-forms.txt", d.lay(t))
	var b bytes.Buffer
	if err := d.JSON(&b); err != nil {
		t.Fatal(err)
	}
	golden(t, "later-forms.json", b.Bytes())
}
