// From a path of the explorer to a replayed counterexample.

package trace

import (
	"fmt"
	"slices"

	"lampwarden/checker/machine"
	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
)

// MismatchError means that the interpreter does not confirm what the engine
// found: an internal error that must never be shown as a verdict.
type MismatchError struct {
	What string
	Err  error
}

func (e *MismatchError) Error() string {
	if e.Err != nil {
		return fmt.Sprintf("the interpreter does not confirm the engine's finding: %s: %v", e.What, e.Err)
	}
	return "the interpreter does not confirm the engine's finding: " + e.What
}

func (e *MismatchError) Unwrap() error { return e.Err }

// Confirm judges a timeline: whether it shows what the engine claims.
type Confirm func(*rehearse.Timeline) (rehearse.Judgement, bool)

// Requirement confirms that a requirement is broken, or that its goal is reached.
func Requirement(s *site.Site, r *site.Requirement) Confirm {
	return func(tl *rehearse.Timeline) (rehearse.Judgement, bool) {
		j, err := rehearse.Judge(s, tl, r)
		if err != nil {
			return j, false
		}
		return j, j.Broken || r.Form == site.Possible && j.Witness
	}
}

// NoWayBack confirms what a run can show of "can always return": that with nothing happening for the requirement's time at
// its end P does not come. That nothing else leads there is the engine's word.
func NoWayBack(r *site.Requirement) Confirm {
	return func(tl *rehearse.Timeline) (rehearse.Judgement, bool) {
		at := tl.Script.End - 1 // the last step of the path, at which nothing may be due in the site
		from := at - rehearse.FromMillis(r.D)
		_, reached := rehearse.Reaches(tl, r.P, from, rehearse.FromMillis(r.D))
		return rehearse.Judgement{Branching: true, At: at, Since: from, Deadline: at, False: []*site.Expr{r.P}}, !reached
	}
}

// Ambiguous confirms that a circuit becomes ambiguous.
func Ambiguous(c site.CircuitID) Confirm {
	return func(tl *rehearse.Timeline) (rehearse.Judgement, bool) {
		for i := range tl.Steps {
			if tl.Ambiguous(i, c) {
				return rehearse.Judgement{At: tl.Steps[i].At}, true
			}
		}
		return rehearse.Judgement{}, false
	}
}

// Build times a path, replays it on the whole site, has it confirmed, and leaves
// out the events without which it is confirmed as well. Each try plays the whole run
// again; once enough says so no more is tried (nil: all is).
func Build(s *site.Site, p *machine.Path, focus []site.CircuitID, ok Confirm, enough func() bool) (*Counterexample, error) {
	c, err := BuildWhole(s, p, focus, 0, ok)
	if err == nil {
		c.shorten(s, ok, enough)
	}
	return c, err
}

// BuildWhole is Build without leaving anything out. The run goes on for so long after the last step, with no event.
func BuildWhole(s *site.Site, p *machine.Path, focus []site.CircuitID, longer rehearse.Nanos, ok Confirm) (*Counterexample, error) {
	sc, err := script(p)
	if err != nil {
		return nil, &MismatchError{"timing", err}
	}
	sc.End += longer
	tl, err := rehearse.Run(s, sc)
	if err != nil {
		return nil, &MismatchError{"replay", err}
	}
	j, good := ok(tl)
	if !good {
		return nil, &MismatchError{What: fmt.Sprintf("the replayed run does not show it: %+v from %+v", sc, p)}
	}
	return &Counterexample{Script: sc, Timeline: tl, Judgement: j, Focus: focus, Clock: p.Clocked}, nil
}

// script turns a timed path into the environment's part of a run. It ends one
// nanosecond after the last step, so that what is over at that step has passed.
func script(p *machine.Path) (rehearse.Script, error) {
	start, at, err := times(p)
	if err != nil {
		return rehearse.Script{}, err
	}
	sc := rehearse.Script{Start: start, Initial: p.Initial, End: at[len(at)-1] + 1}
	lamps := map[site.CircuitID]*lamp{}
	for k, st := range p.Steps {
		if e := st.Event; e != nil {
			sc.Events = append(sc.Events, rehearse.Event{At: at[k], Input: e.Input, Value: e.Value, Gesture: e.Gesture})
		}
		if st.Leap != 0 {
			sc.Jumps = append(sc.Jumps, rehearse.Jump{At: at[k], By: st.Leap})
		}
		if m := st.Move; m != nil {
			sc.Moves = append(sc.Moves, rehearse.Move{At: at[k], Circuit: m.Circuit, Level: lamps[m.Circuit].move(m)})
		}
		for _, l := range st.Lamps {
			if lamps[l.Circuit] == nil {
				lamps[l.Circuit] = &lamp{}
			}
			if level, arrives := lamps[l.Circuit].follow(l, at[k]); arrives {
				sc.Moves = append(sc.Moves, rehearse.Move{At: at[k], Circuit: l.Circuit, Level: level})
			}
		}
		for _, c := range st.Picks {
			sc.Choices = append(sc.Choices, rehearse.Choice{At: at[k], Circuit: c.Circuit, Level: c.Level})
		}
	}
	return sc, nil
}

// Events gives the environment's part of a path without the lamps' moves and choices: what it is on a site that may do something
// else than the path says.
func Events(p *machine.Path) (rehearse.Script, error) {
	q := *p
	q.Steps = slices.Clone(p.Steps)
	for i := range q.Steps {
		q.Steps[i].Move, q.Steps[i].Lamps, q.Steps[i].Picks = nil, nil, nil
	}
	return script(&q)
}

// shorten drops single events, pairs of changes of one input, start-up values and
// lamp movements as long as the rest is still confirmed.
func (c *Counterexample) shorten(s *site.Site, ok Confirm, enough func() bool) {
	for changed := true; changed; {
		changed = false
		for _, sc := range candidates(c.Script) {
			if enough != nil && enough() {
				return
			}
			tl, err := rehearse.Run(s, sc)
			if err != nil {
				continue
			}
			if j, good := ok(tl); good {
				c.Script, c.Timeline, c.Judgement, changed = sc, tl, j, true
				break
			}
		}
	}
}

// candidates lists the scripts with one thing less.
func candidates(sc rehearse.Script) (out []rehearse.Script) {
	for i := range sc.Initial {
		x := sc
		x.Initial = slices.Delete(slices.Clone(sc.Initial), i, i+1)
		out = append(out, x)
	}
	for i, e := range sc.Events {
		x := sc
		x.Events = slices.Delete(slices.Clone(sc.Events), i, i+1)
		out = append(out, x)
		for k := i + 1; k < len(sc.Events); k++ {
			if sc.Events[k].Input == e.Input {
				y := x
				y.Events = slices.Delete(slices.Clone(x.Events), k-1, k)
				out = append(out, y)
				break
			}
		}
	}
	if len(sc.Jumps) > 0 {
		x := sc
		x.Jumps = nil
		out = append(out, x)
	}
	for i := range sc.Moves {
		x := sc
		x.Moves = slices.Delete(slices.Clone(sc.Moves), i, i+1)
		out = append(out, x)
	}
	return out
}
