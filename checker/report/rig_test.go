// A site with what the interpreter knows beyond modes and lamps, built on a text: a generator, a battery that runs flat, a late
// return, a controller that takes its time to start, a lost bus, failure and power on levels, a colour, changes of the clock.

package report

import (
	"fmt"
	"testing"

	"lampwarden/checker"
	"lampwarden/checker/rehearse"
	"lampwarden/checker/trace"
	"lampwarden/lang/site"
)

const quay = `site "Quay"
supply mains
battery ups { charged by mains }
controller { fed by ups  reacts within 300 ms }
area hall : escape
area room
circuit hall_spots in hall { dims  power 42 W  fed by ups  fade 700 ms }
circuit room_main, room_side in room { dims  power 60 W  fed by mains }
presence room_pir in room
button key in room
band morning 02:30 to 05:00
mode night { starts on tap key  ends at 02:30  for 10 h  hall_spots at 5 %, circuits in room off }
mode welcome { while presence in room, on delay 2 s, off delay 5 min  circuits in room at 60 % }
mode film { states idle, dim  on double tap key: idle -> dim  at 02:45: dim -> idle  in dim: room_side at 10 %  hall_spots off }
precedence film > night > welcome
require "the way out is lit at night" { whenever tap key then within 5 s hall_spots at 5 % }
require "the room settles" { room_main lit is possible }
require "night ends" { not night is possible }
require "the battery lasts" { always room_pir }
require "the mains bill" { always room_pir }
require "the room's load" { always room_pir }
`

type rig struct{ *run }

func (r rig) in(name string) *site.Expr {
	return &site.Expr{Op: site.OpInput, Input: r.s.InputNamed(name)}
}
func isOn(id site.ModeID) *site.Expr      { return &site.Expr{Op: site.OpMode, Mode: id} }
func notSo(e *site.Expr) *site.Expr       { return &site.Expr{Op: site.OpNot, Kids: []*site.Expr{e}} }
func either(es ...*site.Expr) *site.Expr  { return &site.Expr{Op: site.OpOr, Kids: es} }
func bothOf(es ...*site.Expr) *site.Expr  { return &site.Expr{Op: site.OpAnd, Kids: es} }
func levelOf(l site.Level) *site.Level    { return &l }
func (r rig) mode(name string) *site.Mode { return &r.s.Modes[r.modeID(name)] }

func (r rig) modeID(name string) site.ModeID {
	for i := range r.s.Modes {
		if r.s.Modes[i].Name == name {
			return site.ModeID(i)
		}
	}
	r.t.Fatalf("no mode %q", name)
	return site.None
}

// input adds an input; a failure is a fault.
func (r rig) input(name string, k site.InputKind) site.InputID {
	r.s.Inputs = append(r.s.Inputs, site.Input{Name: name, Kind: k, Area: site.None, Fault: k == site.Failure})
	return site.InputID(len(r.s.Inputs) - 1)
}

// plant adds a While mode of the plant.
func (r rig) plant(name string, cond *site.Expr, on, off site.Millis) site.ModeID {
	s := r.s
	id := site.ModeID(len(s.Modes))
	s.Modes = append(s.Modes, site.Mode{Name: name, Kind: site.While, Plant: true, Area: site.None, Cond: cond, OnDelay: on,
		OffDelay: off, States: []site.State{{}}})
	s.StepOrder = append([]site.ModeID{id}, s.StepOrder...)
	p := &s.Precedence
	for i := range p.Above {
		p.Above[i], p.Equal[i] = append(p.Above[i], false), append(p.Equal[i], site.NoRule)
	}
	p.Above = append(p.Above, make([]bool, len(s.Modes)))
	p.Equal = append(p.Equal, make([]site.Rule, len(s.Modes)))
	return id
}

// colour gives a light a colour, which a mode asks for in the first stage of a state.
func (r rig) colour(light site.CircuitID, codes map[string]site.Level) {
	s := r.s
	id := site.CircuitID(len(s.Circuits))
	s.Circuits = append(s.Circuits, site.Circuit{Name: s.Circuits[light].Name + " colour", Area: site.None, Colour: true, Light: light,
		FedBy: site.None})
	for name, code := range codes {
		m := r.mode(name)
		g := &m.States[len(m.States)-1].Stages[0]
		g.Settings = append(g.Settings, site.Setting{Circuits: []site.CircuitID{id},
			Cases: []site.Case{{Level: code, Span: g.Settings[len(g.Settings)-1].Cases[0].Span}}})
	}
}

