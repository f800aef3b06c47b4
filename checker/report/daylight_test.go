// Reports on daylight, on what lamps add to it, and on lamps that switch themselves.

package report

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"lampwarden/checker"
	"lampwarden/checker/rehearse"
	"lampwarden/checker/trace"
	"lampwarden/lang/site"
)

const studio = `site "Studio"
supply mains
controller { reacts within 300 ms }
area studio
circuit easel, shelf in studio { dims  adds 150 lux  power 30 W  fed by mains }
circuit door_lamp in studio { dims  fed by mains }
presence pir in studio
daylight studio_lux in studio { responds within 2 s }
mode work { while pir and daylight in studio below 300 lux hysteresis 60 lux, off delay 10 s  easel, shelf at 60 % }
mode gloom { while daylight in studio below 100 lux  door_lamp at 10 % }
mode glare { while daylight in studio above 900 lux  door_lamp full }
precedence work > glare > gloom
require "bright enough" { whenever pir then within 5 s illuminance of studio at least 400 lux }
require "not too bright" { never illuminance of studio above 220 lux }
scenario "a bright day" {
    given studio_lux 150 lux
    at 10:00 pir
    at 11:00 studio_lux 1200 lux
    at 12:00 daylight in studio 50 lux
    expect door_lamp at full
}
`

// prove gives the report of a whole proof run.
func (r *run) prove() *Document {
	r.t.Helper()
	rep, err := checker.Prove(context.Background(), r.s, checker.Options{Workers: 1})
	if err != nil {
		r.t.Fatal(err)
	}
	rep.Sources = r.rep.Sources
	return Tell(rep, Options{})
}

func (d *Document) lay(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := d.Text(&b, Options{}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// given lists the values that a daylight of so many lux has reached.
func (r *run) given(l int64) (out []site.InputID) {
	for i := range r.s.Inputs {
		if in := &r.s.Inputs[i]; in.Kind == site.Daylight && in.Lux <= l {
			out = append(out, site.InputID(i))
		}
	}
	return out
}

// TestHunting: the loop is shown once round, with the figures that make it.
func TestHunting(t *testing.T) {
	r := newRun(t, studio)
	sc := rehearse.Script{Start: clock(9, 0), End: 60 * second, Initial: r.given(180), Events: []rehearse.Event{
		{At: second, Input: r.s.InputNamed("pir"), Value: true}}}
	tl, err := rehearse.Run(r.s, sc)
	if err != nil {
		t.Fatal(err)
	}
	for i := range r.s.Modes {
		if h, ok, err := rehearse.Hunts(r.s, tl, site.ModeID(i)); err == nil && ok && rehearse.ReadsSeen(r.s, site.ModeID(i)) {
			cx := &trace.Counterexample{Script: sc, Timeline: tl, Judgement: rehearse.Judgement{At: h.Second, Since: h.First}}
			r.rep.Findings = append(r.rep.Findings, checker.Finding{Code: checker.CodeHunting, Mode: site.ModeID(i), Counterexample: cx,
				Span: r.s.Modes[i].Span, Message: "the lamps switch themselves"})
		}
	}
	if len(r.rep.Findings) != 1 {
		t.Fatalf("findings %+v", r.rep.Findings)
	}
	golden(t, "hunting.txt", r.text(Options{Quiet: true}))
	wantCycle(t, Tell(r.rep, Options{}))
}

// wantCycle checks the figures of the loop in the studio.
func wantCycle(t *testing.T, d *Document) {
	t.Helper()
	if len(d.Findings) != 1 || d.Findings[0].Cycle == nil {
		t.Fatalf("findings %+v", d.Findings)
	}
	c := d.Findings[0].Cycle
	if c.Bright != 360 || c.Dark != 300 || c.Swing != 180 || c.Most != 180 || c.To <= c.From || len(c.Lamps) != 2 {
		t.Errorf("cycle %+v", c)
	}
}

// A proof finds it, and shows the same figures.
func TestHuntingIsFound(t *testing.T) {
	d := newRun(t, studio).prove()
	wantCycle(t, d)
	text := string(d.lay(t))
	checkText(t, text, 80)
	for _, want := range []string{"here one round begins", "here it begins again", "Widen the hysteresis to more than 180 lux"} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
			t.Errorf("nothing says %q:\n%s", want, text)
		}
	}
}

// A wide enough hysteresis ends it, which is what the report says.
func TestTheAdviceEndsHunting(t *testing.T) {
	r := newRun(t, strings.Replace(studio, "hysteresis 60 lux", "hysteresis 200 lux", 1))
	if d := r.prove(); len(d.Findings) > 0 {
		t.Errorf("findings %+v", d.Findings)
	}
}

// Daylight in a rehearsal: values that are passed in a row are one line where nothing else happens.
func TestDaylightSteps(t *testing.T) {
	r := newRun(t, studio)
	tl, xs, err := rehearse.Rehearse(r.s, &r.s.Scenarios[0])
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := TellRehearsal(&r.s.Scenarios[0], tl, xs, r.rep.Sources).Text(&b, Options{Quiet: true}); err != nil {
		t.Fatal(err)
	}
	golden(t, "daylight.txt", b.Bytes())
}

// A sum is told with its terms, the daylight as low as it may be.
func TestSums(t *testing.T) {
	r := newRun(t, studio)
	sc := rehearse.Script{Start: clock(9, 0), End: 60 * second, Initial: r.given(100),
		Events: []rehearse.Event{{At: second, Input: r.s.InputNamed("pir"), Value: true}}}
	r.story("bright enough", checker.Fails, sc)
	r.story("not too bright", checker.Fails, sc)
	want := []string{"illuminance of studio at least 400 lux", "illuminance of studio above 220 lux"}
	for i, q := range Tell(r.rep, Options{}).Requirements {
		f := q.Failure
		if d := cmp.Diff([]string{want[i]}, f.Responsible); d != "" {
			t.Errorf("%s: responsible (-want +got):\n%s", q.Name, d)
		}
		sum := Sum{What: "illuminance of studio", Unit: "lux", Value: 280, DaylightBelow: 120,
			Terms: []SumTerm{{"daylight", 100}, {"easel", 90}, {"shelf", 90}}}
		if d := cmp.Diff([]Sum{sum}, f.Sums); d != "" {
			t.Errorf("%s: sums (-want +got):\n%s", q.Name, d)
		}
		if len(f.Lights) != 1 || f.Lights[0].who != "easel and shelf" {
			t.Errorf("%s: lights %+v", q.Name, f.Lights)
		}
	}
	s := Sum{What: "power of ups", Unit: "W", Value: 214.5, Is: "above", Limit: 200, Terms: []SumTerm{{"a", 20}, {"b", 194.5}}}
	if got, want := s.text(), "power of ups is 214.5 W, above 200 W: a 20 W and b 194.5 W"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
