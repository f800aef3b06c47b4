// Package machine turns a site and a question into a network of timed machines
// that the explorer can search: the slice of the site that matters, its discrete
// states and clocks, and the symbolic reaction of lang/SEMANTICS.md, section 2.
//
// One reaction of the site is one step: the set of timers due at this instant is
// branched over ("due together fire together": each feasible subset of the
// running timers, with all others strictly not due), then the input event if
// any; the modes, requests, lamps and the observer follow deterministically but
// for ambiguous requests, free modes and the observer's guesses. After a step
// strictly positive time passes.
//
// Clocks. Every timer has a clock that is active only while the timer runs, so a
// zone has just the active ones, in the fixed order of System.clocks. A timer's
// clock is compared only with the duration of the present location (invariant
// x <= D, due x = D), which makes D its lower and upper bound there. The time of
// day is one clock that is reset at each boundary the slice needs (a band's end, a
// clock-time trigger), with the present segment in the discrete state, so that
// nothing wraps at midnight. A clock of an assumption is only compared from below (x >= D
// permits a change) and is dropped as soon as it surely is past D.
//
// Naming key: s is a System, f and g are frames (unpacked discrete states), before
// is the frame before the reaction, ev an event index (0: none), ck a clock index.
package machine

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"lampwarden/checker/observe"
	"lampwarden/checker/zone"
	"lampwarden/lang/site"
)

// Limits of the packed labels and masks.
const (
	maxTimers = 34
	maxCharge = 4
	maxLevels = 40
	maxEvents = 255
)

// ErrTooWide is the error of New for a slice with more timers, inputs or
// segments than the engine can label; the question is then undecided.
var ErrTooWide = errors.New("the question needs too many timers, inputs or times of day at once")

// System is a slice with an observer, as a model for the explorer.
type System struct {
	site *site.Site
	sl   *Slice
	goal Goal

	levels  []site.InputID // kept level inputs
	order   []int          // indices in levels, the rungs of a ladder from below
	events  []event        // event index - 1
	segs    []segment
	modes   []modeInfo // kept modes in StepOrder
	byID    []int      // ModeID to index in modes, or -1
	latest  []site.ModeID
	lamps   []lamp
	sights  []sight
	reqs    []request
	down    *node // true while the controller does not run; nil: it always runs
	assume  []assumption
	charges []int // which of them are of batteries
	obs     observe.Observer
	caused  *causeTable // nil: the observer does not ask
	exprs   []*node     // the observer's expressions
	obsCk   [2]int      // clock of each of its timers, or -1
	events2 bool        // the observer reads events: it gets the instant as a moment of its own

	clocked bool
	weekly  bool
	period  int         // after so many segments everything repeats but their lengths
	jumps   []bool      // which of the site's changes of the clock are kept
	shorter site.Millis // the longest of those that are not
	clocks  []clock
	unit    site.Millis // all times are divided by it
	// tooManyBranches: some label is not unique, so paths can not be replayed.
	tooManyBranches  bool
	Quick            *Quick // for an observer that asks what can be reached at once
	relaxed, cooling uint64 // see Abstract
	horizon          site.Millis
	scratch
}

// Goal is what else than the observer's error counts as bad.
type Goal struct {
	Ambiguous site.CircuitID // reaching an ambiguous request of this circuit is bad; None if not asked
	Win       *Win           // reaching a reaction in which this setting decides its circuit is bad
}

// NoGoal is the goal that asks for nothing but the observer.
func NoGoal() Goal { return Goal{Ambiguous: site.None} }

// Win names a setting and a circuit that it may decide.
type Win struct {
	Mode                  site.ModeID
	State, Stage, Setting int
	Circuit               site.CircuitID
}

// event is one thing the environment may do.
type event struct {
	input   site.InputID
	level   bool // toggles a level input
	gesture site.Gesture
}

// clockKind says what a clock measures.
type clockKind uint8

const (
	dayClock    clockKind = iota
	locClock              // a mode's delay, pulse, "for" or "after"
	phaseClock            // a mode's present phase
	lampClock             // a lamp's movement
	obsClock              // an observer's timer
	assumeClock           // time since a change that an assumption speaks of
	sightClock            // until the sensors see a circuit's new light
)

// clock is one clock; id is an index whose table depends on the kind.
type clock struct {
	kind clockKind
	id   int
}

