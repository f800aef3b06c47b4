// Package oracle decides requirements by brute force: it walks through every
// state of a site in integer time, one tick after the other, and looks.
//
// It exists to be compared with. It is written from lang/SEMANTICS.md alone,
// shares nothing with the interpreter or the engine but the site data, and
// prefers the plain way to the fast one.
//
// # Time
//
// The grain of a question is the greatest common divisor of all durations and
// clock times that it involves; a tick is a grain divided by TicksPerUnit. Time
// moves by whole ticks. At a tick there is at most one reaction, with all that
// is due and at most one input change. So every run of the oracle is a run of
// the site: what it breaks is broken. The reverse needs care. In dense time any
// number of reactions fit between two ticks; here each needs a tick of its own.
// Two ticks per unit are enough for most questions about small sites, but a
// count of risings within a time, and a run that needs several changes within
// one unit, need more (measured: at least eight for the form AtMostTimes). A
// "holds" is therefore a "holds as far as so many ticks show". CheckFiner tries
// again with more ticks.
//
// The clock goes round in a day, or in a week if something that is kept happens
// on some days only. A run starts at any tick of it, and once it may jump. A site that has
// dates is looked at on each of them.
//
// # Levels
//
// A requirement sees a lamp only through comparisons and sums, which round levels to
// resting ones. Their bounds cut the levels 0..10000 into regions; a lamp's state is the region of its level and
// its exact aim (for a circuit without a fade, where the controller takes time to
// react, each aim is a region of its own). The codes of a colour are cut in the same way, and its light
// then has a region for being dark. What the sensors see of a lamp is one of its aims. Within a region no comparison changes, and a lamp on its way
// passes the regions between it and its aim in order or jumps over some, by
// its own position in the region unaffected. At any tick, before the reaction
// if there is one, lamps on their way may move, one after the other; each move
// is a moment of its own.
//
// # Requirements
//
// Each form has a monitor of its own, made from section 5 of the semantics as a
// set of live obligations with their ages in ticks. A monitor needs no guesses (but for
// where a stretch of energy begins):
// where an obligation can be left out because another one stands for it, the
// monitor's comment says why. All ages stop counting once they are past the
// largest value that matters, so that the states are finitely many.
//
// The form CanReturn is no question about one run. It is decided backward over the
// whole graph of states (canreturn.go), and of it "broken" is no more certain than "holds".
//
// # What is left out
//
// Parts of the site that nothing in the question reads (see trim.go) are not
// put in the state: lamps that the requirement does not name, modes that reach
// neither the requirement nor its lamps, inputs that nothing left reads.
// Options.Whole keeps all of them, and a test compares the two.
package oracle

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"lampwarden/lang/site"
)

// Verdict is the oracle's answer.
type Verdict uint8

// The verdicts. Broken and Holds are of requirements; Witness and NoWitness of
// the form Possible and of findings; TooBig tells that MaxStates was reached.
const (
	TooBig Verdict = iota
	Holds
	Broken
	Witness
	NoWitness
)

// String gives the word for a test's message.
func (v Verdict) String() string {
	return [...]string{"too big", "holds", "broken", "witness", "no witness"}[v]
}

// Options steer a question. The zero value is the default.
type Options struct {
	TicksPerUnit int  // ticks per grain; 0: 8 for AtMostTimes, else 2
	MaxStates    int  // most states kept; 0: 200,000
	Whole        bool // keep the parts of the site that nothing reads, too
}

// Micros is a time in microseconds, fine enough for a tick of an eighth of a
// millisecond.
type Micros int64

// Result is the answer to one question.
type Result struct {
	Verdict Verdict
	States  int    // distinct states seen
	Run     []Step // Broken, Witness: a run with the fewest reactions (or one more, if MaxStates was reached)
	End     Micros // Broken, Witness: when it was so, since start-up
	Ticks   int    // ticks per unit that were used
	Grain   site.Millis
	Date    int // index of the date of the run, of a site that has Dates
}

// StepKind tells what a step of a run is.
type StepKind uint8

// The kinds. A Quiet reaction has no input change, only what was due.
const (
	StartUp StepKind = iota
	Change
	Quiet
	Move
)

// Step is one reaction, or one move of a lamp.
type Step struct {
	Kind  StepKind
	At    Micros // since start-up
	Clock Micros // StartUp: the time of the week, on Monday if no day plays a part; -1 if no clock does

	Initial []site.InputID // StartUp: the level inputs that are true

	Input   site.InputID // Change
	Value   bool         // Change of a level input: its new value
	Gesture site.Gesture // Change: event of an event input

	Jump site.Millis // by which the clock jumps at a Change or Quiet reaction, or 0

	Circuit site.CircuitID // Move
	Level   site.Level     // Move

	Choices []Choice // what ambiguous circuits took in this reaction
}

