// Conditions in the building's words.

package site

import (
	"fmt"
	"slices"
	"strings"
)

// How tightly an expression's text binds; a looser text inside a tighter place
// gets parentheses.
const (
	bindOr = iota
	bindAnd
	bindNot
	bindAtom
)

// ExprText gives a condition as readable text: "fire and not night",
// "hall_spots at full", "presence in hall". What quantifiers expanded to is
// folded back where the site has words for it. A nil expression is "always".
func (s *Site) ExprText(e *Expr) string {
	if e == nil {
		return "always"
	}
	text, _ := s.exprText(e)
	return text
}

// exprText returns the text of e and how tightly it binds.
func (s *Site) exprText(e *Expr) (string, int) {
	if e.Label != "" {
		return e.Label, bindAtom
	}
	e = s.unstuck(e)
	if text := s.foldText(e); text != "" {
		return text, bindAtom
	}
	switch e.Op {
	case OpTrue:
		return "always", bindAtom
	case OpFalse:
		return "never", bindAtom
	case OpNot:
		return s.notText(e.Kids[0])
	case OpAnd:
		return s.chainText(e.Kids, "and", bindAnd)
	case OpOr:
		return s.chainText(e.Kids, "or", bindOr)
	case OpAtMost:
		return s.countText("at most", e), bindAtom
	case OpAtLeast:
		return s.countText("at least", e), bindAtom
	case OpInput:
		return s.inputText(e.Input, true), bindAtom
	case OpEvent:
		return s.EventText(e.Input, e.Gesture), bindAtom
	case OpBand:
		return s.Bands[e.Band].Name, bindAtom
	case OpMode:
		return s.Modes[e.Mode].Name, bindAtom
	case OpState:
		m := &s.Modes[e.Mode]
		return m.Name + " in " + m.States[e.State].Name, bindAtom
	case OpStage:
		return fmt.Sprintf("%s in stage %d", s.Modes[e.Mode].Name, e.State+1), bindAtom
	case OpWas:
		inner, _ := s.exprText(e.Kids[0])
		return "was (" + inner + ")", bindAtom
	case OpSum:
		return s.sumText(e), bindAtom
	case OpLight:
		if c := &s.Circuits[e.Circuit]; c.Colour {
			return s.Circuits[c.Light].Name + " " + colourText(e), bindAtom
		}
		return s.Circuits[e.Circuit].Name + " " + s.rangeText(e), bindAtom
	}
	return fmt.Sprintf("operator %d", e.Op), bindAtom
}

// inputText tells the value of a level input in the present tense.
func (s *Site) inputText(id InputID, value bool) string {
	in := &s.Inputs[id]
	switch {
	case in.Kind == Daylight:
		return s.daylightText(in, value)
	case value && in.Kind != Contact && in.Kind != SupplyHealth:
		return in.Name
	case in.Kind == Presence || in.Kind == Failure:
		return "not " + in.Name
	case in.Kind == Flatness:
		return in.flatName() + " charged"
	}
	return in.Name + " " + in.Kind.ValueWord(value)
}

func (s *Site) notText(kid *Expr) (string, int) {
	kid = s.unstuck(kid)
	if kid.Op == OpInput {
		if k := s.Inputs[kid.Input].Kind; k == Contact || k == SupplyHealth || k == Daylight || k == Flatness {
			return s.inputText(kid.Input, false), bindAtom
		}
	}
	if a := s.presenceArea(kid); a != None {
		return "vacated " + s.Areas[a].Name, bindAtom
	}
	if what, cond, ok := s.lightSet(kid, OpOr); ok {
		return "no " + singular(what) + " " + cond, bindAtom
	}
	return "not " + s.boundText(kid, bindNot), bindNot
}

func (s *Site) chainText(kids []*Expr, word string, bind int) (string, int) {
	if len(kids) == 0 {
		return map[int]string{bindAnd: "always", bindOr: "never"}[bind], bindAtom
	}
	if len(kids) == 1 {
		return s.exprText(kids[0])
	}
	parts := make([]string, len(kids))
	for i, k := range kids {
		// An "and" in an "or" needs no parentheses, but a reader does.
		parts[i] = s.boundText(k, bindNot)
	}
	return strings.Join(parts, " "+word+" "), bind
}

func (s *Site) boundText(e *Expr, atLeast int) string {
	text, bind := s.exprText(e)
	if bind < atLeast {
		return "(" + text + ")"
	}
	return text
}

func (s *Site) countText(quantity string, e *Expr) string {
	if what, cond, ok := s.lightSet(e, e.Op); ok {
		return fmt.Sprintf("%s %d circuits%s %s", quantity, e.N, strings.TrimPrefix(singular(what), "circuit"), cond)
	}
	parts := make([]string, len(e.Kids))
	for i, k := range e.Kids {
		parts[i], _ = s.exprText(k)
	}
	return fmt.Sprintf("%s %d of (%s)", quantity, e.N, strings.Join(parts, "; "))
}

