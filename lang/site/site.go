// Package site is the resolved site: plain data, complete and immutable, that
// everything downstream reads. The interpreter, the engine, the oracles and
// the reports share this package and nothing else.
//
// Its meaning is fixed in lang/SEMANTICS.md. The package holds no behaviour
// beyond look-ups and the few definitions that belong to the data itself (how
// a circuit clamps a level, whether a band holds at a time of day).
//
// Naming key: every table is a slice indexed by a typed id (AreaID into Areas
// and so on); ids are dense and start at 0. Durations are Millis. Levels are
// hundredths of a per cent.
package site

import "lampwarden/lang/source"

// Millis is a duration or a time of day in whole milliseconds.
type Millis int64

// Day is the length of a local day without a change of clocks, Week that of seven.
const (
	Day  Millis = 24 * 60 * 60 * 1000
	Week        = 7 * Day
)

// Days is a set of days of the week: bit 0 is Monday, bit 6 Sunday. The zero value
// means every day.
type Days uint8

// Has tells whether the set has the day (0 is Monday).
func (d Days) Has(day int) bool { return d == 0 || d>>day&1 == 1 }

// Level is a light level in hundredths of a per cent: 0 is off, Full is 100 %.
type Level int32

// Full is 100 %.
const Full Level = 10000

// Typed ids, each an index into the table of the same name.
type (
	AreaID    int
	CircuitID int
	SupplyID  int
	InputID   int
	BandID    int
	ModeID    int
)

// None is the id of nothing.
const None = -1

// Site is a whole resolved site.
type Site struct {
	Name     string
	Span     source.Span
	TimeZone string // IANA name, "" if not given
	// Latitude and Longitude in degrees, north and east positive; HasPlace tells
	// whether they were given.
	HasPlace            bool
	Latitude, Longitude float64

	Controller Controller

	// Year is the first of those for which Jumps are known, and that of Dates.
	Year int
	// Jumps are the changes of the local clock that the time zone knows; none if it has none or the
	// site assumes that there is none, which SteadyClock tells.
	Jumps       []Jump
	SteadyClock bool
	// Dates are the dates of a year with their sun, if a band or a trigger of the site names the sun
	// (OnDate); Date is the one that the times of this site are of, "" if none.
	Dates []SunDate
	Date  string

	Areas        []Area
	Circuits     []Circuit
	Groups       []Group
	Supplies     []Supply
	Inputs       []Input
	Bands        []Band
	Covers       []Cover
	Modes        []Mode   // in written order; template instances in the order of their areas
	StepOrder    []ModeID // dependency order: a mode stands after all modes it names
	Precedence   Precedence
	Assumptions  []Assumption
	Requirements []Requirement
	Scenarios    []Scenario
}

// Controller describes what runs the modes.
type Controller struct {
	FedBy        SupplyID // None if not given
	ReactsWithin Millis   // 0 if not given
	// Down is true while the controller does not run; nil: it always runs. It reads inputs and plant modes.
	Down *Expr
	// Keeps tells that a restart keeps what the modes were doing; otherwise it forgets.
	Keeps bool
	Span  source.Span
}

// Jump is a change of the local clock: when it would show At, it may show At + By instead.
type Jump struct {
	At Millis // time of day
	By Millis // not 0; forward if positive
	// Dates are those on which it happens in the years that were looked at, in order. They are for words only: a
	// proof lets it happen on any day.
	Dates []Date
}

// Skips tells whether the jump leaves out the time of day.
func (j *Jump) Skips(t Millis) bool { return j.By > 0 && within(t, j.At, j.By) }

// Repeats tells whether the clock shows the time of day once more because of the jump.
func (j *Jump) Repeats(t Millis) bool { return j.By < 0 && within(t, j.At+j.By, -j.By) }

// within tells whether a clock that runs from start for the length shows t before the end.
func within(t, start, length Millis) bool { return ((t-start)%Day+Day)%Day < length }

// Area is a room, corridor, stair or outdoor zone, or a part of another area.
type Area struct {
	Name   string
	Tags   []string // in written order, no duplicates; those of the areas around it follow its own
	Parent AreaID   // the area that it lies in, None if in none
	Span   source.Span
}

// HasTag reports whether the area carries the tag.
func (a *Area) HasTag(tag string) bool {
	for _, t := range a.Tags {
		if t == tag {
			return true
		}
	}
	return false
}

