// First pass: every declared name, in written order, with its place in the
// table of its kind.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

func (r *resolver) declareAll(files []*syntax.File) {
	r.gatherLiterals(files)
	for _, f := range files {
		for _, d := range f.Decls {
			r.decls = append(r.decls, d)
			r.declareNames(d)
		}
	}
	for _, f := range files {
		r.declareBroken(f)
	}
}

// declareNames enters what one declaration declares. A second thing of a taken
// name gets its place in the table too, so that its body is looked at.
func (r *resolver) declareNames(d syntax.Decl) {
	s := r.site
	switch d := d.(type) {
	case *syntax.SupplyDecl:
		for _, id := range d.Names {
			r.declareMains(id)
		}
	case *syntax.BatteryDecl:
		r.declareBattery(d)
	case *syntax.GeneratorDecl:
		r.declareGenerator(d)
	case *syntax.AreaDecl:
		r.at[d] = len(s.Areas)
		for _, id := range d.Names {
			s.Areas = append(s.Areas, site.Area{Name: id.Name, Parent: site.None, Span: id.Span})
			r.declare(id, kindArea, len(s.Areas)-1)
		}
	case *syntax.CircuitDecl:
		r.at[d] = len(s.Circuits)
		for _, ref := range d.Names {
			r.declareCircuits(ref)
		}
		r.past[d] = len(s.Circuits)
	case *syntax.ScheduleDecl:
		r.readSchedule(d)
	case *syntax.GroupDecl:
		r.at[d] = len(s.Groups)
		s.Groups = append(s.Groups, site.Group{Name: d.Name.Name, Span: d.Name.Span})
		r.declare(d.Name, kindGroup, len(s.Groups)-1)
	case *syntax.InputDecl:
		r.at[d] = len(s.Inputs)
		for _, id := range d.Names {
			s.Inputs = append(s.Inputs, site.Input{Name: id.Name, Kind: inputKind(d.Kind), Area: site.None, Span: id.Span})
			r.declare(id, kindInput, len(s.Inputs)-1)
			if d.Latched != nil {
				r.latches = append(r.latches, latch{input: site.InputID(len(s.Inputs) - 1), decl: d, mode: site.None})
				r.latchOf[site.InputID(len(s.Inputs)-1)] = len(r.latches) - 1
			}
		}
	case *syntax.CurveDecl:
		r.at[d] = len(r.curves)
		r.curves = append(r.curves, curve{name: d.Name.Name, span: d.Name.Span})
		r.declare(d.Name, kindCurve, len(r.curves)-1)
	case *syntax.DaylightDecl:
		r.at[d] = len(r.sensors)
		r.sensors = append(r.sensors, newSensor(d))
		r.declare(d.Name, kindSensor, len(r.sensors)-1)
	case *syntax.BandDecl:
		r.at[d] = len(s.Bands)
		s.Bands = append(s.Bands, site.Band{Name: d.Name.Name, Span: d.Name.Span})
		r.declare(d.Name, kindBand, len(s.Bands)-1)
	case *syntax.OutputDecl:
		for _, id := range d.Names {
			r.declareOutput(id, "")
		}
	case *syntax.NoticeDecl:
		if d.Text.Value == "" {
			r.errorf(source.NoTitle, d.Text.Span, "a notice says something")
		}
		r.declareOutput(d.Name, d.Text.Value)
	case *syntax.HolidaysDecl:
		r.declareHolidays(d)
	case *syntax.DaysDecl:
		r.daySets = append(r.daySets, r.daySetOf(d.Days))
		r.declare(d.Name, kindDays, len(r.daySets)-1)
	case *syntax.ConstantDecl:
		r.declare(d.Name, kindConstant, r.newConstant(literalValue(d.Value)))
	case *syntax.ParameterDecl:
		e := r.errorf(source.WrongFile, d.Span, "only a requirement pack has parameters")
		e.Suggestion = "write `constant " + d.Name.Name + " = ...`, or use the pack that this file is with `use`"
		r.names[d.Name.Name] = &symbol{name: d.Name.Name, kind: kindBroken, span: d.Name.Span}
	case *syntax.ModeDecl:
		r.modes = append(r.modes, newModeDecl(d))
		r.declare(d.Name, kindMode, len(r.modes)-1)
	}
}

// declareMains enters a mains supply and its hidden health input.
func (r *resolver) declareMains(id *syntax.Ident) {
	s := r.site
	health := site.InputID(len(s.Inputs))
	s.Inputs = append(s.Inputs, site.Input{Name: id.Name, Kind: site.SupplyHealth, Area: site.None, Span: id.Span})
	s.Supplies = append(s.Supplies, site.Supply{Name: id.Name, Health: health, Flat: site.None, ChargedBy: site.None, Span: id.Span})
	r.declare(id, kindSupply, len(s.Supplies)-1)
}

func inputKind(word string) site.InputKind {
	switch word {
	case "presence":
		return site.Presence
	case "contact":
		return site.Contact
	case "alarm":
		return site.Alarm
	case "switch":
		return site.Switch
	case "bell":
		return site.Bell
	default:
		return site.Button
	}
}