// foldText finds the short words for what one phrase of the language expanded
// to, or "".
func (s *Site) foldText(e *Expr) string {
	if a := s.presenceArea(e); a != None {
		return "presence in " + s.Areas[a].Name
	}
	if name := s.templateOf(e); name != "" {
		return name
	}
	if a := s.litArea(e); a != "" {
		return a
	}
	if name := s.dayBand(e); name != "" {
		return name
	}
	if what, cond, ok := s.lightSet(e, OpAnd); ok {
		if what == s.groupName(what) {
			return what + " " + cond
		}
		return "every " + singular(what) + " " + cond
	}
	if what, cond, ok := s.lightSet(e, OpOr); ok {
		return "any " + singular(what) + " " + cond
	}
	return ""
}

// dayBand returns the band that hangs on holidays and whose use expanded to e, else "".
func (s *Site) dayBand(e *Expr) string {
	if e.Op != OpAnd || len(e.Kids) != 2 || e.Kids[0].Op != OpBand {
		return ""
	}
	b, day := &s.Bands[e.Kids[0].Band], e.Kids[1]
	if b.Holidays == NotHolidays && day.Op == OpNot {
		day = day.Kids[0]
	} else if b.Holidays != OnHolidays {
		return ""
	}
	if day.Op != OpInput || s.Inputs[day.Input].Kind != Calendar {
		return ""
	}
	return b.Name
}

// groupName returns name if it is a group's, else "".
func (s *Site) groupName(name string) string {
	for i := range s.Groups {
		if s.Groups[i].Name == name {
			return name
		}
	}
	return ""
}

// singular turns "circuits in hall" into "circuit in hall", and a group's name
// into "circuit in" that group.
func singular(what string) string {
	if what == "circuits" || strings.HasPrefix(what, "circuits in ") {
		return "circuit" + what[len("circuits"):]
	}
	return "circuit in " + what
}

// presenceArea returns the area whose presence inputs are exactly the kids of
// the disjunction e, else None.
func (s *Site) presenceArea(e *Expr) AreaID {
	if e.Op != OpOr || len(e.Kids) == 0 {
		return None
	}
	var got []InputID
	for _, k := range e.Kids {
		if k = s.unstuck(k); k.Op != OpInput || s.Inputs[k.Input].Kind != Presence {
			return None
		}
		got = append(got, k.Input)
	}
	for _, area := range s.around(s.Inputs[got[0]].Area) {
		if slices.Equal(got, s.PresenceIn(area)) {
			return area
		}
	}
	return None
}

// templateOf returns the template whose instances are exactly the kids of the
// disjunction e, else "".
func (s *Site) templateOf(e *Expr) string {
	if e.Op != OpOr || len(e.Kids) == 0 {
		return ""
	}
	var got []ModeID
	for _, k := range e.Kids {
		if k.Op != OpMode {
			return ""
		}
		got = append(got, k.Mode)
	}
	name := s.Modes[got[0]].Template
	if name == "" || !slices.Equal(got, s.Instances(name)) {
		return ""
	}
	return name
}

// litArea finds "area hall lit" and "area hall dark".
func (s *Site) litArea(e *Expr) string {
	for op, word := range map[Op]string{OpOr: "lit", OpAnd: "dark"} {
		what, cond, ok := s.lightSet(e, op)
		if ok && strings.HasPrefix(what, "circuits in ") && !strings.HasSuffix(what, " areas") &&
			cond == map[string]string{"lit": "lit", "dark": "off"}[word] {
			return "area " + strings.TrimPrefix(what, "circuits in ") + " " + word
		}
	}
	return ""
}

// lightSet tells whether e applies op to the same light comparison of circuits
// for which the site has words; it returns those and the comparison's.
func (s *Site) lightSet(e *Expr, op Op) (what, cond string, ok bool) {
	if e.Op != op || len(e.Kids) < 2 {
		return "", "", false
	}
	var ids []CircuitID
	for _, k := range e.Kids {
		id, text := s.shown(k)
		if text == "" || cond != "" && text != cond {
			return "", "", false
		}
		cond = text
		ids = append(ids, id)
	}
	what = s.selection(ids)
	return what, cond, what != ""
}

// rangeText gives the comparison of an OpLight: "at full", "above 10 %".
func (s *Site) rangeText(e *Expr) string {
	switch lo, hi := e.Lo, e.Hi; {
	case lo == 0 && hi == 0:
		return "off"
	case s.Circuits[e.Circuit].Output && hi == Full:
		return "on"
	case lo == hi && lo == s.Circuits[e.Circuit].Top():
		return "at full"
	case lo == hi:
		return "at " + lo.String()
	case lo == 1 && hi == Full:
		return "lit"
	case hi == Full && lo%100 == 1:
		return "above " + (lo - 1).String()
	case hi == Full:
		return "at least " + lo.String()
	case lo == 0 && hi%100 == 99:
		return "below " + (hi + 1).String()
	case lo == 0:
		return "at most " + hi.String()
	default:
		return "between " + lo.String() + " and " + hi.String()
	}
}
