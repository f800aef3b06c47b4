// The properties of circuits that stand in a schedule.

package resolve

import (
	"fmt"
	"math/big"
	"regexp"
	"slices"
	"strings"

	"lampwarden/lang/site"
	"lampwarden/lang/source"
	"lampwarden/lang/syntax"
)

// fillSchedules fills the circuits of all schedules, once areas and supplies are known.
func (r *resolver) fillSchedules() {
	for _, s := range r.schedules {
		r.fillSchedule(s)
	}
}

func (r *resolver) fillSchedule(s *schedule) {
	all := site.Circuit{Area: site.None, Min: 1, Max: site.Full, FedBy: site.None}
	given := seen{}
	hasArea := s.decl.Area != nil
	if hasArea {
		given["the area"] = s.decl.Area.Span
		if x := r.find(s.decl.Area, kindArea); x != nil {
			all.Area = site.AreaID(x.id)
		} else {
			r.unsure[kindCircuit] = true
		}
	}
	var columns []*syntax.ScheduleItem
	var items []*syntax.CircuitItem
	var t tint
	for _, it := range s.decl.Items {
		switch {
		case it.All != nil:
			r.circuitItem(&all, it.All, given)
			r.colourItem(&t, it.All, given)
			items = append(items, it.All)
		case it.Name != nil:
			r.first(given, "the column of names", it.Span)
		case r.first(given, columnOf(it), it.Span):
			if sp, ok := given["`switches`"]; ok && it.Dims != nil {
				relate(r.errorf(source.ClauseConflict, it.Span, "this column cannot tell what dims"), sp, "all circuits of the schedule are switched")
			}
			columns = append(columns, it)
			hasArea = hasArea || it.Area != nil
		}
	}
	if !hasArea {
		e := r.errorf(source.NoTitle, s.decl.Path.Span, "nothing tells the areas of the circuits")
		e.Suggestion = "write `area` and the header of a column, or `circuits from ... in AREA`"
		r.unsure[kindCircuit] = true
	}
	r.returnsAfter(items, slices.ContainsFunc(columns, func(it *syntax.ScheduleItem) bool { return it.FedBy != nil }),
		slices.DeleteFunc(slices.Clone(s.circuits), func(id site.CircuitID) bool { return id == site.None }))
	for i, id := range s.circuits {
		if id != site.None {
			r.fillRow(s, s.table.rows[i], columns, all, &r.site.Circuits[id])
		}
	}
	for _, id := range s.circuits {
		if id != site.None {
			r.companions(int(id), int(id)+1, t)
		}
	}
}

// columnOf names what a column gives, as a clause of a circuit would.
func columnOf(it *syntax.ScheduleItem) string {
	switch {
	case it.Area != nil:
		return "the area"
	case it.FedBy != nil:
		return "`fed by`"
	case it.Power != nil:
		return "the power"
	case it.Fade != nil:
		return "the fade"
	case it.Dims != nil:
		return "the column of what dims"
	}
	return "the column of what switches"
}

func (r *resolver) fillRow(s *schedule, row []cell, columns []*syntax.ScheduleItem, c site.Circuit, out *site.Circuit) {
	c.Name, c.Span = out.Name, out.Span
	fadeCell := cell{}
	k := choice{}
	for _, it := range columns {
		i := s.cols[headerOf(it)]
		if i < 0 {
			continue
		}
		x := row[i]
		switch {
		case it.Area != nil:
			c.Area = site.AreaID(r.cellName(x, it.Area, kindArea))
		case it.FedBy != nil && !isBlank(x):
			c.FedBy = site.SupplyID(r.cellName(x, it.FedBy, kindSupply, kindBattery, kindGenerator))
		case it.Power != nil && !isBlank(x):
			c.Power = r.quantity(x, it.Power, "power", powerFactors(), maxPower)
		case it.Fade != nil && !isBlank(x):
			if c.Fade = site.Millis(r.quantity(x, it.Fade, "duration", durationFactors(), maxFade)); c.Fade > 0 {
				fadeCell = x
			}
		case it.Dims != nil:
			k.cell, k.dims = x, it.Dims
		case it.Switches != nil:
			k.switchCell, k.switches = x, it.Switches
		}
	}
	r.choose(&c, k)
	if c.Switched {
		if c.Fade = 0; fadeCell.text != "" {
			d := r.errorf(source.ClauseConflict, fadeCell.span, "a switched circuit has no fade")
			relate(d, c.Span, "this circuit is switched")
		}
	}
	*out = c
}

// isBlank tells that a cell says nothing: it is empty or has a dash.
func isBlank(c cell) bool { return c.text == "" || c.text == "-" || c.text == "–" || c.text == "—" }

// cellName finds what a cell names, by the meanings of the column or as a name. It gives None for what has been reported.
func (r *resolver) cellName(c cell, col *syntax.NameColumn, want ...kind) int {
	for _, m := range col.Means {
		if strings.TrimSpace(m.Text.Value) == c.text {
			if s := r.find(m.Name, want...); s != nil {
				return s.id
			}
			r.unsure[kindCircuit] = true
			return site.None
		}
	}
	if name := r.legalName(c, col); name != "" {
		if s := r.find(&syntax.Ident{Node: syntax.Node{Span: c.span}, Name: name}, want...); s != nil {
			return s.id
		}
	}
	r.unsure[kindCircuit] = true
	return site.None
}

