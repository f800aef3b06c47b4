// Findings: a mode that can never become active, a setting that never wins.

package checker

import (
	"context"
	"fmt"

	"lampwarden/checker/machine"
	"lampwarden/checker/observe"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

func (p *prover) neverActive() (out []*finder) {
	for m := range p.site.Modes {
		id := site.ModeID(m)
		f := &finder{}
		f.run = func(ctx context.Context) error {
			goal := observe.Goal(&site.Expr{Op: site.OpMode, Mode: id})
			a, err := p.decide(ctx, question{piece: observe.Piece{Observer: goal}, goal: machine.NoGoal()})
			f.stats = a.stats
			md := &p.site.Modes[id]
			switch a.state {
			case safe:
				f.found = []Finding{{Code: CodeNeverActive, Span: md.Span, Message: "mode " + md.Name + " can never become active"}}
			case undecided:
				f.found = []Finding{{Code: CodeNeverActive, Span: md.Span, Undecided: true,
					Message: fmt.Sprintf("whether mode %s can become active is undecided: %s", md.Name, a.why)}}
			}
			return err
		}
		out = append(out, f)
	}
	return out
}

// settingRef names a setting of the site.
type settingRef struct {
	mode                  site.ModeID
	state, stage, setting int
}

// neverWins looks for settings that decide none of their circuits in any run. A
// setting is sought on its circuits in turn; all settings whose turn is at one
// circuit share a search.
func (p *prover) neverWins() []*finder {
	todo := map[site.CircuitID][]settingRef{}
	var order []settingRef
	for m := range p.site.Modes {
		for i, st := range p.site.Modes[m].States {
			for j, sg := range st.Stages {
				for k, set := range sg.Settings {
					if len(set.Circuits) > 0 {
						r := settingRef{site.ModeID(m), i, j, k}
						todo[set.Circuits[0]] = append(todo[set.Circuits[0]], r)
						order = append(order, r)
					}
				}
			}
		}
	}
	results := map[settingRef]*wins{}
	for _, r := range order {
		results[r] = &wins{}
	}
	var out []*finder
	for c := range p.site.Circuits {
		if refs := todo[site.CircuitID(c)]; len(refs) > 0 {
			f := &finder{}
			f.run = func(ctx context.Context) error { return p.seekWins(ctx, site.CircuitID(c), refs, results, f) }
			out = append(out, f)
		}
	}
	return out
}

// wins is what is known of one setting.
type wins struct {
	won bool
	why string // not decided, and why
}

// seekWins decides the settings whose first circuit is c, going on to their other
// circuits for those that never win there.
func (p *prover) seekWins(ctx context.Context, c site.CircuitID, refs []settingRef, results map[settingRef]*wins, f *finder) error {
	for len(refs) > 0 {
		batch := refs[:min(64, len(refs))]
		refs = refs[len(batch):]
		if err := p.seekBatch(ctx, c, batch, results, f); err != nil {
			return err
		}
		for _, r := range batch {
			circuits := p.settingOf(r).Circuits
			for _, other := range circuits[1:] {
				if results[r].won {
					break
				}
				if err := p.seekBatch(ctx, other, []settingRef{r}, results, f); err != nil {
					return err
				}
			}
			p.reportWin(r, results[r], f)
		}
	}
	return nil
}

func (p *prover) settingOf(r settingRef) *site.Setting {
	return &p.site.Modes[r.mode].States[r.state].Stages[r.stage].Settings[r.setting]
}

// seekBatch searches for moments at which the settings decide circuit c.
func (p *prover) seekBatch(ctx context.Context, c site.CircuitID, refs []settingRef, results map[settingRef]*wins, f *finder) error {
	goal := machine.NoGoal()
	for _, r := range refs {
		goal.Wins = append(goal.Wins, machine.Win{Mode: r.mode, State: r.state, Stage: r.stage, Setting: r.setting, Circuit: c})
	}
	a, err := p.decide(ctx, question{piece: observe.Piece{Observer: observe.None()}, goal: goal,
		requests: []site.CircuitID{c}, marks: ^uint64(0) >> (64 - len(refs))})
	if err != nil {
		return err
	}
	f.stats.Add(a.stats)
	for i, r := range refs {
		switch {
		case a.marks>>i&1 == 1:
			results[r].won = true
		case a.never>>i&1 == 0:
			results[r].why = a.why
		}
	}
	return nil
}

func (p *prover) reportWin(r settingRef, w *wins, f *finder) {
	if w.won {
		return
	}
	md, set := &p.site.Modes[r.mode], p.settingOf(r)
	names := ""
	for i, c := range set.Circuits {
		if i == 3 && len(set.Circuits) > 4 {
			names += fmt.Sprintf(" and %d more", len(set.Circuits)-i)
			break
		}
		if i > 0 {
			names += ", "
		}
		names += p.site.Circuits[c].Name
	}
	fd := Finding{Code: CodeNeverWins, Span: set.Span, Related: []source.Related{{Span: md.Span, Label: "in this mode"}}}
	if w.why != "" {
		fd.Undecided = true
		fd.Message = fmt.Sprintf("whether this setting of %s can ever decide %s is undecided: %s", md.Name, names, w.why)
	} else {
		fd.Message = fmt.Sprintf("this setting of %s never decides the light of %s: another mode always wins", md.Name, names)
	}
	f.found = append(f.found, fd)
}