func newQuay(t *testing.T) rig {
	r := rig{newRun(t, quay)}
	s := r.s
	hall, room, side := s.CircuitNamed("hall_spots"), s.CircuitNamed("room_main"), s.CircuitNamed("room_side")
	ups := &s.Supplies[1]
	ups.Capacity, ups.Usable, ups.Standing, ups.ChargedBy, ups.Flat = 10_000, 8000, 2000, 0, r.input("ups flat", site.Flatness)
	s.Assumptions = append(s.Assumptions, site.Assumption{Kind: site.Charge, Inputs: []site.InputID{ups.Flat, s.InputNamed("mains")},
		D: 600_000, Recharge: 86_400_000})
	for _, name := range []string{"controller down", "control bus lost", "room_side failed"} {
		r.input(name, site.Failure)
	}
	diesel := r.plant("diesel running", r.in("mains"), 15_000, 0)
	s.Supplies = append(s.Supplies, site.Supply{Name: "diesel", Health: site.None, Flat: site.None, ChargedBy: site.None,
		Dead: bothOf(r.in("mains"), notSo(isOn(diesel)))})
	s.Circuits[hall].Dead, s.Circuits[hall].Fail = s.FeedDead(1), levelOf(site.Full)
	s.Circuits[room].Dead, s.Circuits[room].PowerOn = isOn(r.plant("mains return delay 5 s", r.in("mains"), 0, 5000)), levelOf(5000)
	s.Circuits[side].FedBy, s.Circuits[side].Dead = 2, either(s.FeedDead(2), r.in("room_side failed"))
	for c := range s.Circuits {
		s.Circuits[c].Cut = r.in("control bus lost")
	}
	s.Controller.Down = isOn(r.plant("controller starting", r.in("controller down"), 0, 20_000))
	s.Jumps = []site.Jump{{At: 2 * 3600_000, By: 3600_000}, {At: 3 * 3600_000, By: -3600_000}}
	r.colour(hall, map[string]site.Level{"night": 1, "film": 2700})
	r.requirements(room, side, hall)
	return r
}

// requirements turns the placeholders of the text into the later forms.
func (r rig) requirements(room, side, hall site.CircuitID) {
	s := r.s
	faults := []site.InputID{s.InputNamed("mains"), s.InputNamed("controller down"), s.InputNamed("room_side failed")}
	load := []site.Term{{Circuit: room, Weight: 60_000}, {Circuit: side, Weight: 60_000}}
	for i := range s.Requirements {
		switch q := &s.Requirements[i]; q.Name {
		case "the way out is lit at night":
			q.Faults, q.AtMost = faults, 1
		case "the room settles":
			q.Form, q.D, q.Causes = site.Settles, 1000, site.Causes{Inputs: []site.InputID{s.InputNamed("room_pir")}}
		case "night ends":
			q.Form, q.D = site.CanReturn, 2*3600_000
		case "the battery lasts":
			q.Form, q.D, q.Draws, q.Standing, q.Limit = site.Energy, 3600_000, []site.Term{{Circuit: hall, Weight: 42_000}}, 2000, 8000
			q.During, q.Faults, q.AtMost = r.in("mains"), []site.InputID{s.InputNamed("control bus lost")}, 1
		case "the mains bill":
			q.Form, q.D, q.Draws, q.Limit = site.Energy, 24*3600_000, load, 100_000
		case "the room's load":
			q.Form, q.P = site.Never, &site.Expr{Op: site.OpSum, Terms: load, Need: 70_000*int64(site.Full) + 1, Up: true}
			q.P.Label = "power of circuits in room above 70 W"
		}
	}
}

// at makes a change of a level input, or an event.
func (r rig) at(seconds float64, name string, value ...any) rehearse.Event {
	ev := rehearse.Event{At: rehearse.Nanos(seconds * float64(second)), Input: r.s.InputNamed(name)}
	switch v := value[0].(type) {
	case bool:
		ev.Value = v
	case site.Gesture:
		ev.Gesture = v
	}
	return ev
}

// noWayBack adds the outcome of a "can always return" that fails in a script.
func (r rig) noWayBack(name string, sc rehearse.Script) {
	i, req := r.requirement(name)
	tl, err := rehearse.Run(r.s, sc)
	if err != nil {
		r.t.Fatal(err)
	}
	j, ok := trace.NoWayBack(req)(tl)
	if !ok {
		r.t.Fatalf("in the script there is a way back for %q", name)
	}
	r.rep.Outcomes = append(r.rep.Outcomes, checker.Outcome{Requirement: i, Verdict: checker.Fails,
		Counterexample: &trace.Counterexample{Script: sc, Timeline: tl, Judgement: j}})
}

// neutral puts the names of failures in place of the sentences about them, which are lang/site's and under test there.
func (r rig) neutral(st *Story) {
	if st == nil {
		return
	}
	for i := range st.Entries {
		for k, text := range st.Entries[i].Causes {
			for id := range r.s.Inputs {
				for _, value := range []bool{true, false} {
					if r.s.Inputs[id].Kind == site.Failure && text == r.s.ChangeText(site.InputID(id), value) {
						st.Entries[i].Causes[k] = fmt.Sprintf("[%s: %t]", r.s.Inputs[id].Name, value)
					}
				}
			}
		}
	}
}
