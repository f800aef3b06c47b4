// The public types: what the environment does (Script) and what the site did (Timeline).

package rehearse

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// Nanos is a time since start-up, a duration, or a time of the day or week, in nanoseconds. Site durations are whole
// milliseconds; nanoseconds leave room between them for "just before" and "just after".
type Nanos int64

// Milli is one millisecond, Day the length of a local day, Week that of seven.
const (
	Milli Nanos = 1_000_000
	Day         = Nanos(site.Day) * Milli
	Week        = 7 * Day
)

// FromMillis turns a site duration into Nanos.
func FromMillis(m site.Millis) Nanos { return Nanos(m) * Milli }

// Script is everything that the environment decides in one run. All times but Start are since start-up.
type Script struct {
	Start   Nanos          // time of the week at start-up, 0 <= Start < Week; a time of day is on Monday
	Initial []site.InputID // level inputs that are true at start-up
	Events  []Event        // input changes; times strictly increase and are > 0
	// Moves are lamp movements between reactions, in time order (those of one time in the given order). A lamp
	// that is moving and has no Move keeps its level until its movement is due.
	Moves []Move
	// Choices settle ambiguities. Without one the first asked level in written order is taken.
	Choices []Choice
	Jumps   []Jump // changes of the local clock: at most one in a run
	End     Nanos  // the run is [0, End], both included
}

// Jump is a change of the local clock: at At, where it would show the At of one of Site.Jumps, it shows By more. An
// input may change at the same instant.
type Jump struct {
	At Nanos
	By site.Millis
}

// Event is one input change.
type Event struct {
	At      Nanos
	Input   site.InputID
	Value   bool         // level inputs: the new value
	Gesture site.Gesture // event inputs
}

// Move sets the level of a lamp that is on its way to its aim. A move at the time of a reaction comes just before it.
type Move struct {
	At      Nanos
	Circuit site.CircuitID
	Level   site.Level
}

// Choice is the level taken by a circuit that becomes ambiguous (or ambiguous anew) in the reaction at At.
type Choice struct {
	At      Nanos
	Circuit site.CircuitID
	Level   site.Level
}

// Timeline is a played script: the steps in order, with reasons. It is complete and never changed after Run.
type Timeline struct {
	Site   *site.Site
	Script Script
	Steps  []Step

	plan *plan
}

// Step is a reaction or a move of a lamp between two reactions. A reaction is two moments of lang/SEMANTICS.md
// section 4 (the instant, then after), a move is one.
type Step struct {
	At        Nanos // since start-up
	TimeOfDay Nanos
	Weekday   int    // 0 is Monday
	Reaction  bool   // false: a lamp moves
	Event     *Event // the input change of this reaction, or nil
	Causes    []Cause
	// Controller tells whether the controller went down or woke up; what it keeps or forgets is the site's matter.
	Controller ControllerChange
	Modes      []ModeChange
	Circuits   []CircuitChange

	state *state // after the step
}

// ControllerChange is what the controller itself did in a reaction.
type ControllerChange uint8

// The changes.
const (
	AsBefore ControllerChange = iota
	GoesDown                  // its modes stand still or are forgotten, and every circuit is cut
	WakesUp
)

// CauseKind tells why a step happened.
type CauseKind uint8

// The causes. Which fields of Cause are set stands beside each.
const (
	StartUp     CauseKind = iota
	InputChange           // Input, and Value or Gesture
	TimerDue              // Mode, Timer, Span
	ClockDue              // Mode, Clock, Span (the trigger)
	BandBegins            // Band
	BandEnds              // Band
	LampArrives           // Circuit, Level
	LampMoves             // Circuit, Level
	LightSeen             // Circuit, Level: the sensors see it there from now on
	ClockJumps            // Clock: what the clock would have shown; By: how much more it shows
)

