// What a mode or a state asks for: stages of settings.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// maxPhases bounds the on and off parts of a flash that has an end.
const maxPhases = 2000

func (r *resolver) asks(sc scope, a *syntax.Asks) []site.Stage {
	if a == nil {
		return nil
	}
	var out []site.Stage
	for i, st := range a.Stages {
		if st.Word == "first" && i > 0 {
			d := r.errorf(source.StageOrder, st.Span, "`first` stands at the start of a sequence")
			d.Suggestion = "write `then`"
		}
		last := i == len(a.Stages)-1
		if t := r.turnOf(a, i); t != nil {
			out = append(out, r.inTurn(sc, st, t, out, last)...)
			continue
		}
		stage := r.stage(sc, st)
		if stage.For == 0 && !last && st.For == nil && !r.badFlash(st) {
			d := r.errorf(source.EndlessStage, st.Span, "this stage never ends")
			relate(d, a.Stages[i+1].Span, "so this one is never reached")
			d.Suggestion = "give it a length: `" + orFirst(st.Word) + " for 5 s ...`"
		}
		out = append(out, stage)
	}
	return out
}

func orFirst(word string) string {
	if word == "" {
		return "first"
	}
	return word
}

// badFlash tells that the stage's length could not be known because of a flash
// that was reported.
func (r *resolver) badFlash(st *syntax.Stage) bool {
	for _, s := range st.Settings {
		if s.Flash != nil && s.Flash.Times != nil {
			return true
		}
	}
	return false
}

func (r *resolver) stage(sc scope, st *syntax.Stage) site.Stage {
	out := site.Stage{Span: st.Span}
	if st.For != nil {
		out.For = r.duration(st.For)
	}
	var rhythm *syntax.FlashSetting
	for _, s := range st.Settings {
		if s.Turn != nil { // it does not stand alone, which has been reported
			continue
		}
		if s.Flash != nil {
			rhythm = r.flash(&out, s.Flash, rhythm)
		}
		out.Settings = append(out.Settings, r.settings(sc, s)...)
	}
	if rhythm != nil && out.Flash != nil {
		r.flashLength(&out, st, rhythm)
	}
	return out
}

// flash notes the stage's rhythm, which all its flashes share.
func (r *resolver) flash(out *site.Stage, f, before *syntax.FlashSetting) *syntax.FlashSetting {
	this := site.Flash{On: r.duration(f.On), Off: r.duration(f.Off)}
	if f.Times != nil {
		var ok bool
		if this.Times, ok = r.count(f.Times); !ok {
			this.Times = 1
		}
		if this.Times < 1 {
			r.errorf(source.BadCount, f.Times.Span, "a flash is at least 1 time")
		}
	}
	if f.Level != nil && r.showsNothing(f.Level) {
		r.errorf(source.FlashConflict, f.Level.Span, "a flash between off and off shows nothing")
	}
	if before == nil {
		out.Flash = &this
		return f
	}
	if *out.Flash != this {
		d := r.errorf(source.FlashConflict, f.Span, "the flashes of one stage have one rhythm")
		relate(d, before.Span, "this one has another")
	}
	return before
}

// flashLength gives a stage with a counted flash its length, and bounds the
// number of phases.
func (r *resolver) flashLength(out *site.Stage, st *syntax.Stage, f *syntax.FlashSetting) {
	period := out.Flash.On + out.Flash.Off
	if period <= 0 {
		return
	}
	phases := 2 * int64(out.Flash.Times)
	if out.Flash.Times == 0 && out.For > 0 {
		phases = 2 * int64((out.For+period-1)/period)
	}
	switch {
	case out.Flash.Times > 0 && st.For != nil:
		d := r.errorf(source.FlashConflict, f.Times.Span, "a counted flash gives the stage its length")
		relate(d, st.For.Span, "here it has another one")
	case phases > maxPhases || int64(out.Flash.Times) > maxPhases:
		d := r.errorf(source.FlashTooLong, f.Span, "this flash has more than %d on and off parts in one stage", maxPhases)
		d.Suggestion = "let it go on without end, and let the mode end"
	case out.Flash.Times > 0:
		out.For = site.Millis(out.Flash.Times) * period
	}
}

func (r *resolver) setting(sc scope, s *syntax.Setting) site.Setting {
	out := site.Setting{Span: s.Span}
	switch {
	case s.Keep != nil:
		out.Circuits, out.Cases = r.keep(sc, s.Keep)
		r.kept = append(r.kept, out)
	case s.Flash != nil:
		out.Circuits, out.Flashing = r.targets(sc, s.Flash.Targets), true
		out.Cases = []site.Case{{Level: site.Full, Span: s.Flash.Span}}
		if s.Flash.Level != nil {
			out.Cases[0].Level = r.level(s.Flash.Level)
			r.suits(out.Circuits, s.Flash.Level)
		}
	case s.Level != nil:
		out.Circuits = r.targets(sc, s.Targets)
		out.Cases = []site.Case{{Level: r.level(s.Level), Span: s.Level.Span}}
		r.suits(out.Circuits, s.Level)
	case s.Ramp != nil:
		out.Circuits = r.targets(sc, s.Targets)
		out.Cases = []site.Case{{Level: r.level(s.Ramp.Level), Over: r.over(out.Circuits, s.Ramp), Span: s.Ramp.Span}}
		r.suits(out.Circuits, s.Ramp.Level)
	default:
		out.Circuits = r.targets(sc, s.Targets)
		out.Cases = r.cases(sc, out.Circuits, s.Cases)
	}
	return out
}

// cases keeps the written order, in which the first case that holds counts; `otherwise` stands last by the grammar.
func (r *resolver) cases(sc scope, ids []site.CircuitID, list []*syntax.Case) []site.Case {
	var out []site.Case
	for _, c := range list {
		k := site.Case{Span: c.Span}
		level := c.Level
		if c.Ramp != nil {
			level = c.Ramp.Level
			k.Over = r.over(ids, c.Ramp)
		}
		if level != nil {
			k.Level = r.level(level)
			r.suits(ids, level)
		}
		if c.When != nil {
			k.When = r.expr(sc.as(useCase), c.When)
		}
		out = append(out, k)
	}
	return out
}

// showsNothing tells that a flash between the level and off is none.
func (r *resolver) showsNothing(l *syntax.Level) bool {
	if l.Percent == nil {
		return l.Word == "off"
	}
	p, ok := r.percent(l.Percent)
	return ok && p == 0
}
