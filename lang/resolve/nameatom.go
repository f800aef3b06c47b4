// Atoms that begin with a name: what they say depends on what the name is.

package resolve

import (
	"slices"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

func (r *resolver) nameAtom(sc scope, a *syntax.NameAtom) *site.Expr {
	if a.Fault != nil {
		return r.faultAtom(sc, a)
	}
	if sc.name != "" && a.Name.Name == sc.name {
		return r.bareArea(sc, a)
	}
	s := r.find(a.Name, kindInput, kindSupply, kindBand, kindMode, kindCircuit, kindGroup, kindOutput, kindArea, kindBattery,
		kindSensor, kindGenerator)
	if s == nil {
		return poison(a.Span)
	}
	if a.Numbers != nil && s.kind != kindCircuit && s.kind != kindGroup {
		r.noNumbers(s, a.Numbers)
		return poison(a.Span)
	}
	switch s.kind {
	case kindArea:
		return r.bareArea(sc, a)
	case kindBattery:
		return r.batteryAtom(a, s)
	case kindGenerator:
		return r.generatorAtom(sc, a, s)
	case kindMode:
		return r.modeAtom(sc, a, r.modes[s.id])
	case kindBand:
		if r.plain(a, s) {
			return r.bandHolds(site.BandID(s.id), a.Span)
		}
	case kindCircuit, kindGroup:
		return r.lightAtom(sc, a, s)
	case kindSensor:
		return r.sensorAtom(sc, a, s)
	case kindOutput:
		return r.outputAtom(sc, a, s)
	case kindSupply:
		return r.inputAtom(sc, a, s, r.site.Supplies[s.id].Health)
	case kindInput:
		return r.inputAtom(sc, a, s, site.InputID(s.id))
	}
	return poison(a.Span)
}

// bareArea reports an area where a condition is wanted.
func (r *resolver) bareArea(sc scope, a *syntax.NameAtom) *site.Expr {
	d := r.errorf(source.WrongKind, a.Name.Span, "`%s` is an area, which is no condition of its own", a.Name.Name)
	d.Suggestion = "write `presence in " + a.Name.Name + "`"
	if sc.use == useRequirement || sc.use == useExpectation {
		d.Suggestion += " or `area " + a.Name.Name + " lit`"
	}
	return poison(a.Span)
}

// plain reports words after a name that takes none.
func (r *resolver) plain(a *syntax.NameAtom, s *symbol) bool {
	if len(a.In) == 0 && a.Stage == nil && a.State == "" && a.Light == nil {
		return true
	}
	r.wrongWord(a, s, "nothing")
	return false
}

// wrongWord reports words after a name that do not fit its kind.
func (r *resolver) wrongWord(a *syntax.NameAtom, s *symbol, wanted string) *site.Expr {
	d := r.errorf(source.WrongWord, a.Span, "this cannot be said of %s", r.describe(s))
	relate(d, s.span, "`%s` is declared here", s.name)
	d.Notes = append(d.Notes, "after "+r.describe(s)+" can stand: "+wanted)
	return poison(a.Span)
}

// inputAtom is a level input with or without a word for its value, or a bell.
func (r *resolver) inputAtom(sc scope, a *syntax.NameAtom, s *symbol, id site.InputID) *site.Expr {
	k := r.site.Inputs[id].Kind
	if k == site.Button {
		d := r.errorf(source.WrongWord, a.Span, "`%s` is a button: say how it is pressed", s.name)
		d.Suggestion = "write `tap " + s.name + "`, `double tap`, `triple tap` or `long press`"
		return poison(a.Span)
	}
	if len(a.In) > 0 || a.Stage != nil || a.Light != nil {
		return r.wrongWord(a, s, valueWords(k))
	}
	if k == site.Bell {
		if a.State != "rings" {
			r.wrongWord(a, s, valueWords(k))
			return poison(a.Span)
		}
		return r.event(sc, id, site.Tap, a.Span)
	}
	if k == site.Alarm {
		return r.alarmAtom(sc, a, s, id)
	}
	level := &site.Expr{Op: site.OpInput, Input: id, Span: a.Span}
	switch {
	case a.State == "" && k == site.SupplyHealth:
		d := r.errorf(source.WrongWord, a.Span, "`%s` alone does not say whether it is live or lost", s.name)
		d.Suggestion = "write `" + s.name + " lost` or `" + s.name + " live`"
		return poison(a.Span)
	case a.State == "":
		return level
	case k != site.Presence && a.State == k.ValueWord(true):
		return level
	case k != site.Presence && a.State == k.ValueWord(false):
		return not(level, a.Span)
	}
	return r.wrongWord(a, s, valueWords(k))
}

// valueWords lists what may stand after the name of an input.
func valueWords(k site.InputKind) string {
	switch k {
	case site.Bell:
		return "`rings`"
	case site.Presence:
		return "nothing"
	case site.SupplyHealth:
		return "`live` or `lost`"
	case site.Alarm:
		return "nothing, `raised`, `clear` or `sensed`"
	}
	return "nothing, `" + k.ValueWord(true) + "` or `" + k.ValueWord(false) + "`"
}

// lightAtom is a comparison of a circuit, or of each circuit of a group.
func (r *resolver) lightAtom(sc scope, a *syntax.NameAtom, s *symbol) *site.Expr {
	const wanted = "`lit`, `off`, `at full`, `at 30 %`, `above 10 %`, `below 10 %`, `at least 5 %`, `at most 5 %`, " +
		"`between 5 % and 20 %`, or a colour, such as `red` or `above 3000 K`"
	if !r.lightAllowed(sc, a.Span) {
		return poison(a.Span)
	}
	lr := dark()
	switch {
	case len(a.In) == 0 && a.Stage == nil && r.isColour(a.Light):
		if ids, ok := r.circuitsOfRef(s, a.Numbers); ok {
			return r.colourAtom(ids, a.Light, a.Span)
		}
		return poison(a.Span)
	case len(a.In) == 0 && a.Stage == nil && a.Light != nil:
		var ok bool
		if lr, ok = r.lightRange(a.Light); !ok {
			return poison(a.Span)
		}
	case a.State == "on":
		d := r.errorf(source.WrongWord, a.Span, "`on` is said of an output; `%s` is %s", s.name, r.describe(s))
		relate(d, s.span, "declared here")
		d.Suggestion = "write `" + s.name + " lit` or `" + s.name + " at full`"
		return poison(a.Span)
	case len(a.In) > 0 || a.Stage != nil || a.State != "off":
		return r.wrongWord(a, s, wanted)
	}
	ids, ok := r.circuitsOfRef(s, a.Numbers)
	switch {
	case !ok:
		return poison(a.Span)
	case s.kind == kindCircuit || a.Numbers != nil && len(ids) == 1:
		return lr.on(r.site, ids[0], a.Span)
	}
	return r.overCircuits(site.OpAnd, ids, lr, a.Span)
}

// modeAtom is a mode, its state or its stage, for one instance or for any.
func (r *resolver) modeAtom(sc scope, a *syntax.NameAtom, m *modeDecl) *site.Expr {
	s := r.names[a.Name.Name]
	if a.Light != nil || a.State != "" && a.State != "active" {
		return r.wrongWord(a, s, "nothing, `active`, `in STATE`, `in stage N`, and for a template `in AREA`")
	}
	if sc.use == useReset {
		d := r.errorf(source.ModeNotHere, a.Span, "the mode `%s` cannot stand in the reset of an alarm", s.name)
		relate(d, s.span, "declared here")
		d.Notes = append(d.Notes, "the panel that latches an alarm sees inputs and bands, not what the controller does")
		return poison(a.Span)
	}
	ids, rest, any := r.chosen(sc, a, m)
	if a.Stage != nil && len(rest) == 0 {
		ids = r.withStage(m, a, ids)
	}
	if len(ids) == 0 {
		return poison(a.Span)
	}
	node := site.Expr{Op: site.OpMode, Span: a.Span}
	switch {
	case len(rest) > 1:
		return r.wrongWord(a, s, "`in STATE`")
	case len(rest) == 1 && a.Stage != nil:
		return r.wrongWord(a, s, "either a state or a stage")
	case len(rest) == 1:
		node.Op, node.State = site.OpState, r.stateNamed(m, rest[0])
	case a.Stage != nil:
		node.Op, node.State = site.OpStage, r.stageNumber(a)
	}
	if node.State < 0 || !r.spend(len(ids), a.Span) {
		return poison(a.Span)
	}
	kids := make([]*site.Expr, len(ids))
	for i, id := range ids {
		kid := node
		kid.Mode = id
		kids[i] = &kid
		r.dependsOn(sc, id, a.Span)
	}
	if any {
		return &site.Expr{Op: site.OpOr, Kids: kids, Span: a.Span}
	}
	return kids[0]
}

// chosen lists the modes that an atom names, and the words after "in" that are
// not the area of an instance. A template alone, or with one of its states,
// means any of its instances. No modes: reported, or poison.
func (r *resolver) chosen(sc scope, a *syntax.NameAtom, m *modeDecl) (ids []site.ModeID, rest []*syntax.Ident, any bool) {
	if m.decl.Each == nil {
		return []site.ModeID{m.first}, a.In, false
	}
	if len(a.In) == 0 || len(a.In) == 1 && m.stateIndex(a.In[0].Name) >= 0 {
		return m.all(), a.In, true
	}
	area := r.areaNamed(sc, a.In[0])
	if area == poisonArea {
		return nil, nil, false
	}
	id := r.instance(m, area, a.In[0])
	if id == site.None {
		return nil, nil, false
	}
	return []site.ModeID{id}, a.In[1:], false
}

// instance finds the instance of a template in an area, or reports and returns None.
func (r *resolver) instance(m *modeDecl, area site.AreaID, at *syntax.Ident) site.ModeID {
	if i := slices.Index(m.areas, area); i >= 0 {
		return m.first + site.ModeID(i)
	}
	if len(m.areas) > 0 && !m.unsure {
		d := r.errorf(source.UnknownName, at.Span, "there is no mode `%s in %s`", m.decl.Name.Name, r.site.Areas[area].Name)
		relate(d, m.decl.Each.Span, "this takes in other areas only")
	}
	return site.None
}

func (r *resolver) stateNamed(m *modeDecl, id *syntax.Ident) int {
	if i := m.stateIndex(id.Name); i >= 0 {
		return i
	}
	d := r.errorf(source.UnknownName, id.Span, "the mode `%s` has no state `%s`", m.decl.Name.Name, id.Name)
	relate(d, m.decl.Name.Span, "declared here")
	suggestName(d, id.Span, id.Name, m.stateNames())
	return site.None
}

// stageNumber turns a stage counted from 1 into an index.
func (r *resolver) stageNumber(a *syntax.NameAtom) int {
	n, ok := r.count(a.Stage)
	if !ok {
		return site.None
	}
	return n - 1
}

// withStage leaves the modes that have the stage, or reports that there are none.
func (r *resolver) withStage(m *modeDecl, a *syntax.NameAtom, ids []site.ModeID) []site.ModeID {
	n, ok := r.count(a.Stage)
	if !ok || len(ids) == 0 {
		return nil
	}
	most := 0
	var out []site.ModeID
	for _, id := range ids {
		stages := m.stages[id-m.first]
		most = max(most, stages)
		if 1 <= n && n <= stages {
			out = append(out, id)
		}
	}
	if len(out) == 0 {
		d := r.errorf(source.UnknownStage, a.Stage.Span, "the mode `%s` has no stage %s", m.decl.Name.Name, a.Stage.Raw)
		relate(d, m.decl.Name.Span, "declared here")
		d.Notes = append(d.Notes, stageNote(most))
	}
	return out
}

// dependsOn notes that the mode of the scope names another one.
func (r *resolver) dependsOn(sc scope, on site.ModeID, sp source.Span) {
	if sc.mode != site.None {
		r.needs(sc.mode, on, sp)
	}
}
