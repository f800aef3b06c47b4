// Colours (lang/SEMANTICS.md section 2, steps 3 and 4).

package rehearse

import (
	"testing"

	"lampwarden/lang/site"
)

// Codes of colours.
const (
	red   site.Level = 1
	green site.Level = 4
	warm  site.Level = 2700
	cold  site.Level = 6500
)

// tunable is a lamp with a colour; both react within 1 s. The switches: on lights it; warm, cold, red and green ask for the
// colour, in this order of precedence.
func tunable() (b *builder, c, colour site.CircuitID, ins [5]site.InputID, ms [4]site.ModeID) {
	b = newBuilder()
	b.s.Controller.ReactsWithin = ssec
	c, colour = b.circuit("lamp"), b.circuit("lamp colour")
	b.s.Circuits[colour].Colour, b.s.Circuits[colour].Light = true, c
	for i, name := range []string{"on", "warm", "cold", "red", "green"} {
		ins[i] = b.input(name, site.Switch)
	}
	follow(b, ins[0], site.Full, c)
	for i, code := range []site.Level{warm, cold, red, green} {
		ms[i] = follow(b, ins[i+1], code, colour)
	}
	return b, c, colour, ins, ms
}

func TestColour(t *testing.T) {
	b, _, colour, in, ms := tunable()
	b.over(ms[0], ms[1], ms[2], ms[3])
	s := b.done()
	for _, tt := range []struct {
		name    string
		initial []site.InputID
		events  []Event
		moves   []Move
		want    []at
	}{
		{"from dark it follows at once", nil, []Event{turn(sec, in[1], true)}, nil, []at{{sec, standing(warm, warm)}}},
		{"at start-up too", []site.InputID{in[0], in[1]}, nil, nil, []at{{0, standing(warm, warm)}}},
		{"it stays when nobody asks", nil, []Event{turn(sec, in[1], true), turn(2*sec, in[1], false)}, nil,
			[]at{{2 * sec, standing(warm, warm)}, {3 * sec, standing(warm, warm)}}},
		{"with light it takes its time", []site.InputID{in[0], in[2]}, []Event{turn(5*sec, in[1], true)}, nil,
			[]at{{5 * sec, Lamp{Request: warm, Level: cold, Aim: warm, Moving: true, Due: 6 * sec}}, {6 * sec, standing(warm, warm)}}},
		{"the light is dark until it has moved", []site.InputID{in[2]}, []Event{turn(5*sec, in[0], true), turn(5*sec+1, in[1], true)}, nil,
			[]at{{5*sec + 1, standing(warm, warm)}}},
		{"a move of the light just before the reaction counts", []site.InputID{in[2]}, []Event{turn(5*sec, in[0], true), turn(5*sec+2, in[1], true)},
			[]Move{{5*sec + 2, 0, 1}}, []at{{5*sec + 2, Lamp{Request: warm, Level: cold, Aim: warm, Moving: true, Due: 6*sec + 2}}}},
		{"a light that arrives in the reaction was dark before", []site.InputID{in[2]}, []Event{turn(5*sec, in[0], true), turn(6*sec, in[1], true)}, nil,
			[]at{{6 * sec, standing(warm, warm)}}},
		{"a light that goes out in the reaction was lit before", []site.InputID{in[0], in[2]}, []Event{turn(5*sec, in[0], false), turn(6*sec, in[1], true)}, nil,
			[]at{{6 * sec, Lamp{Request: warm, Level: cold, Aim: warm, Moving: true, Due: 7 * sec}}}},
		{"dark in between: the running movement is cut short by the next request alone", []site.InputID{in[0], in[4]},
			[]Event{turn(5*sec, in[3], true), turn(5*sec+1, in[0], false), turn(5*sec+4, in[2], true)}, []Move{{5*sec + 2, 0, 0}},
			[]at{{5*sec + 3, Lamp{Request: red, Level: green, Aim: red, Moving: true, Due: 6 * sec}}, {5*sec + 4, standing(cold, cold)}}},
	} {
		tl := mustRun(t, s, Script{Initial: tt.initial, Events: tt.events, Moves: tt.moves, End: 20 * sec})
		wantLamps(t, tt.name, tl, colour, tt.want...)
	}
	// Between temperatures a colour passes those between; a named one is never between.
	for _, tt := range []struct {
		from, to site.InputID
		move     site.Level
		ok       bool
	}{{in[2], in[1], 4000, true}, {in[2], in[1], 2699, false}, {in[3], in[2], 4000, false}, {in[3], in[2], cold, true}, {in[4], in[3], 2, false}} {
		_, err := Run(s, Script{Initial: []site.InputID{in[0], tt.from}, Events: []Event{turn(5*sec, tt.to, true)}, End: 9 * sec,
			Moves: []Move{{5*sec + 1, colour, tt.move}}})
		if tt.ok != (err == nil) {
			t.Errorf("%+v: %v", tt, err)
		}
	}
}

// For a colour the rule Highest is read as Latest.
func TestColoursAreNotHigh(t *testing.T) {
	b, _, colour, in, ms := tunable()
	b.equals(site.Highest, ms[:2]...)
	b.equals(site.Latest, ms[0], ms[2])
	b.equals(site.Latest, ms[1], ms[2])
	tl := mustRun(t, b.done(), Script{End: 9 * sec, Events: []Event{turn(sec, in[2], true), turn(2*sec, in[1], true), turn(3*sec, in[3], true)}})
	wantLamps(t, "colour", tl, colour, at{sec, standing(cold, cold)}, at{2 * sec, standing(warm, warm)}, at{3 * sec, standing(red, red)})
	r := tl.Reason(tl.stepAt(2*sec), colour)
	if r.Rule != site.Latest || r.Ambiguous || len(r.Losers) != 1 || r.Losers[0].Why != Earlier || len(r.Losers[0].Pairs) != 1 {
		t.Errorf("reason %+v", r)
	}
}

// A colour that nobody asks for keeps its aim when the feed comes back, and while the controller is down.
func TestColourWithoutPower(t *testing.T) {
	b, _, colour, in, _ := tunable()
	supply, lost := b.mains("mains")
	down := b.input("down", site.Failure)
	b.feed(colour, supply)
	b.s.Controller.Down = isIn(down)
	s := b.done()
	cut := func(l Lamp) Lamp { l.Cut = true; return l }
	tl := mustRun(t, s, Script{End: 20 * sec, Events: []Event{turn(sec, in[1], true), turn(2*sec, in[1], false), turn(3*sec, down, true),
		turn(4*sec, down, false), turn(5*sec, lost, true), turn(6*sec, lost, false)}})
	wantLamps(t, "down", tl, colour, at{3 * sec, cut(standing(warm, warm))}, at{4 * sec, standing(warm, warm)},
		at{5 * sec, Lamp{FeedOff: true}}, at{6 * sec, standing(0, 0)})
	s.Circuits[colour].PowerOn = level(red)
	tl = mustRun(t, s, Script{End: 20 * sec, Events: []Event{turn(5*sec, lost, true), turn(6*sec, lost, false)}})
	wantLamps(t, "power on", tl, colour, at{6 * sec, standing(red, red)})
}
