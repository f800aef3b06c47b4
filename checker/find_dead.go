// Findings: a mode that can never become active, a setting that never wins.

package checker

import (
	"context"
	"fmt"
	"slices"

	"lampwarden/checker/machine"
	"lampwarden/checker/observe"
	"lampwarden/checker/strength"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

func (p *prover) neverActive() (out []*finder) {
	for m := range p.site.Modes {
		id := site.ModeID(m)
		md := &p.site.Modes[m]
		if md.Plant || !p.wants(strength.Check{Code: CodeNeverActive, Mode: id}) {
			continue // nobody has written it
		}
		open := func(why string) []Finding {
			return []Finding{{Code: CodeNeverActive, Mode: id, Span: md.Span, Undecided: true,
				Message: fmt.Sprintf("whether mode %s can become active is undecided: %s", md.Name, why)}}
		}
		f := &finder{found: open(notStarted)}
		f.run = func(ctx context.Context) (bool, error) {
			goal := observe.Goal(&site.Expr{Op: site.OpMode, Mode: id})
			a, err := p.decide(ctx, question{piece: observe.Piece{Observer: goal}, goal: machine.NoGoal()})
			f.stats.Add(a.stats)
			f.found = nil
			switch a.state {
			case safe:
				f.found = []Finding{{Code: CodeNeverActive, Mode: id, Span: md.Span, Related: starts(md),
					Message: "mode " + md.Name + " can never become active"}}
			case undecided:
				f.found = open(p.soFar(&a))
			}
			return a.more, err
		}
		out = append(out, f)
	}
	return out
}

// starts lists where a mode says what makes it active.
func starts(md *site.Mode) (out []source.Related) {
	add := func(sp source.Span) {
		if !sp.IsZero() {
			out = append(out, source.Related{Span: sp, Label: "this never makes it active"})
		}
	}
	if md.Cond != nil {
		add(md.Cond.Span)
	}
	for _, t := range md.Starts {
		add(t.Span)
	}
	for _, t := range md.Transitions {
		if t.From == 0 {
			add(t.Span)
		}
	}
	return out
}

// neverWins looks for settings that decide none of their circuits in any run.
func (p *prover) neverWins() (out []*finder) {
	for m := range p.site.Modes {
		for i, st := range p.site.Modes[m].States {
			for j, sg := range st.Stages {
				for k := range sg.Settings {
					if len(sg.Settings[k].Circuits) == 0 {
						continue
					}
					if !p.wants(strength.Check{Code: CodeNeverWins, Mode: site.ModeID(m), Circuits: sg.Settings[k].Circuits}) {
						continue
					}
					w := machine.Win{Mode: site.ModeID(m), State: i, Stage: j, Setting: k}
					f := &finder{found: []Finding{p.neverWinsFinding(w, &sg.Settings[k], notStarted)}}
					f.run = func(ctx context.Context) (bool, error) { return p.seekWin(ctx, w, f) }
					out = append(out, f)
				}
			}
		}
	}
	return out
}

// seekWin looks for a moment at which the setting decides one of its circuits.
func (p *prover) seekWin(ctx context.Context, w machine.Win, f *finder) (again bool, err error) {
	set := &p.site.Modes[w.Mode].States[w.State].Stages[w.Stage].Settings[w.Setting]
	why := ""
	for _, c := range set.Circuits {
		goal := machine.NoGoal()
		w.Circuit = c
		goal.Win = &w
		piece := observe.Piece{Observer: observe.None(), Given: []*site.Expr{{Op: site.OpMode, Mode: w.Mode}}}
		a, err := p.decide(ctx, question{piece: piece, goal: goal, requests: []site.CircuitID{c}})
		if err != nil {
			return false, err
		}
		f.stats.Add(a.stats)
		switch a.state {
		case reached:
			f.found = nil
			return false, nil
		case undecided:
			why, again = p.soFar(&a), again || a.more
		}
	}
	f.found = []Finding{p.neverWinsFinding(w, set, why)}
	return again, nil
}

func (p *prover) neverWinsFinding(w machine.Win, set *site.Setting, why string) Finding {
	md := &p.site.Modes[w.Mode]
	names := p.site.CircuitsText(set.Circuits)
	fd := Finding{Code: CodeNeverWins, Mode: w.Mode, Span: set.Span, Related: []source.Related{{Span: md.Span, Label: "in this mode"}}}
	if why != "" {
		fd.Undecided = true
		fd.Message = fmt.Sprintf("whether this setting of %s can ever decide %s is undecided: %s", md.Name, names, why)
	} else {
		fd.Message = fmt.Sprintf("this setting of %s never decides the light of %s", md.Name, names)
		if later := coveredBy(md.States[w.State].Stages[w.Stage].Settings, w.Setting); later != nil {
			fd.Related = append(fd.Related, source.Related{Span: later.Span, Label: "this later setting of the same stage always counts instead"})
		}
	}
	return fd
}

// coveredBy finds a later setting of the stage that asks the same circuits for light whatever the condition.
func coveredBy(settings []site.Setting, k int) *site.Setting {
	for i := len(settings) - 1; i > k; i-- {
		later := &settings[i]
		always := slices.ContainsFunc(later.Cases, func(c site.Case) bool { return c.When == nil })
		missing := func(c site.CircuitID) bool { return !slices.Contains(later.Circuits, c) }
		if always && !slices.ContainsFunc(settings[k].Circuits, missing) {
			return later
		}
	}
	return nil
}