// Circuit is lamps that are driven together.
type Circuit struct {
	Name string
	Area AreaID // None for an output
	// Output marks an output that is no light: a relay, a sounder, a notice. It is
	// switched (on is full, off is 0), has no area, feed or fade, and is not among "all circuits".
	Output   bool
	Notice   string   // what a notice says, "" for other outputs and for lights
	Switched bool     // off or full only; otherwise dimmed
	Min, Max Level    // range of a lit dimmed circuit; 1 and Full if not given
	Power    int64    // milliwatts at full; 0 if not given
	FedBy    SupplyID // None: taken to be always live
	Fade     Millis   // 0 if not given, and for a switched circuit

	// Colour marks the colour of the circuit Light. Its "level" is a code: a colour temperature in kelvin, or
	// one of the named colours (see Colours), or 0, not told yet. It has no area and no power, and "all circuits"
	// and groups do not mean it.
	Colour bool
	Light  CircuitID
	// Dead is true while the feed gives no current; nil: never. Cut is true while the circuit is out of the
	// controller's reach though that runs; nil: never. Both read inputs and plant modes.
	Dead, Cut *Expr
	// Fail is the level taken while control is lost (system failure level of IEC 62386), PowerOn the one
	// taken when the feed comes back, before the controller is heard; nil: as it was, and none.
	Fail, PowerOn *Level
	// Adds is what the circuit at full adds to the illuminance of its area, in lux. SeenAfter > 0: the
	// daylight sensors see its light once it has been asked to stand that long.
	Adds      int64
	SeenAfter Millis
	Span      source.Span
}

// Colours are the named colours; the code of a colour is its index.
var Colours = []string{"", "red", "amber", "yellow", "green", "cyan", "blue", "magenta", "white"}

// LeastKelvin is the least code that is a colour temperature.
const LeastKelvin = 1000

// Clamp turns an asked level into the one the circuit takes: 0 stays off, a
// switched circuit knows only off and full, a dimmed one keeps to Min..Max. A colour is taken as it is.
func (c *Circuit) Clamp(l Level) Level {
	switch {
	case c.Colour:
		return l
	case l <= 0:
		return 0
	case c.Switched:
		return Full
	case l < c.Min:
		return c.Min
	case l > c.Max:
		return c.Max
	}
	return l
}

// Top is what "full" means for the circuit.
func (c *Circuit) Top() Level { return c.Clamp(Full) }

// Group is a named set of circuits.
type Group struct {
	Name     string
	Circuits []CircuitID
	Span     source.Span
}

// Supply is a mains supply, which has a health input, or a battery.
type Supply struct {
	Name    string
	Battery bool
	Health  InputID // the input that is true while a mains supply is lost; None for a battery
	// Battery data, 0 if not given: capacity in milliwatt-hours, usable share as a
	// Level (Full if not given), standing load in milliwatts.
	Capacity  int64
	Usable    Level
	Standing  int64
	ChargedBy SupplyID
	// Flat is the input that is true while a battery with a Capacity is flat; its Charge assumption says when it
	// can be. Without a capacity a battery is taken never to be flat.
	Flat InputID
	// Dead, if set, is when the supply gives no current, in place of the rule of FeedDead: a generator, say.
	Dead *Expr
	Span source.Span
}

// InputKind is the kind of an input.
type InputKind uint8

// Level inputs are true or false and hold their value; "true" is the state
// away from rest. Event inputs happen at an instant.
const (
	Presence     InputKind = iota // true: somebody is sensed
	Contact                       // true: open
	Alarm                         // true: raised
	Switch                        // true: on
	SupplyHealth                  // true: the supply is lost
	Button                        // event, with a Gesture
	Bell                          // event
	Daylight                      // true: the daylight in the area is at least Input.Lux; one rung of a Ladder
	Calendar                      // true: today is a holiday; changes at 00:00 only
	Flatness                      // true: a battery is flat
	Failure                       // true: something has failed (a fault)
)

// IsEvent reports whether inputs of the kind are instantaneous.
func (k InputKind) IsEvent() bool { return k == Button || k == Bell }

// Gesture tells apart the events of one input.
type Gesture uint8

// A bell knows only Tap (it rings).
const (
	Tap Gesture = iota
	DoubleTap
	TripleTap
	LongPress
	Release // the button is let go after a long press
)

// Input is something the controller senses.
type Input struct {
	Name string
	Kind InputKind
	Area AreaID // None if not in an area
	// Lux of a Daylight input. Such inputs of one sensor have the sensor's name in Sensor.
	Lux    int64
	Sensor string
	// Fault marks what strikes only where a requirement says "even with".
	Fault bool
	Span  source.Span
}

