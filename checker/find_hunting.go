// Finding: lamps that switch themselves, by the light that a daylight sensor sees of them.

package checker

import (
	"context"
	"fmt"
	"slices"

	"lampwarden/checker/machine"
	"lampwarden/checker/observe"
	"lampwarden/checker/rehearse"
	"lampwarden/checker/strength"
	"lampwarden/checker/trace"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

func (p *prover) hunting() (out []*finder) {
	for m := range p.site.Modes {
		id := site.ModeID(m)
		if !p.wants(strength.Check{Code: CodeHunting, Mode: id}) || !readsSeen(&p.site.Modes[m]) {
			continue
		}
		f := &finder{found: []Finding{p.huntOpen(id, notStarted)}}
		f.run = func(ctx context.Context) (bool, error) { return p.hunts(ctx, id, f) }
		out = append(out, f)
	}
	return out
}

// readsSeen tells whether the mode's own conditions read what the sensors see of lamps.
func readsSeen(m *site.Mode) bool {
	found := false
	see := func(e *site.Expr) {
		e.Walk(func(x *site.Expr) { found = found || x.Op == site.OpSum && x.Seen })
	}
	see(m.Cond)
	for _, t := range slices.Concat(m.Starts, m.Ends) {
		see(t.On)
		see(t.If)
	}
	for _, t := range m.Transitions {
		see(t.Trigger.On)
		see(t.Trigger.If)
	}
	return found
}

func (p *prover) hunts(ctx context.Context, m site.ModeID, f *finder) (again bool, err error) {
	active := &site.Expr{Op: site.OpMode, Mode: m}
	causes := machine.NewSlice(p.site, p.setters, machine.Question{Exprs: []*site.Expr{active}}).Causes()
	a, err := p.decide(ctx, question{piece: observe.Piece{Observer: observe.Hunts(m, active, &causes)}, goal: machine.NoGoal()})
	if err != nil {
		return false, err
	}
	f.stats.Add(a.stats)
	f.found = nil
	switch a.state {
	case undecided:
		f.found = []Finding{p.huntOpen(m, p.soFar(&a))}
	case reached:
		ce, err := trace.Build(a.site, a.path, a.focus, func(tl *rehearse.Timeline) (rehearse.Judgement, bool) {
			h, ok, err := rehearse.Hunts(a.site, tl, m)
			return rehearse.Judgement{At: h.Second, Since: h.First}, ok && err == nil
		}, p.enough)
		if err != nil {
			return false, err
		}
		f.found = []Finding{p.hunt(m, ce)}
	}
	return a.more, nil
}

// huntOpen says why it is undecided.
func (p *prover) huntOpen(m site.ModeID, why string) Finding {
	md := &p.site.Modes[m]
	return Finding{Code: CodeHunting, Mode: m, Undecided: true, Span: md.Span,
		Message: fmt.Sprintf("whether the lamps keep switching %s is undecided: %s", md.Name, why)}
}

// hunt words the finding with the circuits whose own light is seen.
func (p *prover) hunt(m site.ModeID, ce *trace.Counterexample) Finding {
	md := &p.site.Modes[m]
	f := Finding{Code: CodeHunting, Mode: m, Counterexample: ce, Span: md.Span}
	names := ""
	for _, c := range ce.Focus {
		if cir := &p.site.Circuits[c]; cir.SeenAfter > 0 {
			if names != "" {
				names += ", "
			}
			names += cir.Name
			f.Related = append(f.Related, source.Related{Span: cir.Span, Label: fmt.Sprintf("its light, up to %d lux, is seen by the sensor", cir.Adds)})
		}
	}
	f.Message = fmt.Sprintf("the light of %s switches itself for ever: %s comes and goes with no cause from outside", names, md.Name)
	return f
}
