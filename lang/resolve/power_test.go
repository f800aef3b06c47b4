package resolve_test

// Supplies, restarts and energy.

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"lampwarden/lang/site"

	"github.com/google/go-cmp/cmp"
)

const powered = `
supply mains
generator diesel { starts within 15 s  backs mains }
battery ups { capacity 600 Wh  usable 80 %  standing load 12 W  charged by mains  recharge 8 h }
battery spare { capacity 10 Wh  charged by diesel }
battery ever { capacity 10 Wh }
controller { fed by ups  starts within 20 s  restart keeps modes }
area hall : escape
circuit spots in hall { dims 1 % to 80 %  power 42 W  fed by ups  system failure level full  power on level 0.5 % }
circuit wall in hall { dims  power 18 W  fed by ups  power on level off }
circuit flood in hall { switches  power 100 W  fed by diesel  system failure level 5 % }
circuit late, later in hall { dims  fed by mains  returns after 5 s }
circuit porch in hall { dims  power 8 W  fed by diesel  returns after 5 s }
output siren
presence pir in hall
button key in hall
bell door
alarm fire
mode light { while presence in hall, off delay 1 min  spots full, wall at 50 %, flood full }
mode alert { starts on fire  ends on tap key if not fire, door rings  siren on }
`

// site0 resolves the site with something added.
func site0(t *testing.T, more string) *site.Site {
	t.Helper()
	return must(t, powered+more)
}

// dead shows when a circuit is dead.
func dead(t *testing.T, s *site.Site, circuit string) string {
	t.Helper()
	id := s.CircuitNamed(circuit)
	if id == site.None {
		t.Fatalf("no circuit %s", circuit)
	}
	return s.ExprText(s.Circuits[id].Dead)
}

func TestDeadCircuits(t *testing.T) {
	s := site0(t, "")
	for circuit, want := range map[string]string{
		"spots": "ups flat and mains lost",
		"flood": "mains lost and not diesel running",
		"late":  "mains return delay 5 s",
		"later": "mains return delay 5 s",
		"porch": "diesel return delay 5 s",
	} {
		if got := dead(t, s, circuit); got != want {
			t.Errorf("%s is dead while %s, want %s", circuit, got, want)
		}
	}
	if s.Circuits[s.CircuitNamed("siren")].Dead != nil || s.Circuits[0].Cut != nil {
		t.Error("an output has a feed, or a light is cut without a fault")
	}
	for name, want := range map[string]string{
		"diesel running":          "mains lost, on 15 s, off 0 s",
		"mains return delay 5 s":  "mains lost, on 0 s, off 5 s",
		"diesel return delay 5 s": "mains lost and not diesel running, on 0 s, off 5 s",
		"controller starting":     "ups flat and mains lost, on 0 s, off 20 s",
	} {
		id := s.ModeNamed(name)
		if id == site.None {
			t.Errorf("no mode %s", name)
			continue
		}
		m := &s.Modes[id]
		if got := fmt.Sprintf("%s, on %s, off %s", s.ExprText(m.Cond), m.OnDelay, m.OffDelay); got != want || !m.Plant {
			t.Errorf("%s: %s, plant %v, want %s", name, got, m.Plant, want)
		}
	}
	if got := s.ExprText(s.Controller.Down); got != "controller starting" || !s.Controller.Keeps {
		t.Errorf("the controller is down while %s, keeps %v", got, s.Controller.Keeps)
	}
	for _, m := range s.StepOrder[:4] {
		if !s.Modes[m].Plant {
			t.Errorf("%s steps among the modes of the plant", s.Modes[m].Name)
		}
	}
}

// Levels at which circuits stand without control or after a power cut are brought into their range.
func TestStandingLevels(t *testing.T) {
	s := site0(t, "")
	level := func(l *site.Level) string {
		if l == nil {
			return "none"
		}
		return l.String()
	}
	for circuit, want := range map[string]string{"spots": "80 % 1 %", "wall": "none 0 %", "flood": "100 % none", "late": "none none"} {
		c := &s.Circuits[s.CircuitNamed(circuit)]
		if got := level(c.Fail) + " " + level(c.PowerOn); got != want {
			t.Errorf("%s: %s, want %s", circuit, got, want)
		}
	}
}

// A battery lasts its usable capacity over its greatest load: 480 Wh over 12 W and 42 W at 80 % and 18 W at 50 %; and
// 10 Wh over nothing, which is bounded.
func TestBatteriesLast(t *testing.T) {
	s := site0(t, "")
	var got []string
	for _, a := range s.Assumptions {
		if a.Kind != site.Charge {
			t.Fatalf("an assumption of kind %d", a.Kind)
		}
		got = append(got, fmt.Sprintf("%s %s %d %s", s.Inputs[a.Inputs[0]].Name, s.Inputs[a.Inputs[1]].Name, int64(a.D), a.Recharge))
	}
	// 480 Wh * 3,600,000 ms/h / 54.6 W = 31648351.6 ms
	want := []string{"ups flat mains 31648351 8 h", fmt.Sprintf("spare flat mains %d 24 h", 366*int64(site.Day))}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if s.InputNamed("ever flat") != site.None || s.Supplies[4].Flat != site.None {
		t.Error("a battery that is never charged runs flat")
	}
	s = site0(t, "mode full_on { while fire  wall full }")
	if a := s.Assumptions[0]; a.D != 27_169_811 { // 480 Wh * 3,600,000 / 63.6 W, once another mode asks for more
		t.Errorf("with a brighter wall it lasts %d ms", int64(a.D))
	}
}