// Cause is one reason for a step.
type Cause struct {
	Kind    CauseKind
	Input   site.InputID
	Value   bool
	Gesture site.Gesture
	Mode    site.ModeID
	Timer   Timer
	Clock   site.Millis // time of day
	By      site.Millis
	Lost    bool // a timer or clock time of a mode whose controller is down or just wakes up: it does nothing
	Band    site.BandID
	Circuit site.CircuitID
	Level   site.Level
	Span    source.Span // where the timer, trigger, band or input is written
}

// Timer is the kind of a mode's timer.
type Timer uint8

// The timers.
const (
	OnDelayTimer Timer = iota
	OffDelayTimer
	PulseTimer
	ForTimer   // a latch's "for"
	AfterTimer // a transition's "after"
	StageTimer // a stage's "for"
	FlashTimer // the next part of a flash
)

// Phase is where a While mode is; a Latch or States mode is in Off or On (On: active).
type Phase uint8

// The phases of lang/SEMANTICS.md section 2.
const (
	Off Phase = iota
	Waiting
	On
	Holding
	Pulsing
	Spent
)

// Over is the stage of a sequence that is over.
const Over = -1

// ModeView is a mode after a step.
type ModeView struct {
	Active   bool
	Phase    Phase
	State    int  // index of the state; 0 for While and Latch
	Stage    int  // index of the stage, or Over; only of meaning where the mode may ask
	Flashing bool // the stage has a flash
	FlashOn  bool // and it is in its on part
}

// ModeChange is a mode whose view changed, or that started anew, in a reaction.
type ModeChange struct {
	Mode      site.ModeID
	From, To  ModeView
	Restarted bool          // became active or entered a state in this reaction: timers and sequence start from zero
	By        []source.Span // the triggers and transitions that fired, in order; empty for a timer of a While or a stage
}

// Lamp is the light of a circuit after a step.
type Lamp struct {
	Request site.Level // what the modes ask for in sum, 0 if none asks
	Level   site.Level
	Aim     site.Level
	Moving  bool
	Due     Nanos // if Moving: when it is exactly at the aim
	FeedOff bool  // the feed is dead
	Cut     bool  // the controller does not reach it, or is down
}

// CircuitChange is a circuit whose request, aim, level, feed or reach changed in a step. (Of a colour whose circuit no
// mode asks for, the request is its aim.)
type CircuitChange struct {
	Circuit  site.CircuitID
	From, To Lamp
	Took     Took
	Reason   Reason
}

// Took tells which level of its own, not asked for by any mode, a circuit took at the beginning of a step; it may be on
// its way from there at once.
type Took uint8

// The levels, as IEC 62386 names them.
const (
	NoLevel      Took = iota
	FailureLevel      // the system failure level: control is lost
	PowerOnLevel      // the feed is back
)

// Reason tells who decides a circuit's request.
type Reason struct {
	// Winners are the modes that decide: those not outranked whose level is the request. None if no mode asks.
	Winners []Ask
	Losers  []Loss
	Rule    site.Rule // the rule between equals that was needed, or NoRule
	// Ambiguous: no rule decides between the equals; the environment chose one of Candidates (different levels, in
	// written order of the modes). Kept: the choice was made in an earlier reaction.
	Ambiguous  bool
	Candidates []site.Level
	Kept       bool
}

// Ask is what one mode asks of one circuit.
type Ask struct {
	Mode    site.ModeID
	State   int
	Stage   int
	Setting int
	Case    int
	Level   site.Level  // clamped; 0 in the off part of a flash
	Ramp    site.Millis // the time of a ramp to the level; 0: none
	Dark    bool        // in the off part of a flash
	Setup   source.Span
	Span    source.Span // the deciding case
}

// Loss is an Ask that lost.
type Loss struct {
	Ask Ask
	Why Why
	By  site.ModeID // the mode it lost to
	// Pairs are the written precedence pairs that lead from By down to the loser, or the one rule between the two;
	// empty if none was written (a hand-made site).
	Pairs []site.PrecedencePair
}

// Why an ask lost.
type Why uint8

// The ways to lose.
const (
	Outranked Why = iota
	Lower         // by the rule Highest
	Earlier       // by the rule Latest
	NotChosen     // ambiguous, another level was chosen
)
