// Conditions on sums: the power of circuits, the illuminance of an area. What one phrase says may stand for many sums (a
// sum of lamps for each value of the daylight); a report tells the phrase, and the sum with its terms.

package report

import (
	"fmt"
	"math"
	"slices"

	"lampwarden/checker/rehearse"
	"lampwarden/lang/site"
	"lampwarden/lang/source"
)

// Sum is a sum that a condition compares, at the moment in question.
type Sum struct {
	What  string  `json:"what"` // "power of ups", "illuminance of hall"
	Unit  string  `json:"unit"` // "W", "lux", or "" for a sum of another kind
	Value float64 `json:"value"`
	// Is tells how Value stands to Limit: "above", "at least", "at most", "below". Both are absent where more than one
	// value counts, as for an illuminance with daylight.
	Is    string    `json:"is,omitempty"`
	Limit float64   `json:"limit,omitempty"`
	Terms []SumTerm `json:"terms"` // daylight first; circuits that add nothing are left out
	// DaylightBelow, if not 0, is the next value that the daylight has not reached; Value counts it as low as it may be.
	DaylightBelow float64 `json:"daylightBelow,omitempty"`
}

// SumTerm is what one circuit, or the daylight, adds.
type SumTerm struct {
	Of    string  `json:"of"`
	Value float64 `json:"value"`
}

// phrase is a condition on one sum: the outermost of which all parts are that sum and the daylight.
type phrase struct {
	whole *site.Expr
	parts []*site.Expr // its sums and inputs
	sum   *site.Expr   // one of the sums
}

// phrasesOf finds the phrases in conditions.
func (t *teller) phrasesOf(conds []*site.Expr) (out []phrase) {
	for _, e := range conds {
		if e == nil {
			continue
		}
		if p, ok := t.phrase(e); ok {
			out = append(out, p)
			continue
		}
		out = append(out, t.phrasesOf(e.Kids)...)
	}
	return out
}

// phrase takes a condition as one phrase, if it is one.
func (t *teller) phrase(e *site.Expr) (p phrase, ok bool) {
	p.whole, ok = e, true
	e.Walk(func(x *site.Expr) {
		switch {
		case x.Op == site.OpSum && !x.Seen && (p.sum == nil || slices.Equal(p.sum.Terms, x.Terms) && p.sum.Span == x.Span):
			p.sum, p.parts = x, append(p.parts, x)
		case x.Op == site.OpInput && t.s.Inputs[x.Input].Kind == site.Daylight:
			p.parts = append(p.parts, x)
		case x.Op != site.OpNot && x.Op != site.OpAnd && x.Op != site.OpOr:
			ok = false
		}
	})
	for _, x := range p.parts {
		ok = ok && p.sum != nil && x.Span == p.sum.Span
	}
	return p, ok && p.sum != nil
}

// phraseWith finds the phrase that a part belongs to.
func phraseWith(ps []phrase, part *site.Expr) (phrase, bool) {
	i := slices.IndexFunc(ps, func(p phrase) bool { return slices.Contains(p.parts, part) })
	if i < 0 {
		return phrase{}, false
	}
	return ps[i], true
}

// wholes replaces parts of phrases by the phrases, each once.
func (t *teller) wholes(ps []phrase, parts []*site.Expr) (out []*site.Expr) {
	for _, e := range parts {
		if p, ok := phraseWith(ps, e); ok {
			e = p.whole
		}
		if !slices.Contains(out, e) {
			out = append(out, e)
		}
	}
	return out
}

// sums gives the sums of the phrases that parts belong to, as they are at a time.
func (t *teller) sums(tl *rehearse.Timeline, conds, parts []*site.Expr, at rehearse.Nanos) (out []Sum) {
	ps := t.phrasesOf(conds)
	var done []*site.Expr
	for _, e := range parts {
		if p, ok := phraseWith(ps, e); ok && !slices.Contains(done, p.whole) {
			done = append(done, p.whole)
			out = append(out, t.sum(tl, p, at))
		}
	}
	return out
}

// sum adds up a phrase at a time.
func (t *teller) sum(tl *rehearse.Timeline, p phrase, at rehearse.Nanos) Sum {
	step := stepAt(tl, at)
	unit, scale := t.unitOf(p)
	out := Sum{Unit: unit, What: t.sumName(p, unit), Terms: []SumTerm{}}
	total := int64(0)
	if from, below, ok := t.daylightAt(tl, step, p); ok {
		total = from * int64(site.Full)
		out.Terms = append(out.Terms, SumTerm{"daylight", float64(from)})
		out.DaylightBelow = float64(below)
	}
	for _, x := range p.sum.Terms {
		n := x.Weight * int64(site.Round(t.s.Rests(x.Circuit), tl.Level(step, x.Circuit), p.sum.Up))
		total += n
		if n > 0 {
			out.Terms = append(out.Terms, SumTerm{t.circuit(x.Circuit), rounded(float64(n) / (scale * float64(site.Full)))})
		}
	}
	out.Value = rounded(float64(total) / (scale * float64(site.Full)))
	if len(p.parts) > 1 {
		return out
	}
	limit, strict := limitOf(t.s, p.sum)
	held := rehearse.Holds(t.s, tl, p.sum, at)
	out.Limit = float64(limit) / scale
	out.Is = map[[2]bool]string{{true, true}: "above", {true, false}: "at least", {false, true}: "at most", {false, false}: "below"}[[2]bool{held, strict}]
	return out
}