// Band is a named part of the day: From inclusive, To exclusive, running past
// midnight when To is before From. From and To differ.
type Band struct {
	Name     string
	From, To Millis // time of day
	Days     Days   // on which it begins
	// Holidays tells how the band hangs on holidays. Every condition that names the band says so itself, so that this is
	// for words and for looking at bands alone. Such a band does not run past midnight.
	Holidays HolidayRule
	// FromSun and ToSun are set where an end is by the sun; OnDate then gives From and To. Void: it does not hold
	// on this date at all (no such event, or its ends have swapped order).
	FromSun, ToSun *SunTime
	Void           bool
	Overnight      bool // by the sun: it is meant to run past midnight (at the equinox it does)
	Span           source.Span
}

// Holds reports whether the band holds at the time t of the week (0 <= t < Week).
func (b *Band) Holds(t Millis) bool {
	day, tod := int(t/Day), t%Day
	if b.Void {
		return false
	}
	if b.From < b.To {
		return b.From <= tod && tod < b.To && b.Days.Has(day)
	}
	return tod >= b.From && b.Days.Has(day) || tod < b.To && b.Days.Has((day+6)%7)
}

// Cover declares that a set of bands covers the whole day.
type Cover struct {
	Bands []BandID
	Span  source.Span
}

// ModeKind is how a mode starts and ends.
type ModeKind uint8

const (
	// While follows a condition through the timers OnDelay, OffDelay or Pulse.
	While ModeKind = iota
	// Latch starts and ends on triggers.
	Latch
	// States is a machine with states of its own.
	States
)

// Mode is a small state machine that asks for light.
type Mode struct {
	Name     string // "welcome", or "welcome in hall" for an instance of a template
	Template string // the name before "for each area", else ""
	Area     AreaID // the instance's area, else None
	Kind     ModeKind
	// Plant: it is no part of the controller (a sensor's hysteresis, a generator, an alarm panel) and runs
	// while that is down. Plant modes read only inputs, bands, sensed light and plant modes, and ask for nothing.
	Plant bool
	// Hidden: nobody wrote it; it belongs to something else that was written (a latched alarm, a generator). Its name is in reports.
	Hidden bool

	// While.
	Cond              *Expr
	OnDelay, OffDelay Millis // 0: none
	Pulse             Millis // 0: none; excludes the other two

	// Latch.
	Starts, Ends []Trigger
	For          Millis // ends this long after it started; 0: no such end

	// States has the states of a States mode, the first being initial, and
	// exactly one entry for While and Latch: what the mode asks while active.
	States      []State
	Transitions []Transition // States only, in written order
	Span        source.Span  // the mode's name
}

// Trigger fires at an instant: when its expression comes true (an event atom
// is true at its instant only), or when the clock shows At.
type Trigger struct {
	On   *Expr  // nil for a clock-time trigger
	At   Millis // time of day, if On is nil
	Days Days   // on which it is due, if On is nil
	// Sun is set for a trigger at sunrise or sunset; OnDate then gives At, or Void if there is none on the date.
	Sun  *SunTime
	Void bool  // never due
	If   *Expr // guard, or nil
	Span source.Span
}

// Transition of a States mode. It is by time (After > 0, or a trigger with a
// clock time) or by cause (a trigger with an expression).
type Transition struct {
	After   Millis // > 0: this long after entering the source state; the trigger's If still guards
	Trigger Trigger
	From    int // state index, or None: from every state
	To      int
	Span    source.Span
}

// State is a state of a mode with what it asks for: a sequence of stages.
type State struct {
	Name   string  // "" for While and Latch
	Stages []Stage // may be empty: asks for nothing
	Span   source.Span
}

// Stage is one step of a sequence.
type Stage struct {
	// For is the stage's length; 0 means it stays until the mode leaves the state.
	// A stage with a counted flash has For = Times * (On + Off).
	For      Millis
	Flash    *Flash
	Settings []Setting // a later one wins over an earlier one on the same circuit
	Span     source.Span
}

// Flash is the rhythm of the settings marked Flashing: On first, then Off.
type Flash struct {
	Times   int // 0: without end
	On, Off Millis
}

// Setting asks for light on some circuits.
type Setting struct {
	Circuits []CircuitID
	Flashing bool   // in the off part of the stage's flash it asks for off
	Cases    []Case // the first whose condition holds counts; none: asks for nothing
	Span     source.Span
}

// Case is a level with the condition under which it is asked.
type Case struct {
	When  *Expr // nil: always
	Level Level // not yet clamped
	// Over is the time of a ramp to the level; 0: the circuit's own fade. Not in a flashing setting.
	Over Millis
	Span source.Span
}

