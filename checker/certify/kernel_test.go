package certify

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"testing"

	"lampwarden/lang/site"
)

// A lamp that follows a switch, and goes on for 5 s after it. Its certificate is worked out by hand.
func lampAndSwitch() *site.Site {
	light := &site.Expr{Op: site.OpLight, Circuit: 0, Lo: 1, Hi: site.Full}
	return &site.Site{
		Name:       "hand-made",
		Controller: site.Controller{FedBy: site.None},
		Circuits:   []site.Circuit{{Name: "lamp", Area: site.None, FedBy: site.None, Switched: true}},
		Inputs:     []site.Input{{Name: "sw", Kind: site.Switch, Area: site.None}, {Name: "other", Kind: site.Switch, Area: site.None}},
		Modes: []site.Mode{{
			Name: "follow", Area: site.None, Kind: site.While, Cond: &site.Expr{Op: site.OpInput, Input: 0}, OffDelay: 5000,
			States: []site.State{{Stages: []site.Stage{{Settings: []site.Setting{{Circuits: []site.CircuitID{0}, Cases: []site.Case{{Level: site.Full}}}}}}}},
		}},
		StepOrder:  []site.ModeID{0},
		Precedence: site.Precedence{Above: [][]bool{{false}}, Equal: [][]site.Rule{{site.NoRule}}},
		Requirements: []site.Requirement{{
			Name: "lit", Form: site.Whenever, A: &site.Expr{Op: site.OpInput, Input: 0}, B: light, D: 1000,
		}},
	}
}

const byHand = `part 0 1
unit 1000
input 0
mode 0
sequence 0 0 0
lamp 0 0 1
request 0
horizon 2000
clock mode 0 exact
clock observer 0 exact
state
zone 0
state i0 m0=1 c0=1 o0.0.1
zone 0
state m0=3 c0=1
zone 0 <0 5 0
`

// sealed puts the first lines before a certificate's text, and the last one after it.
func sealed(s *site.Site, text string) string {
	text = fmt.Sprintf("%s\nversion test\nsite %s\nrequirement 0 %s\n", form, site.Fingerprint(s), site.Fingerprint(&s.Requirements[0])) + text
	sum := sha256.Sum256([]byte(text))
	return fmt.Sprintf("%send %d %d %s\n", text, strings.Count(text, "\nstate"), strings.Count(text, "\nzone"), hex.EncodeToString(sum[:]))
}