// text is "power of ups is 214 W, above 200 W: kitchen_counter 20 W, yard_floods 194 W".
func (s *Sum) text() string {
	num := func(v float64) string {
		text := thousandths(int64(math.Round(v*1000)), 3)
		if s.Unit != "" {
			text += " " + s.Unit
		}
		return text
	}
	const most = 6
	var words []string
	rest, n := 0.0, 0
	for i, x := range s.Terms {
		if i >= most && len(s.Terms) > most+1 {
			rest, n = rest+x.Value, n+1
			continue
		}
		words = append(words, x.Of+" "+num(x.Value))
	}
	if n > 0 {
		words = append(words, fmt.Sprintf("%d more %s", n, num(rest)))
	}
	if len(words) == 0 {
		words = []string{"nothing adds to it"}
	}
	text := s.What + " is " + num(s.Value)
	if s.Is != "" {
		text += fmt.Sprintf(", %s %s", s.Is, num(s.Limit))
	}
	text += ": " + joined(words)
	if s.DaylightBelow > 0 {
		text += fmt.Sprintf(" (the daylight counts as low as it may be; it is below %s)", num(s.DaylightBelow))
	}
	return text
}

// rounded leaves three digits after the point.
func rounded(v float64) float64 { return math.Round(v*1000) / 1000 }

// unwrapped takes the "not"s off a condition.
func unwrapped(e *site.Expr) *site.Expr {
	for e.Op == site.OpNot {
		e = e.Kids[0]
	}
	return e
}

// limitOf gives the value that a phrase compares its sum with, in units of weight, and whether the sum has to be above it and not
// only up to it. Each way of reaching it (an "or") adds up to the same: the daylight of its rung and the lamps' sum; the
// simplest counts.
func limitOf(s *site.Site, e *site.Expr) (limit int64, above bool) {
	need := int64(0)
	switch e.Op {
	case site.OpInput:
		return s.Inputs[e.Input].Lux, false
	case site.OpSum:
		need = e.Need
	case site.OpOr:
		for _, op := range []site.Op{site.OpInput, site.OpSum, site.OpAnd} {
			if i := slices.IndexFunc(e.Kids, func(k *site.Expr) bool { return k.Op == op }); i >= 0 {
				return limitOf(s, e.Kids[i])
			}
		}
	case site.OpAnd:
		for _, k := range e.Kids {
			l, a := limitOf(s, unwrapped(k))
			limit, above = limit+l, above || a
		}
		return limit, above
	}
	if need%int64(site.Full) == 1 {
		return need / int64(site.Full), true
	}
	return (need + int64(site.Full) - 1) / int64(site.Full), false
}

// unitOf tells what a sum is of, by its weights, and how many units of weight make one of it.
func (t *teller) unitOf(p phrase) (unit string, scale float64) {
	all := func(weight func(*site.Circuit) int64) bool {
		return !slices.ContainsFunc(p.sum.Terms, func(x site.Term) bool { return weight(&t.s.Circuits[x.Circuit]) != x.Weight })
	}
	light := all(func(c *site.Circuit) int64 { return c.Adds })
	switch {
	case light && len(p.parts) > 1:
		return "lux", 1
	case all(func(c *site.Circuit) int64 { return c.Power }):
		return "W", 1000
	case light:
		return "lux", 1
	}
	return "", 1
}

// sumName is what a sum is of: "power of ups", "illuminance of hall".
func (t *teller) sumName(p phrase, unit string) string {
	var ids []site.CircuitID
	for _, x := range p.sum.Terms {
		ids = append(ids, x.Circuit)
	}
	switch unit {
	case "W":
		if f := t.feedOfAll(ids); f != "" {
			return "power of " + f
		}
		return "power of " + t.circuits(ids)
	case "lux":
		if a := t.areaOf(p); a != site.None {
			return "illuminance of " + source.Escape(t.s.Areas[a].Name)
		}
		return "illuminance by " + t.circuits(ids)
	}
	return "the sum over " + t.circuits(ids)
}

// areaOf is the area of a phrase about illuminance: that of its daylight, else the one that all its circuits are in.
func (t *teller) areaOf(p phrase) site.AreaID {
	for _, e := range p.parts {
		if e.Op == site.OpInput {
			return t.s.Inputs[e.Input].Area
		}
	}
	out := site.AreaID(site.None)
	for i, x := range p.sum.Terms {
		if a := t.s.Circuits[x.Circuit].Area; i == 0 {
			out = a
		} else if a != out {
			return site.None
		}
	}
	return out
}

// daylightAt tells between which values the daylight of a phrase is; ok is false if it reads none.
func (t *teller) daylightAt(tl *rehearse.Timeline, step int, p phrase) (from, below int64, ok bool) {
	i := slices.IndexFunc(p.parts, func(e *site.Expr) bool { return e.Op == site.OpInput })
	if i < 0 {
		return 0, 0, false
	}
	sensor := sensorOf(&t.s.Inputs[p.parts[i].Input])
	for id := range t.s.Inputs {
		in := &t.s.Inputs[id]
		switch {
		case in.Kind != site.Daylight || sensorOf(in) != sensor:
		case tl.Input(step, site.InputID(id)):
			from = max(from, in.Lux)
		case below == 0 || in.Lux < below:
			below = in.Lux
		}
	}
	return from, below, true
}