// modeInfo is a kept mode.
type modeInfo struct {
	id       site.ModeID
	def      *site.Mode
	cond     *node
	starts   []trigger
	ends     []trigger
	leave    [][]transition  // per state, in written order
	after    [][]site.Millis // per state, the distinct After times, ascending
	hasAfter bool
	seqs     []sequence // per state
	phased   bool
	latest   bool // under a latest rule: recency is kept
	locCk    int  // clock indices
	phaseCk  int
}

type trigger struct {
	on, guard *node
	at        site.Millis
	days      site.Days
	void      bool
}

type transition struct {
	trigger
	after site.Millis
	to    int
}

// assumption is a spacing or dwell on kept inputs, or an at-most.
type assumption struct {
	*site.Assumption
	clocked bool
	ck      int
}

// New compiles a slice with its observer and goal.
func New(sl *Slice, obs observe.Observer, goal Goal) (*System, error) {
	s := &System{site: sl.Site, sl: sl, goal: goal, obs: obs}
	s.keepInputs()
	s.keepSegments()
	s.keepAssumptions()
	for _, c := range sl.Lamps {
		s.lamps = append(s.lamps, newLamp(s.site, c, obs.Exprs))
	}
	for _, c := range sl.Seen {
		s.sights = append(s.sights, sight{id: c, ck: -1})
	}
	s.keepReach()
	s.keepLatest()
	s.keepModes()
	s.keepRequests()
	s.keepClocks()
	s.findHorizon()
	for _, e := range obs.Exprs {
		s.exprs = append(s.exprs, s.compile(e))
		e.Walk(func(x *site.Expr) { s.events2 = s.events2 || x.Op == site.OpEvent })
	}
	s.keepCauses()
	s.keepPeriod()
	if err := s.checkWidth(); err != nil {
		return nil, err
	}
	s.order = s.rungsInOrder()
	s.initScratch()
	return s, nil
}

func (s *System) checkWidth() error {
	var over []string
	wide := func(n, most int, what string) {
		if n > most {
			over = append(over, fmt.Sprintf("%d %s, at most %d", n, what, most))
		}
	}
	longest := site.Millis(0)
	for i := range s.clocks {
		for _, d := range s.durations(i) {
			longest = max(longest, d/s.unit)
		}
	}
	cuts := 0
	for i := range s.lamps {
		cuts = max(cuts, len(s.lamps[i].cuts))
	}
	wide(len(s.clocks), maxTimers, "timers")
	wide(len(s.charges), maxCharge, "batteries")
	wide(len(s.levels), maxLevels, "inputs")
	wide(len(s.events), maxEvents, "events")
	wide(len(s.segs), 1<<10-1, "times of day")
	wide(cuts, 64, "light levels")
	wide(len(s.lamps), 1<<10, "lamps")
	wide(int(longest), zone.MaxConstant/2, "time units in one timer")
	s.checkFields(wide)
	if len(over) > 0 {
		return fmt.Errorf("%w: %s", ErrTooWide, strings.Join(over, "; "))
	}
	return nil
}

// checkFields asks whether the numbers of a frame fit into their fields.
func (s *System) checkFields(wide func(n, most int, what string)) {
	states, phases, after, latest, paces := 0, 0, 0, 0, 0
	for i := range s.modes {
		m := &s.modes[i]
		states = max(states, len(m.def.States))
		for _, q := range m.seqs {
			phases = max(phases, len(q))
		}
		for _, a := range m.after {
			after = max(after, len(a))
		}
	}
	for _, m := range s.latest {
		latest = max(latest, int(m)+1)
	}
	for i := range s.lamps {
		paces = max(paces, len(s.lamps[i].paces))
	}
	wide(states, math.MaxUint8+1, "states of one mode")
	wide(phases, math.MaxUint16+1, "parts of one sequence")
	wide(after, math.MaxUint8, "times in one state")
	wide(latest, math.MaxUint16, "modes under a rule for equals") // the last number means none
	wide(paces, math.MaxUint8+1, "lengths of a ramp on one circuit")
}

func (s *System) keepInputs() {
	for i, kept := range s.sl.Inputs {
		if !kept {
			continue
		}
		id := site.InputID(i)
		if !s.site.Inputs[i].Kind.IsEvent() {
			s.levels = append(s.levels, id)
			s.events = append(s.events, event{input: id, level: true})
			continue
		}
		for g, used := range s.sl.Gestures[i] {
			if used {
				s.events = append(s.events, event{input: id, gesture: site.Gesture(g)})
			}
		}
	}
}

