// Where a condition stands: what it may speak of, and the template's variable.

package resolve

import (
	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// use is what a condition is for.
type use uint8

const (
	useWhile use = iota
	useCase
	useJoin
	useReset // of a latched alarm: an event or what lasts, but nothing that the controller does
	useTrigger
	useGuard
	useRequirement
	useExpectation
	useAssumption // one level input, or not one
	useStep       // one input change or event
)

// String tells the use in a message: "... cannot stand in X".
func (u use) String() string {
	return [...]string{"a `while` condition", "a case of a setting", "the condition of a join", "the reset of an alarm", "a trigger", "an `if`", "a requirement",
		"an expectation", "an assumption", "a step of a scenario"}[u]
}

// inMode tells that the condition belongs to a mode.
func (u use) inMode() bool { return u <= useGuard }

// lasting tells that the condition is read for as long as it holds, not at an
// instant of its own: an event or a `was` in it would have no length.
func (u use) lasting() bool { return u == useWhile || u == useCase || u == useJoin }

// scope is the surroundings of a condition.
type scope struct {
	use  use
	name string      // the template's variable, or ""
	area site.AreaID // what it stands for, or poisonArea
	mode site.ModeID // the mode that the condition belongs to, or None
	// alone tells that presence in an area does not mean presence in those joined with it.
	alone bool
	// alarm is one more than the id of the alarm that the condition resets, or 0.
	alarm site.InputID
	even  *evenSet // what a requirement bears
}

// poisonArea stands for an area where none could be found. It fits everywhere.
const poisonArea site.AreaID = -2

// poisonN marks the expression that stands for one that could not be resolved.
const poisonN = -1

func poison(sp source.Span) *site.Expr {
	return &site.Expr{Op: site.OpFalse, N: poisonN, Span: sp}
}

func isPoison(e *site.Expr) bool { return e.Op == site.OpFalse && e.N == poisonN }

func (sc scope) as(u use) scope {
	sc.use = u
	return sc
}

// areaNamed resolves an area's name or the template's variable. It returns
// poisonArea if there is none, which has been reported.
func (r *resolver) areaNamed(sc scope, id *syntax.Ident) site.AreaID {
	if sc.name != "" && id.Name == sc.name {
		return sc.area
	}
	if s := r.names[id.Name]; s == nil && sc.name != "" {
		d := r.errorf(source.UnknownName, id.Span, "there is no area named `%s`", id.Name)
		suggestName(d, id.Span, id.Name, append([]string{sc.name}, r.known([]kind{kindArea})...))
		return poisonArea
	}
	if s := r.find(id, kindArea); s != nil {
		return site.AreaID(s.id)
	}
	return poisonArea
}

// eachArea lists the areas of a `for each` clause, and reports one that has none.
func (r *resolver) eachArea(each *syntax.ForEach) []site.AreaID {
	if old := r.names[each.Var.Name]; old != nil && old.kind != kindBroken {
		d := r.errorf(source.DuplicateName, each.Var.Span, "the name `%s` is already taken", each.Var.Name)
		relate(d, old.span, "it is %s, declared here", r.describe(old))
	}
	var out []site.AreaID
	tagged, sure := r.chosenAreas(scope{}, each.Tags, each.In)
	for _, a := range tagged {
		if (!each.Presence || len(r.ownPresence(a)) > 0) && (!each.Circuits || len(r.ownCircuits(a)) > 0) &&
			(!each.Daylight || r.ownSensor(a)) {
			out = append(out, a)
		}
	}
	if len(out) == 0 && sure && len(tagged) > 0 && each.Circuits && !r.unsure[kindCircuit] {
		r.errorf(source.EmptySelection, each.Span, "none of these areas has a circuit")
	}
	if len(out) == 0 && sure && len(tagged) > 0 && each.Presence && !r.unsure[kindInput] {
		r.errorf(source.EmptySelection, each.Span, "none of these areas has a presence input")
	}
	if len(out) == 0 && sure && len(tagged) > 0 && each.Daylight && !r.unsure[kindSensor] {
		r.errorf(source.EmptySelection, each.Span, "none of these areas has a daylight sensor")
	}
	if len(tagged) == 0 && sure && len(each.Tags) == 0 && len(each.In) == 0 && !r.unsure[kindArea] {
		r.errorf(source.EmptySelection, each.Span, "the site has no areas")
	}
	return out
}

// taggedAreas lists the areas that carry one of the tags, in written order; no
// tags mean all areas. It reports tags that no area carries; sure is false if
// there was one, or may have been in a broken declaration.
func (r *resolver) taggedAreas(tags []*syntax.Ident) (out []site.AreaID, sure bool) {
	sure = !r.unsure[kindArea]
	for _, t := range tags {
		if !r.tagKnown(t.Name) {
			sure = false
			r.unknownTag(t)
		}
	}
	for i := range r.site.Areas {
		a := &r.site.Areas[i]
		take := len(tags) == 0
		for _, t := range tags {
			take = take || a.HasTag(t.Name)
		}
		if take {
			out = append(out, site.AreaID(i))
		}
	}
	return out, sure
}

func (r *resolver) tagKnown(tag string) bool { return r.tags[tag] }

func (r *resolver) unknownTag(t *syntax.Ident) {
	if r.unsure[kindArea] {
		return
	}
	d := r.errorf(source.EmptySelection, t.Span, "no area is tagged `%s`", t.Name)
	if s := r.names[t.Name]; s != nil && s.kind == kindArea {
		d.Suggestion = "`" + t.Name + "` is an area: name it without `areas`"
		return
	}
	var tags []string
	for i := range r.site.Areas {
		tags = append(tags, r.site.Areas[i].Tags...)
	}
	suggestName(d, t.Span, t.Name, tags)
}

func (r *resolver) presenceIn(a site.AreaID) []site.InputID { return r.presenceBy[a] }

func (r *resolver) circuitsIn(a site.AreaID) []site.CircuitID { return r.circuitsBy[a] }

// index notes what each area has, those in it included, once areas, circuits and inputs are known.
func (r *resolver) index() {
	r.presenceBy = map[site.AreaID][]site.InputID{}
	r.circuitsBy = map[site.AreaID][]site.CircuitID{}
	r.tags = map[string]bool{}
	r.indexJoins()
	for i := range r.site.Areas {
		for _, t := range r.site.Areas[i].Tags {
			r.tags[t] = true
		}
	}
	for i := range r.site.Inputs {
		if in := &r.site.Inputs[i]; in.Kind == site.Presence {
			for a := in.Area; a != site.None && r.spend(1, in.Span); a = r.site.Areas[a].Parent {
				r.presenceBy[a] = append(r.presenceBy[a], site.InputID(i))
			}
		}
	}
	for i := range r.site.Circuits {
		c := &r.site.Circuits[i]
		for a := c.Area; a != site.None && r.spend(1, c.Span); a = r.site.Areas[a].Parent {
			r.circuitsBy[a] = append(r.circuitsBy[a], site.CircuitID(i))
		}
	}
}
