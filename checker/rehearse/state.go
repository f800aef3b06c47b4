// The state of a site between two steps, as plain data.

package rehearse

import (
	"slices"

	"lampwarden/lang/site"
)

// state is the whole state of a site. Once a step is over its state never changes.
type state struct {
	at       Nanos // of the last reaction
	down     bool  // the controller does not run
	inputs   []bool
	bands    []bool
	modes    []modeState
	circuits []circuitState
}

// beforeStartUp is the recency of a mode to which nothing has happened yet.
const beforeStartUp = -1

// modeState is one mode. A States mode is always in a state; the others use state 0.
type modeState struct {
	phase      Phase // Off and On alone for Latch and States
	state      int
	since      Nanos // when the phase (While), activity (Latch) or state (States) began: its timers count from here
	stage      int   // index of the stage, or Over
	stageSince Nanos
	recency    int // number of the reaction; section 2 step 2, "Recency"
}

// active is section 2: While in on, holding and pulsing; Latch and States keep to On and Off.
func (m modeState) active() bool {
	return m.phase == On || m.phase == Holding || m.phase == Pulsing
}

// contender is a mode of the set M of section 2 step 3 with its clamped level.
type contender struct {
	mode  site.ModeID
	level site.Level
}

// circuitState is one circuit with its lamp.
type circuitState struct {
	request   site.Level
	ambiguous []contender // M, if the circuit is ambiguous; else nil
	level     site.Level
	aim       site.Level
	moving    bool
	due       Nanos // if moving
	slow      bool  // if moving: the movement has a fade or a ramp
	dead, cut bool  // the feed gives no current; out of the controller's reach, or that is down
	seen      site.Level
	seeing    bool  // its seeing timer runs
	seenDue   Nanos // if seeing
}

// rest is section 1: before start-up every input is at rest, every mode inactive (a States mode in its first state),
// no band holds, all lamps are dark and unseen, nothing is dead, cut or down. The timers of a first state count from
// start-up, time 0.
func rest(s *site.Site) *state {
	st := &state{
		inputs:   make([]bool, len(s.Inputs)),
		bands:    make([]bool, len(s.Bands)),
		modes:    make([]modeState, len(s.Modes)),
		circuits: make([]circuitState, len(s.Circuits)),
	}
	for i := range s.Modes {
		st.modes[i] = restMode(&s.Modes[i], 0)
	}
	return st
}

// restMode is a mode as before start-up; the timers of its first state count from since.
func restMode(m *site.Mode, since Nanos) modeState {
	return modeState{stage: firstStage(&m.States[0]), recency: beforeStartUp, since: since, stageSince: since}
}

// firstStage is the stage in which a sequence begins: 0, or Over if there are none.
func firstStage(st *site.State) int {
	if len(st.Stages) == 0 {
		return Over
	}
	return 0
}

// clone copies the state for a reaction to change.
func (st *state) clone() *state {
	return &state{
		at:       st.at,
		down:     st.down,
		inputs:   slices.Clone(st.inputs),
		bands:    slices.Clone(st.bands),
		modes:    slices.Clone(st.modes),
		circuits: slices.Clone(st.circuits),
	}
}

// share lets the state use the parts of the one before it that did not change, which saves memory in long runs. It
// tells how many modes and circuits the state keeps for itself.
func (st *state) share(before *state) (kept int) {
	if slices.Equal(st.inputs, before.inputs) {
		st.inputs = before.inputs
	}
	if slices.Equal(st.bands, before.bands) {
		st.bands = before.bands
	}
	if slices.Equal(st.modes, before.modes) {
		st.modes = before.modes
	} else {
		kept += len(st.modes)
	}
	if slices.EqualFunc(st.circuits, before.circuits, circuitState.equal) {
		st.circuits = before.circuits
	} else {
		kept += len(st.circuits)
	}
	return kept
}

// equal compares two circuits.
func (c circuitState) equal(d circuitState) bool {
	return c.request == d.request && slices.Equal(c.ambiguous, d.ambiguous) && c.level == d.level &&
		c.aim == d.aim && c.moving == d.moving && c.due == d.due && c.slow == d.slow && c.dead == d.dead && c.cut == d.cut &&
		c.seen == d.seen && c.seeing == d.seeing && c.seenDue == d.seenDue
}

// stageOf returns the stage that the mode's sequence is in, or nil when it is over.
func stageOf(s *site.Site, m site.ModeID, ms modeState) *site.Stage {
	if ms.stage == Over {
		return nil
	}
	return &s.Modes[m].States[ms.state].Stages[ms.stage]
}

// flashOn is section 2, "Sequence": on for On, off for Off, and so on from the stage's start.
func flashOn(f *site.Flash, since Nanos, now Nanos) bool {
	on, off := FromMillis(f.On), FromMillis(f.Off)
	if on+off <= 0 {
		return true
	}
	return (now-since)%(on+off) < on
}
