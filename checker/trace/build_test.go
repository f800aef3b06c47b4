// From a path made by hand to a confirmed, shortened counterexample.

package trace

import (
	"errors"
	"slices"
	"testing"

	"lampwarden/checker/machine"
	"lampwarden/checker/rehearse"
	"lampwarden/lang"
	"lampwarden/lang/site"
)

const rooms = `
area hall
circuit lamp in hall { dims  fade 2 s }
switch a, b, c
button key
mode both { while a and b  lamp full }
mode dim { starts on tap key  ends on double tap key  lamp at 40 % }
mode other { while c  lamp at 70 % }
precedence both > dim
require "never both" { never both }
require "never other" { never other }
require "never a third" { never lamp between 30 % and 60 % }
`

func house(t *testing.T) *site.Site {
	t.Helper()
	p := lang.LoadText("house.lamp", rooms)
	if p.Site == nil {
		t.Fatal(p.Diagnostics)
	}
	return p.Site
}

// story makes a path of a start-up and events, nothing bound to a time.
func story(initial []site.InputID, events ...machine.Event) *machine.Path {
	p := &machine.Path{Initial: initial, Steps: make([]machine.Step, 1)}
	for _, e := range events {
		p.Steps = append(p.Steps, machine.Step{Event: &e})
	}
	return p
}

func change(s *site.Site, name string, value bool) machine.Event {
	return machine.Event{Input: s.InputNamed(name), Level: true, Value: value}
}

func gesture(s *site.Site, g site.Gesture) machine.Event {
	return machine.Event{Input: s.InputNamed("key"), Gesture: g}
}

func inputsOf(sc rehearse.Script) (out []site.InputID) {
	for _, e := range sc.Events {
		out = append(out, e.Input)
	}
	return out
}

// TestShortening leaves out what plays no part: single events, an input that goes and comes back, a value at start-up.
func TestShortening(t *testing.T) {
	s := house(t)
	a, b, c := s.InputNamed("a"), s.InputNamed("b"), s.InputNamed("c")
	for _, x := range []struct {
		name    string
		p       *machine.Path
		initial []site.InputID
		events  []site.InputID
	}{
		{"nothing to leave out", story(nil, change(s, "a", true), change(s, "b", true)), nil, []site.InputID{a, b}},
		{"a tap", story(nil, change(s, "a", true), gesture(s, site.Tap), change(s, "b", true)), nil, []site.InputID{a, b}},
		{"an event after the end", story(nil, change(s, "a", true), change(s, "b", true), gesture(s, site.Tap)), nil, []site.InputID{a, b}},
		{"two changes of one input", story(nil, change(s, "c", true), change(s, "a", true), change(s, "c", false), change(s, "b", true)),
			nil, []site.InputID{a, b}},
		{"a value at start-up", story([]site.InputID{c}, change(s, "a", true), change(s, "b", true)), nil, []site.InputID{a, b}},
		{"a value at start-up that is needed", story([]site.InputID{a}, change(s, "b", true)), []site.InputID{a}, []site.InputID{b}},
		{"off and on again", story([]site.InputID{a}, change(s, "a", false), change(s, "b", true), change(s, "a", true)),
			[]site.InputID{a}, []site.InputID{b}},
	} {
		ce, err := Build(s, x.p, nil, Requirement(s, &s.Requirements[0]), nil)
		if err != nil {
			t.Errorf("%s: %v", x.name, err)
			continue
		}
		if got := inputsOf(ce.Script); !slices.Equal(got, x.events) || !slices.Equal(ce.Script.Initial, x.initial) {
			t.Errorf("%s: start with %v, events of %v; want %v, %v", x.name, ce.Script.Initial, got, x.initial, x.events)
		}
		if j, err := rehearse.Judge(s, ce.Timeline, &s.Requirements[0]); err != nil || !j.Broken || !ce.Judgement.Broken {
			t.Errorf("%s: the timeline does not break the requirement", x.name)
		}
	}
}

// TestMovesAreTimed: a lamp passes the levels of a path, and a movement that plays no part is left out.
func TestMovesAreTimed(t *testing.T) {
	s := house(t)
	p := story(nil, change(s, "c", true))
	follow := func(l site.Level, still bool) []machine.Lamp { return []machine.Lamp{{Request: l, Still: still}} }
	p.Steps[0].Lamps, p.Steps[1].Lamps = follow(0, true), follow(7000, true)
	p.Steps = append(p.Steps,
		machine.Step{Move: &machine.Move{Lo: 1000, Hi: 2999, Up: true}, Timers: timings{less(0, 1, 2*sec)}},
		machine.Step{Move: &machine.Move{Lo: 3000, Hi: 6000, Up: true}, Timers: timings{less(0, 1, 2*sec)}})
	ce, err := Build(s, p, nil, Requirement(s, &s.Requirements[2]), nil)
	if err != nil {
		t.Fatal(err)
	}
	if mv := ce.Script.Moves; len(mv) != 1 || mv[0].Level != 3000 {
		t.Errorf("moves %v", mv)
	}
}

// TestMismatch: what the interpreter does not show, and what cannot be timed or played, is no counterexample.
func TestMismatch(t *testing.T) {
	s := house(t)
	untimed := story(nil, change(s, "a", true), change(s, "b", true))
	untimed.Steps[1].Timers = []machine.Timing{{Since: 0, D: 5, Exact: true}, {Since: 0, D: 5}}
	for name, p := range map[string]*machine.Path{
		"not shown":       story(nil, change(s, "a", true)),
		"not to be timed": untimed,
		"not to be played, as the switch is off already": story(nil, change(s, "a", false), change(s, "b", true)),
	} {
		var m *MismatchError
		if ce, err := Build(s, p, nil, Requirement(s, &s.Requirements[0]), nil); !errors.As(err, &m) || ce != nil {
			t.Errorf("%s: %v, %v", name, ce, err)
		}
	}
}

// TestConfirmAmbiguous finds the moment at which two modes without an order ask for different light.
func TestConfirmAmbiguous(t *testing.T) {
	s := house(t)
	ce, err := Build(s, story(nil, gesture(s, site.Tap), change(s, "a", true), change(s, "c", true)), nil, Ambiguous(0), nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := inputsOf(ce.Script); len(got) != 2 || ce.Judgement.At != ce.Script.Events[1].At {
		t.Errorf("events of %v, ambiguous at %d", got, ce.Judgement.At)
	}
	if ce, err := Build(s, story(nil, gesture(s, site.Tap)), nil, Ambiguous(0), nil); err == nil {
		t.Errorf("one mode alone is ambiguous: %+v", ce.Script)
	}
}

// TestEnough: once it is enough, what is found is reported with all that happened.
func TestEnough(t *testing.T) {
	s := house(t)
	for _, tries := range []int{0, 1} {
		left := tries
		ce, err := Build(s, story(nil, gesture(s, site.Tap), change(s, "a", true), gesture(s, site.Tap), change(s, "b", true)), nil,
			Requirement(s, &s.Requirements[0]), func() bool { left--; return left < 0 })
		if err != nil {
			t.Fatal(err)
		}
		if len(ce.Script.Events) != 4-tries || !ce.Judgement.Broken {
			t.Errorf("%d events after %d tries", len(ce.Script.Events), tries)
		}
	}
}