// choice is what the cells of a row say of dimmed and switched.
type choice struct {
	dims, switches   *syntax.ChoiceColumn // or nil
	cell, switchCell cell
}

// choose settles whether a circuit is switched.
func (r *resolver) choose(c *site.Circuit, k choice) {
	switch {
	case k.dims == nil && k.switches == nil:
	case k.switches == nil:
		c.Switched = !r.says(k.cell, k.dims, "dims")
	case k.dims == nil:
		c.Switched = r.says(k.switchCell, k.switches, "switches")
	default:
		dims, switches := matches(k.cell, k.dims), matches(k.switchCell, k.switches)
		c.Switched = switches
		if dims == switches {
			d := r.errorf(source.BadCell, k.cell.span, "this does not tell whether the circuit dims or switches")
			relate(d, k.dims.Span, "what dims says this")
			relate(d, k.switches.Span, "what switches says that")
		}
	}
}

// matches tells whether a cell has one of the texts of a column, or means yes if it has none.
func matches(c cell, col *syntax.ChoiceColumn) bool {
	if len(col.Texts) == 0 {
		yes, _ := yesOrNo(c.text)
		return yes
	}
	for _, t := range col.Texts {
		if strings.EqualFold(strings.TrimSpace(t.Value), c.text) {
			return true
		}
	}
	return false
}

// says tells whether a cell says what the column asks. What is neither that nor a no is reported.
func (r *resolver) says(c cell, col *syntax.ChoiceColumn, word string) bool {
	if matches(c, col) {
		return true
	}
	if yes, no := yesOrNo(c.text); yes || !no {
		d := r.errorf(source.BadCell, c.span, "`%s` does not tell whether the circuit %s", c.text, word)
		relate(d, col.Span, "this column tells")
		d.Notes = append(d.Notes, "no is `no`, `n`, `false`, `0`, a dash or nothing")
		other := map[string]string{"dims": "switches", "switches": "dims"}[word]
		d.Suggestion = fmt.Sprintf("add it to the texts of the column, or say with `%s %s = \"%s\"` what it means", other, col.Header.Raw, c.text)
	}
	return false
}

// yesOrNo reads a plain yes or no.
func yesOrNo(text string) (yes, no bool) {
	switch strings.ToLower(text) {
	case "yes", "y", "true", "1", "x":
		return true, false
	case "no", "n", "false", "0", "", "-", "–", "—":
		return false, true
	}
	return false, false
}

// The greatest power and fade of a circuit in a schedule, as in site files: a million kW, and a year.
const (
	maxPower = 1_000_000_000_000
	maxFade  = 366 * 24 * 60 * 60 * 1000
)

func powerFactors() map[string]int64 {
	return map[string]int64{"mW": 1, "W": 1000, "kW": 1_000_000}
}

func durationFactors() map[string]int64 {
	return map[string]int64{"ms": 1, "s": 1000, "min": 60_000, "h": 3_600_000}
}

var (
	quantityForm = regexp.MustCompile(`^(\d+(?:\.\d+)?)\s*([A-Za-z]*)$`)
	headerUnit   = regexp.MustCompile(`[(\[]\s*([A-Za-z]+)\s*[)\]]$`)
)

// quantity reads a number with its unit; where the cell has none, the column or its header tells it.
func (r *resolver) quantity(c cell, col *syntax.QuantityColumn, what string, factors map[string]int64, most int64) int64 {
	m := quantityForm.FindStringSubmatch(c.text)
	if m == nil {
		d := r.errorf(source.BadCell, c.span, "`%s` is not a %s", c.text, what)
		if strings.Contains(c.text, ",") {
			d.Notes = append(d.Notes, "decimals stand behind a point, and nothing parts thousands")
		}
		return 0
	}
	unit, at := m[2], c.span
	if unit == "" && col.Unit != nil {
		unit, at = col.Unit.Name, col.Unit.Span
	}
	if h := headerUnit.FindStringSubmatch(strings.TrimSpace(col.Header.Value)); unit == "" && h != nil {
		unit, at = h[1], col.Header.Span
	}
	if unit == "" {
		d := r.errorf(source.MissingUnit, c.span, "`%s` has no unit", c.text)
		relate(d, col.Span, "nor has its column")
		d.Suggestion = fmt.Sprintf("write `%s in %s`", col.Header.Raw, map[string]string{"power": "W", "duration": "s"}[what])
		return 0
	}
	factor, ok := factors[unit]
	if !ok {
		d := r.errorf(source.UnknownUnit, at, "`%s` is not a unit of %s", unit, what)
		if best := source.Closest(unit, mapKeys(factors)); best != "" {
			d.Suggestion = fmt.Sprintf("did you mean `%s`?", best)
		}
		return 0
	}
	return r.scaled(c, m[1], factor, most)
}

// scaled is the number times the factor, which has to be whole.
func (r *resolver) scaled(c cell, number string, factor, most int64) int64 {
	v, ok := new(big.Rat).SetString(number)
	if ok {
		v.Mul(v, new(big.Rat).SetInt64(factor))
	}
	switch {
	case !ok || v.Cmp(new(big.Rat).SetInt64(most)) > 0:
		r.errorf(source.BadCell, c.span, "`%s` is more than can be meant here", c.text)
	case !v.IsInt():
		r.errorf(source.BadCell, c.span, "`%s` is finer than can be told apart", c.text)
	default:
		return v.Num().Int64()
	}
	return 0
}