// A battery that is assumed never to be flat never dies, and has no assumption of its own.
func TestNeverFlat(t *testing.T) {
	s := site0(t, "assume never ups flat\n")
	spots := &s.Circuits[s.CircuitNamed("spots")]
	if spots.Dead != nil || s.Controller.Down != nil {
		t.Errorf("dead while %s, down while %s", s.ExprText(spots.Dead), s.ExprText(s.Controller.Down))
	}
	a := s.Assumptions
	if len(a) != 2 || a[0].Kind != site.AtMost || a[0].N != 0 || s.Inputs[a[0].Inputs[0]].Name != "ups flat" || s.Inputs[a[1].Inputs[0]].Name != "spare flat" {
		t.Errorf("%+v", a)
	}
}

func TestPowerAtoms(t *testing.T) {
	s := site0(t, `
mode low { while ups flat and diesel running  siren on }
assume changes of ups at least 1 min apart
require "r" { never ups charged and not diesel running }
scenario "s" { given mains lost  at 12:00 ups flat }
`)
	m := &s.Modes[s.ModeNamed("low")]
	if got := s.ExprText(m.Cond); got != "ups flat and diesel running" {
		t.Error(got)
	}
	if got := s.ExprText(s.Requirements[0].P); got != "ups charged and not diesel running" {
		t.Error(got)
	}
	if st := s.Scenarios[0].Steps[0]; s.Inputs[st.Input].Name != "ups flat" || !st.Value {
		t.Errorf("step %+v", st)
	}
	at := func(name string) int { return slices.Index(s.StepOrder, s.ModeNamed(name)) }
	if at("low") < at("diesel running") {
		t.Error("a mode steps before the generator that it names")
	}
}

func TestEnergyForms(t *testing.T) {
	s := site0(t, `
require "lasts" { battery ups lasts at least 3 h }
require "charged by a generator" { battery spare lasts at least 1 min }
require "battery" { energy of ups per 24 h at most 300 Wh }
require "circuits" { energy of wall, diesel except wall per 1 h at most 1 kWh  even with mains lost }
`)
	var got []string
	for _, q := range s.Requirements {
		text := fmt.Sprintf("%s: %s, %d mW, %d mWh", q.Name, q.D, q.Standing, q.Limit)
		for _, d := range q.Draws {
			text += fmt.Sprintf(", %s %d", s.Circuits[d.Circuit].Name, d.Weight)
		}
		if q.During != nil {
			text += ", during " + s.ExprText(q.During)
		}
		got = append(got, text)
		if q.Form != site.Energy || q.P != nil {
			t.Errorf("%+v", q)
		}
	}
	if diff := cmp.Diff([]string{
		"lasts: 3 h, 12000 mW, 480000 mWh, spots 42000, wall 18000, during mains lost",
		"charged by a generator: 1 min, 0 mW, 10000 mWh, during mains lost and not diesel running",
		"battery: 24 h, 12000 mW, 300000 mWh, spots 42000, wall 18000",
		"circuits: 1 h, 0 mW, 1000000 mWh, flood 100000, porch 8000",
	}, got); diff != "" {
		t.Error(diff)
	}
}

func TestReturnAndSettle(t *testing.T) {
	s := site0(t, `
band late_hours 22:00 to 05:00
mode sleep { starts at 23:00 if fire  ends on tap key  wall: late_hours 5 %, otherwise 10 % }
mode aside { while fire  porch full }
require "back" { can always return to not light within 1 h }
require "settles" { wall lit settles within 2 min }
require "mode settles" { aside settles within 2 min }
`)
	if q := &s.Requirements[0]; q.Form != site.CanReturn || q.D != 3_600_000 || s.ExprText(q.P) != "not light" {
		t.Errorf("%+v", q)
	}
	causes := func(q *site.Requirement) string {
		var out []string
		for _, in := range q.Causes.Inputs {
			out = append(out, s.Inputs[in].Name)
		}
		for _, b := range q.Causes.Bands {
			out = append(out, s.Bands[b].Name)
		}
		for _, m := range q.Causes.Modes {
			out = append(out, s.Modes[m].Name)
		}
		return strings.Join(out, ", ")
	}
	// Not the door, nor the generator, which have no influence on the wall.
	if q := &s.Requirements[1]; q.Form != site.Settles || causes(q) != "mains, ups flat, pir, key, fire, late_hours, sleep" {
		t.Errorf("settling has the causes %s", causes(q))
	}
	if q := &s.Requirements[2]; causes(q) != "mains, ups flat, fire" {
		t.Errorf("the mode's settling has the causes %s", causes(q))
	}
}