func TestByHand(t *testing.T) {
	s := lampAndSwitch()
	for _, c := range []struct {
		name     string
		old, new string // what is changed in the text
		edit     func(*site.Site)
		want     string // of the reason, "" if it is confirmed
	}{
		{name: "as it is"},
		{name: "a zone that is larger than needed", old: "zone 0 <0 5 0", new: "zone 0 0 7 0"},
		{name: "relaxed", old: "mode 0 exact\nclock observer 0 exact", new: "mode 0 relaxed\nclock observer 0 exact", want: "expected the 1 bounds of 0 clocks"},
		{name: "a state less", old: "state m0=3 c0=1\nzone 0 <0 5 0\n", want: `the state "m0=3 c0=1" is missing`},
		{name: "a start-up less", old: "state\nzone 0\n", want: `at start-up: the state "" is missing`},
		{name: "a zone that is too small", old: "<0 5 0", new: "<0 4 0", want: "the zone 0 <0 5 0 of the state"},
		{name: "an empty zone", old: "<0 5 0", new: "<0 0 0", want: "the zone is empty"},
		{name: "a state twice", old: "state\nzone 0\n", new: "state\nzone 0\nstate\nzone 0\n", want: "stands in line"},
		{name: "tokens in another order", old: "m0=3 c0=1", new: "c0=1 m0=3", want: "in this form and order"},
		{name: "a number in another form", old: "m0=3", new: "m0=03", want: "means nothing here"},
		{name: "no such place", old: "m0=3", new: "m0=7", want: "has no such place"},
		{name: "an input less", old: "input 0\n", want: "the input sw is read, but not kept"},
		{name: "an input that stands for no other", old: "input 0\n", new: "input 1\n", want: "the input sw is read, but not kept"},
		{name: "a mode less", old: "mode 0\nsequence 0 0 0\n", want: "sets lamp, but is neither kept nor free"},
		{name: "a lamp less", old: "lamp 0 0 1\n", want: "the light of lamp is read, but not kept"},
		{name: "one region", old: "lamp 0 0 1\n", new: "lamp 0 0\n", want: "holds levels on both sides"},
		{name: "a request less", old: "request 0\n", want: "but not its request"},
		{name: "no sequence", old: "sequence 0 0 0\n", want: "expected the sequence"},
		{name: "a group that is none", old: "sequence 0 0 0\n", new: "sequence 0 0 0 1\n", want: "below phase 1"},
		{name: "a free mode that is read", old: "request 0\n", new: "request 0\nfree 0 0\n", want: "is missing"},
		{name: "another unit", old: "unit 1000", new: "unit 2000", want: "no multiple of the unit"},
		{name: "a clock less", old: "clock observer 0 exact\n", want: "expected 2 clocks"},
		{name: "another part", old: "part 0 1", new: "part 0 2", want: "has 1 parts, not 2"},
		{name: "a date", old: "part 0 1", new: "part 0 1\ndate 0", want: "the site has no dates"},
		{name: "an id that is not there", old: "input 0\n", new: "input 0 9\n", want: "there is no input 9"},
		{name: "a line in another place", old: "unit 1000\ninput 0\n", new: "input 0\nunit 1000\n", want: `expected a line "unit ..."`},
		{name: "two blanks", old: "input 0", new: "input  0", want: "one blank"},
		{name: "the lamp takes its time", edit: func(s *site.Site) { s.Controller.ReactsWithin = 1500 }, want: "clock"},
		{name: "the lamp stays off", edit: func(s *site.Site) { s.Modes[0].States[0].Stages[0].Settings[0].Cases[0].Level = 0 }, want: "missing"},
		{name: "the mode waits", edit: func(s *site.Site) { s.Modes[0].OnDelay = 1000 }, want: "missing"},
		{name: "it must be dark", edit: func(s *site.Site) { s.Requirements[0] = site.Requirement{Form: site.Never, P: s.Requirements[0].B} }, want: "expected 1 clocks"},
	} {
		if c.edit != nil {
			s = lampAndSwitch()
			c.edit(s)
		}
		if c.old != "" && strings.Count(byHand, c.old) != 1 {
			t.Fatalf("%s: %q stands there %d times", c.name, c.old, strings.Count(byHand, c.old))
		}
		_, err := Check(context.Background(), s, strings.NewReader(sealed(s, strings.Replace(byHand, c.old, c.new, 1))))
		if reason := fmt.Sprint(err); (c.want == "") != (err == nil) || !strings.Contains(reason, c.want) && c.want != "" {
			t.Errorf("%s: %s, want %q", c.name, reason, c.want)
		}
	}
}

// What is not as it was written is refused before anything is looked at.
func TestSealed(t *testing.T) {
	s := lampAndSwitch()
	whole := sealed(s, byHand)
	for i := range len(whole) {
		for _, text := range []string{whole[:i], whole[:i] + "7" + whole[i+1:]} {
			if text == whole {
				continue
			}
			if _, err := Check(context.Background(), s, strings.NewReader(text)); err == nil {
				t.Fatalf("byte %d: %q is confirmed", i, text)
			}
		}
	}
	other := lampAndSwitch()
	other.Modes[0].OffDelay = 4000
	if _, err := Check(context.Background(), other, strings.NewReader(whole)); err == nil || !strings.Contains(err.Error(), "another site") {
		t.Errorf("for another site: %v", err)
	}
}
