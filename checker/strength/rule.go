// Rules, and the mutants that are made of them.

package strength

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// Kind is the kind of a rule.
type Kind uint8

// The kinds, in the order in which the rules of one place are told.
const (
	ModeRule    Kind = iota // that a mode is there, and when it is active
	TriggerRule             // a start, an end or a transition
	TimerRule               // a delay, a hold, a pulse, a length, a ramp
	SettingRule             // what a mode asks for
	FlashRule               // a rhythm
	OrderRule               // a precedence, or a rule for equals
	FeedRule                // what a circuit or the controller is fed by, and where a circuit stands without
	SpeedRule               // a fade, and how soon the controller reacts
	BandRule                // a part of the day
	RestartRule             // what a restart of the controller keeps
)

// String gives the word that reports use.
func (k Kind) String() string {
	return [...]string{"mode", "trigger", "timer", "setting", "flash", "precedence", "feed", "speed", "band", "restart"}[k]
}

// Rule is one thing that a site says, at one place of its text. A rule of a template, or of a row of circuits, stands
// there once and has mutants for every instance.
type Rule struct {
	Kind    Kind
	Text    string // in the building's words, of the first instance
	Span    source.Span
	Mutants []int // indices into the mutants, in order
}

// Safety is why a mutant counts for safety.
type Safety uint8

// The reasons, the first that applies.
const (
	NoSafety   Safety = iota
	WayOut            // it touches light of a way out under an alarm, a lost supply or a fault
	Flashing          // it makes lights flash dangerously
	Emergency         // it touches other light on a battery or a generator then
	OtherLight        // it touches what an alarm mode does elsewhere
)

// String gives the words that reports use.
func (s Safety) String() string {
	return [...]string{"", "way out", "flashing", "emergency supply", "other alarm light"}[s]
}

// Mutant is a site with one small change.
type Mutant struct {
	Rule  int
	What  string // what is changed: "left out", "10 min instead of 5 min"
	Where string // of a template or a row: which instance, "" for the first or only one
	// Safety tells why the change counts for safety, if it does (package comment).
	Safety Safety
	// Same says why the change can not be seen by anybody, "" if that is not known.
	Same string

	touches touch
	change  func(*site.Site)
}

// touch is what a change touches: whoever reads none of it cannot see the change.
type touch struct {
	all      bool // everything that hangs on the controller
	modes    []site.ModeID
	together []site.ModeID // a change that shows only where both of these modes are read
	circuits []site.CircuitID
	bands    []site.BandID
}

// Site gives the mutated site. It shares with the original only what nobody changes.
func (m *Mutant) Site(s *site.Site) *site.Site {
	out := copySite(s)
	m.change(out)
	return out
}

// Seeded gives the rules of a site and all their mutants, in the order of the site's tables.
func Seeded(s *site.Site) ([]Rule, []Mutant) {
	b := newBuilder(s)
	for m := range s.Modes {
		b.mode(site.ModeID(m))
	}
	b.order()
	b.feeds()
	b.controller()
	b.bands()
	b.ordered()
	return b.rules, b.mutants
}