// Rule decides between equals.
type Rule uint8

// The rules for equals.
const (
	NoRule  Rule = iota
	Highest      // the greatest level
	Latest       // the one that changed last
)

// Precedence is the strict partial order of modes, transitively closed, and
// the rules for equals. Both are square tables over ModeID.
type Precedence struct {
	Above [][]bool
	Equal [][]Rule // symmetric
	// Spans tells where a direct pair or a rule was written; used in reasons.
	Pairs []PrecedencePair
}

// PrecedencePair is one written "a > b", or an equals rule between a and b.
type PrecedencePair struct {
	Over, Under ModeID
	Rule        Rule // NoRule for a > b
	Span        source.Span
}

// Outranks reports whether a is strictly above b.
func (p *Precedence) Outranks(a, b ModeID) bool { return p.Above[a][b] }

// RuleFor gives the rule for two equals.
func (p *Precedence) RuleFor(a, b ModeID) Rule { return p.Equal[a][b] }

// AssumptionKind is the form of an assumption.
type AssumptionKind uint8

const (
	// Spacing: any two changes or events of the inputs are at least D apart.
	Spacing AssumptionKind = iota
	// Dwell: each time the one input takes Value it keeps it at least D.
	Dwell
	// AtMost: at no time are more than N of the (level) inputs true.
	AtMost
	// Ladder: each of the inputs but the first is true only while the one before it is.
	Ladder
	// Charge: Inputs are a battery's Flat input and the one that is true while its charger is lost. From full it
	// lasts D at least, and it is full again after Recharge.
	Charge
)

// Assumption is what the environment is taken never to violate.
type Assumption struct {
	Kind   AssumptionKind
	Inputs []InputID
	Value  bool
	D      Millis
	N      int
	// Recharge of a Charge.
	Recharge Millis
	Span     source.Span
}

// Form is the form of a requirement.
type Form uint8

const (
	// Never: P is false after every reaction and at every moment between.
	Never Form = iota
	// Always: P is true then.
	Always
	// Whenever: each time A comes true, B within D; then until Until, or for E.
	Whenever
	// LastsAtMost: no unbroken stretch of P is longer than D.
	LastsAtMost
	// LastsAtLeast: no unbroken stretch of P is shorter than D.
	LastsAtLeast
	// AtMostTimes: of any N+1 risings of P the last is D or more after the first.
	AtMostTimes
	// OnlyAfter: P is not true before Q has been true (after the last Since).
	OnlyAfter
	// Possible: some run reaches P.
	Possible
	// Settles: later than D after the last of Causes P does not change.
	Settles
	// CanReturn: from every moment some run that goes on from there has P true within D.
	CanReturn
	// Energy: the circuits of Draws, and Standing, use at most Limit within any D, or, if During is set,
	// within D from each time it comes true, while it lasts.
	Energy
)

// Requirement is what must hold over every run. Which fields are set depends
// on the form.
type Requirement struct {
	Name  string
	Form  Form
	P     *Expr // all forms but Whenever
	A, B  *Expr // Whenever
	Until *Expr // Whenever, or nil
	Q     *Expr // OnlyAfter
	Since *Expr // OnlyAfter, or nil
	D     Millis
	E     Millis // Whenever ... for E; 0: none
	N     int
	// Faults may strike, at most AtMost of them at a time; every other input marked Fault stays at rest.
	Faults []InputID
	AtMost int
	Causes Causes // Settles
	// Energy: weights are milliwatts, Standing milliwatts, Limit milliwatt-hours.
	Draws    []Term
	Standing int64
	Limit    int64
	During   *Expr
	Span     source.Span // the requirement's name
	Body     source.Span
}

// Causes are what may make lights change: inputs, the ends of bands, the clock-time triggers of modes.
type Causes struct {
	Inputs []InputID
	Bands  []BandID
	Modes  []ModeID
}

// Scenario is a timed list of events to rehearse, with expectations.
type Scenario struct {
	Name  string
	Start Millis         // time of the week of the start-up (without a weekday: on Monday)
	Date  int            // index into Site.Dates, 0 if there are none
	Given []InputID      // level inputs that are true at start-up
	Steps []ScenarioStep // in time order
	Span  source.Span
}

// ScenarioStep is an input change, an event, or an expectation.
type ScenarioStep struct {
	After   Millis // since start-up
	Expect  *Expr  // nil for a change
	Within  Millis // an expectation holds at some moment of [After, After+Within]
	Input   InputID
	Value   bool    // level inputs
	Gesture Gesture // event inputs
	Span    source.Span
}