func (s *System) eventIndex(i site.InputID, g site.Gesture) int {
	for k, e := range s.events {
		if e.input == i && !e.level && e.gesture == g {
			return k + 1
		}
	}
	return -1
}

func (s *System) lampIndex(c site.CircuitID) int {
	return slices.IndexFunc(s.lamps, func(l lamp) bool { return l.id == c })
}

// keepAssumptions keeps the assumptions that speak of a kept input.
func (s *System) keepAssumptions() {
	for i := range s.site.Assumptions {
		a := &s.site.Assumptions[i]
		if slices.ContainsFunc(a.Inputs, func(in site.InputID) bool { return s.sl.Inputs[in] }) {
			if a.Kind == site.Charge {
				s.charges = append(s.charges, len(s.assume))
			}
			s.assume = append(s.assume, assumption{Assumption: a, ck: -1, clocked: a.Kind != site.AtMost && a.Kind != site.Ladder})
		}
	}
	if len(s.sl.Faults) > 0 {
		few := &site.Assumption{Kind: site.AtMost, Inputs: s.sl.Faults, N: s.sl.AtMost}
		s.assume = append(s.assume, assumption{Assumption: few, ck: -1})
	}
}

// keepReach compiles what takes away the controller, and each lamp's and sight's current or control.
func (s *System) keepReach() {
	if s.sl.down {
		s.down = s.compile(s.site.Controller.Down)
	}
	for i := range s.lamps {
		l := &s.lamps[i]
		l.reach = s.newReach(l.id)
		if l.colour {
			l.light = s.lampIndex(s.site.Circuits[l.id].Light)
		}
	}
	for i := range s.sights {
		s.sights[i].reach = s.newReach(s.sights[i].id)
	}
}

// keepLatest finds the kept modes under a latest rule with another kept mode.
func (s *System) keepLatest() {
	for m, kept := range s.sl.Modes {
		for o, other := range s.sl.Modes {
			if kept && other && slices.ContainsFunc(s.sl.Requests, func(c site.CircuitID) bool {
				return s.ruleFor(c, site.ModeID(m), site.ModeID(o)) == site.Latest
			}) {
				s.latest = append(s.latest, site.ModeID(m))
				break
			}
		}
	}
}

func (s *System) keepModes() {
	s.byID = make([]int, len(s.site.Modes))
	for i := range s.byID {
		s.byID[i] = -1
	}
	for _, id := range s.site.StepOrder {
		if s.sl.Modes[id] {
			s.byID[id] = len(s.modes)
			s.modes = append(s.modes, s.newMode(id))
		}
	}
}

func (s *System) newMode(id site.ModeID) modeInfo {
	def := &s.site.Modes[id]
	m := modeInfo{id: id, def: def, cond: s.compile(def.Cond), latest: slices.Contains(s.latest, id)}
	for _, t := range def.Starts {
		m.starts = append(m.starts, s.newTrigger(t))
	}
	for _, t := range def.Ends {
		m.ends = append(m.ends, s.newTrigger(t))
	}
	for i := range def.States {
		q := unroll(def.States[i].Stages)
		q.sign(def.States[i].Stages, s.sl.Requests, s.sl.Stages[id] || m.latest || s.down != nil && s.site.Controller.Keeps)
		q = q.join()
		m.seqs = append(m.seqs, q)
		m.phased = m.phased || len(q) > 1
		if def.Kind == site.States {
			leave, after := s.transitions(def, i)
			m.leave, m.after = append(m.leave, leave), append(m.after, after)
			m.hasAfter = m.hasAfter || len(after) > 0
		}
	}
	return m
}

func (s *System) newTrigger(t site.Trigger) trigger {
	return trigger{on: s.compile(t.On), guard: s.compile(t.If), at: t.At, days: t.Days, void: t.Void}
}

// transitions lists those that leave a state, and their distinct After times.
func (s *System) transitions(def *site.Mode, state int) (leave []transition, after []site.Millis) {
	for _, t := range def.Transitions {
		if t.From != state && (t.From != site.None || t.To == state) {
			continue
		}
		leave = append(leave, transition{s.newTrigger(t.Trigger), t.After, t.To})
		if t.After > 0 {
			after = append(after, t.After)
		}
	}
	slices.Sort(after)
	return leave, slices.Compact(after)
}

// Lamps lists the circuits whose light, or request, the question reads.
func (s *System) Lamps() []site.CircuitID { return s.sl.Requests }

// Replayable tells whether the labels made so far name their steps uniquely.
func (s *System) Replayable() bool { return !s.tooManyBranches }