// Choice is the level that an ambiguous circuit took.
type Choice struct {
	Circuit site.CircuitID
	Level   site.Level
}

// Check decides a requirement. It returns an error for data that it cannot
// read and when ctx ends.
func Check(ctx context.Context, s *site.Site, r *site.Requirement, o Options) (Result, error) {
	if s == nil || r == nil {
		return Result{}, errors.New("oracle: no site or no requirement")
	}
	q, err := requirementQuestion(r)
	if err != nil {
		return Result{}, err
	}
	return ask(ctx, s, q, o)
}

// CheckFiner is Check with more and more ticks per unit: it doubles them from
// the default up to the given number and stops at the first answer that is not
// Holds or NoWitness; of the form CanReturn no answer is certain, and it stops at none. If
// a finer question is too big it gives the last answer.
func CheckFiner(ctx context.Context, s *site.Site, r *site.Requirement, o Options, ticks int) (Result, error) {
	best, err := Check(ctx, s, r, o)
	open := func(v Verdict) bool { return v == Holds || v == NoWitness || r.Form == site.CanReturn && v == Broken }
	for err == nil && open(best.Verdict) && best.Ticks*2 <= ticks {
		o.TicksPerUnit = best.Ticks * 2
		var finer Result
		if finer, err = Check(ctx, s, r, o); err != nil || finer.Verdict == TooBig {
			break
		}
		best = finer
	}
	return best, err
}

// CanBeAmbiguous tells whether some run makes the circuit ambiguous.
func CanBeAmbiguous(ctx context.Context, s *site.Site, c site.CircuitID, o Options) (Result, error) {
	q := question{reach: true, requests: []site.CircuitID{c}}
	q.goal = func(rs []resolution) bool {
		return slices.ContainsFunc(rs, func(r resolution) bool { return r.circuit == c && r.ambiguous })
	}
	return ask(ctx, s, q, o)
}

// CanBeActive tells whether some run makes the mode active.
func CanBeActive(ctx context.Context, s *site.Site, m site.ModeID, o Options) (Result, error) {
	return CanRise(ctx, s, &site.Expr{Op: site.OpMode, Mode: m}, o)
}

// CanTrigger tells whether the A of a requirement of the form Whenever can come
// true in a run that counts for it.
func CanTrigger(ctx context.Context, s *site.Site, r *site.Requirement, o Options) (Result, error) {
	return Check(ctx, s, &site.Requirement{Form: site.Possible, P: r.A, Faults: r.Faults, AtMost: r.AtMost}, o)
}

// CanHunt tells whether some run has the mode, which reads seen light, become
// active twice with no cause between.
func CanHunt(ctx context.Context, s *site.Site, m site.ModeID, o Options) (Result, error) {
	if int(m) < 0 || int(m) >= len(s.Modes) || !readsSight(&s.Modes[m]) {
		return Result{}, fmt.Errorf("oracle: no mode %d that reads seen light", m)
	}
	q := question{reach: true, exprs: []*site.Expr{{Op: site.OpMode, Mode: m}}, causes: &causes{all: true}}
	q.monitor = func(*model) monitor { return &huntMonitor{m} }
	return ask(ctx, s, q, o)
}

// readsSight tells whether a condition of the mode reads what the sensors see of lamps.
func readsSight(m *site.Mode) bool {
	sight := false
	eachCondition(m, func(e *site.Expr) {
		e.Walk(func(x *site.Expr) { sight = sight || x.Op == site.OpSum && x.Seen })
	})
	return sight
}

// CanRise tells whether some run without faults has a rise of e. What is true at any moment has
// risen at that moment or before it.
func CanRise(ctx context.Context, s *site.Site, e *site.Expr, o Options) (Result, error) {
	return Check(ctx, s, &site.Requirement{Form: site.Possible, P: e}, o)
}

// CanWin tells whether some run has a reaction after which the setting decides
// the request of one of its circuits, alone or together with others that ask
// for the same level.
func CanWin(ctx context.Context, s *site.Site, m site.ModeID, state, stage, setting int, o Options) (Result, error) {
	if int(m) < 0 || int(m) >= len(s.Modes) || state < 0 || state >= len(s.Modes[m].States) ||
		stage < 0 || stage >= len(s.Modes[m].States[state].Stages) ||
		setting < 0 || setting >= len(s.Modes[m].States[state].Stages[stage].Settings) {
		return Result{}, fmt.Errorf("oracle: mode %d has no state %d, stage %d, setting %d", m, state, stage, setting)
	}
	set := &s.Modes[m].States[state].Stages[stage].Settings[setting]
	q := question{reach: true, requests: set.Circuits}
	q.goal = func(rs []resolution) bool {
		for i := range rs {
			for _, a := range rs[i].winners() {
				if a.mode == m && a.state == state && a.stage == stage && a.setting == setting {
					return true
				}
			}
		}
		return false
	}
	return ask(ctx, s, q, o)
}
