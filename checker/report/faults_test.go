// The words for faults, feeds, colours and energy.

package report

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/checker"
	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

func TestEvenWith(t *testing.T) {
	r := newQuay(t)
	id := r.s.InputNamed
	lamps := []site.InputID{}
	for _, name := range []string{"hall_spots", "room_main"} {
		lamps = append(lamps, r.input(name+" failed", site.Failure))
	}
	all := append(lamps, id("room_side failed"), id("mains"), id("ups flat"), id("controller down"), id("control bus lost"))
	for _, c := range []struct {
		faults []site.InputID
		most   int
		n      int
		want   string
	}{
		{nil, 3, 0, ""},
		{all[3:4], 3, 1, "even with mains lost"},
		{all[3:5], 3, 1, "even with any 1 of: mains lost, ups flat"},
		{all[3:5], 3, 2, "even with all of: mains lost, ups flat"},
		{all[:2], 3, 1, "even with any 1 of: hall_spots failed, room_main failed"},
		{all, 3, 2, "even with any 2 of: mains lost, ups flat, controller down, 2 more"},
		{all, 8, 2, "even with any 2 of: mains lost, ups flat, controller down, control bus lost, lamp failure (any of 3 circuits)"},
	} {
		req := &site.Requirement{Faults: c.faults, AtMost: c.n}
		if got := newTeller(r.s, nil).even(req, c.most); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

// A requirement that holds has its faults on its line, and all of them in the data; one that fails without a fault says so.
func TestFaultsInTheTable(t *testing.T) {
	r := newQuay(t)
	r.verdict("the way out is lit at night", checker.Proved, "")
	d := Tell(r.rep, Options{})
	want := []string{"mains lost", "controller down", "room_side failed"}
	if diff := cmp.Diff(want, d.Requirements[0].Faults); diff != "" || d.Requirements[0].FaultsAtMost != 1 {
		t.Errorf("faults (-want +got):\n%s, at most %d", diff, d.Requirements[0].FaultsAtMost)
	}
	line := "proved the way out is lit at night, even with any 1 of: mains lost, controller down, room_side failed"
	text := string(r.text(Options{}))
	if !strings.Contains(strings.Join(strings.Fields(text), " "), line) || !strings.Contains(text, "Faults: a proof reckons") {
		t.Errorf("the table does not name the faults:\n%s", text)
	}
	r = newQuay(t)
	i, _ := r.requirement("the way out is lit at night")
	r.s.Requirements[i].D = 500
	r.story("the way out is lit at night", checker.Fails, rehearse.Script{Start: clock(22, 0), End: 9 * second,
		Events: []rehearse.Event{r.at(1, "key", site.Tap)}}, "hall_spots")
	if text := string(r.text(Options{Quiet: true})); !strings.Contains(text, "No fault is needed for this") {
		t.Errorf("it fails without a fault and does not say so:\n%s", text)
	}
}

// lightWords gives what a story says of a light in each of its steps.
func (r rig) lightWords(sc rehearse.Script, light string) []string {
	r.t.Helper()
	tl, err := rehearse.Run(r.s, sc)
	if err != nil {
		r.t.Fatal(err)
	}
	var out []string
	for _, e := range newTeller(r.s, nil).story(tl, focus{circuits: []site.CircuitID{r.s.CircuitNamed(light)}}, sc.End).Entries {
		for _, l := range e.Lights {
			text := l.What
			if l.Colour != nil {
				text += fmt.Sprintf(" [%s > %s]", l.Colour.From, l.Colour.To)
			}
			out = append(out, text)
			out = append(out, l.Why...)
		}
	}
	return out
}

// A light and its colour are one; a colour that changes alone is told of the light, and one in the dark not at all.
func TestColours(t *testing.T) {
	r := newQuay(t)
	hall := r.s.CircuitNamed("hall_spots")
	r.s.Circuits[hall].Fail = nil
	film := r.mode("film").States[1].Stages[0].Settings
	r.mode("film").States[1].Stages[0].Settings = append(film[:0:0], film[2]) // only the colour
	r.s.Precedence.Above[r.modeID("film")][r.modeID("night")] = true
	got := r.lightWords(rehearse.Script{Start: clock(22, 0), End: 100 * second, Events: []rehearse.Event{
		r.at(1, "key", site.DoubleTap), r.at(10, "key", site.Tap), r.at(20, "control bus lost", true), r.at(21, "control bus lost", false),
		r.at(30, "controller down", true), r.at(31, "controller down", false)}}, "hall_spots")
	want := []string{
		"from off towards 5 % 2700 K, there by 22:00:11 [2700 K > 2700 K]", "night asks for 5 % red", "its colour: film asks for 2700 K",
		"its colour: night asks for red and loses: film comes before it",
		"from off to 5 % 2700 K [2700 K > 2700 K]",
		"stays at 5 % 2700 K, out of reach: the control bus is lost [2700 K > 2700 K]",
		"in reach again, at 5 % 2700 K [2700 K > 2700 K]", "night asks for 5 % red", "its colour: film asks for 2700 K",
		"its colour: night asks for red and loses: film comes before it",
		"stays at 5 % 2700 K, out of reach: the controller is down [2700 K > 2700 K]",
		"in reach again; now towards off, there by 22:00:52 [2700 K > 2700 K]", "no mode asks for it",
		"from 5 % 2700 K to off [2700 K > 2700 K]",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
	// The colour alone.
	got = r.lightWords(rehearse.Script{Start: clock(22, 0), End: 30 * second, Events: []rehearse.Event{
		r.at(1, "key", site.Tap), r.at(10, "key", site.DoubleTap)}}, "hall_spots")
	want = []string{"colour from red towards 2700 K, there by 22:00:10.300 [red > red]", "night asks for 5 % red", "its colour: film asks for 2700 K",
		"its colour: night asks for red and loses: film comes before it", "colour from red to 2700 K [red > 2700 K]"}
	if d := cmp.Diff(want, got[len(got)-len(want):]); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
	for code, want := range map[site.Level]string{0: "", 1: "red", 8: "white", 9: "", 999: "", 1000: "1000 K", 6500: "6500 K"} {
		if got := colourWord(code); got != want {
			t.Errorf("code %d is %q, want %q", code, got, want)
		}
	}
}

// The shares of the circuits add up to the whole.
func TestEnergyAddsUp(t *testing.T) {
	d := Tell(brokenQuay(t).rep, Options{})
	n := 0
	for _, q := range d.Requirements {
		if q.Failure == nil || q.Failure.Energy == nil {
			continue
		}
		n++
		e := q.Failure.Energy
		sum := e.Standing
		for _, c := range e.Circuits {
			sum += c.Used
		}
		if diff := sum - e.Used; diff < -2 || diff > 2 || e.Used != e.Limit {
			t.Errorf("%s: %+v: the shares give %d", q.Name, e, sum)
		}
	}
	if n != 2 {
		t.Errorf("%d requirements on energy, want 2", n)
	}
	e := Energy{Standing: 500, Power: 250, Circuits: []EnergyTerm{{"a", 900}, {"b", 800}, {"c", 700}, {"d", 600}, {"e", 500}, {"f", 400}, {"g", 300}, {"h", 250}}}
	want := "Used in this time: a 0.9 Wh, b 0.8 Wh, c 0.7 Wh, d 0.6 Wh, e 0.5 Wh, f 0.4 Wh, 2 more circuits 0.55 Wh and the standing load 0.5 Wh. " +
		"At the end the load is 0.25 W."
	if got := e.line(); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// Marks stand behind what happened up to their times.
func TestMarks(t *testing.T) {
	entries := []Entry{{At: 1}, {At: 5}, {At: 5}, {At: 9}}
	var got []rehearse.Nanos
	for _, e := range marked(entries, []Entry{{At: 5, Skipped: 1}, {At: 7, Skipped: 1}, {At: 10, Skipped: 1}}) {
		if e.Skipped > 0 {
			e.At = -e.At
		}
		got = append(got, e.At)
	}
	if d := cmp.Diff([]rehearse.Nanos{1, 5, 5, -5, -7, 9, -10}, got); d != "" {
		t.Error(d)
	}
}
